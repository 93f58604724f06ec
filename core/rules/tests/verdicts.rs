//! Each rule passes a good job and stops, questions or leaves open a bad one. The job is the check fixture with one thing
//! changed at a time.

use catalogue::{Catalogue, FixingKind, LuminaireKind, ShortCircuit};
use survey::{
    Answer, Consent, Feature, FeatureKind, Finding, HoleUse, Id, JointKind, Measurement, Ownership, Passage, Proof,
    RouteKind, SpecialLocation, Survey, Verdict,
};
use units::{Amps, Length, Volts};

const SITE: &[u8] = include_bytes!("../../../fixtures/check/points.json");
const PARTS: &[u8] = include_bytes!("../../../fixtures/check/catalogue.toml");

fn job() -> (Survey, Catalogue) {
    let survey = desk::read_survey(SITE, "points.json").unwrap_or_else(|f| panic!("{f}"));
    let catalogue = desk::read_catalogue(PARTS, "catalogue.toml").unwrap_or_else(|f| panic!("{f}"));
    (survey, catalogue)
}

fn judged(survey: &Survey, catalogue: &Catalogue) -> Vec<Finding> {
    let plan = plan::plan(survey, catalogue);
    rules::findings(survey, catalogue, &plan)
}

/// The worst verdict of a rule, or `None` where it has nothing to say.
fn worst(findings: &[Finding], rule: &str) -> Option<Verdict> {
    findings.iter().filter(|f| f.rule == rule).map(|f| f.verdict).min()
}

/// The worst verdict of a rule after one change to the survey.
fn after(rule: &str, change: impl Fn(&mut Survey)) -> Option<Verdict> {
    let (mut survey, catalogue) = job();
    change(&mut survey);
    worst(&judged(&survey, &catalogue), rule)
}

#[test]
fn a_good_job_has_nothing_but_passes() {
    let (survey, catalogue) = job();
    let findings = judged(&survey, &catalogue);
    let bad: Vec<&Finding> = findings.iter().filter(|f| f.verdict != Verdict::Pass).collect();
    assert!(bad.is_empty(), "{bad:#?}");
    for rule in [
        "least-voltage",
        "driver-load",
        "conductor-current",
        "connector-current",
        "far-end-short",
        "selv",
        "passage",
        "space-factor",
        "body-clearance",
        "hole-tube",
        "wall-grip",
        "hole-position",
        "consent",
        "guard",
    ] {
        assert_eq!(worst(&findings, rule), Some(Verdict::Pass), "{rule}");
    }
}

#[test]
fn every_finding_that_is_no_pass_says_what_to_do_and_every_one_names_its_source() {
    let (mut survey, catalogue) = job();
    survey.rails[0].ownership = None;
    survey.rails[0].bonding.lightning = Answer::Yes;
    survey.rails[0].tube.wall = None;
    survey.rails[0].features[1].bore = Passage::Unknown;
    for finding in judged(&survey, &catalogue) {
        assert!(!finding.source.is_empty() && !finding.message.is_empty(), "{finding:?}");
        assert!(finding.verdict == Verdict::Pass || !finding.advice.is_empty(), "{finding:?}");
    }
}

/// The plan keeps the limits by itself, so the rule is shown a plan with one figure spoilt.
#[test]
fn volts_below_the_tighter_limit_stop() {
    let (survey, catalogue) = job();
    let mut plan = plan::plan(&survey, &catalogue);
    let limit = plan.circuits[0].limit();
    plan.circuits[0].least_load_volts = Some(limit);
    assert_eq!(worst(&rules::findings(&survey, &catalogue, &plan), "least-voltage"), Some(Verdict::Pass));
    plan.circuits[0].least_load_volts = Some(limit - Volts::new(1e-6));
    assert_eq!(worst(&rules::findings(&survey, &catalogue, &plan), "least-voltage"), Some(Verdict::Stop));
    plan.circuits[0].solved = false;
    assert_eq!(worst(&rules::findings(&survey, &catalogue, &plan), "least-voltage"), Some(Verdict::Stop));
}

#[test]
fn a_driver_an_output_a_cable_and_a_connector_beyond_their_limits_stop() {
    let (survey, catalogue) = job();
    let good = plan::plan(&survey, &catalogue);
    let mut plan = good.clone();
    plan.drivers[0].load = plan.drivers[0].usable + units::Watts::new(0.01);
    assert_eq!(worst(&rules::findings(&survey, &catalogue, &plan), "driver-load"), Some(Verdict::Stop));
    let mut plan = good.clone();
    plan.drivers[0].outputs[0].amps = plan.drivers[0].outputs[0].limit + Amps::new(0.01);
    assert_eq!(worst(&rules::findings(&survey, &catalogue, &plan), "output-current"), Some(Verdict::Stop));
    let mut thin = catalogue.clone();
    for lead in &mut thin.leads {
        lead.carries = Amps::new(0.01);
        if let Some(connector) = &mut lead.connector {
            connector.limit = Amps::new(0.01);
        }
    }
    assert_eq!(worst(&rules::findings(&survey, &thin, &good), "conductor-current"), Some(Verdict::Stop));
    assert_eq!(worst(&rules::findings(&survey, &thin, &good), "connector-current"), Some(Verdict::Stop));
}

#[test]
fn a_short_that_nothing_limits_or_clears_stops() {
    let (survey, mut catalogue) = job();
    for driver in &mut catalogue.drivers {
        driver.short_circuit = ShortCircuit::Fused { rating: Amps::new(1000.0), clears_at: 10 };
    }
    let findings = judged(&survey, &catalogue);
    let plan = plan::plan(&survey, &catalogue);
    // Either no scheme is left, which the plan says itself, or the rule stops the scheme that is drawn.
    assert!(
        plan.findings.iter().chain(&findings).any(|f| f.verdict == Verdict::Stop),
        "a fuse that never clears went unnoticed"
    );
}

#[test]
fn a_source_that_is_not_selv_stops() {
    let (survey, mut catalogue) = job();
    let plan = plan::plan(&survey, &catalogue);
    for driver in &mut catalogue.drivers {
        driver.selv = false;
    }
    assert_eq!(worst(&rules::findings(&survey, &catalogue, &plan), "selv"), Some(Verdict::Stop));
}

#[test]
fn two_voltages_in_one_zone_stop() {
    let (survey, catalogue) = job();
    let mut plan = plan::plan(&survey, &catalogue);
    plan.rails[1].nominal = Some(Volts::new(24.0));
    assert_eq!(worst(&rules::findings(&survey, &catalogue, &plan), "voltages-not-mixed"), Some(Verdict::Stop));
}

#[test]
fn a_bore_is_open_only_once_it_is_proved_as_wide_as_the_bundle() {
    let bore = |passage: Passage| after("passage", move |s| s.rails[0].features[1].bore = passage.clone());
    let proved = |mm| Passage::Proved { how: Proof::DrawWire, widest: Length::mm(mm) };
    assert_eq!(bore(proved(20)), Some(Verdict::Pass));
    assert_eq!(bore(proved(1)), Some(Verdict::NotEvaluated));
    assert_eq!(bore(Passage::Assumed), Some(Verdict::NotEvaluated));
    assert_eq!(bore(Passage::Unknown), Some(Verdict::NotEvaluated));
}

#[test]
fn a_rail_whose_bore_is_not_proved_is_not_ready_to_drill() {
    let (mut survey, catalogue) = job();
    let feature = Feature {
        id: Id::new("joint").unwrap(),
        label: String::new(),
        chainage: Measurement::taped(Length::mm(4500)),
        kind: FeatureKind::Joint { kind: JointKind::Sleeved, width: Length::mm(10) },
        keep_clear: None,
        bore: Passage::Unknown,
        note: String::new(),
    };
    survey.rails[0].features.push(feature);
    let plan = plan::plan(&survey, &catalogue);
    let not_ready: Vec<bool> = plan.rails.iter().map(|r| !r.not_ready.is_empty()).collect();
    assert_eq!(not_ready.iter().filter(|n| **n).count(), 1, "{not_ready:?}");
}

#[test]
fn an_unknown_wall_leaves_space_and_grip_open() {
    let without = |s: &mut Survey| s.rails[0].tube.wall = None;
    assert_eq!(after("space-factor", without), Some(Verdict::NotEvaluated));
    assert_eq!(after("wall-grip", without), Some(Verdict::NotEvaluated));
}

#[test]
fn a_bore_too_small_for_cores_loops_and_taps_stops() {
    let (mut survey, catalogue) = job();
    let plan = plan::plan(&survey, &catalogue);
    // 48.3 mm outside with a wall of 22 mm leaves a bore of 4.3 mm.
    survey.rails[0].tube.wall = Some(Measurement::taped(Length::mm(22)));
    let findings = rules::findings(&survey, &catalogue, &plan);
    assert_eq!(worst(&findings, "space-factor"), Some(Verdict::Stop));
    assert_eq!(worst(&findings, "body-clearance"), Some(Verdict::Stop));
    assert_eq!(worst(&findings, "wall-grip"), Some(Verdict::Stop));
}

#[test]
fn a_luminaire_too_large_for_the_tube_stops() {
    let (survey, mut catalogue) = job();
    let plan = plan::plan(&survey, &catalogue);
    for luminaire in &mut catalogue.luminaires {
        if let LuminaireKind::Point(point) = &mut luminaire.kind {
            point.tube_least = Length::mm(60);
        }
    }
    assert_eq!(worst(&rules::findings(&survey, &catalogue, &plan), "hole-tube"), Some(Verdict::Stop));
}

/// The layout never puts a hole there, so the rule is shown a survey that has grown a joint since.
#[test]
fn a_hole_beside_a_joint_that_was_found_later_stops() {
    let (mut survey, catalogue) = job();
    let plan = plan::plan(&survey, &catalogue);
    survey.rails[0].features.push(Feature {
        id: Id::new("late").unwrap(),
        label: String::new(),
        chainage: Measurement::taped(Length::mm(450)),
        kind: FeatureKind::Joint { kind: JointKind::Welded, width: Length::mm(6) },
        keep_clear: None,
        bore: Passage::Proved { how: Proof::Seen, widest: Length::mm(20) },
        note: String::new(),
    });
    assert_eq!(worst(&rules::findings(&survey, &catalogue, &plan), "hole-position"), Some(Verdict::Stop));
    let FeatureKind::Joint { .. } = survey.rails[0].features.pop().unwrap().kind else { panic!("the joint came last") };
    survey.rails[0].features.push(Feature {
        id: Id::new("drain").unwrap(),
        label: String::new(),
        chainage: Measurement::taped(Length::mm(460)),
        kind: FeatureKind::ExistingHole { diameter: Length::mm(8), angle: None, used_for: HoleUse::Other },
        keep_clear: None,
        bore: Passage::Unknown,
        note: String::new(),
    });
    assert_eq!(worst(&rules::findings(&survey, &catalogue, &plan), "hole-position"), Some(Verdict::Stop));
}

#[test]
fn a_parapet_waits_for_consent_in_writing() {
    let of = |bridge_or_highway: bool, consent: Consent| {
        after("consent", move |s| {
            s.rails[0].ownership =
                Some(Ownership { owner: "nobody".into(), bridge_or_highway, consent: consent.clone() });
        })
    };
    assert_eq!(of(true, Consent::InWriting("letter".into())), Some(Verdict::Pass));
    assert_eq!(of(true, Consent::Spoken), Some(Verdict::Stop));
    assert_eq!(of(false, Consent::Spoken), Some(Verdict::Caution));
    assert_eq!(of(false, Consent::Refused), Some(Verdict::Stop));
    assert_eq!(after("consent", |s| s.rails[0].ownership = None), Some(Verdict::NotEvaluated));
}

#[test]
fn bonds_are_asked_about_and_never_removed() {
    assert_eq!(after("bonding", |s| s.rails[0].bonding.bonded = Answer::Unknown), Some(Verdict::NotEvaluated));
    assert_eq!(after("bonding", |s| s.rails[0].bonding.bonded = Answer::Yes), Some(Verdict::Caution));
    assert_eq!(after("bonding", |s| s.rails[0].bonding.lightning = Answer::Yes), Some(Verdict::Stop));
    assert_eq!(after("bonding", |s| s.rails[0].bonding.near_traction = Answer::Yes), Some(Verdict::Stop));
}

#[test]
fn a_guard_is_never_passed_and_a_pool_is_left_to_others() {
    assert_eq!(after("guard", |s| s.rails[0].guard = Answer::Yes), Some(Verdict::Caution));
    assert_eq!(after("guard", |s| s.rails[0].guard = Answer::Unknown), Some(Verdict::NotEvaluated));
    let pool = after("special-location", |s| s.site.exposure.special = Some(SpecialLocation::Pool));
    assert_eq!(pool, Some(Verdict::Stop));
}

#[test]
fn taps_beyond_their_limit_stop() {
    let (survey, mut catalogue) = job();
    let plan = plan::plan(&survey, &catalogue);
    for fixing in &mut catalogue.fixings {
        if let FixingKind::Tap { tenths_amp, .. } = &mut fixing.kind {
            *tenths_amp = 0;
        }
    }
    assert_eq!(worst(&rules::findings(&survey, &catalogue, &plan), "connector-current"), Some(Verdict::Stop));
}

#[test]
fn a_rail_that_must_not_be_drilled_is_never_ready() {
    let held = |change: &dyn Fn(&mut Survey)| {
        let (mut survey, catalogue) = job();
        change(&mut survey);
        let mut plan = plan::plan(&survey, &catalogue);
        let findings = rules::findings(&survey, &catalogue, &plan);
        rules::hold_back(&survey, &mut plan, &findings);
        plan.rails.iter().map(|r| !r.not_ready.is_empty()).collect::<Vec<bool>>()
    };
    assert_eq!(held(&|_| {}), [false, false]);
    assert_eq!(held(&|s| s.rails[0].bonding.near_traction = Answer::Yes), [true, false]);
    assert_eq!(held(&|s| s.rails[1].guard = Answer::Unknown), [false, true]);
    assert_eq!(held(&|s| s.rails[0].ownership = None), [true, false]);
    let narrow = Passage::Proved { how: Proof::DrawWire, widest: Length::mm(1) };
    assert_eq!(held(&|s| s.rails[0].features[1].bore = narrow.clone()), [true, false]);
    // Rail B is fed by a route of its own; while nobody has proved it, B waits and A does not.
    let route = |s: &mut Survey| {
        let route = s.routes.iter_mut().find(|r| r.id.as_str() == "r-second").unwrap();
        route.kind = RouteKind::Duct;
        route.passage = Passage::Assumed;
    };
    assert_eq!(held(&route), [false, true]);
    assert_eq!(held(&|s| s.site.exposure.special = Some(SpecialLocation::Basin)), [true, true]);
}

/// Rail B of the check fixture stands there twice, both from the one place: one driver feeds both, and what it carries is
/// judged as one.
#[test]
fn a_driver_of_two_rails_is_judged_by_all_that_it_feeds() {
    let (mut survey, catalogue) = job();
    let name = |text: &str| Id::new(text).unwrap();
    let mut twin = survey.rail(&name("two-rivets")).unwrap().clone();
    (twin.id, twin.label) = (name("twin"), "C".into());
    let mut route = survey.routes.iter().find(|route| is_way_into(&route.to, "two-rivets")).unwrap().clone();
    let survey::RouteEnd::WayIn { rail, .. } = &mut route.to else { unreachable!("found as one") };
    *rail = twin.id.clone();
    route.id = name("r-twin");
    let mut brief = survey.brief.rails.iter().find(|brief| brief.rail == name("two-rivets")).unwrap().clone();
    brief.rail = twin.id.clone();
    survey.brief.rails = survey.brief.rails.split_off(1);
    survey.rails.push(twin);
    survey.routes.push(route);
    survey.brief.rails.push(brief);
    let plan = plan::plan(&survey, &catalogue);
    assert_eq!(plan.drivers.len(), 1);
    assert_eq!(plan.drivers[0].rails.len(), 2);
    // Every luminaire's watts, by volts and amps at its terminals, are less than what is reckoned with; those of one rail are
    // half of them.
    let watts: f64 = plan
        .circuits
        .iter()
        .flat_map(|circuit| &circuit.loads)
        .map(|load| load.volts.unwrap().get() * load.amps.unwrap().get())
        .sum();
    let findings = rules::findings(&survey, &catalogue, &plan);
    let loads: Vec<&Finding> = findings.iter().filter(|finding| finding.rule == "driver-load").collect();
    assert_eq!(loads.len(), 1);
    let Some(survey::Figure::Number(measured)) = loads[0].measured else { panic!("{:?}", loads[0]) };
    assert!(measured > watts && measured < 1.5 * watts, "{measured} W for {watts} W");
    assert_eq!(loads[0].verdict, Verdict::Pass);
    assert_eq!(worst(&findings, "output-current"), None);
}

fn is_way_into(end: &survey::RouteEnd, to: &str) -> bool {
    matches!(end, survey::RouteEnd::WayIn { rail, .. } if rail.as_str() == to)
}
