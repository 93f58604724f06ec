//! Two devices on one site: files go between them, both are heard, a disputed answer about safety stops the job.
//!
//! What counts as a stop is the program's own contract: until a disagreement is settled, a disputed safety answer is no
//! go.

mod common;

use std::io::Cursor;

use common::home::Home;
use desk::sites::{Archive, Sites};
use serde_json::json;
use survey::Verdict;

fn catalogue() -> catalogue::Catalogue {
    desk::read_catalogue(desk::demo::CATALOGUE, "catalogue.toml").expect("the demo catalogue")
}

fn edit(sites: &mut Sites, edit: serde_json::Value) -> String {
    sites.edit("yard", edit.to_string().as_bytes(), "edit").expect("made").sentence
}

/// The site as one file.
fn file(from: &mut Sites) -> Cursor<Vec<u8>> {
    let mut file = Vec::new();
    from.send("yard", &mut file).expect("a file");
    Cursor::new(file)
}

/// Sends the site from one store to the other; whoever is not known is vouched for.
fn send(from: &mut Sites, to: &mut Sites) {
    let came = to.receive(&mut file(from)).expect("taken in");
    for device in came.unknown_devices {
        to.know(&device.id[..16]).expect("known");
    }
}

/// Two stores with one site, and what each then did to it without knowing of the other.
fn apart(first: serde_json::Value, second: serde_json::Value) -> (Home, Home, Sites) {
    let (a, b) = (Home::of("Invented Anna"), Home::of("Invented Ben"));
    let (mut at_a, mut at_b) = (a.open(), b.open());
    at_a.add_file(common::SURVEY.as_bytes(), "s.json", None).expect("added");
    send(&mut at_a, &mut at_b);
    edit(&mut at_a, first);
    edit(&mut at_b, second);
    send(&mut at_b, &mut at_a);
    (a, b, at_a)
}

#[test]
fn a_disputed_safety_answer_stops_the_job_until_it_is_settled() {
    let guard = |answer: &str| json!({"kind": "set_rail", "rail": "r1", "change": {"kind": "guard", "value": answer}});
    let (_a, _b, mut sites) = apart(guard("yes"), guard("no"));
    let heard = sites.disagreements("yard").expect("a list").disagreements;
    assert_eq!(heard.len(), 1);
    assert_eq!((heard[0].name.as_str(), heard[0].stops), ("rails/r1/guard", true));
    let mut values: Vec<(&str, &str)> =
        heard[0].positions.iter().map(|p| (p.person.as_str(), p.value.as_str())).collect();
    values.sort_unstable();
    assert_eq!(values, [("Invented Anna", "yes"), ("Invented Ben", "no")]);
    let disputed = |sites: &mut Sites| {
        let planned = sites.show("yard", None, catalogue()).expect("planned");
        let found = planned.findings.iter().filter(|f| f.rule == "disagreement");
        (found.map(|f| (f.verdict, f.message.clone())).collect::<Vec<_>>(), planned.plan.rails[0].not_ready.clone())
    };
    let (found, held) = disputed(&mut sites);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].0, Verdict::Stop);
    assert!(found[0].1.contains("Invented Anna says yes") && found[0].1.contains("Invented Ben says no"));
    assert!(held.contains(&found[0].1), "the drilling papers are held back: {held:?}");
    assert_eq!(sites.list().expect("a list").sites[0].disagreements, 1);

    let number = heard[0].positions.iter().find(|p| p.value == "no").expect("his value").number;
    assert!(sites.settle("yard", "rails/r1/guard", 3).is_err());
    assert!(sites.settle("yard", "rails/r1/gard", 1).is_err());
    let said = sites.settle("yard", "rails/r1/guard", number).expect("settled").sentence;
    assert!(said.starts_with("settled: "), "{said}");
    assert_eq!(disputed(&mut sites).0, []);
    assert!(sites.survey("yard", None).expect("a survey").rails[0].guard == survey::Answer::No);
}

#[test]
fn a_disputed_measurement_holds_the_drilling_back_and_a_disputed_note_does_not() {
    let to = |mm: u32| json!({"kind": "move_feature", "rail": "r1", "feature": "p1", "to_mm": mm});
    let (_a, _b, mut sites) = apart(to(510), to(530));
    let planned = sites.show("yard", None, catalogue()).expect("planned");
    let found = planned.findings.iter().find(|f| f.rule == "disagreement").expect("a finding");
    assert_eq!(found.verdict, Verdict::NotEvaluated);
    assert!(planned.plan.rails[0].not_ready.contains(&found.message));

    let note = |words: &str| json!({"kind": "set_rail", "rail": "r1", "change": {"kind": "note", "value": words}});
    let (_a, _b, mut sites) = apart(note("loose"), note("firm"));
    let planned = sites.show("yard", None, catalogue()).expect("planned");
    let found = planned.findings.iter().find(|f| f.rule == "disagreement").expect("a finding");
    assert_eq!(found.verdict, Verdict::Caution);
    assert!(!planned.plan.rails[0].not_ready.contains(&found.message));
}

#[test]
fn edits_that_meet_badly_are_a_stop_and_the_site_is_still_shown() {
    // One removes the mains point while the other leads a route to it.
    let lead = json!({"kind": "set_route", "id": "t1", "change": {"kind": "to", "value": {"kind": "mains_point", "id": "m1"}}});
    let (_a, _b, mut sites) = apart(json!({"kind": "remove", "thing": {"kind": "mains_point", "id": "m1"}}), lead);
    let planned = sites.show("yard", None, catalogue()).expect("planned all the same");
    let found = planned.findings.iter().find(|f| f.rule == "stored-value").expect("a finding");
    assert_eq!(found.verdict, Verdict::Stop);
    assert!(found.message.contains("m1") && found.message.contains("refers to no"), "{}", found.message);
}

#[test]
fn what_a_stranger_wrote_waits_and_says_so() {
    let (a, b) = (Home::of("Invented Anna"), Home::of("Invented Ben"));
    let (mut at_a, mut at_b) = (a.open(), b.open());
    at_a.add_file(common::SURVEY.as_bytes(), "s.json", None).expect("added");
    send(&mut at_a, &mut at_b);
    edit(&mut at_b, json!({"kind": "set_site", "change": {"kind": "note", "value": "key at the lodge"}}));
    let came = at_a.receive(&mut file(&mut at_b)).expect("taken in");
    assert_eq!((came.sites.as_slice(), came.new_changes), (&["yard".to_owned()][..], 1));
    assert_eq!(came.unknown_devices[0].person, "Invented Ben");
    assert!(came.to_text().contains("newel device know "), "{}", came.to_text());
    assert_eq!(at_a.survey("yard", None).expect("a survey").site.note, "");
    let waiting = at_a.history("yard").expect("history").set_aside;
    assert_eq!((waiting.len(), waiting[0].person.as_str()), (1, "Invented Ben"));
    let planned = at_a.show("yard", None, catalogue()).expect("planned");
    let found = planned.findings.iter().find(|f| f.rule == "set-aside").expect("a finding");
    assert!(found.message.starts_with("1 change does not count, the first by Invented Ben"), "{}", found.message);
    assert!(at_a.know("abc").is_err(), "three digits are too few to tell devices apart");
    at_a.know(&came.unknown_devices[0].id[..8]).expect("known");
    assert_eq!(at_a.survey("yard", None).expect("a survey").site.note, "key at the lodge");
    // Nothing is taken in of a file that was altered on the way.
    let mut file = file(&mut at_b);
    let middle = file.get_ref().len() / 2;
    file.get_mut()[middle] ^= 1;
    assert!(at_a.receive(&mut file).is_err());
}

#[test]
fn the_past_is_shown_as_it_was() {
    let home = Home::of("Invented Anna");
    let mut sites = home.open();
    sites.add_file(common::SURVEY.as_bytes(), "s.json", None).expect("added");
    let first = sites.export("yard", None).expect("exported");
    edit(&mut sites, json!({"kind": "move_feature", "rail": "r1", "feature": "p1", "to_mm": 520}));
    let history = sites.history("yard").expect("history").changes;
    assert_eq!(history.len(), 2);
    assert_eq!(history[1].sentence, "post p1 moved from 500 to 520 mm");
    assert_eq!(history[1].person, "Invented Anna");
    assert_ne!(sites.export("yard", None).expect("exported"), first);
    for at in [history[0].change.as_str(), &history[0].change[..8], history[0].when.as_str()] {
        assert_eq!(sites.export("yard", Some(at)).expect("exported"), first, "{at}");
    }
    for at in ["2001-01-01", "yesterday", "ff", "zzzzzzzz"] {
        let why = sites.export("yard", Some(at)).expect_err("no such moment").to_string();
        assert!(why.contains("is no change of this site and no moment; accepted: "), "{why}");
    }
    let planned = sites.show("yard", Some(&history[0].change), catalogue()).expect("planned");
    assert!(planned.findings.iter().any(|f| f.rule == "past-moment" && f.verdict == Verdict::Stop));
}

#[test]
fn sites_are_copied_archived_found_and_listed() {
    let home = Home::of("Invented Anna");
    let mut sites = home.open();
    sites.add_file(common::SURVEY.as_bytes(), "s.json", None).expect("added");
    assert!(sites.add_file(common::SURVEY.as_bytes(), "s.json", None).is_err(), "the id is taken");
    sites.add_file(common::SURVEY.as_bytes(), "s.json", Some("yard-2")).expect("under another id");
    let copy = sites.duplicate("yard-2", "Copied yard").expect("copied").id;
    assert_ne!(copy, "yard-2");
    let of = |sites: &mut Sites, id: &str| sites.survey(id, None).expect("a survey");
    let (mut original, copied) = (of(&mut sites, "yard"), of(&mut sites, &copy));
    original.site.id.clone_from(&copied.site.id);
    original.site.label = "Copied yard".to_owned();
    assert_eq!(original, copied);
    let new = sites.new_site("  Quay steps ", "Invented Quay 3").expect("made").id;
    assert_eq!(of(&mut sites, "quay STEPS").site.id.as_str(), new);
    assert!(sites.new_site(" ", "somewhere").is_err());
    sites.archive(&copy, Archive::In).expect("archived");
    sites.put_stage("yard", "price").expect("put");
    assert!(sites.put_stage("yard", "party").is_err());
    let list = sites.list().expect("a list").sites;
    assert_eq!(list.len(), 4);
    let line = |id: &str| list.iter().find(|line| line.id == id).expect("in the list");
    assert!(line(&copy).archived && !line("yard").archived);
    assert_eq!((line("yard").stage.as_str(), line("yard-2").stage.as_str()), ("price", "survey"));
    assert_eq!((line("yard").rails, line("yard").features, line("yard").photos), (1, 2, 1));
    assert_eq!(list[0].id, "yard", "last changed first");
    sites.archive(&copy, Archive::Out).expect("taken out");
    let hits = sites.search("invented qu").expect("found").hits;
    assert_eq!((hits.len(), hits[0].id.as_str(), hits[0].text.as_str()), (1, new.as_str(), "Invented Quay 3"));
    assert_eq!(sites.rebuild().expect("rebuilt"), 4);
    assert_eq!(sites.search("invented qu").expect("found").hits, hits);
}

#[test]
fn a_second_process_may_read_and_is_told_why_it_may_not_write() {
    let home = Home::of("Invented Anna");
    let mut sites = home.open();
    sites.add_file(common::SURVEY.as_bytes(), "s.json", None).expect("added");
    let why = Sites::open(&home.0, common::home::clock).expect_err("in use").to_string();
    assert!(why.contains("is in use by another Newel"), "{why}");
    let mut reader = Sites::open_to_read(&home.0, common::home::clock).expect("opened to read");
    assert_eq!(reader.list().expect("a list").sites.len(), 1);
    assert_eq!(reader.export("yard", None).expect("read"), sites.export("yard", None).expect("read"));
    let why = reader.archive("yard", Archive::In).expect_err("read only").to_string();
    assert!(why.contains("reading only"), "{why}");
}

#[test]
fn a_damaged_device_file_is_named_and_left_alone() {
    let home = Home::of("Invented Anna");
    let path = home.0.join("device.json");
    let good = std::fs::read_to_string(&path).expect("the device file");
    for bad in [
        "",
        "{}",
        "not JSON",
        &good.replace("\"schema_version\": 1", "\"schema_version\": 7"),
        &good.replace("key_hex\": \"", "key_hex\": \"x"),
    ] {
        std::fs::write(&path, bad).expect("written");
        let why = Sites::open(&home.0, common::home::clock).expect_err("refused").to_string();
        assert!(why.contains("device.json") && why.contains("accepted: "), "{why}");
        assert_eq!(std::fs::read_to_string(&path).expect("still there"), bad);
    }
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let kept = Home::of("Invented Cleo");
        let mode = std::fs::metadata(kept.0.join("device.json")).expect("made").permissions().mode();
        assert_eq!(mode & 0o077, 0, "nobody but its owner may read the key");
    }
}
