//! A rail with posts recorded by keys alone, from the list of sites on: no pointer, no call past the page.

use std::path::Path;

use serde_json::json;

use crate::machine::{Machine, built};
use crate::page::{Page, key};
use crate::same::millimetres;
use crate::stored::{exported, said, sites};
use crate::surveyor::{SCREEN, SHEET, wait_for_chainages};

#[test]
fn a_rail_with_posts_is_recorded_by_keys_alone() {
    let machine = Machine::start("surveyor-keys", SCREEN);
    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.wait_for("#first-run");
    page.chord(&["n"]);
    page.keys(&format!("Mill{}Invented Lane 2{}", key::TAB, key::ENTER));
    let form = "form[aria-label='New rail'] input";
    page.wait_for(&format!("{form}:focus"));
    let tab = key::TAB;
    page.keys(&format!("East rail{tab}3000{tab}gate post{tab}saw cut{tab}{tab}48.3{tab}g{}", key::ENTER));
    // Enter in a list of choices sends no form, so the button is walked to.
    page.walk_to(&[key::TAB], "form[aria-label='New rail'] button.main");
    page.chord(&[key::ENTER]);
    page.wait_for("#survey-drawing:focus");

    page.chord(&["t"]);
    page.wait_for("#new-chainage:focus");
    page.keys(&format!("250{}", key::ENTER));
    page.wait_for("#new-size:focus");
    page.keys(&format!("40{}", key::ENTER));
    wait_for_chainages(&page, &["250"]);
    page.keys(&format!("+900 x3{}", key::ENTER));
    wait_for_chainages(&page, &["250", "1,150", "2,050", "2,950"]);
    // On the drawing the last is nudged back by 11 mm, then a joint is begun and left.
    page.chord(&[key::ESCAPE]);
    page.wait_for("#survey-drawing:focus");
    page.chord(&[key::SHIFT, key::LEFT]);
    page.chord(&[key::LEFT]);
    wait_for_chainages(&page, &["250", "1,150", "2,050", "2,939"]);
    page.chord(&["j"]);
    page.wait_for("[data-tool='joint'][aria-pressed='true']");
    page.chord(&[key::ESCAPE]);
    page.wait_for("[data-tool='joint'][aria-pressed='false']");
    // One post is removed and brought back.
    page.chord(&[key::UP]);
    page.chord(&[key::DELETE]);
    wait_for_chainages(&page, &["250", "1,150", "2,939"]);
    page.chord(&[key::CONTROL, "z"]);
    wait_for_chainages(&page, &["250", "1,150", "2,050", "2,939"]);
    // The sheet of the pieces: the overall length.
    page.walk_to(&[key::TAB], "#survey-tab-features");
    page.chord(&[key::RIGHT]);
    let overall = page.labelled(SHEET, "Overall, measured once more");
    page.walk_to(&[key::TAB], &overall);
    page.keys(&format!("3001{}", key::ENTER));
    page.wait_for(&format!("{SHEET} [data-finding].pass"));
    page.wait_until_kept();
    page.chord(&[key::ALT, "3"]);
    page.wait_for_text("#rail-name", "East rail");
    machine.close(page);
    what_keys_recorded(&machine.store());
    machine.end();
}

fn what_keys_recorded(store: &Path) {
    let line = &sites(store)[0];
    assert_eq!((&line["label"], &line["address"]), (&json!("Mill"), &json!("Invented Lane 2")));
    let id = line["id"].as_str().expect("an id");
    let survey = exported(store, id);
    let rail = &survey["rails"][0];
    assert_eq!(
        (&rail["label"], &rail["datum"]),
        (&json!("East rail"), &json!({"end": "gate post", "mark": "saw cut"}))
    );
    assert_eq!(rail["tube"]["material"], json!({"kind": "galvanised_steel"}));
    let posts = rail["features"].as_array().expect("features");
    let told: Vec<_> =
        posts.iter().map(|post| (&post["kind"], millimetres(&post["chainage_mm"]), &post["width_mm"])).collect();
    let kind = json!("post");
    let width = json!(40.0);
    assert_eq!(told.len(), 4, "{told:?}");
    for (post, at) in told.iter().zip([250.0, 1150.0, 2050.0, 2939.0]) {
        assert_eq!(post.0, &kind);
        assert_eq!(post.1, at);
        assert_eq!(post.2.as_f64(), width.as_f64());
    }
    assert_eq!((millimetres(&rail["pieces"][0]["length_mm"]), millimetres(&rail["overall_mm"])), (3000.0, 3001.0));
    let history = said(store, &["history", id, "--json"])["changes"].clone();
    assert!(history.as_array().is_some_and(|all| all.iter().all(|change| change["sentence"] != "")), "{history}");
}
