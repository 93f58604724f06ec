//! The surveyor: a newcomer records a real rail from an empty store, by pointer and keypad.
//!
//! What must be stored stands in `quay.json`, which is also where the estimator goes on. Its lengths are the ones typed here.

use serde_json::{Value, json};

use crate::machine::{Machine, built, workspace};
use crate::page::{Page, key};
use crate::same::{assert_same, plainly_named};
use crate::stored::{exported, sites};

pub const SCREEN: &str = "1366x820";
/// The side panel, with the fields of what is chosen.
const SIDE: &str = "aside[aria-label='What is chosen']";
/// What is open of the sheets under the drawing.
pub const SHEET: &str = "#survey-sheet";
/// Length of the rail in `quay.json` [mm]: 6400, a bend of 30° at 150 mm, 2200.
const RAIL_MM: f64 = 6400.0 + 150.0 * std::f64::consts::PI / 6.0 + 2200.0;

fn open(machine: &Machine) -> Page {
    Page::open(machine.port, &built("newel-window"), &[])
}

/// The chainages in the table, as they are read.
fn chainages(page: &Page) -> Vec<String> {
    let script = "return [...document.querySelectorAll('input[data-column=chainage]')].map((cell) => cell.value)";
    let found = page.run(script, &[]);
    found.as_array().expect("a list").iter().map(|each| each.as_str().unwrap_or_default().to_owned()).collect()
}

/// Waits until the table shows these chainages and no others.
pub fn wait_for_chainages(page: &Page, wanted: &[&str]) {
    let script = "const shown = [...document.querySelectorAll('input[data-column=chainage]')].map((cell) => cell.value); \
                  return JSON.stringify(shown) === JSON.stringify(arguments[0])";
    page.wait(&format!("features at {wanted:?}"), script, &[json!(wanted)]);
}

/// Opens one of the sheets under the drawing.
fn sheet(page: &Page, name: &str) {
    page.click(&format!("#survey-tab-{name}"));
    page.wait_for(&format!("#survey-tab-{name}[aria-selected='true']"));
}

/// Points at the rail on the drawing, at a chainage [mm].
fn point_at(page: &Page, at_mm: f64) {
    // Room left of the datum and right of the rail's end [px], as ui/src/lib/drawing/scale.ts has it.
    const ENDS: (f64, f64) = (56.0, 28.0);
    let width =
        page.run("return document.querySelector('#survey-drawing').clientWidth", &[]).as_f64().expect("a width");
    let across = ENDS.0 + at_mm / RAIL_MM * (width - ENDS.0 - ENDS.1);
    page.point("#survey-drawing", across / width, 0.5);
}

#[test]
fn a_newcomer_records_a_rail_from_an_empty_store() {
    let machine = Machine::start("surveyor", SCREEN);
    let page = open(&machine);
    page.wait_for("#first-run");
    page.click("#new-label");
    page.keys("Quay steps");
    page.click("#new-address");
    page.keys(&format!("Invented Quay 3{}", key::ENTER));
    first_rail(&page);
    pieces(&page);
    posts_by_the_keypad(&page);
    joint_and_ways_in_by_the_drawing(&page);
    tube_and_surroundings(&page);
    supply(&page);
    page.wait_until_kept();
    machine.close(page);

    let id = sites(&machine.store())[0]["id"].as_str().expect("an id").to_owned();
    let stored = exported(&machine.store(), &id);
    assert_same(&plainly_named(stored), &plainly_named(written_out(&machine)), "the survey");

    shown_again(&machine, &id);
    machine.end();
}

/// The form of the first rail is there without being asked for, and says what it lacks.
fn first_rail(page: &Page) {
    const FORM: &str = "form[aria-label='New rail']";
    page.wait_for(FORM);
    assert_eq!(page.text("#site-name"), "Quay steps");
    for (label, typed) in [
        ("Called", "Left rail"),
        ("First straight, from the datum", "6.4 m"),
        ("Datum end, in words", "foot of the steps"),
        ("How it is marked", "punch mark on the cap"),
    ] {
        let field = page.labelled(FORM, label);
        page.click(&field);
        page.keys(typed);
    }
    page.click(&format!("{FORM} button.main"));
    // The diameter was forgotten; the form says so, and nothing was stored.
    page.wait_for_text(&format!("{FORM} [role='alert']"), "length");
    page.fill(FORM, "Outside diameter", "42.4");
    page.wait_for("#survey-drawing");
    assert!(page.text("section.rail h2").contains("Left rail"), "{}", page.text("section.rail h2"));
}

/// What does not add up is told beside the measurement while the surveyor still stands there.
fn pieces(page: &Page) {
    sheet(page, "pieces");
    page.fill(SHEET, "Bend °", "30");
    page.wait_for_text(&format!("{SHEET} [role='alert']"), "radius");
    let plane = format!("{SHEET} select[aria-label='Which way it turns']");
    page.choose_from(&plane, "up");
    page.fill(SHEET, "radius mm", "150");
    page.wait_for_text(SHEET, "Bend 30° up");
    page.fill(SHEET, "Straight, length mm", "2200");
    page.wait_for_text(&format!("{SHEET} .check b"), "8,678.5");
    page.fill(SHEET, "Overall, measured once more", "8600");
    let told = page.wait_for_text(&format!("{SHEET} [data-finding]"), "78.5");
    assert!(told.contains("Measure again while you are there"), "{told}");
    page.fill(SHEET, "Overall, measured once more", "8679");
    page.wait_for(&format!("{SHEET} [data-finding].pass"));
}

/// One width, then chainages, spacings and repeats, without leaving the keypad.
fn posts_by_the_keypad(page: &Page) {
    sheet(page, "features");
    page.click("#new-chainage");
    page.keys(&format!("500{}", key::ENTER));
    page.wait_for("#new-size:focus");
    page.keys(&format!("42.4{}", key::ENTER));
    wait_for_chainages(page, &["500"]);
    page.keys(&format!("+1100{}", key::ENTER));
    wait_for_chainages(page, &["500", "1,600"]);
    page.keys(&format!("x3{}", key::ENTER));
    wait_for_chainages(page, &["500", "1,600", "2,700", "3,800", "4,900"]);
    // A slip stays where it was typed, with what is accepted; nothing is made of it.
    page.keys(&format!("7o00{}", key::ENTER));
    page.wait_for_text(".entry [role='alert']", "is no length");
    page.keys(&format!("{}9.6 m{}", key::ESCAPE, key::ENTER));
    // It reads well but lies beyond the rail: told beside the row, and mended in it.
    page.wait_for_text("tbody tr:last-child td.said", "is not on rail Left rail");
    page.wait_for_text(&format!("{SIDE} [data-finding]"), "Correct its chainage");
    let last = "tbody tr:last-child input[data-column=chainage]";
    page.click(last);
    page.keys(&format!("6000{}", key::ENTER));
    wait_for_chainages(page, &["500", "1,600", "2,700", "3,800", "4,900", "6,000"]);
    page.wait("no post beyond the rail", "return !document.body.textContent.includes('is not on rail')", &[]);
    page.click("#new-chainage");
    page.keys(&format!("8000{}", key::ENTER));
    wait_for_chainages(page, &["500", "1,600", "2,700", "3,800", "4,900", "6,000", "8,000"]);
}

/// Pointed at on the drawing, then put right by what was taped.
fn joint_and_ways_in_by_the_drawing(page: &Page) {
    page.click("[data-tool='joint']");
    point_at(page, 3200.0);
    page.wait_for_text(&format!("{SIDE} h2"), "Joint at 3,");
    let pointed: f64 = chainages(page)[3].replace(',', "").parse().expect("a chainage");
    assert!((pointed - 3200.0).abs() <= 25.0, "pointed at 3200 mm, {pointed} mm came of it");
    page.fill(SIDE, "Chainage", "3215");
    wait_for_chainages(page, &["500", "1,600", "2,700", "3,215", "3,800", "4,900", "6,000", "8,000"]);

    // The first way in: nobody knows its opening yet, so it is asked for.
    page.click("[data-tool='way_in']");
    point_at(page, 60.0);
    page.wait_for("#new-size:focus");
    page.keys(&format!("20{}", key::ENTER));
    page.wait_for_text(&format!("{SIDE} h2"), "Way in at ");
    page.fill(SIDE, "Chainage", "60");
    page.wait_for_text(&format!("{SIDE} h2"), "Way in at 60\u{202f}mm");
    page.chord(&[key::ESCAPE]);
    sheet(page, "passage");
    page.fill(SHEET, "Widest", "16");
    page.wait_for_text(&format!("{SHEET} table"), "proved 16");
    sheet(page, "features");
    page.wait(
        "the bore proved at every feature",
        "return [...document.querySelectorAll('input[data-column=bore]')] \
        .every((cell) => cell.value.startsWith('proved 16'))",
        &[],
    );
}

fn tube_and_surroundings(page: &Page) {
    sheet(page, "tube");
    page.fill(SHEET, "Wall", "2");
    page.choose(SHEET, "Far end", "welded cap");
    page.fill(SHEET, "Height of the top", "950");
    page.fill(SHEET, "Walking width", "1500");
    page.choose(SHEET, "People walk, seen from the datum", "right");
    sheet(page, "surroundings");
    page.choose(SHEET, "Exposure", "its own");
    page.choose(SHEET, "Setting", "outdoors, hosed down");
    page.fill(SHEET, "Whose rail it is", "Invented Harbour Trust");
    page.choose(SHEET, "Consent to drill", "in writing");
    page.fill(SHEET, "Its reference", "letter 12");
    page.choose(SHEET, "Carries people as a guard", "no");
    page.choose(SHEET, "Bonded to earth", "no");
    page.choose(SHEET, "On lightning protection", "no");
    page.choose(SHEET, "Near electric traction", "no");
    page.choose(SHEET, "Tube sealed against water", "yes");
}

/// A mains point, a place for a driver and the ways between them and the rail.
fn supply(page: &Page) {
    page.click("[aria-label='New mains point']");
    page.wait_for_text(&format!("{SIDE} header"), "Mains point");
    page.fill(SIDE, "Called", "Kiosk spur");
    page.choose(SIDE, "Protected by", "breaker, curve C");
    page.fill(SIDE, "Its rating", "10");
    page.choose(SIDE, "Behind a residual current device", "yes");
    page.fill(SIDE, "Load already on it", "1.5");

    page.click("[aria-label='New driver place']");
    const PLACE: &str = "form[aria-label='New driver place']";
    for (label, typed) in
        [("Clear width", "400"), ("Clear height", "300"), ("Clear depth", "150"), ("Highest air temperature", "38")]
    {
        let field = page.labelled(PLACE, label);
        page.click(&field);
        page.keys(typed);
    }
    page.keys(key::ENTER);
    page.wait_for_text(&format!("{SIDE} h2"), "Driver place 1");
    page.fill(SIDE, "Can be fixed to", "concrete wall of the kiosk");
    page.choose(SIDE, "Sun on it", "shade");
    page.choose(SIDE, "Reached without dismantling", "yes");
    page.choose(SIDE, "Can be locked", "yes");

    for (name, from, to, length) in [
        ("Route 1", "Mains point Kiosk spur", "Driver place Driver place 1", "1.8 m"),
        ("Route 2", "Driver place Driver place 1", "Left rail, way in at 60", "2.4 m"),
    ] {
        const ROUTE: &str = "form[aria-label='New route']";
        page.click("[aria-label='New route']");
        page.choose(ROUTE, "From", from);
        page.choose(ROUTE, "To", to);
        let field = page.labelled(ROUTE, "Length");
        page.click(&field);
        page.keys(&format!("{length}{}", key::ENTER));
        page.wait_for_text(&format!("{SIDE} h2"), name);
        page.choose(SIDE, "A cable passes", "proved");
        page.fill(SIDE, "widest", "20");
        page.wait_until_kept();
    }
}

/// After a restart everything is where it was, and the last step can still be taken back.
fn shown_again(machine: &Machine, id: &str) {
    let page = open(machine);
    page.wait_for_text("[data-site]", "1 rail · 9 features");
    page.click("[data-site]");
    page.wait_for("#screen-survey");
    page.click("#screen-survey");
    page.wait_for("#survey-drawing");
    wait_for_chainages(&page, &["60", "500", "1,600", "2,700", "3,215", "3,800", "4,900", "6,000", "8,000"]);
    // Everything is on the drawing as well.
    let drawing = page.run("return document.querySelector('#survey-drawing').getAttribute('aria-label')", &[]);
    assert!(drawing.as_str().is_some_and(|told| told.contains("10 features and bends")), "{drawing}");
    let before = exported(&machine.store(), id);
    page.click("#undo");
    page.wait_for_text(".stage main header [role='status']", "taken back");
    page.wait_until_kept();
    page.click("#redo");
    page.wait_until_kept();
    page.wait_for("#redo:disabled");
    machine.close(page);
    assert_same(&exported(&machine.store(), id), &before, "taken back and made again");
}

/// `quay.json` as the store writes it: with everything that is taken for granted spelled out.
fn written_out(machine: &Machine) -> Value {
    let home = machine.folder().join("by-hand");
    let mut store = desk::sites::Sites::open(&home, desk::sites::now_ms).expect("a store");
    let text = std::fs::read(workspace("tests/window/quay.json")).expect("what must be stored");
    let id = store.add_file(&text, "quay.json", None).expect("a survey").id;
    drop(store);
    exported(&home, &id)
}
