//! The estimator: opens what the surveyor recorded, says what is wanted, sees the plan change while typing, asks why, compares
//! two briefs, keeps a hole and sees what that costs. Every figure shown is compared with the command line's plan.

use serde_json::{Value, json};

use crate::machine::{Machine, built, workspace};
use crate::page::{Page, key};
use crate::plan::Plan;
use crate::stored::exported;

const SCREEN: &str = "1920x1080";
const RAIL: &str = "q-left";

fn open(machine: &Machine) -> Page {
    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.resize(1920, 1080);
    page.click("[data-site]");
    page.wait_for("#drawing");
    page
}

/// The surveyor's site in the window's store; its id.
fn recorded(machine: &Machine) -> String {
    let mut store = desk::sites::Sites::open(&machine.store(), desk::sites::now_ms).expect("a store");
    let survey = std::fs::read(workspace("tests/window/quay.json")).expect("the surveyor's site");
    store.add_file(&survey, "quay.json", None).expect("added").id
}

/// The plan of a survey, by the command line.
fn planned(machine: &Machine, survey: &Value) -> Plan {
    let file = machine.folder().join("as-kept.json");
    std::fs::write(&file, survey.to_string()).expect("a survey is written");
    Plan::of(&file, &workspace("fixtures/demo/catalogue.toml"))
}

/// As the window prints numbers: groups of thousands, no noughts at the end.
fn shown(value: f64, decimals: usize) -> String {
    let fixed = format!("{value:.decimals$}");
    let (whole, part) = fixed.split_once('.').unwrap_or((&fixed, ""));
    let mut grouped = String::new();
    for (index, digit) in whole.chars().enumerate() {
        if index > 0 && (whole.len() - index) % 3 == 0 {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    if part.is_empty() { grouped } else { format!("{grouped}.{part}") }
}

/// A figure over the drawing, without its unit and words.
fn figure(page: &Page, name: &str) -> String {
    let script = "const tile = document.querySelector(`[data-figure='${arguments[0]}'] b`); \
                  return tile === null ? '' : tile.firstChild.textContent";
    page.run(script, &[json!(name)]).as_str().unwrap_or_default().to_owned()
}

/// What the window shows of the rail is the command line's plan of the survey as it is kept.
fn shows_the_plan(page: &Page, machine: &Machine, site: &str) -> Plan {
    page.wait_until_kept();
    let plan = planned(machine, &exported(&machine.store(), site));
    let luminaires = plan.luminaires(RAIL);
    assert_eq!(page.count("#drawing [data-luminaire]"), luminaires.len() as u64, "luminaires drawn");
    page.click("#tab-holes");
    // The table holds the rows that can be seen, and some to each side.
    let script = "return [...document.querySelectorAll('#table [data-volts]')].map((each) => [each.dataset.volts, each.textContent])";
    let cells = page.run(script, &[]);
    let cells = cells.as_array().expect("a list");
    assert!(cells.len() > 10, "luminaires in the table: {cells:?}");
    for cell in cells {
        let id = cell[0].as_str().expect("a luminaire");
        assert!(luminaires.iter().any(|each| each == id), "{id} is not planned");
        assert_eq!(cell[1], json!(shown(plan.volts(id).expect("solved"), 2)), "volts at {id}");
    }
    let least = luminaires.iter().filter_map(|id| plan.volts(id)).fold(f64::INFINITY, f64::min);
    assert_eq!(figure(page, "least-volts"), shown(least, 2));
    let cost = shown(plan.cost(), 2);
    let script = "return document.querySelector(\"[data-figure='cost'] b\")?.firstChild.textContent === arguments[0]";
    page.wait(&format!("a cost of {cost}"), script, &[json!(cost)]);
    plan
}

/// Types over a field of the brief; Enter is left to the caller.
fn type_over(page: &Page, field: &str, text: &str) {
    let selector = format!("#scheme-brief [data-field='{field}']");
    page.click(&selector);
    page.chord(&[key::CONTROL, "a"]);
    page.keys(text);
}

#[test]
fn what_was_surveyed_is_lit_explained_compared_and_kept() {
    let machine = Machine::start("estimator", SCREEN);
    let site = recorded(&machine);
    let page = open(&machine);
    page.wait_for_text("#scheme-brief", "Nothing is wished for this rail");
    page.click("#scheme-brief .button.main");
    page.wait_for("#drawing [data-luminaire]");
    let at_first = shows_the_plan(&page, &machine, &site);

    the_drawing_follows_the_keys(&page, &machine, &site, &at_first);
    let plan = wishes(&page, &machine, &site);
    explanations(&page, &plan);
    two_briefs(&page, &machine, &site, &plan);
    a_hole_is_kept(&page, &machine, &site);
    machine.close(page);

    let page = open(&machine);
    shows_the_plan(&page, &machine, &site);
    assert_eq!(page.run("return document.querySelector('[data-field=drop]').value", &[]), json!("3"));
    machine.close(page);
    machine.end();
}

/// What is typed is drawn at once and kept with Enter, not before.
fn the_drawing_follows_the_keys(page: &Page, machine: &Machine, site: &str, before: &Plan) {
    let count = before.luminaires(RAIL).len() as u64;
    type_over(page, "spacing", "400");
    let fewer = "return document.querySelectorAll('#drawing [data-luminaire]').length < arguments[0]";
    page.wait("fewer luminaires", fewer, &[json!(count)]);
    page.wait_for_text(".drawing .caption", "Not kept yet");
    assert_eq!(
        exported(&machine.store(), site)["brief"]["rails"][0]["target"]["spacing_mm"],
        json!(300),
        "not kept yet"
    );
    page.keys(key::ESCAPE);
    page.wait(
        "as before",
        "return document.querySelectorAll('#drawing [data-luminaire]').length === arguments[0]",
        &[json!(count)],
    );
    type_over(page, "spacing", &format!("400{}", key::ENTER));
    page.wait("fewer luminaires", fewer, &[json!(count)]);
    let after = shows_the_plan(page, machine, site);
    assert!((after.luminaires(RAIL).len() as u64) < count);
}

/// The part, whose voltage governs, and the drop that is allowed.
fn wishes(page: &Page, machine: &Machine, site: &str) -> Plan {
    type_over(page, "part", &format!("PT-22-W50{}", key::ENTER));
    page.wait_until_kept();
    let plan = shows_the_plan(page, machine, site);
    assert!(plan.parts(RAIL).iter().all(|part| part == "PT-22-W50"), "{:?}", plan.parts(RAIL));
    type_over(page, "drop", &format!("3{}", key::ENTER));
    page.wait_for_text("#drawing", "drop of 3\u{202f}%");
    shows_the_plan(page, machine, site)
}

/// Points at the line of volts, where a luminaire is.
fn point_at_volts(page: &Page, luminaire: &str) {
    let script = "const box = document.querySelector('#drawing').getBoundingClientRect(); \
                  const lamp = document.querySelector(`#drawing [data-luminaire='${arguments[0]}']`).getBoundingClientRect(); \
                  return (lamp.left + lamp.width / 2 - box.left) / box.width";
    let across = page.run(script, &[json!(luminaire)]).as_f64().expect("a place");
    page.point("#drawing", across, 0.9);
}

/// Why: a luminaire by its volts in the table, a point of the line of volts by pointing at it, a driver by its name.
fn explanations(page: &Page, plan: &Plan) {
    let luminaires = plan.luminaires(RAIL);
    let (first, last) = (&luminaires[0], &luminaires[luminaires.len() - 1]);
    page.click(&format!("[data-volts='{first}']"));
    page.wait_for_text("#why", &format!("{first},"));
    let volts = |id: &str| format!("{:.3}\u{202f}V", plan.volts(id).expect("solved"));
    assert_eq!(page.text("#why li:last-child .figure"), volts(first));
    point_at_volts(page, last);
    page.wait_for_text("#why", &format!("{last},"));
    assert_eq!(page.text("#why li:last-child .figure"), volts(last));
    page.click("#tab-drivers");
    page.click("[data-driver]");
    let (load, part) = plan.first_driver();
    let told = page.wait_for_text("#why", "drawn from driver D1");
    assert!(told.contains(&format!("{load:.1}\u{202f}W")) && told.contains(&part), "{load} W, {part}: {told}");
}

/// Brief B beside brief A: each column is the plan of its own survey, and nothing of B is kept until it is taken.
fn two_briefs(page: &Page, machine: &Machine, site: &str, kept: &Plan) {
    page.click("[data-action='compare']");
    page.wait_for(".compare");
    type_over(page, "spacing", &format!("250{}", key::ENTER));
    let survey = exported(&machine.store(), site);
    let mut other = survey.clone();
    other["brief"]["rails"][0]["target"]["spacing_mm"] = json!(250);
    let other = planned(machine, &other);
    for (row, a, b) in [
        ("luminaires", shown(kept.luminaires(RAIL).len() as f64, 0), shown(other.luminaires(RAIL).len() as f64, 0)),
        ("cost", shown(kept.cost(), 2), shown(other.cost(), 2)),
    ] {
        let script = "const cells = [...document.querySelectorAll(`[data-row='${arguments[0]}'] td`)].map((each) => each.textContent); \
                      return cells[0] === arguments[1] && cells[1] === arguments[2]";
        page.wait(&format!("{row} of {a} beside {b}"), script, &[json!(row), json!(a), json!(b)]);
    }
    page.click("[data-action='leave']");
    page.wait_for("#drawing");
    assert_eq!(exported(&machine.store(), site), survey, "brief B left nothing behind");
}

/// A hole is kept 20 mm from where it was planned: what that costs is the difference of two plans. Then it is let go by undo.
fn a_hole_is_kept(page: &Page, machine: &Machine, site: &str) {
    let free = shows_the_plan(page, machine, site);
    let first = free.luminaires(RAIL)[0].clone();
    point_at_volts(page, &first);
    page.wait_for_text("#why", &format!("{first},"));
    page.chord(&["d"]);
    page.wait_for("[data-drawing]:focus");
    page.chord(&[key::ALT, key::SHIFT, key::RIGHT]);
    page.chord(&[key::ALT, key::SHIFT, key::RIGHT]);
    page.wait_for_text(".drawing .caption", "not kept yet");
    page.chord(&[key::ENTER]);
    page.wait_for("[data-lock]");
    let with = shows_the_plan(page, machine, site);
    let holes = exported(&machine.store(), site)["brief"]["rails"][0]["locks"]["holes_mm"].clone();
    assert_eq!(holes.as_array().map(Vec::len), Some(1), "{holes}");
    let moved = holes[0].as_f64().expect("a chainage") - free.hole(RAIL, 0);
    assert!((moved - 20.0).abs() < 0.001, "moved by {moved} mm");

    let money = format!("{:.2}", (with.cost() - free.cost()).abs());
    page.wait_for_text("[data-lock] .cost", &money);
    page.click("[data-lock] .cost");
    let why = page.wait_for_text("#why", "more for the feeds than without it");
    assert!(why.contains(&shown(free.cost(), 2)) && why.contains(&shown(with.cost(), 2)), "both plans are told: {why}");

    page.run("document.activeElement?.blur()", &[]);
    page.chord(&[key::CONTROL, "z"]);
    page.wait("no lock", "return document.querySelector('[data-lock]') === null", &[]);
    let again = shows_the_plan(page, machine, site);
    assert_eq!(again.cost(), free.cost());
}
