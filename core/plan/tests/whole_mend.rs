//! When the plain leads and cores fail, the plan says what it mended, or which luminaire stops it and what would help.

mod whole_support;

use catalogue::LoadModel;
use plan::plan;
use survey::{Figure, Subject, Verdict};
use units::{Amps, Watts};
use whole_support::*;

#[test]
fn a_ramp_that_thin_cores_cannot_feed_is_mended_and_says_how() {
    let plan = plan(&ramp_survey(), &catalogue());
    let mend = plan.findings.iter().find(|finding| finding.rule == "voltage-mend").expect("a mend");
    println!("{mend:#?}");
    assert_eq!(mend.verdict, Verdict::Pass);
    let (Some(Figure::Number(measured)), Some(Figure::Number(limit))) = (&mend.measured, &mend.limit) else {
        panic!("no figures in {mend:?}");
    };
    // The limit is 5 % below 12 V (IEC 60364-7-715 clause 715.525, from memory).
    assert!((limit - 11.4).abs() < 1e-9 && measured < limit);
    assert!(mend.message.contains("thicker") || mend.message.contains("another"), "{}", mend.message);
    // The plan itself is within the limit everywhere.
    assert!(plan.circuits.iter().all(|circuit| circuit.least_load_volts.unwrap() >= circuit.limit()));
}

#[test]
fn a_short_rail_needs_no_mend() {
    let mut survey = ramp_survey();
    survey.rails[0] = straight_rail("ramp", "Ramp", 4_000, 1_100);
    survey.rails[0].features.push(way_in("in-start", 1_000));
    let plan = plan(&survey, &catalogue());
    assert!(plan.findings.iter().all(|finding| finding.rule != "voltage-mend"), "{:?}", plan.findings);
}

#[test]
fn where_nothing_helps_the_stop_names_luminaire_volts_and_what_would() {
    // 4 W a luminaire, one way in at the start, thin cores: the far luminaire is out of reach even alone, see the sum in
    // whole_bad_input.rs.
    let mut parts = with_load(LoadModel::Power(Watts::new(4.0)));
    parts.leads.retain(|lead| lead.item.part != "RC-25" && lead.item.part != "RC-15");
    let mut survey = ramp_survey();
    survey.rails[0].features.retain(|feature| feature.id != id("in-middle"));
    let plan = plan(&survey, &parts);
    let stop = plan.findings.iter().find(|finding| finding.rule == "feed-possible").unwrap();
    println!("{stop:#?}");
    assert_eq!(stop.verdict, Verdict::Stop);
    assert!(
        matches!(&stop.subject, Subject::Luminaire { luminaire, .. } if luminaire.starts_with("Ramp-")),
        "{stop:?}"
    );
    assert!(stop.message.contains(" V") || stop.message.contains("no stable voltage"), "{}", stop.message);
    assert!(stop.advice.contains("mm²") || stop.advice.contains("way in"), "{}", stop.advice);
    // The best effort is still drawn, and the holes wait.
    assert!(!plan.rails[0].not_ready.is_empty());
}

#[test]
fn a_luminaire_that_stands_less_than_the_driver_gives_is_named() {
    let mut parts = with_load(LoadModel::Current(Amps::new(0.03)));
    parts.luminaires[0].greatest = units::Volts::new(12.0);
    let plan = plan(&ramp_survey(), &parts);
    let stop = plan.findings.iter().find(|finding| finding.rule == "feed-possible").unwrap();
    println!("{stop:#?}");
    assert!(stop.advice.contains("12.00 V"), "{}", stop.advice);
}
