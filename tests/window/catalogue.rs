//! The firm's catalogues in the real window: a copy of the demo is changed by pointer and by keys, a wrong value is refused
//! beside its field, a file is looked at before it is taken, a step is taken back, and all of it is there after a restart. The
//! command line says what was kept.

use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::{Value, json};

use crate::access::{judge_both, with_axe};
use crate::machine::{Machine, built};
use crate::page::{Page, key};
use crate::photos::CHOOSE;

const SCREEN: &str = "1366x820";
/// As a sly sender would describe a part; what is in it must never run.
const FRAGMENT: &str = "<img src=x onerror=\"window.hurt=1\">";

fn newel(home: &Path, words: &[&str]) -> String {
    let mut command = Command::new(built("newel"));
    let output = command.arg("catalogue").args(words).arg("--home").arg(home).output().expect("it runs");
    assert!(output.status.success(), "{words:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("text")
}

/// A catalogue as the command line writes it: what the store holds.
fn stored(home: &Path, name: &str) -> String {
    let file = home.with_file_name("stored.toml");
    newel(home, &["export", name, &file.to_string_lossy()]);
    fs::read_to_string(file).expect("written")
}

/// Types into a field in place of what it holds, and leaves it.
fn fill(page: &Page, selector: &str, text: &str) {
    page.click(selector);
    page.run("document.querySelector(arguments[0]).select?.()", &[json!(selector)]);
    page.keys(text);
    page.chord(&[key::TAB]);
}

fn rows(page: &Page, table: &str) -> Vec<String> {
    page.texts(&format!("{table} tbody tr"))
}

#[test]
fn a_catalogue_is_copied_changed_filled_from_a_file_and_kept() {
    let machine = Machine::start("catalogue", SCREEN);
    let list = machine.folder().join("prices.csv");
    let csv = format!(
        "part;price;description\r\nPT-18-W30;18,2;\"{}\"\r\nPT-22-W50;dear;x\r\nDR-12-20;38;Driver 12 V, 20 W, one output, SELV\r\n",
        FRAGMENT.replace('"', "\"\"")
    );
    fs::write(&list, csv).expect("written");

    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.click("#add-demo");
    page.wait_for("#drawing");
    page.chord(&[key::ALT, "5"]);
    page.wait_for("#built-in");
    with_axe(&page);
    judge_both(&page, "the demo catalogue");
    // What is built in is shown and not changed.
    page.click("[data-part='PT-18-W30']");
    page.wait_for("#field-price");
    assert_eq!(page.run("return document.querySelector('#field-price').disabled", &[]), json!(true));
    page.click("#copy-demo");
    page.wait_for_text("[data-catalogue][aria-current]", "My catalogue");
    page.click("#put-in-force");
    page.wait_for_text("#plans", "My catalogue");

    // A wrong value is named beside its field, with what is accepted, and nothing is kept.
    page.click("[data-part='PT-18-W30']");
    fill(&page, "#field-price", "cheap");
    let why = page.wait_for_text("#field-price-why", "Accepted");
    assert!(why.contains("cheap") && why.contains("an amount from 0"), "{why}");
    judge_both(&page, "a form with a fault");
    let home = machine.store();
    fill(&page, "#field-price", "19,95");
    page.wait_for_text("#said", "part PT-18-W30 changed");
    page.wait_for_text("tr.chosen", "19.95");

    // By keys alone: the next part, a duplicate of it, taken out again.
    page.chord(&[key::ESCAPE]);
    page.wait_for("[data-part='PT-18-W30']:focus");
    page.chord(&[key::DOWN]);
    page.wait_for_text("#part-form h2", "PT-22-W50");
    page.chord(&["d"]);
    page.wait_for_text("#part-form h2", "New luminaire");
    page.click("#add-part");
    page.wait_for_text("#said", "part PT-22-W50-2 added");
    page.wait_for("[data-part='PT-22-W50-2']:focus");
    page.chord(&[key::DELETE]);
    page.wait_for_text("#said", "part PT-22-W50-2 taken out");

    // A file is looked at first; Escape leaves everything as it was.
    page.run(CHOOSE, &[json!(list), json!(null)]);
    page.click("#import");
    page.wait_for("#import-view");
    let tally = page.text("#import-tally");
    assert!(tally.contains("0 added") && tally.contains("1 changed") && tally.contains("1 refused"), "{tally}");
    let refused = rows(&page, "#refused");
    assert!(refused.len() == 1 && refused[0].contains("“dear”") && refused[0].starts_with('3'), "{refused:?}");
    let changed = rows(&page, "#changed").join("\n");
    assert!(changed.contains(FRAGMENT) && changed.contains("19.95") && changed.contains("18.20"), "{changed}");
    judge_both(&page, "what a file would change");
    page.chord(&[key::ESCAPE]);
    page.wait_for("#find-part");
    assert!(page.text("tbody").contains("19.95"));
    page.click("#import");
    page.click("#take-import");
    page.wait_for_text("#said", "taken in from prices.csv");
    page.wait_for_text("tbody", "18.20");
    assert_eq!(
        page.run("return [window.hurt ?? null, document.querySelectorAll('img[src=x]').length]", &[]),
        json!([null, 0])
    );
    // The import is one step.
    page.click("#undo");
    page.wait_for_text("#said", "taken back");
    page.wait_for_text("tbody", "19.95");
    page.click("#redo");
    page.wait_for_text("tbody", "18.20");

    // The scheme is planned with it as it is now.
    page.click("#screen-scheme");
    page.wait_for("#drawing");
    assert_eq!(page.count("#stands-in"), 0);
    machine.close(page);

    let text = stored(&home, "My catalogue");
    assert!(text.contains("price = 18.20") && text.contains("# the retainer grips walls between these two"), "{text}");
    let lists: Value = serde_json::from_str(&newel(&home, &["list", "--json"])).expect("a list");
    assert_eq!(lists["catalogues"][0]["in_force"], json!(true));

    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.click("#to-catalogue");
    page.wait_for_text("tbody", "18.20");
    page.click("[data-part='PT-18-W30']");
    let value = page.run("return document.querySelector('#field-description').value", &[]);
    assert_eq!(value, json!(FRAGMENT));
    page.click("#undo");
    page.wait_for_text("tbody", "19.95");
    machine.close(page);
    assert!(stored(&home, "My catalogue").contains("price = 19.95"));
    machine.end();
}
