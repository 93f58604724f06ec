//! A stair with posts every metre, and control parts of three kinds; invented.
#![allow(dead_code, reason = "each test file uses its own share")]

use catalogue::*;
use plan::{ControlPlan, Plan, plan};
use survey::{Answer, Measurement, RailBrief, RouteEnd, Survey, Zone, ZoneControl};
use units::{Amps, Length, Money, Volts};

use crate::whole_support::{self, id, mm, price};

/// A control part.
pub fn part(name: &str, units: i64, kind: ControlKind, nominal: f64) -> Control {
    Control {
        item: Item {
            part: name.into(),
            description: format!("invented {name}"),
            price: price(units),
            pack: 1,
            supplier_ref: String::new(),
        },
        kind,
        nominal: Volts::new(nominal),
        contact: Amps::new(8.0),
        contact_inrush: Some(Amps::new(200.0)),
        drop: Volts::ZERO,
        own_supply: None,
        when_lost: Some(WhenLost::Lit),
        greatest_control_cable: Some(mm(60_000)),
        ingress: whole_support::ingress(6, &[6]),
    }
}

/// Sensors that see 4 m at 1 m, dusk sensors, relays for 12 V and for mains, dimmers, decoders and wall stations.
pub fn parts() -> Catalogue {
    let mut catalogue = whole_support::catalogue();
    let decoder = ControlKind::Decoder { inlet_poles: 2, outlet_poles: 4, control_sockets: 2, control_poles: 3 };
    catalogue.controls = vec![
        part("SENSOR", 60, ControlKind::Sensor { detects: mm(4_000), at_height: mm(1_000) }, 12.0),
        part("DUSK", 30, ControlKind::DuskSensor, 12.0),
        part("RELAY", 20, ControlKind::Relay, 12.0),
        part("RELAY-M", 50, ControlKind::Relay, 230.0),
        part("DIMMER", 55, ControlKind::Dimmer, 12.0),
        part("DECODER", 70, decoder, 12.0),
        Control { own_supply: Some(Volts::new(24.0)), ..part("STATION", 90, ControlKind::WallStation, 24.0) },
    ];
    let mut cable = catalogue.leads.iter().find(|lead| lead.item.part == "MF-3").unwrap().clone();
    cable.item.part = "CC-3".into();
    cable.item.price = Money::ten_thousandths(10_000);
    cable.uses = vec![LeadUse::Control];
    cable.outside_diameter = mm(6);
    catalogue.leads.push(cable);
    let plug = Item { part: "PLUG-3".into(), ..catalogue.fixings[0].item.clone() };
    catalogue.fixings.push(Fixing { item: plug, kind: FixingKind::ControlPlug { poles: 3 } });
    catalogue
}

/// A rail of 8 m, 1 m high, with posts every metre from 0.5 m on, and a way in at 1 m; in one zone.
pub fn stair(kind: survey::Control) -> Survey {
    let mut rail = whole_support::straight_rail("stair", "Stair", 8_000, 1_000);
    rail.height = Some(Measurement::taped(mm(1_000)));
    rail.features.push(whole_support::way_in("in", 1_000));
    let place = || RouteEnd::DriverPlace(id("dp"));
    let mut survey = Survey {
        rails: vec![rail],
        mains_points: vec![whole_support::mains_point("mp")],
        driver_places: vec![whole_support::driver_place("dp")],
        routes: vec![
            whole_support::route("r-mains", RouteEnd::MainsPoint(id("mp")), place(), 6_000),
            whole_support::route("r-in", place(), whole_support::to_way_in("stair", "in"), 4_000),
        ],
        ..whole_support::empty_survey()
    };
    survey.brief.rails = vec![RailBrief { zone: Some(id("zone")), ..whole_support::rail_brief("stair") }];
    survey.brief.zones = vec![Zone {
        id: id("zone"),
        label: "Stair zone".into(),
        control: ZoneControl {
            kind,
            hold_seconds: Some(300),
            dusk_lux: Some(20),
            supply: None,
            sensor_height: None,
            station: None,
        },
        stairs: Answer::Yes,
    }];
    survey
}

/// The plan and a check that its control schedules agree with each other.
pub fn planned(survey: &Survey, catalogue: &Catalogue) -> Plan {
    let plan = plan(survey, catalogue);
    agree(&plan);
    plan
}

/// What must hold of every plan's control schedules.
pub fn agree(plan: &Plan) {
    let device = |name: &str| plan.controls.iter().find(|device| device.device == name);
    let mut names: Vec<&str> = plan.controls.iter().map(|device| device.device.as_str()).collect();
    names.sort_unstable();
    let count = names.len();
    names.dedup();
    assert_eq!(names.len(), count, "every device has its own reference");
    for zone in &plan.zones {
        assert!(zone.objective.lower_bound <= zone.objective.cost);
        for line in &zone.lines {
            assert_eq!(line.cables.len(), if line.devices.len() > 1 { line.devices.len() - 1 } else { 0 });
            let mut length = Length::ZERO;
            for (position, reference) in line.cables.iter().enumerate() {
                let cable =
                    plan.cables.iter().find(|cable| &cable.reference == reference).expect("the cable is listed");
                // Every control cable joins what the schedule says.
                for (end, name) in [(&cable.from, &line.devices[position]), (&cable.to, &line.devices[position + 1])] {
                    assert!(end.starts_with(&format!("{name}, ")), "{end} is {name}");
                    assert!(cable.connectors.contains(&format!("at {name}")), "{}", cable.connectors);
                }
                assert_eq!(cable.cut, cable.route + cable.allowance);
                assert!(cable.allowance >= mm(600), "{cable:?}");
                length += cable.cut;
            }
            assert_eq!(length, line.length);
        }
    }
    for one in &plan.controls {
        let line = plan.zones.iter().flat_map(|zone| &zone.lines).find(|line| line.devices.contains(&one.device));
        let said = |rule: &str| plan.findings.iter().any(|finding| finding.rule == rule);
        match (&one.cable_ref, line) {
            (Some(cable), Some(line)) => assert!(line.cables.contains(cable)),
            (Some(cable), None) => panic!("{cable} is on no line"),
            // No device without a cable, unless a finding says why.
            (None, _) => {
                let excused = ["control-route", "control-colour", "presence-coverage"].iter().any(|rule| said(rule));
                assert!(excused, "{} has no cable and nothing says why", one.device);
            }
        }
        assert!(device(&one.device).is_some());
    }
    let listed = plan.cables.iter().filter(|cable| cable.kind == plan::CableKind::Control).count();
    assert_eq!(listed, plan.zones.iter().flat_map(|zone| &zone.lines).map(|line| line.cables.len()).sum::<usize>());
}

/// The devices of a part.
pub fn of_part<'a>(plan: &'a Plan, part: &str) -> Vec<&'a ControlPlan> {
    plan.controls.iter().filter(|device| device.part == part).collect()
}

/// What the control of all zones costs.
pub fn cost(plan: &Plan) -> Money {
    plan.zones.iter().map(|zone| zone.objective.cost).sum()
}
