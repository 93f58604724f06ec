//! Every kind of edit, on every field: what is taken back leaves the same exported bytes, what is made again too.
//!
//! The edits are made at random from the derived schema, one for each kind of edit and each field that it can write.

mod common;

use std::collections::BTreeSet;

use common::from_schema::{FromSchema, take_full_forms};
use common::home::Home;
use desk::sites::{SiteError, Sites};
use serde_json::{Value, json};

const SITE: &str = "test-site";

/// A survey with two of everything.
fn survey() -> Value {
    let mut site: Value = serde_json::from_str(common::SURVEY).expect("JSON");
    site["site"]["id"] = json!(SITE);
    site
}

/// Puts names of things that are there into an edit, and names of new things where it adds.
fn fit(edit: &mut Value, there: &Value, seed: usize) -> Option<()> {
    let rail = &there["rails"][0];
    let kind = edit["kind"].as_str()?.to_owned();
    let first = |list: &Value| list[0]["id"].clone();
    let id = |thing: &str| match thing {
        "mains_point" => first(&there["mains_points"]),
        "driver_place" => first(&there["driver_places"]),
        "route" => first(&there["routes"]),
        "photo" => first(&there["photos"]),
        "zone" => first(&there["brief"]["zones"]),
        "piece" => first(&rail["pieces"]),
        _ => first(&rail["features"]),
    };
    // What is put elsewhere in its list is its last, so that it has somewhere to go.
    let last = rail["pieces"].as_array()?.last()?["id"].clone();
    for name in ["thing", "after"] {
        let thing = edit[name]["kind"].as_str().map(str::to_owned);
        if let Some(thing) = thing {
            let named = &mut edit[name];
            if named.get("rail").is_some() {
                named["rail"] = rail["id"].clone();
            }
            if named.get("id").is_some() {
                named["id"] =
                    if kind == "reorder" && name == "thing" && thing == "piece" { last.clone() } else { id(&thing) };
            }
        }
    }
    if let Some(new) = edit.get_mut("new") {
        let field = if kind == "add_rail_brief" { "rail" } else { "id" };
        new[field] = json!(format!("new-{seed}"));
        for (list, letter) in [("pieces", "p"), ("features", "f")] {
            for (n, part) in new.get_mut(list).and_then(Value::as_array_mut).into_iter().flatten().enumerate() {
                part["id"] = json!(format!("{letter}{n}"));
            }
        }
    }
    for (name, value) in [("rail", rail["id"].clone()), ("feature", first(&rail["features"]))] {
        if edit.get(name).is_some() {
            edit[name] = value;
        }
    }
    if edit.get("id").is_some() {
        edit["id"] = id(kind.strip_prefix("set_")?);
    }
    if kind == "set_piece" {
        edit["piece"]["id"] = first(&rail["pieces"]);
    }
    Some(())
}

/// One schema for each kind of edit and each field that it can write: the kind's name, the field's, the two schemas.
fn kinds(schema: &Value) -> Vec<(String, String)> {
    let branches = |schema: &Value| schema["oneOf"].as_array().cloned().unwrap_or_default();
    let name = |branch: &Value| branch["properties"]["kind"]["const"].as_str().expect("a kind").to_owned();
    let mut all = Vec::new();
    for branch in branches(schema) {
        let change = branch["properties"]["change"]["$ref"].as_str().map(|path| path.replace("#/$defs/", ""));
        let thing = branch["properties"]["thing"]["$ref"].as_str().map(|path| path.replace("#/$defs/", ""));
        match change.or(thing) {
            Some(of) => all.extend(branches(&schema["$defs"][&of]).iter().map(|field| (name(&branch), name(field)))),
            None => all.push((name(&branch), String::new())),
        }
    }
    all
}

/// An edit of a kind with its field, from a schema in which nothing else can be thrown.
fn edit(schema: &Value, kind: &str, field: &str, seed: u64) -> Value {
    let only = |branches: &Value, word: &str| -> Value {
        let all = branches["oneOf"].as_array().expect("branches");
        let one = all.iter().find(|branch| branch["properties"]["kind"]["const"] == word).expect("a branch");
        json!({"oneOf": [one]})
    };
    let mut narrow = schema.clone();
    narrow["oneOf"] = only(schema, kind)["oneOf"].clone();
    for part in ["change", "thing"] {
        if let Some(of) = narrow["oneOf"][0]["properties"][part]["$ref"].as_str().map(|p| p.replace("#/$defs/", "")) {
            narrow["$defs"][&of]["oneOf"] = only(&schema["$defs"][&of], field)["oneOf"].clone();
        }
    }
    FromSchema::new(&narrow, seed).document()
}

fn make(sites: &mut Sites, edit: &Value) -> Result<String, SiteError> {
    sites.edit(SITE, edit.to_string().as_bytes(), "edit.json").map(|said| said.sentence)
}

#[test]
fn what_is_taken_back_leaves_the_same_bytes() {
    let there = survey();
    let mut schema = desk::wire::schemas::edit();
    take_full_forms(&mut schema);
    let all = kinds(&schema);
    assert!(all.len() > 110, "{} kinds and fields", all.len());
    let mut untried: BTreeSet<_> = all.iter().cloned().collect();
    for (n, (kind, field)) in all.iter().enumerate() {
        // A store of its own keeps each history short, so that opening it stays quick.
        let home = Home::of("Invented Person");
        let mut sites = home.open();
        sites.add_file(there.to_string().as_bytes(), "s.json", None).expect("added");
        let start = sites.export(SITE, None).expect("exported");
        let mut changed = 0;
        // A throw may hit upon the value that stands there already.
        for throw in (0..8).map(|throw| n * 8 + throw) {
            if changed == 2 {
                break;
            }
            let mut edit = edit(&schema, kind, field, 1 + throw as u64 * 7919);
            fit(&mut edit, &there, throw).unwrap_or_else(|| panic!("{edit}"));
            let said = match make(&mut sites, &edit) {
                Ok(said) => said,
                // What something refers to is not removed, and what was not removed is not restored.
                Err(SiteError::InUse { .. }) => {
                    untried.remove(&(kind.clone(), field.clone()));
                    continue;
                }
                Err(why) => panic!("{why}: {edit}"),
            };
            if said.starts_with("nothing to change") {
                if kind == "restore" {
                    untried.remove(&(kind.clone(), field.clone()));
                }
                continue;
            }
            let after = sites.export(SITE, None).expect("exported");
            assert!(!said.contains('\n') && !said.is_empty());
            let back = sites.undo(SITE).unwrap_or_else(|why| panic!("{why}: {edit}")).sentence;
            assert_eq!(back, format!("taken back: {said}"));
            assert_eq!(sites.export(SITE, None).expect("exported"), start, "{edit}");
            sites.redo(SITE).unwrap_or_else(|why| panic!("{why}: {edit}"));
            assert_eq!(sites.export(SITE, None).expect("exported"), after, "{edit}");
            sites.undo(SITE).expect("taken back once more");
            assert_eq!(sites.export(SITE, None).expect("exported"), start, "{edit}");
            untried.remove(&(kind.clone(), field.clone()));
            changed += 1;
        }
    }
    assert_eq!(untried, BTreeSet::new(), "every kind of edit and every field was tried");
}

#[test]
fn a_removed_thing_comes_back_with_everything_in_it() {
    let home = Home::of("Invented Person");
    let mut sites = home.open();
    let there = survey();
    sites.add_file(there.to_string().as_bytes(), "s.json", None).expect("added");
    let start = sites.export(SITE, None).expect("exported");
    let rail = there["rails"][0]["id"].as_str().expect("a rail");
    let new = json!({"kind": "add_feature", "rail": rail, "new": {"id": "extra", "chainage_mm": "1.25 m",
        "kind": "post", "width_mm": 48, "meets": "saddle", "label": "P9"}});
    assert_eq!(make(&mut sites, &new).expect("added"), "post P9 added to rail Ramp left");
    let with = sites.export(SITE, None).expect("exported");
    let moved = json!({"kind": "move_feature", "rail": rail, "feature": "extra", "to_mm": 1265});
    assert_eq!(make(&mut sites, &moved).expect("moved"), "post P9 moved from 1,250 to 1,265 mm");
    let thing = json!({"kind": "feature", "rail": rail, "id": "extra"});
    make(&mut sites, &json!({"kind": "remove", "thing": thing})).expect("removed");
    assert_eq!(sites.export(SITE, None).expect("exported"), start);
    make(&mut sites, &json!({"kind": "restore", "thing": thing})).expect("restored");
    assert_eq!(sites.export(SITE, None).expect("exported"), with.replace("1250", "1265"));
}

#[test]
fn an_edit_that_does_not_fit_changes_nothing_and_says_why() {
    let home = Home::of("Invented Person");
    let mut sites = home.open();
    let there = survey();
    sites.add_file(there.to_string().as_bytes(), "s.json", None).expect("added");
    let before = (sites.export(SITE, None).expect("exported"), sites.history(SITE).expect("history").changes.len());
    let rail = there["rails"][0]["id"].as_str().expect("a rail").to_owned();
    let place = there["driver_places"][0]["id"].as_str().expect("a driver place").to_owned();
    let mains = there["mains_points"][0]["id"].as_str().expect("a mains point").to_owned();
    for (edit, words) in [
        (json!({"kind": "paint"}), "none of the kinds"),
        (json!({"kind": "set_rail", "rail": rail, "change": {"kind": "colour", "value": "red"}}), "none of the kinds"),
        (
            json!({"kind": "set_rail", "rail": rail, "change": {"kind": "overall_mm", "value": "9 furlongs"}}),
            "furlongs",
        ),
        (json!({"kind": "set_rail", "rail": rail, "change": {"kind": "overall_mm", "value": -5}}), "accepted"),
        (json!({"kind": "set_rail", "rail": "nowhere", "change": {"kind": "note", "value": "x"}}), "no rail nowhere"),
        (json!({"kind": "move_feature", "rail": rail, "feature": "nothing", "to_mm": 5}), "no feature nothing"),
        (json!({"kind": "remove", "thing": {"kind": "driver_place", "id": place}}), "route t1 refer to it"),
        (
            json!({"kind": "add_mains_point", "new": {"id": mains, "label": "M", "kind": "isolator", "place": "inside"}}),
            "is there already",
        ),
    ] {
        let why = make(&mut sites, &edit).expect_err("refused").to_string();
        assert!(why.contains(words), "{why}");
    }
    let after = (sites.export(SITE, None).expect("exported"), sites.history(SITE).expect("history").changes.len());
    assert_eq!(after, before);
}

#[test]
fn an_open_site_answers_with_its_new_plan() {
    let home = Home::of("Invented Person");
    let mut sites = home.open();
    let id = sites.add_file(desk::demo::SITE, "site.json", None).expect("added").id;
    let catalogue = desk::read_catalogue(desk::demo::CATALOGUE, "catalogue.toml").expect("the demo catalogue");
    let mut open = desk::edit::OpenSite::open(&mut sites, &id, desk::sites::InForce { catalogue, stands_in: None })
        .expect("opened");
    let first = open.page().clone();
    let rail = first.rails[0].id.clone();
    let feature =
        first.rails[0].features.iter().find(|row| row.shape == desk::view::FeatureShape::Post).expect("a post");
    let to = feature.chainage_mm + 15.0;
    let edit = json!({"kind": "move_feature", "rail": rail, "feature": feature.id, "to_mm": to});
    let edit = desk::read::read_edit(edit.to_string().as_bytes(), "edit").expect("an edit");
    let edited = open.edit(&mut sites, vec![edit]).expect("moved");
    assert_ne!(edited.page.plan_id, first.plan_id);
    let row = edited.page.rails[0].features.iter().find(|row| row.id == feature.id).expect("the post");
    assert!((row.chainage_mm - to).abs() < 1e-9);
    assert!(edited.said.is_some());
    assert_eq!(edited.undo, edited.said);
    assert_eq!(edited.redo, None);
    let back = open.undo(&mut sites).expect("taken back");
    assert_eq!(back.page.plan_id, first.plan_id);
    assert_eq!((back.undo, back.redo.as_deref()), (None, edited.said.as_deref()));
}
