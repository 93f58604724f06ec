//! The four rules about controls at both sides of their limits: the check fixture of controls with one thing changed at a
//! time, in the survey, the catalogue or the finished plan. None of them gives a caution.

use catalogue::{Catalogue, Control, LoadModel, WhenLost};
use plan::{ControlDevice, ControlPlan, Plan};
use survey::{Answer, Finding, Survey, Verdict};
use units::{Amps, Length, Volts, Watts};

const SITE: &[u8] = include_bytes!("../../../fixtures/check/controls.json");
const PARTS: &[u8] = include_bytes!("../../../fixtures/check/controls.toml");

fn job() -> (Survey, Catalogue, Plan) {
    let survey = desk::read_survey(SITE, "controls.json").unwrap_or_else(|f| panic!("{f}"));
    let catalogue = desk::read_catalogue(PARTS, "controls.toml").unwrap_or_else(|f| panic!("{f}"));
    let plan = plan::plan(&survey, &catalogue);
    (survey, catalogue, plan)
}

/// What a rule finds on the good plan, judged with something changed.
fn found(rule: &str, change: impl Fn(&mut Survey, &mut Catalogue, &mut Plan)) -> Vec<Finding> {
    let (mut survey, mut catalogue, mut plan) = job();
    change(&mut survey, &mut catalogue, &mut plan);
    let findings = rules::findings(&survey, &catalogue, &plan);
    findings.into_iter().filter(|finding| finding.rule == rule).collect()
}

/// Its worst verdict, `None` where it has nothing to say. What is no pass says what to do.
fn after(rule: &str, change: impl Fn(&mut Survey, &mut Catalogue, &mut Plan)) -> Option<Verdict> {
    let findings = found(rule, change);
    for finding in &findings {
        assert_eq!(finding.verdict == Verdict::Pass, finding.advice.is_empty(), "{finding:?}");
        assert!(!finding.source.is_empty() && !finding.message.is_empty(), "{finding:?}");
    }
    findings.iter().map(|finding| finding.verdict).min()
}

fn part<'a>(catalogue: &'a mut Catalogue, name: &str) -> &'a mut Control {
    catalogue.controls.iter_mut().find(|control| control.item.part == name).expect("a part of the fixture")
}

fn relay(plan: &mut Plan) -> &mut ControlPlan {
    plan.controls.iter_mut().find(|device| device.kind == ControlDevice::Relay).expect("the stair has a relay")
}

/// Just more than a figure: the least that a limit has to tell apart.
fn beyond(amps: Amps) -> Amps {
    amps + Amps::new(1e-6)
}

#[test]
fn the_good_job_passes_every_rule_that_has_something_to_judge() {
    for rule in ["control-cable-length", "contact-load", "stairs-stay-lit"] {
        assert_eq!(after(rule, |_, _, _| {}), Some(Verdict::Pass), "{rule}");
    }
    // Nothing switches a driver in its mains lead, and no part of the fixture states a drop.
    for rule in ["contact-inrush", "control-drop"] {
        assert_eq!(after(rule, |_, _, _| {}), None, "{rule}");
    }
}

#[test]
fn control_cable_may_be_as_long_as_its_makers_allow_and_no_longer() {
    let limit = |over: Option<Length>| {
        after("control-cable-length", move |_, _, plan| {
            for line in plan.zones.iter_mut().flat_map(|zone| &mut zone.lines) {
                line.limit = over.map(|over| line.length - over);
            }
        })
    };
    assert_eq!(limit(Some(Length::ZERO)), Some(Verdict::Pass));
    assert_eq!(limit(Some(Length::um(1))), Some(Verdict::Stop));
    assert_eq!(limit(None), Some(Verdict::NotEvaluated));
    // A line without cable has no length to judge.
    let bare = after("control-cable-length", |_, _, plan| {
        for line in plan.zones.iter_mut().flat_map(|zone| &mut zone.lines) {
            line.cables.clear();
        }
    });
    assert_eq!(bare, None);
}

#[test]
fn the_shortest_limit_of_a_line_governs_and_the_planner_keeps_it() {
    // The catalogue's cable is planned anew here: what the sensors allow is what the line is judged by.
    let (survey, mut catalogue, plan) = job();
    let line = plan.zones.iter().flat_map(|zone| &zone.lines).find(|line| line.devices.len() == 3).expect("the stair");
    part(&mut catalogue, "CHECK-SENSOR").greatest_control_cable = Some(line.length - Length::mm(1));
    let plan = plan::plan(&survey, &catalogue);
    let findings = rules::findings(&survey, &catalogue, &plan);
    let stops = findings.iter().any(|f| f.rule == "control-cable-length" && f.verdict == Verdict::Stop);
    let split = plan.zones.iter().flat_map(|zone| &zone.lines).all(|own| own.limit.is_none_or(|l| own.length <= l));
    assert!(stops || split, "a line too long for its sensors is split or said");
}

#[test]
fn a_contact_carries_its_rating_and_no_more() {
    let load = |over: bool| {
        after("contact-load", move |_, catalogue, plan| {
            let rating = part(catalogue, "CHECK-RELAY-LIT").contact;
            relay(plan).load = Some(if over { beyond(rating) } else { rating });
        })
    };
    assert_eq!(load(false), Some(Verdict::Pass));
    assert_eq!(load(true), Some(Verdict::Stop));
    // The busiest channel of a decoder counts in the same way.
    let channel = |over: bool| {
        after("contact-load", move |_, catalogue, plan| {
            let rating = part(catalogue, "CHECK-DECODER-12").contact;
            let decoder = plan.controls.iter_mut().find(|device| device.kind == ControlDevice::Decoder);
            decoder.expect("a decoder").load = Some(if over { beyond(rating) } else { rating });
        })
    };
    assert_eq!(channel(false), Some(Verdict::Pass));
    assert_eq!(channel(true), Some(Verdict::Stop));
}

#[test]
fn a_contact_stands_the_peak_that_its_maker_states_and_is_open_where_none_is_stated() {
    let inrush = |stands: Option<f64>, peak: Option<f64>| {
        after("contact-inrush", move |_, catalogue, plan| {
            part(catalogue, "CHECK-RELAY-LIT").contact_inrush = stands.map(Amps::new);
            relay(plan).inrush = peak.map(Amps::new);
        })
    };
    assert_eq!(inrush(Some(80.0), Some(80.0)), Some(Verdict::Pass));
    assert_eq!(inrush(Some(80.0), Some(80.000_001)), Some(Verdict::Stop));
    assert_eq!(inrush(None, Some(80.0)), Some(Verdict::NotEvaluated));
    assert_eq!(inrush(None, None), None);
}

#[test]
fn what_a_relay_drops_is_taken_from_what_is_left_above_the_limit() {
    let drop = |share: f64, power: bool| {
        after("control-drop", move |_, catalogue, plan| {
            let served = relay(plan).serves.clone();
            let circuits = plan.circuits.iter_mut().filter(|circuit| served.contains(&circuit.id));
            let mut left = f64::INFINITY;
            for circuit in circuits {
                left = left.min(circuit.least_load_volts.expect("solved").get() - circuit.limit().get());
                if power {
                    circuit.loads[0].model = LoadModel::Power(Watts::new(0.5));
                }
            }
            assert!(left.is_finite() && left > 0.0, "the relay serves circuits with volts to spare");
            part(catalogue, "CHECK-RELAY-LIT").drop = Volts::new(left * share);
        })
    };
    assert_eq!(drop(0.0, false), None);
    assert_eq!(drop(1.0, false), Some(Verdict::Pass));
    assert_eq!(drop(1.001, false), Some(Verdict::Stop));
    // Loads of constant power draw more as volts fall, so that a drop counts twice.
    assert_eq!(drop(0.5, true), Some(Verdict::Pass));
    assert_eq!(drop(0.501, true), Some(Verdict::Stop));
}

#[test]
fn two_devices_between_a_driver_and_a_chain_drop_the_sum() {
    let with_both = |share: f64| {
        after("control-drop", move |_, catalogue, plan| {
            let served = relay(plan).serves.clone();
            let circuit = plan.circuits.iter().find(|circuit| served.contains(&circuit.id)).expect("a circuit");
            let left = circuit.least_load_volts.expect("solved").get() - circuit.limit().get();
            let mut dimmer = relay(plan).clone();
            dimmer.device = "T9".into();
            dimmer.part = "DIMMER".into();
            dimmer.kind = ControlDevice::Dimmer;
            plan.controls.push(dimmer);
            let mut second = part(catalogue, "CHECK-RELAY-LIT").clone();
            second.item.part = "DIMMER".into();
            second.drop = Volts::new(left * share / 2.0);
            part(catalogue, "CHECK-RELAY-LIT").drop = second.drop;
            catalogue.controls.push(second);
        })
    };
    assert_eq!(with_both(0.999), Some(Verdict::Pass));
    assert_eq!(with_both(1.001), Some(Verdict::Stop));
}

#[test]
fn stairs_stay_lit_by_what_the_maker_says_and_by_what_is_known_of_the_zone() {
    let lost = |when: Option<WhenLost>, stairs: Answer| {
        after("stairs-stay-lit", move |_, catalogue, plan| {
            part(catalogue, "CHECK-RELAY-LIT").when_lost = when;
            let zone = plan.zones.iter_mut().find(|zone| zone.id.as_str() == "stair").expect("the stair's zone");
            zone.stairs = stairs;
        })
    };
    assert_eq!(lost(Some(WhenLost::Lit), Answer::Yes), Some(Verdict::Pass));
    assert_eq!(lost(Some(WhenLost::Settable), Answer::Yes), Some(Verdict::Pass));
    assert_eq!(lost(Some(WhenLost::Dark), Answer::Yes), Some(Verdict::Stop));
    assert_eq!(lost(None, Answer::Yes), Some(Verdict::NotEvaluated));
    assert_eq!(lost(Some(WhenLost::Lit), Answer::Unknown), Some(Verdict::Pass));
    assert_eq!(lost(Some(WhenLost::Dark), Answer::Unknown), Some(Verdict::NotEvaluated));
    assert_eq!(lost(Some(WhenLost::Dark), Answer::No), None);
}
