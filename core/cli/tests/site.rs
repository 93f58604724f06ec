//! `newel site` and `newel device` as built: exit status, what stands on which output, files in and out.
//!
//! The contract is ours and has no outside source.

mod place;

use std::io::Write as _;
use std::process::{Command, Stdio};

use place::{Place, code, text};
use serde_json::Value;

#[test]
fn a_survey_goes_in_is_listed_and_comes_out_as_it_was() {
    let place = Place::new("site", "in_and_out");
    assert_eq!(place.done(&["site", "list"]), "0 sites, 0 of them in the archive\n");
    assert_eq!(place.done(&["site", "add", &place.file("yard.json")]), "yard\n");
    let list = place.json(&["site", "list", "--json"]);
    assert_eq!(list["schema_version"], 1);
    let line = &list["sites"][0];
    for (field, value) in [("rails", 1), ("features", 2), ("photos", 1), ("disagreements", 0)] {
        assert_eq!(line[field], value, "{field}");
    }
    assert_eq!((line["id"].as_str(), line["stage"].as_str()), (Some("yard"), Some("survey")));
    let listed = place.done(&["site", "list"]);
    assert!(listed.starts_with("yard  Yard (invented)  survey  1 rail  2 features  1 photo  "), "{listed}");

    let exported = place.done(&["site", "export", "yard"]);
    std::fs::write(place.file("again.json"), &exported).expect("written");
    let plan = |file: &str| place.json(&["plan", file, "--json"]);
    let (first, again) = (plan(&place.file("yard.json")), plan(&place.file("again.json")));
    assert_eq!(first, again, "the exported file gives the same plan, byte for byte");
    let shown = place.json(&["site", "show", "yard", "--json"]);
    assert_eq!(shown, first, "so does the site in the store");
    place.done(&["site", "export", "yard", "--out", &place.file("third.json")]);
    assert_eq!(std::fs::read_to_string(place.file("third.json")).expect("the file"), exported);

    let strict = place.run(&["site", "show", "yard", "--strict"]);
    let has_stops = first["findings"].as_array().expect("findings").iter().any(|f| f["verdict"] == "stop");
    assert_eq!(code(&strict), if has_stops { 3 } else { 0 });
    assert!(text(&strict.stdout).contains("CABLE SCHEDULE"));
    assert!(text(&strict.stderr).contains("demo catalogue"));
}

#[test]
fn edits_are_told_as_a_surveyor_tells_them_and_taken_back() {
    let place = Place::new("site", "edits");
    place.done(&["site", "add", &place.file("yard.json")]);
    let before = place.done(&["site", "export", "yard"]);
    let edit = r#"{"kind": "move_feature", "rail": "r1", "feature": "p1", "to_mm": "51.5 cm"}"#;
    std::fs::write(place.file("edit.json"), edit).expect("written");
    assert_eq!(place.done(&["site", "edit", "yard", &place.file("edit.json")]), "post p1 moved from 500 to 515 mm\n");
    let history = place.json(&["site", "history", "yard", "--json"]);
    let changes = history["changes"].as_array().expect("changes");
    assert_eq!(changes.len(), 2);
    assert_eq!(changes[1]["sentence"], "post p1 moved from 500 to 515 mm");
    assert_eq!(changes[1]["person"], "Invented home");
    let told = place.done(&["site", "history", "yard"]);
    assert!(told.contains("  Invented home  post p1 moved from 500 to 515 mm\n"), "{told}");
    let first = changes[0]["change"].as_str().expect("a name");
    assert_eq!(place.done(&["site", "export", "yard", "--at", &first[..10]]), before);
    assert_eq!(place.done(&["site", "undo", "yard"]), "taken back: post p1 moved from 500 to 515 mm\n");
    assert_eq!(place.done(&["site", "export", "yard"]), before);
    place.done(&["site", "redo", "yard"]);
    assert!(place.done(&["site", "export", "yard"]).contains("515"));
    place.done(&["site", "undo", "yard"]);
    assert!(place.refused(&["site", "undo", "yard"]).contains("nothing of this device to take back"));

    // From standard input, with every fault of the text in one go.
    let mut child = Command::new(env!("CARGO_BIN_EXE_newel"))
        .args(["site", "edit", "yard", "-", "--home"])
        .arg(place.0.join("home"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("newel runs");
    let wrong = r#"{"kind": "move_feature", "rail": 7, "to_mm": "far"}"#;
    child.stdin.take().expect("its input").write_all(wrong.as_bytes()).expect("written");
    let output = child.wait_with_output().expect("newel ends");
    let lines = text(&output.stderr);
    assert_eq!((code(&output), lines.lines().count()), (2, 3), "{lines}");
    for path in ["$.rail", "$.feature", "$.to_mm"] {
        assert!(lines.contains(path), "{path} in {lines}");
    }
}

#[test]
fn a_site_goes_in_one_file_from_one_store_to_another() {
    let place = Place::new("site", "parcel");
    place.done(&["site", "add", &place.file("yard.json")]);
    place.done(&["site", "send", "yard", &place.file("yard.newel-site")]);
    let there = |args: &[&str]| place.on("other", args);
    let came = there(&["site", "receive", &place.file("yard.newel-site"), "--json"]);
    assert_eq!(code(&came), 0, "{}", text(&came.stderr));
    let came: Value = serde_json::from_slice(&came.stdout).expect("JSON");
    assert_eq!((came["sites"][0].as_str(), came["new_changes"].as_u64()), (Some("yard"), Some(1)));
    let stranger = came["unknown_devices"][0]["id"].as_str().expect("its key").to_owned();
    assert_eq!(came["unknown_devices"][0]["person"], "Invented home");
    let waits = there(&["site", "export", "yard"]);
    assert_eq!(code(&waits), 2, "what nobody vouched for does not count");
    assert_eq!(code(&there(&["device", "know", &stranger[..16]])), 0);
    assert_eq!(text(&there(&["site", "export", "yard"]).stdout), place.done(&["site", "export", "yard"]));
    let devices = there(&["device", "list", "--json"]);
    let devices: Value = serde_json::from_slice(&devices.stdout).expect("JSON");
    assert_eq!(devices["devices"].as_array().map(Vec::len), Some(2));

    let mut bytes = std::fs::read(place.file("yard.newel-site")).expect("the file");
    let middle = bytes.len() / 2;
    bytes[middle] ^= 0x20;
    std::fs::write(place.file("altered"), bytes).expect("written");
    for file in ["altered", "yard.json"] {
        let refused = there(&["site", "receive", &place.file(file)]);
        assert_eq!(code(&refused), 2);
        assert!(text(&refused.stderr).contains("a file written by newel site send"), "{}", text(&refused.stderr));
    }
}

#[test]
fn two_stores_that_differ_are_listed_and_settled() {
    let place = Place::new("site", "disputes");
    place.done(&["site", "add", &place.file("yard.json")]);
    let change = |home: &str, answer: &str| {
        let edit =
            format!(r#"{{"kind": "set_rail", "rail": "r1", "change": {{"kind": "guard", "value": "{answer}"}}}}"#);
        std::fs::write(place.file("edit.json"), edit).expect("written");
        assert_eq!(code(&place.on(home, &["site", "edit", "yard", &place.file("edit.json")])), 0);
    };
    let hand_over = |from: &str, to: &str| {
        assert_eq!(code(&place.on(from, &["site", "send", "yard", &place.file("parcel")])), 0);
        let came = place.on(to, &["site", "receive", &place.file("parcel"), "--json"]);
        let came: Value = serde_json::from_slice(&came.stdout).expect("JSON");
        for device in came["unknown_devices"].as_array().expect("devices") {
            assert_eq!(code(&place.on(to, &["device", "know", device["id"].as_str().expect("its key")])), 0);
        }
    };
    hand_over("home", "other");
    change("home", "yes");
    change("other", "no");
    hand_over("other", "home");
    let found = place.json(&["site", "disagreements", "yard", "--json"]);
    let about = &found["disagreements"][0];
    assert_eq!((about["name"].as_str(), about["stops"].as_bool()), (Some("rails/r1/guard"), Some(true)));
    let told = place.done(&["site", "disagreements", "yard"]);
    assert!(told.contains("counts as stop") && told.contains("newel site settle 'yard' 'rails/r1/guard' NUMBER"));
    assert_eq!(code(&place.run(&["site", "show", "yard", "--strict"])), 3);
    assert!(place.refused(&["site", "settle", "yard", "rails/r1/guard", "5"]).contains("from 1 to 2"));
    let yes = about["positions"].as_array().expect("values").iter().find(|p| p["value"] == "yes").expect("yes");
    let said = place.done(&["site", "settle", "yard", "rails/r1/guard", &yes["number"].to_string()]);
    assert!(said.starts_with("settled: "), "{said}");
    assert_eq!(place.done(&["site", "disagreements", "yard"]), "0 disagreements\n");
}

#[test]
fn sites_are_made_copied_archived_staged_found_and_rebuilt() {
    let place = Place::new("site", "shelf");
    let id = place.done(&["site", "new", "Quay steps", "Invented Quay 3"]);
    assert_eq!(place.done(&["site", "add", "demo"]).lines().count(), 1);
    let copy = place.done(&["site", "duplicate", "quay steps", "Quay steps, east"]);
    assert_ne!(copy, id);
    assert!(place.done(&["site", "archive", "Quay steps, east"]).contains("put into the archive"));
    assert!(place.done(&["site", "list"]).ends_with("3 sites, 1 of them in the archive\n"));
    assert!(place.done(&["site", "archive", "Quay steps, east", "--back"]).contains("taken out"));
    place.done(&["site", "stage", "Quay steps", "fit"]);
    assert!(place.refused(&["site", "stage", "Quay steps", "party"]).contains("accepted: survey, scheme, price, fit"));
    let hits = place.json(&["site", "search", "invented", "qu", "--json"]);
    assert_eq!(hits["hits"].as_array().map(Vec::len), Some(2));
    assert_eq!(place.done(&["site", "rebuild"]), "list and search built anew: 3 sites\n");
    assert_eq!(place.json(&["site", "search", "invented", "qu", "--json"]), hits);
}

#[test]
fn what_cannot_be_done_is_said_with_what_is_accepted() {
    let place = Place::new("site", "refusals");
    place.done(&["site", "add", &place.file("yard.json")]);
    place.done(&["site", "add", &place.file("yard.json"), "--id", "yard-2"]);
    let none = place.refused(&["site", "show", "harbour"]);
    assert!(
        none.contains("\"harbour\" is the id or label of no site; accepted: ") && none.contains("yard-2"),
        "{none}"
    );
    let several = place.refused(&["site", "history", "Yard (invented)"]);
    assert!(several.contains("fits several sites"), "{several}");
    assert!(place.refused(&["site", "add", &place.file("yard.json")]).contains("yard is there already"));
    assert!(place.refused(&["site", "add", &place.file("nothing.json")]).contains("can't be read"));
    std::fs::write(place.file("bad.json"), r#"{"schema_version": 1, "site": 7}"#).expect("written");
    assert!(place.refused(&["site", "add", &place.file("bad.json")]).lines().count() >= 2);
    assert!(place.refused(&["site", "export", "yard-2", "--at", "yesterday"]).contains("2030-03-04"));
    assert!(
        place
            .refused(&["site", "export", "yard-2", "--out", &place.file("no/such/folder.json")])
            .contains("can't be written")
    );
    assert!(place.refused(&["device", "know", "0123456789"]).contains("is no device that was heard of"));
    std::fs::write(place.file("in-the-way"), "").expect("written");
    let blocked = place.on("in-the-way", &["site", "list"]);
    assert_eq!(code(&blocked), 2);
    assert!(text(&blocked.stderr).contains("in-the-way"), "{}", text(&blocked.stderr));
}

#[test]
fn a_second_writer_is_told_who_has_the_store_and_may_still_read() {
    let place = Place::new("site", "second_writer");
    place.done(&["site", "add", &place.file("yard.json")]);
    let held = desk::sites::Sites::open(&place.0.join("home"), desk::sites::now_ms).expect("held");
    let told = place.refused(&["site", "new", "Another"]);
    assert!(told.contains("is in use by another Newel"), "{told}");
    assert!(told.contains(&format!("process {}", std::process::id())), "{told}");
    assert!(place.done(&["site", "list"]).contains("1 site,"));
    assert!(place.done(&["site", "export", "yard"]).starts_with('{'));
    drop(held);
    place.done(&["site", "new", "Another"]);
}

#[test]
fn the_schemas_of_what_is_printed_are_those_kept() {
    let place = Place::new("site", "schemas");
    for name in
        ["site-list", "site-history", "site-disagreements", "site-search", "site-arrival", "site-edit", "device-list"]
    {
        let kept = format!("{}/../../fixtures/schemas/{name}.schema.json", env!("CARGO_MANIFEST_DIR"));
        let kept = std::fs::read_to_string(kept).expect("the schema that is kept").replace("\r\n", "\n");
        assert_eq!(place.done(&["schema", name]), kept, "`make bless` writes the schemas anew");
    }
}

#[test]
fn who_works_here_is_said_once_and_stays() {
    let place = Place::new("site", "who");
    assert_eq!(
        place.done(&["device", "name", "--person", "Invented Ida", "--device", "blue tablet"]),
        "Invented Ida on blue tablet\n"
    );
    place.done(&["site", "add", &place.file("yard.json")]);
    let history = place.json(&["site", "history", "yard", "--json"]);
    assert_eq!(history["changes"][0]["person"], "Invented Ida");
    assert!(place.done(&["device", "list"]).contains("Invented Ida  blue tablet  this device"));
}
