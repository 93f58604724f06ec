//! axe-core, run inside the real window on every screen: nothing against WCAG 2.2 at levels A and AA in either theme, and
//! contrast of 7:1 (criterion 1.4.6, level AAA) in the day theme.

use serde_json::{Value, json};

use crate::machine::{Machine, built, workspace};
use crate::page::{Page, key};

const SCREEN: &str = "1366x820";
const LEVELS: [&str; 5] = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

const ASK: &str = "const [levels, enhanced, done] = arguments; \
    axe.run(document, { runOnly: { type: 'tag', values: levels }, \
      rules: { 'color-contrast-enhanced': { enabled: enhanced }, 'target-size': { enabled: true } } }).then( \
      (found) => done({ passes: found.passes.map((each) => each.id), broken: found.violations.flatMap((each) => \
        each.nodes.map((node) => `${each.id}: ${node.target.join(' ')} ${node.failureSummary}`)) }), \
      (error) => done({ failed: String(error) }))";

/// Says what is against the levels on the page as it is shown, in a theme.
fn judge(page: &Page, screen: &str, theme: &str) {
    let found = page.run_and_wait(ASK, &[json!(LEVELS), json!(theme == "day")]);
    assert!(found["failed"].is_null(), "{screen}, {theme}: {}", found["failed"]);
    let broken = found["broken"].as_array().expect("a list");
    let lines: Vec<&str> = broken.iter().filter_map(Value::as_str).collect();
    assert!(broken.is_empty(), "{screen}, {theme}:\n{}", lines.join("\n"));
    // The measure itself holds: what is looked at every time was looked at.
    let passes = found["passes"].as_array().expect("a list");
    let wanted = if theme == "day" { "color-contrast-enhanced" } else { "color-contrast" };
    for rule in [wanted, "button-name", "target-size"] {
        assert!(passes.iter().any(|passed| passed == rule), "{screen}, {theme}: {rule} was not looked at: {passes:?}");
    }
}

/// In both themes; the page is left in the day theme.
pub fn judge_both(page: &Page, screen: &str) {
    for theme in ["dark", "day"] {
        page.run("document.documentElement.dataset.theme = arguments[0]", &[json!(theme)]);
        judge(page, screen, theme);
    }
}

pub fn with_axe(page: &Page) {
    let source = std::fs::read_to_string(workspace("ui/node_modules/axe-core/axe.min.js"));
    let source = source.expect("axe-core is installed with the other packages of ui/");
    page.run(&source, &[]);
    assert_eq!(page.run("return typeof axe?.run", &[]), json!("function"));
}

#[test]
fn every_screen_can_be_used_by_those_who_see_hear_or_point_otherwise() {
    let machine = Machine::start("access", SCREEN);
    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.wait_for("#first-run");
    with_axe(&page);
    judge_both(&page, "first run");
    page.click("#add-demo");
    page.wait_for("#drawing");
    for sheet in ["features", "holes", "drivers", "cables", "findings"] {
        page.click(&format!("#tab-{sheet}"));
        judge_both(&page, &format!("scheme, {sheet}"));
    }
    page.click("#scheme-panel-brief");
    judge_both(&page, "scheme, brief");
    for (rail, what) in [("stair", "sensors"), ("shelter", "chains of modules")] {
        page.click(&format!("[data-rail='{rail}']"));
        judge_both(&page, &format!("scheme, {what}"));
    }
    page.click("#screen-catalogue");
    page.click("[data-part]");
    page.wait_for("#part-form");
    for sheet in ["luminaires", "leads", "labour"] {
        page.click(&format!("[data-sheet='{sheet}']"));
        page.run("document.querySelector('[data-part]')?.click()", &[]);
        judge_both(&page, &format!("catalogue, {sheet}"));
    }
    page.click("#screen-survey");
    page.wait_for("#survey-drawing");
    judge_both(&page, "survey");
    page.click("#screen-history");
    page.wait_for("td.what");
    judge_both(&page, "history");
    page.click("[data-at]");
    page.wait_for("#read-only");
    judge_both(&page, "the site as it was");
    page.click("#to-sites");
    page.click("[data-more]");
    page.wait_for("[data-archive]");
    judge_both(&page, "sites");
    page.chord(&["?"]);
    page.wait_for("#key-sheet[open]");
    judge_both(&page, "keys");
    page.chord(&[key::ESCAPE]);
    machine.close(page);
    machine.end();
}

#[test]
fn a_page_that_breaks_the_rules_is_found_out() {
    let machine = Machine::start("access-broken", SCREEN);
    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.wait_for("#first-run");
    with_axe(&page);
    // Grey on white at 5:1 passes AA and fails 7:1; a button without a name fails level A.
    page.run(
        "document.documentElement.dataset.theme = 'day'; const text = document.querySelector('#first-run p'); \
         text.style.color = '#6b6b6b'; document.querySelector('#keys').removeAttribute('aria-label'); \
         document.querySelector('#keys').removeAttribute('title'); document.querySelector('#keys').textContent = ''",
        &[],
    );
    let found = page.run_and_wait(ASK, &[json!(LEVELS), json!(true)]);
    let broken = found["broken"].to_string();
    assert!(broken.contains("color-contrast-enhanced") && broken.contains("button-name"), "{broken}");
    machine.close(page);
    machine.end();
}
