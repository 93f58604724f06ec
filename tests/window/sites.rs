//! Sites in the window: the first run, a new site in two fields, the archive; and what is stored of them.

use serde_json::{Value, json};

use crate::machine::{Machine, built};
use crate::page::{Page, key};
use crate::stored::{said, sites};

const SCREEN: &str = "1366x820";

fn open(machine: &Machine) -> Page {
    Page::open(machine.port, &built("newel-window"), &[])
}

/// Changes a name where it stands, and waits until the store has answered.
pub fn rename(page: &Page, name: &str, to: &str) {
    page.click(&format!("#{name}"));
    // The old name is marked once the field has the focus; only then does what is typed take its place.
    page.wait(
        &format!("{name} ready to be typed over"),
        "const field = document.getElementById(arguments[0] + '-field'); \
         return field !== null && field === document.activeElement && field.selectionStart === 0 \
         && field.selectionEnd === field.value.length",
        &[json!(name)],
    );
    page.press(&format!("#{name}-field"), &format!("{to}{}", key::ENTER));
    page.wait(
        &format!("{to:?}, saved"),
        "return document.getElementById(arguments[0])?.textContent === arguments[1] \
         && document.querySelector(\"#kept[data-kept='kept']\") !== null",
        &[json!(name), json!(to)],
    );
}

/// The id of the first rail in the list.
pub fn first_rail(page: &Page) -> String {
    let id = page.run("return document.querySelector('[data-rail]').dataset.rail", &[]);
    id.as_str().expect("an id").to_owned()
}

/// A rail's label as it is stored.
pub fn stored_label(machine: &Machine, site: &str, rail: &str) -> Value {
    let plan = said(&machine.store(), &["show", site, "--json"]);
    let found = plan["rails"].as_array().expect("rails").iter().find(|each| each["id"] == rail).cloned();
    found.expect("the rail")["label"].clone()
}

#[test]
fn a_label_changed_in_the_demo_site_is_there_after_a_restart() {
    const LABEL: &str = "North <b>flight</b>";
    let machine = Machine::start("first-run", SCREEN);
    let page = open(&machine);
    page.wait_for("#first-run");
    page.click("#add-demo");
    page.wait_for("#drawing");
    let before = page.text("#rail-name");
    let rail = first_rail(&page);
    rename(&page, "rail-name", LABEL);
    assert_eq!(page.texts("nav .rail b")[0], LABEL, "the list of rails says the same, as typed");
    machine.close(page);

    let stored = sites(&machine.store());
    assert_eq!(stored.len(), 1);
    let id = stored[0]["id"].as_str().expect("an id").to_owned();
    assert_eq!(stored_label(&machine, &id, &rail), LABEL);

    let page = open(&machine);
    page.click("[data-site]");
    page.wait_for("#drawing");
    assert_eq!(page.text("#rail-name"), LABEL);
    assert_eq!(page.count("#rail-name b"), 0, "no element came out of a label");
    // A step that was made before the restart is still one step back, by keys.
    page.chord(&[key::CONTROL, "z"]);
    page.wait_for_text("#rail-name", &before);
    page.chord(&[key::CONTROL, key::SHIFT, "z"]);
    page.wait_for_text("#rail-name", LABEL);
    machine.close(page);
    let history = said(&machine.store(), &["history", &id, "--json"])["changes"].clone();
    let sentences: Vec<&str> =
        history.as_array().expect("changes").iter().filter_map(|c| c["sentence"].as_str()).collect();
    assert_eq!(sentences.len(), 4, "{sentences:?}");
    assert!(sentences[2].starts_with("taken back: ") && sentences[3].starts_with("made again: "), "{sentences:?}");
    machine.end();
}

#[test]
fn a_site_is_made_in_two_fields_found_put_at_a_stage_and_archived() {
    let machine = Machine::start("sites", SCREEN);
    let page = open(&machine);
    page.wait_for("#new-label");
    page.press("#new-label", "Quay steps");
    page.press("#new-address", &format!("Invented Quay 3{}", key::ENTER));
    page.wait_for_text("#site-name", "Quay steps");
    page.wait_for("form[aria-label='New rail']");
    page.click("#screen-scheme");
    assert!(page.text("main").contains("no rails yet"), "{}", page.text("main"));
    page.click("#to-sites");
    page.wait_for("[data-site]");

    page.press("#find", "invented qu");
    page.wait_for_text(".hit", "Invented Quay 3");
    page.press("#find", "arry");
    page.wait_for_text("#none-found", "invented quarry");
    page.press("#find", key::ESCAPE);
    page.wait_for("[data-site]");

    page.click("[data-more]");
    page.run(
        "const stage = document.querySelector('.actions select'); stage.value = 'price'; \
         stage.dispatchEvent(new Event('change', { bubbles: true }))",
        &[],
    );
    page.wait_for_text(".stage", "Price");
    page.click("[data-stage='fit']");
    page.wait_for_text("#none-found", "at this stage");
    page.click("[data-stage='price']");
    page.click("[data-duplicate]");
    page.wait(
        "two sites",
        "return document.querySelectorAll('[data-site]').length === 1 && \
         document.querySelector('[data-stage=survey]').textContent.includes('1')",
        &[],
    );
    page.click("[data-archive]");
    page.wait_for_text("#said", "put into the archive");
    page.click("#shelf");
    page.wait_for_text("[data-site] b", "Quay steps");
    machine.close(page);

    let stored = sites(&machine.store());
    let of = |label: &str| stored.iter().find(|line| line["label"] == label).cloned().unwrap_or(Value::Null);
    let (made, copy) = (of("Quay steps"), of("Quay steps, copy"));
    assert_eq!(
        (&made["address"], &made["stage"], &made["archived"]),
        (&json!("Invented Quay 3"), &json!("price"), &json!(true))
    );
    assert_eq!(copy["archived"], json!(false));
    machine.end();
}

#[test]
fn a_site_is_made_and_named_by_keys_alone() {
    let machine = Machine::start("keys", SCREEN);
    let page = open(&machine);
    page.wait_for("#new-label");
    page.chord(&["n"]);
    for letter in ["M", "i", "l", "l"] {
        page.chord(&[letter]);
    }
    page.chord(&[key::ENTER]);
    page.wait_for_text("#site-name", "Mill");
    page.chord(&["\u{e00a}", "0"]);
    page.wait_for("[data-site]");
    page.chord(&[key::DOWN]);
    page.chord(&[key::ENTER]);
    page.wait_for_text("#site-name", "Mill");
    // In the form of the first rail a question mark is a letter; Escape leaves the form.
    page.wait_for("form[aria-label='New rail'] input:focus");
    page.chord(&[key::ESCAPE]);
    page.wait("no form", "return document.querySelector('form') === null", &[]);
    page.chord(&["?"]);
    page.wait_for_text("#key-sheet[open]", "take back the last change");
    page.chord(&[key::ESCAPE]);
    page.wait("no sheet of keys", "return document.querySelector('#key-sheet') === null", &[]);
    machine.close(page);
    assert_eq!(sites(&machine.store())[0]["label"], "Mill");
    machine.end();
}

#[test]
fn a_second_newel_only_looks_until_the_first_has_gone() {
    let machine = Machine::start("second", SCREEN);
    let mut other = desk::sites::Sites::open(&machine.store(), desk::sites::now_ms).expect("a store");
    other.new_site("Quay steps", "Invented Quay 3").expect("made");
    let page = open(&machine);
    page.wait_for_text("#read-only", "Another Newel has these sites open");
    assert_eq!(page.text("#kept").trim(), "Read only");
    page.click("[data-site]");
    page.wait_for_text("#site-name", "Quay steps");
    assert_eq!(page.count("button#site-name"), 0, "the name offers no change");
    drop(other);
    page.click("#read-only-act");
    page.wait_for("button#site-name");
    rename(&page, "site-name", "Quay steps, upper");
    machine.close(page);
    assert_eq!(sites(&machine.store())[0]["label"], "Quay steps, upper");
    machine.end();
}

#[test]
fn theme_and_units_are_kept() {
    let machine = Machine::start("settings", SCREEN);
    let page = open(&machine);
    page.click("#add-demo");
    page.wait_for("#drawing");
    assert!(page.text("#rail-length").ends_with('m'), "{}", page.text("#rail-length"));
    page.click("#units");
    page.wait_for_text("#rail-length", "'");
    page.click("#theme");
    let theme = page.run("return document.documentElement.dataset.theme", &[]);
    page.wait_until_kept();
    machine.close(page);
    let page = open(&machine);
    page.click("[data-site]");
    page.wait_for_text("#rail-length", "'");
    assert_eq!(page.run("return document.documentElement.dataset.theme", &[]), theme);
    machine.close(page);
    machine.end();
}
