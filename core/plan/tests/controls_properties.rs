//! What must hold of every zone's control: a relaxed constraint never costs more, names change no figure, and no value
//! of survey or catalogue makes the planning panic.

mod controls_support;
mod whole_support;

use catalogue::{Catalogue, ControlKind, WhenLost};
use controls_support::*;
use plan::Plan;
use proptest::prelude::*;
use survey::{Answer, Control, RouteEnd, Survey, Verdict};
use units::{Amps, Length, Money, Volts};
use whole_support::{id, mm};

const KINDS: [Control; 5] =
    [Control::AlwaysOn, Control::Dusk, Control::PresenceAfterDusk, Control::WallStation, Control::Dimmed];

/// A stair of some length with posts at some distance, a second mains point, and parts with drawn figures.
#[derive(Clone, Debug)]
struct Case {
    length: i64,
    posts: i64,
    route: i64,
    kind: usize,
    detects: i64,
    contact: f64,
    inrush: f64,
    drop: f64,
    cable: i64,
    dark: bool,
}

fn case() -> impl Strategy<Value = Case> {
    (
        (2_000_i64..12_000, 700_i64..2_500, 500_i64..9_000, 0_usize..5, 1_500_i64..9_000),
        (0.2_f64..8.0, 10.0_f64..120.0, 0.0_f64..0.3, 4_000_i64..60_000, any::<bool>()),
    )
        .prop_map(|((length, posts, route, kind, detects), (contact, inrush, drop, cable, dark))| Case {
            length,
            posts,
            route,
            kind,
            detects,
            contact,
            inrush,
            drop,
            cable,
            dark,
        })
}

fn job(case: &Case) -> (Survey, Catalogue) {
    let mut survey = stair(KINDS[case.kind]);
    let mut rail = whole_support::straight_rail("stair", "Stair", case.length, case.posts);
    rail.height = survey.rails[0].height.clone();
    rail.features.push(whole_support::way_in("in", case.length / 2));
    survey.rails = vec![rail];
    survey.routes[1].length.value = mm(case.route);
    survey.mains_points.push(whole_support::mains_point("own"));
    let place = RouteEnd::DriverPlace(id("dp"));
    survey.routes.push(whole_support::route("r-own", RouteEnd::MainsPoint(id("own")), place, 7_000));
    let mut parts = parts();
    for control in &mut parts.controls {
        control.contact = Amps::new(case.contact);
        control.contact_inrush = Some(Amps::new(case.inrush));
        control.greatest_control_cable = Some(mm(case.cable));
        if control.item.part == "RELAY" {
            control.drop = Volts::new(case.drop);
            control.when_lost = Some(if case.dark { WhenLost::Dark } else { WhenLost::Lit });
        }
        if let ControlKind::Sensor { detects, .. } = &mut control.kind {
            *detects = mm(case.detects);
        }
    }
    (survey, parts)
}

/// Whether every constraint of the control is kept: nothing that the planning or the chosen parts leave broken.
fn sound(plan: &Plan, parts: &Catalogue) -> bool {
    let stop = |rule: &str| plan.findings.iter().any(|found| found.rule == rule && found.verdict == Verdict::Stop);
    let spoilt =
        ["presence-coverage", "control-route", "control-ingress", "wall-station-supply"].iter().any(|r| stop(r));
    let lines = plan.zones.iter().flat_map(|zone| &zone.lines).all(|l| l.limit.is_none_or(|limit| l.length <= limit));
    let devices = plan.controls.iter().all(|device| {
        let part = parts.controls.iter().find(|part| part.item.part == device.part).unwrap();
        let load = device.load.is_none_or(|load| load <= part.contact);
        let inrush = device.inrush.is_none_or(|load| part.contact_inrush.is_none_or(|limit| load <= limit));
        let lit = device.serves.is_empty() || part.when_lost != Some(WhenLost::Dark);
        let volts = plan.circuits.iter().filter(|circuit| device.serves.contains(&circuit.id)).all(|circuit| {
            circuit.least_load_volts.is_some_and(|least| least.get() - part.drop.get() >= circuit.limit().get() - 1e-9)
        });
        load && inrush && lit && volts
    });
    !spoilt && lines && devices && plan.findings.iter().all(|found| found.rule != "control-part")
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn a_relaxed_constraint_never_costs_more(case in case()) {
        let (survey, strict) = job(&case);
        let before = planned(&survey, &strict);
        prop_assume!(sound(&before, &strict));
        let relaxed: [fn(&mut Survey, &mut Catalogue); 7] = [
            |_, parts| parts.controls.iter_mut().for_each(|part| part.contact = part.contact * 2.0),
            |_, parts| parts.controls.iter_mut().for_each(|part| part.contact_inrush = None),
            |_, parts| parts.controls.iter_mut().for_each(|part| part.greatest_control_cable = None),
            |_, parts| parts.controls.iter_mut().for_each(|part| part.drop = Volts::ZERO),
            |_, parts| parts.controls.iter_mut().for_each(|part| if let ControlKind::Sensor { detects, .. } = &mut part.kind {
                *detects = *detects * 2;
            }),
            |survey, _| survey.brief.zones[0].stairs = Answer::No,
            // One more part to choose from.
            |_, parts| {
                let mut other = parts.controls[2].clone();
                other.item.part = "ANOTHER".into();
                other.item.price = Money::ten_thousandths(210_000);
                other.drop = Volts::ZERO;
                parts.controls.push(other);
            },
        ];
        for (number, relax) in relaxed.into_iter().enumerate() {
            let (mut survey, mut parts) = (survey.clone(), strict.clone());
            relax(&mut survey, &mut parts);
            let after = planned(&survey, &parts);
            prop_assert!(cost(&after) <= cost(&before), "relaxed {number}: {} over {}", cost(&after), cost(&before));
        }
    }

    #[test]
    fn names_change_no_figure(case in case()) {
        let (survey, parts) = job(&case);
        let before = planned(&survey, &parts);
        let mut other = survey.clone();
        other.brief.zones[0].id = id("another zone");
        other.brief.zones[0].label = "A name".into();
        other.brief.rails[0].zone = Some(id("another zone"));
        other.rails[0].id = id("a-rail");
        other.rails[0].label = "Elsewhere".into();
        other.brief.rails[0].rail = id("a-rail");
        for route in &mut other.routes {
            route.label = format!("way {}", route.id);
            for end in [&mut route.from, &mut route.to] {
                if let RouteEnd::WayIn { rail, .. } = end {
                    *rail = id("a-rail");
                }
            }
        }
        let after = planned(&other, &parts);
        prop_assert_eq!(cost(&after), cost(&before));
        let figures = |plan: &Plan| {
            let lines: Vec<Length> = plan.zones.iter().flat_map(|zone| &zone.lines).map(|line| line.length).collect();
            let mut devices: Vec<(String, Option<Amps>)> =
                plan.controls.iter().map(|device| (device.part.clone(), device.load)).collect();
            devices.sort();
            (lines, devices)
        };
        prop_assert_eq!(figures(&after), figures(&before));
    }

    #[test]
    fn no_value_makes_it_panic(
        case in case(),
        (height, chainage, detects, at_height) in (any::<i32>(), any::<i32>(), any::<i32>(), any::<i32>()),
        (contact, route, poles, sockets) in (-1e9_f64..1e9, any::<i32>(), any::<u8>(), any::<u8>()),
    ) {
        let (mut survey, mut parts) = job(&case);
        survey.brief.zones[0].control.sensor_height = Some(mm(i64::from(height)));
        survey.brief.zones[0].control.station = Some(id(if route % 2 == 0 { "nowhere" } else { "dp" }));
        survey.brief.zones[0].stairs = Answer::Unknown;
        survey.rails[0].features[0].chainage.value = mm(i64::from(chainage));
        survey.routes[1].length.value = mm(i64::from(route));
        for control in &mut parts.controls {
            control.contact = Amps::new(contact);
            match &mut control.kind {
                ControlKind::Sensor { detects: seen, at_height: at } => (*seen, *at) = (mm(i64::from(detects)), mm(i64::from(at_height))),
                ControlKind::Decoder { control_poles, control_sockets, .. } => (*control_poles, *control_sockets) = (poles, sockets),
                _ => {}
            }
        }
        let plan = plan::plan(&survey, &parts);
        prop_assert_eq!(plan.zones.len(), usize::from(!plan.circuits.is_empty()));
    }
}
