//! A survey becomes a document and comes back without loss; what a newer release wrote is kept and shown.

mod common;

use automerge::{Automerge, ObjType, ReadDoc, ScalarValue, transaction::Transactable};
use common::{by_chainage, dice::Dice, things};
use proptest::prelude::*;
use record::document::{CreateError, Effect, create, find_maps, read};

fn document(survey: &survey::Survey) -> Automerge {
    let mut doc = Automerge::new();
    doc.transact::<_, _, CreateError>(|tx| create(tx, survey)).expect("a document");
    doc
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]

    #[test]
    fn a_survey_comes_back_as_it_was(seed in any::<u64>()) {
        let survey = by_chainage(things::survey(&mut Dice(seed)));
        let doc = document(&survey);
        let reading = read(&Automerge::load(&doc.save()).expect("a saved document loads"));
        prop_assert_eq!(&reading.unreadable, &vec![]);
        prop_assert_eq!(reading.newer, None);
        prop_assert_eq!(reading.survey, Some(survey));
    }
}

#[test]
fn two_things_under_one_id_are_refused_by_name() {
    let mut survey = things::survey(&mut Dice(1));
    survey.rails = vec![things::rail(&mut Dice(2), "R1"), things::rail(&mut Dice(3), "R1")];
    let mut doc = Automerge::new();
    let refused = doc.transact::<_, _, CreateError>(|tx| create(tx, &survey)).expect_err("two rails R1");
    assert_eq!(refused.error.to_string(), "rail R1 is there twice; give one of the two another id");
}

#[test]
fn what_a_newer_release_wrote_is_kept_and_shown() {
    let mut survey = things::survey(&mut Dice(7));
    survey.rails = vec![things::rail(&mut Dice(8), "R1")];
    survey.rails[0].features = vec![things::feature(&mut Dice(9), "P1"), things::feature(&mut Dice(10), "P2")];
    let survey = by_chainage(survey);
    let mut doc = document(&survey);
    let rail = find_maps(&doc, &["rails", "R1"]).remove(0);
    let p1 = find_maps(&doc, &["rails", "R1", "features", "P1"]).remove(0);
    let p2 = find_maps(&doc, &["rails", "R1", "features", "P2"]).remove(0);
    doc.transact::<_, _, automerge::AutomergeError>(|tx| {
        tx.put(automerge::ROOT, "schema_version", 9)?;
        tx.put_object(automerge::ROOT, "robots", ObjType::Map)?;
        tx.put(&rail, "gloss", 3.5)?;
        tx.put(&rail, "overall", 4310.25)?;
        tx.put(&p1, "kind", r#"{"kind":"hologram","glow":7}"#)?;
        let chainage = r#"{"value_um":5000,"instrument":"laser","battery":"low"}"#;
        tx.put(&p2, "chainage", chainage)?;
        Ok(())
    })
    .expect("written by a newer release");

    let reading = read(&doc);
    assert_eq!(reading.newer, Some(9));
    let read_survey = reading.survey.expect("still readable");
    // The feature of an unknown kind is left out and named; everything else is there.
    assert_eq!(read_survey.rails[0].features.len(), 1);
    assert_eq!(read_survey.rails[0].features[0].chainage.value, units::Length::mm(5));
    assert_eq!(read_survey.rails[0].overall, None);
    assert_eq!(read_survey.mains_points, survey.mains_points);
    let noted: Vec<(String, String, Effect)> =
        reading.unreadable.iter().map(|u| (u.thing.to_string(), u.field.clone(), u.effect)).collect();
    for expected in [
        ("the site", "robots", Effect::Extra),
        ("rail R1", "gloss", Effect::Extra),
        ("rail R1", "overall", Effect::NotStated),
        ("feature P1 of rail R1", "kind", Effect::LeftOut),
        ("feature P2 of rail R1", "chainage", Effect::Extra),
    ] {
        let expected = (expected.0.to_owned(), expected.1.to_owned(), expected.2);
        assert!(noted.contains(&expected), "{expected:?} in {noted:?}");
    }
    assert_eq!(noted.len(), 5);
    // Nothing was rewritten by reading.
    let (raw, _) = doc.get(&p1, "kind").expect("readable").expect("there");
    assert_eq!(raw.as_str(), Some(r#"{"kind":"hologram","glow":7}"#));
    let (raw, _) = doc.get(&rail, "overall").expect("readable").expect("there");
    assert_eq!(raw.as_scalar(), Some(&ScalarValue::F64(4310.25)));
}
