//! A survey file goes into the store and comes out as the same bytes, whatever it holds.
//!
//! The surveys are made at random from the derived schema, so that every field and kind of the survey is met; only ids
//! are made unique, as the reader of files demands.

mod common;

use common::from_schema::{FromSchema, take_full_forms};
use common::home::Home;
use desk::sites::survey_text;
use desk::wire::{Mirror, schemas, survey as wire};
use proptest::prelude::*;
use serde_json::{Value, json};

/// Gives every thing of a list an id of its own.
fn own_ids(of: &mut Value, list: &str, field: &str, letter: &str) {
    for (n, thing) in of.get_mut(list).and_then(Value::as_array_mut).into_iter().flatten().enumerate() {
        thing[field] = json!(format!("{letter}{n}"));
    }
}

fn made(seed: u64) -> survey::Survey {
    let mut schema = schemas::survey();
    take_full_forms(&mut schema);
    let mut document = FromSchema::new(&schema, seed).document();
    document["site"]["id"] = json!(format!("made-{seed}"));
    for (list, letter) in
        [("rails", "R"), ("mains_points", "M"), ("driver_places", "D"), ("routes", "T"), ("photos", "F")]
    {
        own_ids(&mut document, list, "id", letter);
    }
    if let Some(brief) = document.get_mut("brief") {
        own_ids(brief, "rails", "rail", "R");
        own_ids(brief, "zones", "id", "Z");
    }
    for rail in document["rails"].as_array_mut().expect("rails") {
        own_ids(rail, "pieces", "id", "P");
        own_ids(rail, "features", "id", "f");
    }
    let text = document.to_string();
    serde_json::from_value::<wire::Survey>(document).unwrap_or_else(|why| panic!("{why} in {text}")).into_plain()
}

#[test]
fn surveys_made_at_random_come_out_as_the_same_bytes() {
    let home = Home::of("Invented Person");
    let mut sites = home.open();
    let config = ProptestConfig { cases: 96, failure_persistence: None, ..ProptestConfig::default() };
    let store = std::cell::RefCell::new(&mut sites);
    let seen = std::cell::Cell::new(0);
    proptest::test_runner::TestRunner::new(config)
        .run(&any::<u64>(), |seed| {
            let survey = made(seed);
            seen.set(seen.get().max(survey.photos.len() + survey.rails.len()));
            let mut sites = store.borrow_mut();
            let said = sites.add(survey.clone(), None).expect("added");
            prop_assert_eq!(sites.export(&said.id, None).expect("exported"), survey_text(&survey));
            Ok(())
        })
        .expect("every survey comes back");
    assert!(seen.get() >= 3, "the surveys are not empty");
    // And from the disk, by another opening of the store, the sites are the same.
    let first = store.borrow().list().expect("a list").sites;
    assert!(first.len() >= 90);
    let before: Vec<String> = first.iter().map(|line| sites.export(&line.id, None).expect("exported")).collect();
    drop(sites);
    let mut again = home.open();
    for (line, text) in first.iter().zip(&before) {
        assert_eq!(&again.export(&line.id, None).expect("exported"), text, "{}", line.id);
    }
}

#[test]
fn the_fixtures_come_out_as_the_same_bytes_and_are_read_again_with_the_same_plan() {
    let home = Home::of("Invented Person");
    let mut sites = home.open();
    let catalogue = || desk::read_catalogue(desk::demo::CATALOGUE, "catalogue.toml").expect("the demo catalogue");
    for file in [
        include_str!("../../../fixtures/demo/site.json"),
        include_str!("../../../fixtures/check/points.json"),
        common::SURVEY,
    ] {
        let survey = desk::read_survey(file.as_bytes(), "site.json").expect("a survey");
        let id = sites.add(survey.clone(), None).expect("added").id;
        let exported = sites.export(&id, None).expect("exported");
        assert_eq!(exported, survey_text(&survey));
        let again = desk::read_survey(exported.as_bytes(), "exported.json").expect("what was exported is read");
        assert_eq!(survey_text(&again), exported);
        let planned = desk::Planned::of(survey, catalogue());
        let shown = sites.show(&id, None, catalogue()).expect("planned from the store");
        assert_eq!(shown.plan.plan_id, planned.plan.plan_id);
        assert_eq!(shown.findings, planned.findings, "the store adds no finding to a site that nobody disputes");
    }
}
