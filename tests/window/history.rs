//! The history in the window: every change in words, the site as it was, and one question where two people differ.

use desk::sites::{Sites, now_ms, rename_device};
use serde_json::json;

use crate::machine::{Machine, built};
use crate::page::{Page, key};
use crate::sites::{first_rail, rename, stored_label};
use crate::stored::{said, sites};

const SCREEN: &str = "1366x820";

#[test]
fn changes_are_told_in_words_looked_back_at_and_taken_back() {
    let machine = Machine::start("history", SCREEN);
    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.click("#add-demo");
    page.wait_for("#drawing");
    let (before, rail) = (page.text("#rail-name"), first_rail(&page));
    rename(&page, "rail-name", "North flight");
    page.click("#screen-history");
    page.wait_for("td.what");
    let told = page.texts("td.what");
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(told[0].contains("changed from") && told[0].contains("North flight"), "{told:?}");
    assert!(page.texts("td.who")[0].contains("Invented Anna") && page.texts("td.who")[0].contains("this device"));

    // The site as it was is looked at and not changed.
    page.click("tr:last-child [data-at]");
    page.wait_for_text("#read-only", "This is the site as it was");
    assert_eq!(page.text("#rail-name"), before);
    assert_eq!(page.text("#kept").trim(), "Read only");
    page.chord(&[key::CONTROL, "z"]);
    page.click("#read-only-act");
    page.wait_for_text("#rail-name", "North flight");

    page.click("#screen-history");
    page.click("#history-undo");
    page.wait_for_text("td.what", "taken back: ");
    page.click("#screen-scheme");
    page.wait_for_text("#rail-name", &before);
    machine.close(page);
    let id = sites(&machine.store())[0]["id"].as_str().expect("an id").to_owned();
    assert_eq!(stored_label(&machine, &id, &rail), before.as_str());
    machine.end();
}

#[test]
fn where_two_people_differ_both_are_shown_and_one_is_chosen() {
    let machine = Machine::start("differ", SCREEN);
    let id = two_people(&machine, "Anna's flight", "Ben's flight");
    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.wait_for_text("[data-site]", "1 disagreement");
    page.click("[data-site]");
    page.wait_for("#drawing");
    page.click("#screen-history");
    page.wait_for("[data-disagreement]");
    let card = page.text("[data-disagreement]");
    for words in ["Which is right", "Anna's flight", "Ben's flight", "Invented Anna", "Invented Ben"] {
        assert!(card.contains(words), "{words}: {card}");
    }
    assert!(!card.to_lowercase().contains("merge") && !card.to_lowercase().contains("conflict"), "{card}");
    page.click("[data-settle][aria-label*='Ben']");
    page.wait("nobody differs", "return document.querySelector('[data-disagreement]') === null", &[]);
    page.click("#screen-scheme");
    page.wait_for_text("#rail-name", "Ben's flight");
    machine.close(page);
    assert_eq!(said(&machine.store(), &["disagreements", &id, "--json"])["disagreements"], json!([]));
    machine.end();
}

/// The demo site, to whose first rail two people have given names without knowing of each other.
fn two_people(machine: &Machine, hers: &str, his: &str) -> String {
    let there = machine.folder().join("there");
    rename_device(&machine.store(), Some("Invented Anna"), Some("tablet")).expect("named");
    rename_device(&there, Some("Invented Ben"), Some("phone")).expect("named");
    let open = |home: &std::path::Path| Sites::open(home, now_ms).expect("a store");
    let (mut anna, mut ben) = (open(&machine.store()), open(&there));
    let id = anna.add_file(desk::demo::SITE, "site.json", None).expect("added").id;
    let send = |from: &mut Sites, to: &mut Sites| {
        let mut file = std::io::Cursor::new(Vec::new());
        from.send(&id, file.get_mut()).expect("a file");
        for device in to.receive(&mut file).expect("taken in").unknown_devices {
            to.know(&device.id).expect("known");
        }
    };
    send(&mut anna, &mut ben);
    let rail = anna.survey(&id, None).expect("a survey").rails[0].id.to_string();
    for (sites, label) in [(&mut anna, hers), (&mut ben, his)] {
        let edit = json!({"kind": "set_rail", "rail": rail, "change": {"kind": "label", "value": label}});
        sites.edit(&id, edit.to_string().as_bytes(), "edit").expect("made");
    }
    send(&mut ben, &mut anna);
    id
}
