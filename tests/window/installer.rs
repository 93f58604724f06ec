//! The installer, on a tablet and weeks later: takes in the site that the office sent, reads what stops the drill, holds the
//! survey and its photo against the rail, sees what was changed since the plan, puts right what differs, and has every hole
//! with its running dimension. The command line's plan says what must be shown, its export what must be kept.

use desk::photos::Unwatched;
use desk::sites::{Sites, now_ms, rename_device};
use serde_json::{Value, json};

use crate::access::{judge_both, with_axe};
use crate::machine::{Machine, built, workspace};
use crate::page::{Page, key};
use crate::photos::CHOOSE;
use crate::plan::Plan;
use crate::same::{assert_same, millimetres};
use crate::stored::{exported, sites};
use crate::surveyor::SHEET;

/// A tablet's.
const SCREEN: &str = "1280x800";
const RAIL: &str = "q-left";
const CATALOGUE: &str = "fixtures/demo/catalogue.toml";

/// What the office sent.
struct Sent {
    /// The site's id.
    site: String,
    /// Its survey as it was when the rail was planned and handed over.
    as_planned: Value,
}

#[test]
fn what_was_sent_is_checked_against_the_rail_before_the_first_hole() {
    let machine = Machine::start("installer", SCREEN);
    let sent = office(&machine);
    let page = open(&machine);
    take_in(&page, &machine);
    let received = exported(&machine.store(), &sent.site);
    let plan = planned(&machine, &received);
    page.click("[data-site]");
    page.wait_for("#drawing [data-luminaire]");
    with_axe(&page);
    what_stops_the_drill(&page, &plan);
    holes_are_those_of(&page, &plan);
    one_hole_is_explained(&page, &plan);
    judge_both(&page, "the installer's scheme");
    original_conditions(&page, &received);
    what_changed_since_the_plan(&page, &machine, &sent);
    put_right(&page);
    page.wait_until_kept();

    // The rail is re-planned from what is there; the holes that moved are drawn, and nothing stops the drill any more.
    let kept = exported(&machine.store(), &sent.site);
    let new_plan = planned(&machine, &kept);
    page.click("#screen-scheme");
    page.wait_for_text(".drawing .caption", "Ready to drill");
    assert_eq!(new_plan.not_ready(RAIL), Vec::<String>::new());
    assert_ne!(new_plan.drilling(RAIL), plan.drilling(RAIL), "a post that stands elsewhere moves holes");
    holes_are_those_of(&page, &new_plan);
    machine.close(page);

    only_that_was_changed(&received, &kept);
    assert_same(&exported(&machine.store(), &sent.site), &kept, "after the window closed");
    after_a_restart(&machine, &new_plan);
    machine.end();
}

/// A tablet-sized window.
fn open(machine: &Machine) -> Page {
    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.resize(1280, 800);
    page
}

fn planned(machine: &Machine, survey: &Value) -> Plan {
    let file = machine.folder().join("as-kept.json");
    std::fs::write(&file, survey.to_string()).expect("a survey is written");
    Plan::of(&file, &workspace(CATALOGUE))
}

/// The office's computer: the surveyor's rail with a brief, a photo of its joint, two open questions; handed over; and a
/// post that the surveyor measured once more after that. The whole is sent as one file.
fn office(machine: &Machine) -> Sent {
    let home = machine.folder().join("office");
    rename_device(&home, Some("Invented Emil"), Some("office computer")).expect("named");
    rename_device(&machine.store(), Some("Invented Anna"), Some("tablet")).expect("named");
    let mut store = Sites::open(&home, now_ms).expect("a store");
    let survey = std::fs::read(workspace("tests/window/quay.json")).expect("the surveyor's site");
    let mut survey: Value = serde_json::from_slice(&survey).expect("a survey");
    let rail = &mut survey["rails"][0];
    rail["bonding"]["bonded"] = json!("unknown");
    let joint = rail["features"].as_array_mut().expect("features").iter_mut().find(|each| each["id"] == "q-joint");
    joint.expect("the joint")["bore"] = json!({"kind": "unknown"});
    survey["brief"] = json!({
        "rails": [{"rail": RAIL, "lamps": "points", "light": {"kind": "fixed_white", "kelvin": 3000, "cri": 80},
            "target": {"kind": "spacing", "spacing_mm": 300}, "end_margin_least_mm": 60, "end_margin_greatest_mm": 360,
            "aim": {"angle_deg": 30}, "zone": "quay", "feed": "cheapest"}],
        "zones": [{"id": "quay", "label": "Quay steps", "control": {"kind": "always_on"}, "stairs": "yes"}],
    });
    let id = store.add_file(survey.to_string().as_bytes(), "quay.json", None).expect("added").id;
    store.add_photos(&id, &[workspace("fixtures/demo/photos/ramp.jpg")], None, &Unwatched).expect("a photo");
    let photo = store.survey(&id, None).expect("a survey").photos[0].id.to_string();
    let shows = json!({"kind": "rail", "rail": RAIL, "chainage_mm": 3215});
    let edit = |store: &mut Sites, edit: Value| {
        store.edit(&id, edit.to_string().as_bytes(), "edit").expect("made");
    };
    edit(&mut store, json!({"kind": "set_photo", "id": photo, "change": {"kind": "shows", "value": shows}}));
    let note = "weld ground flush on the walked side";
    edit(&mut store, json!({"kind": "set_photo", "id": photo, "change": {"kind": "note", "value": note}}));
    store.put_stage(&id, "fit").expect("put");
    let as_planned = serde_json::from_str(&store.export(&id, None).expect("a survey")).expect("a survey");
    edit(&mut store, json!({"kind": "move_feature", "rail": RAIL, "feature": "q-post-5", "to_mm": 4930}));
    store.send_file(&id, &parcel(machine)).expect("sent");
    Sent { site: id, as_planned }
}

/// The file that the office sent.
fn parcel(machine: &Machine) -> std::path::PathBuf {
    machine.folder().join("quay steps.newel")
}

/// The site comes in from its file; what a device that nobody here knows wrote counts once the installer says so.
fn take_in(page: &Page, machine: &Machine) {
    page.wait_for("#first-run");
    page.run(CHOOSE, &[json!(parcel(machine)), json!(null)]);
    page.click("#take-in");
    page.wait_for_text(".unknown", "Invented Emil");
    page.click("[data-know]");
    page.wait("nobody unknown", "return document.querySelector('[data-know]') === null", &[]);
    let line = page.wait_for_text("[data-site]", "Quay steps");
    assert!(line.contains("Fit") && line.contains("1 rail"), "{line}");
    assert_eq!(sites(&machine.store()).len(), 1);
}

/// Without what a screen and a paper write differently: grouped thousands and kinds of spaces.
fn bare(text: &str) -> String {
    text.replace([',', '\u{202f}', '\u{a0}', ' '], "")
}

/// Everything that stops the drill stands under Findings, and the drawing says that there is such.
fn what_stops_the_drill(page: &Page, plan: &Plan) {
    page.wait_for_text(".drawing .caption", "Not ready to drill");
    page.click("#tab-findings");
    page.wait_for(".waits li");
    let told: Vec<String> = page.texts(".waits li").iter().map(|text| bare(text)).collect();
    let waits: Vec<String> = plan.not_ready(RAIL).iter().map(|text| bare(text)).collect();
    assert_eq!(told, waits);
    let held = |words: &str| waits.iter().any(|wait| wait.contains(&bare(words)));
    assert!(held("bore") && held("bond"), "the joint's bore and the rail's bond: {waits:?}");
}

/// Every hole, cell by cell in the table, which draws the rows that can be seen; and all of them in the drawing.
fn holes_are_those_of(page: &Page, plan: &Plan) {
    let holes = plan.drilling(RAIL);
    let count = "return document.querySelectorAll('#drawing [data-luminaire]').length === arguments[0]";
    page.wait(&format!("{} holes drawn", holes.len()), count, &[json!(holes.len())]);
    page.click("#tab-holes");
    let mut seen = std::collections::BTreeSet::new();
    for number in [0, holes.len() / 2, holes.len() - 1] {
        let hole = &holes[number];
        let script = format!(
            "document.querySelector('#table .box').scrollTop = {number} * 44; \
             const cell = document.querySelector(`#table [data-position='${{arguments[0]}}']`); \
             return cell?.textContent.replace(/,/g, '') === arguments[1]"
        );
        let chainage = trimmed(hole["chainage_mm"].as_f64().expect("a chainage"));
        page.wait("the hole in the table", &script, &[hole["hole"].clone(), json!(chainage)]);
        let script = "return [...document.querySelectorAll('#table tbody tr')].filter((row) => row.querySelector('[data-position]')) \
                      .map((row) => [row.querySelector('[data-position]').dataset.position, \
                        ...[...row.querySelectorAll('td.num')].map((cell) => cell.textContent.trim())])";
        for row in page.run(script, &[]).as_array().expect("rows") {
            let reference = row[0].as_str().expect("a reference");
            let hole = holes.iter().find(|hole| hole["hole"] == reference);
            let hole = hole.unwrap_or_else(|| panic!("{reference} is not planned"));
            let fields = ["chainage_mm", "from_mark_mm", "spacing_mm", "diameter_mm"];
            for (place, field) in fields.into_iter().enumerate() {
                let wanted = hole[field].as_f64().map(trimmed).unwrap_or_default();
                assert_eq!(bare(row[place + 1].as_str().unwrap_or_default()), wanted, "{field} of {reference}");
            }
            seen.insert(reference.to_owned());
        }
    }
    assert_eq!(seen.len(), holes.len(), "holes in the table: {seen:?}");
}

/// As the window prints millimetres, without groups: tenths only where there are any.
fn trimmed(mm: f64) -> String {
    let tenths = (mm * 10.0).round() / 10.0;
    if tenths.fract() == 0.0 { format!("{tenths:.0}") } else { format!("{tenths:.1}") }
}

/// Where a hole is counted from is told with its numbers.
fn one_hole_is_explained(page: &Page, plan: &Plan) {
    let holes = plan.drilling(RAIL);
    // In the table the last holes are in sight.
    let hole = &holes[holes.len() - 3];
    let id = hole["hole"].as_str().expect("a reference");
    page.click(&format!("#table [data-position='{id}']"));
    let told = bare(&page.wait_for_text("#why", "Running dimension from the datum"));
    for field in ["chainage_mm", "from_mark_mm"] {
        let length = trimmed(hole[field].as_f64().expect("a length"));
        assert!(told.contains(&length), "{field}, {length}: {told}");
    }
}

/// The survey and the photo of the joint: what the installer holds against the rail.
fn original_conditions(page: &Page, received: &Value) {
    page.click("#screen-survey");
    page.wait_for("#survey-drawing");
    for feature in received["rails"][0]["features"].as_array().expect("features") {
        let id = feature["id"].as_str().expect("an id");
        let shown = |column: &str| {
            let cell = "return document.querySelector(`input[data-row='${arguments[0]}'][data-column='${arguments[1]}']`)?.value";
            bare(page.run(cell, &[json!(id), json!(column)]).as_str().unwrap_or_default())
        };
        assert_eq!(shown("chainage"), trimmed(millimetres(&feature["chainage_mm"])), "where {id} was measured");
        let bore = if feature["bore"]["kind"] == "proved" { "proved16" } else { "unknown" };
        assert!(shown("bore").starts_with(bore), "passage at {id}: {}", shown("bore"));
    }
    page.click("[data-feature='q-joint']");
    page.wait_for_text("aside[aria-label='What is chosen'] [data-finding]", "draw-wire");

    page.click("#screen-photos");
    page.wait_for("#photo-grid .tile");
    let tile = page.text("#photo-grid .tile");
    assert!(tile.contains("weld ground flush") && tile.contains("Left rail at 3,215"), "{tile}");
    let drawn = "return document.querySelector('#photo-grid .tile img')?.naturalWidth > 0";
    page.wait("the photo", drawn, &[]);
}

/// The rail as it was handed over, and as it is since: who moved what, and which holes that moves.
fn what_changed_since_the_plan(page: &Page, machine: &Machine, sent: &Sent) {
    page.click("#screen-history");
    page.wait_for("td.what");
    let told = page.texts("td.what");
    assert!(told[0].contains("moved from 4,900 to 4,930") || told[0].contains("moved from 4900 to 4930"), "{told:?}");
    assert!(told[1].contains("stage of the site") && told[1].contains("fit"), "{told:?}");
    let who = page.texts("td.who");
    assert!(who[0].contains("Invented Emil") && who[0].contains("office computer"), "{who:?}");
    page.click("tr:nth-child(2) [data-at]");
    page.wait_for_text("#read-only", "This is the site as it was");
    page.wait_for("#drawing [data-luminaire]");
    let then = planned(machine, &sent.as_planned);
    holes_are_those_of(page, &then);
    page.click("#read-only-act");
    page.wait("the site as it is", "return document.querySelector('#read-only') === null", &[]);
    let now = planned(machine, &exported(&machine.store(), &sent.site));
    assert_ne!(then.drilling(RAIL), now.drilling(RAIL), "the post that was moved moves holes");
    holes_are_those_of(page, &now);
}

/// What the installer finds on site: a post 40 mm from where it was taped, a bore that lets the draw-wire through, and no
/// bond to earth.
fn put_right(page: &Page) {
    page.click("#screen-survey");
    page.wait_for("#survey-drawing");
    let cell = "input[data-row='q-post-3'][data-column='chainage']";
    page.click(cell);
    page.chord(&[key::CONTROL, "a"]);
    page.keys(&format!("2740{}", key::ENTER));
    let moved =
        "return document.querySelector(\"input[data-row='q-post-3'][data-column='chainage']\")?.value === '2,740'";
    page.wait("the post at 2,740", moved, &[]);
    page.click("#survey-tab-passage");
    page.fill(SHEET, "Widest", "16");
    let proved = "const rows = [...document.querySelectorAll('#survey-sheet table tbody tr')]; \
                  return rows.length === 1 && rows[0].textContent.includes('proved 16')";
    page.wait("the whole bore proved", proved, &[]);
    page.click("#survey-tab-surroundings");
    page.choose(SHEET, "Bonded to earth", "no");
}

/// Three answers are new; every other value is as it was received.
fn only_that_was_changed(received: &Value, kept: &Value) {
    let place = |survey: &Value, id: &str| {
        let features = survey["rails"][0]["features"].as_array().expect("features");
        features.iter().position(|feature| feature["id"] == id).unwrap_or_else(|| panic!("no feature {id}"))
    };
    let (post, joint) = (place(kept, "q-post-3"), place(kept, "q-joint"));
    let rail = &kept["rails"][0];
    assert_eq!(millimetres(&rail["features"][post]["chainage_mm"]), 2740.0);
    assert_eq!(rail["features"][joint]["bore"], json!({"kind": "proved", "how": "draw_wire", "widest_mm": 16}));
    assert_eq!(rail["bonding"]["bonded"], json!("no"));
    let mut wanted = received.clone();
    let (old_post, old_joint) = (place(received, "q-post-3"), place(received, "q-joint"));
    wanted["rails"][0]["features"][old_post]["chainage_mm"] = rail["features"][post]["chainage_mm"].clone();
    wanted["rails"][0]["features"][old_joint]["bore"] = rail["features"][joint]["bore"].clone();
    wanted["rails"][0]["bonding"] = rail["bonding"].clone();
    assert_same(kept, &wanted, "the survey");
}

/// The next morning: the same holes, and a history that says who put right what.
fn after_a_restart(machine: &Machine, plan: &Plan) {
    let page = open(machine);
    page.click("[data-site]");
    page.wait_for("#drawing [data-luminaire]");
    page.wait_for_text(".drawing .caption", "Ready to drill");
    holes_are_those_of(&page, plan);
    page.click("#screen-history");
    page.wait_for("td.what");
    let (told, who) = (page.texts("td.what"), page.texts("td.who"));
    let mine: Vec<&String> =
        told.iter().zip(&who).filter(|(_, who)| who.contains("Invented Anna")).map(|(what, _)| what).collect();
    assert!(mine.iter().any(|what| bare(what).contains("from2700to2740")), "{told:?} {who:?}");
    assert!(mine.iter().any(|what| what.contains("bond")), "{told:?}");
    machine.close(page);
}
