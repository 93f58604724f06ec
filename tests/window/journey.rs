//! What a person does in the window, and what they must then see.

use serde_json::{Value, json};

use crate::machine::{Machine, built, workspace};
use crate::page::{Page, key};
use crate::plan::Plan;

const SCREEN: &str = "1366x820";
const DEMO: &str = "fixtures/demo/site.json";
const CATALOGUE: &str = "fixtures/demo/catalogue.toml";

/// Volts as the explanation prints them: three decimals, a narrow space, the unit.
fn shown_volts(volts: f64) -> String {
    format!("{volts:.3}\u{202f}V")
}

#[test]
fn the_demo_site_is_opened_and_its_numbers_are_explained() {
    let plan = Plan::of(&workspace(DEMO), &workspace(CATALOGUE));
    let machine = Machine::start("demo", SCREEN);
    // Named as the program's argument, as a file manager would.
    let demo = workspace(DEMO);
    let page = Page::open(machine.port, &built("newel-window"), &[demo.to_str().expect("a plain path")]);
    page.wait_for("#drawing");
    // It is looked at, and not taken for a site that could be changed.
    assert_eq!(page.text("#kept").trim(), "Read only");
    let rails = plan.rails();
    let listed = page.texts("nav .rail b");
    for (_, label, _) in &rails {
        assert!(listed.contains(label), "{label} is not in the list {listed:?}");
    }

    let mut drawn = 0;
    for (id, _, luminaires) in &rails {
        page.click(&format!("[data-rail='{id}']"));
        page.wait_for(&format!("[data-rail='{id}'][aria-current]"));
        let marks = page.count("#drawing [data-luminaire]");
        assert_eq!(marks, luminaires.len() as u64, "luminaires drawn on {id}");
        drawn += luminaires.len();
    }
    assert!(drawn > 100, "the demo site is lit");

    let (rail, _, luminaires) = rails.iter().max_by_key(|rail| rail.2.len()).expect("a longest rail");
    page.click(&format!("[data-rail='{rail}']"));
    page.click("#tab-holes");
    let first = &luminaires[0];
    let volts = plan.volts(first).expect("its circuit is solved");
    page.click(&format!("[data-volts='{first}']"));
    page.wait_for_text("#why", first);
    assert_eq!(page.text("#why li:last-child .figure"), shown_volts(volts), "{first}");
    steps_add_up(&page, volts);

    // The same by keys alone: the drawing goes on to the next luminaire.
    let second = &luminaires[1];
    page.press("#drawing", key::RIGHT);
    page.wait_for_text("#why", &format!("{second},"));
    let next = plan.volts(second).expect("its circuit is solved");
    assert_eq!(page.text("#why li:last-child .figure"), shown_volts(next), "{second}");

    findings_are_told(&page, &plan);
    machine.close(page);
    machine.end();
}

/// The steps before the last add up to it within what rounding to 3 decimals can hide.
fn steps_add_up(page: &Page, volts: f64) {
    let figures = page.texts("#why li:not(.given) .figure");
    let numbers: Vec<f64> = figures
        .iter()
        .map(|figure| figure.replace('\u{2212}', "-").trim_end_matches("\u{202f}V").parse().expect("a number of volts"))
        .collect();
    assert!(numbers.len() > 2, "an explanation has steps: {figures:?}");
    let sum: f64 = numbers[..numbers.len() - 1].iter().sum();
    // The source is printed with two decimals, each change with at least three.
    assert!((sum - volts).abs() < 0.005 + 0.0005 * numbers.len() as f64, "{figures:?} do not lead to {volts}");
}

fn findings_are_told(page: &Page, plan: &Plan) {
    let advice = plan.advice("stop");
    assert!(!advice.is_empty(), "the demo site has a rail that stops the job");
    page.click("[data-findings='stop']");
    page.wait_for("[data-finding]");
    let told = page.texts("[data-finding]");
    assert_eq!(told.len(), advice.len(), "every stop of the site is listed: {told:?}");
    for text in &advice {
        assert!(told.iter().any(|shown| shown.contains(text)), "{text:?} is not told in {told:?}");
    }
    // A verdict is a shape and a word besides its colour.
    assert_eq!(page.count("td .sign.stop svg"), advice.len() as u64);
    assert!(page.texts("td .sign.stop").iter().all(|word| word.trim() == "stop"));
}

#[test]
fn text_from_a_file_is_shown_as_typed() {
    const FRAGMENT: &str = "<img src=x onerror=\"document.title='taken'\"><b>Stair</b>";
    let machine = Machine::start("fragment", SCREEN);
    let text = std::fs::read_to_string(workspace(DEMO)).expect("the demo site");
    let mut survey: Value = serde_json::from_str(&text).expect("the demo site is JSON");
    survey["rails"][0]["label"] = json!(FRAGMENT);
    survey["rails"][0]["features"][0]["note"] = json!(FRAGMENT);
    survey["site"]["label"] = json!(FRAGMENT);
    let file = machine.folder().join("site.json");
    std::fs::write(&file, survey.to_string()).expect("a survey is written");

    // Named as the program's argument, as a file manager would.
    let page = Page::open(machine.port, &built("newel-window"), &[file.to_str().expect("a plain path")]);
    page.wait_for("#drawing");
    assert_eq!(page.text("h1"), FRAGMENT);
    assert_eq!(page.texts("nav .rail b")[0], FRAGMENT);
    page.click("#tab-features");
    assert!(page.texts("td").iter().any(|cell| cell.trim().ends_with(FRAGMENT)), "the note is in the table");
    assert_eq!(page.count("#app img"), 0, "no element came out of a label");
    assert_eq!(page.run("return document.title", &[]), json!("Newel"));
    machine.close(page);
    machine.end();
}

#[test]
fn a_file_that_cannot_be_used_is_refused_with_every_fault() {
    let machine = Machine::start("refused", SCREEN);
    let text = std::fs::read_to_string(workspace(DEMO)).expect("the demo site");
    let mut survey: Value = serde_json::from_str(&text).expect("the demo site is JSON");
    survey["rails"][0]["height_mm"] = json!("nine hundredths");
    survey["rails"][1]["colour_of_sky"] = json!("grey");
    let file = machine.folder().join("site.json");
    std::fs::write(&file, survey.to_string()).expect("a survey is written");

    let page = Page::open(machine.port, &built("newel-window"), &[file.to_str().expect("a plain path")]);
    page.wait_for("#refusal li");
    let faults = page.texts("#refusal li");
    assert_eq!(faults.len(), 2, "{faults:?}");
    assert!(faults.iter().any(|fault| fault.contains("nine hundredths")), "{faults:?}");
    assert!(faults.iter().any(|fault| fault.contains("colour_of_sky")), "{faults:?}");
    // The way on is still there.
    page.click("#refusal-act");
    page.click("#add-demo");
    page.wait_for("#drawing");
    machine.close(page);
    machine.end();
}
