//! Control of one zone from brief to schedules, worked by hand.

mod controls_support;
mod whole_support;

use controls_support::*;
use plan::{CableKind, ControlDevice, Quantity};
use survey::{Answer, Control, FeatureKind, Passage, PostKind, Proof, RouteEnd, Verdict};
use units::{Amps, Length, Money, Volts};
use whole_support::{id, mm};

fn said<'a>(plan: &'a plan::Plan, rule: &str) -> Option<&'a survey::Finding> {
    plan.findings.iter().find(|finding| finding.rule == rule)
}

#[test]
fn presence_on_a_stair_takes_the_fewest_sensors_on_the_shortest_cable() {
    let plan = planned(&stair(Control::PresenceAfterDusk), &parts());
    // 8 m of rail, 2 m to each side of a sensor: one at 1.5 m sees 0 to 3.5 m, one at 5.5 m would see on to 7.5 m, and a
    // third is needed for the last half metre. That one stands as far in as it can, at 6.5 m, and sees from 4.5 m on.
    let sensors = of_part(&plan, "SENSOR");
    let at: Vec<Length> = sensors.iter().map(|sensor| sensor.at_rail.clone().unwrap().1).collect();
    let mut sorted = at.clone();
    sorted.sort_unstable();
    assert_eq!(sorted, [mm(1_500), mm(2_500), mm(6_500)]);
    // What each sees, 2 m to either side, ends where the rail does.
    let mut seen: Vec<(Length, Length)> =
        sensors.iter().map(|s| s.sees.unwrap()).map(|sees| (sees.from, sees.to)).collect();
    seen.sort_unstable();
    assert_eq!(seen, [(mm(0), mm(3_500)), (mm(500), mm(4_500)), (mm(4_500), mm(8_000))]);
    let relays = of_part(&plan, "RELAY");
    assert_eq!(relays.len(), 1, "{:?}", plan.controls);
    assert_eq!(relays[0].sees, None, "only a presence sensor sees");
    assert_eq!(relays[0].serves, [plan.circuits[0].id.clone()]);
    // From the relay 4 m of route and 0.5 m of tube to the first sensor, 5 m of tube to the last; 0.3 m at every end.
    let line = &plan.zones[0].lines[0];
    assert_eq!(line.length, mm(9_500 + 3 * 600));
    assert_eq!(line.limit, Some(mm(60_000)));
    let cables: Vec<&plan::Cable> = plan.cables.iter().filter(|cable| cable.kind == CableKind::Control).collect();
    assert_eq!(cables.len(), 3);
    assert!(cables.iter().any(|cable| cable.routes == [id("r-in")] && cable.route == mm(4_500)));
    assert!(cables.iter().all(|cable| cable.cores == 3));
    // Parts: three sensors, the relay, its one plug, and the cable by length.
    let quantity = |part: &str| plan.parts.iter().find(|line| line.part == part).map(|line| line.quantity);
    assert_eq!(quantity("SENSOR"), Some(Quantity::Pieces(3)));
    assert_eq!(quantity("RELAY"), Some(Quantity::Pieces(1)));
    assert_eq!(quantity("PLUG-3"), Some(Quantity::Pieces(1)));
    assert_eq!(quantity("CC-3"), Some(Quantity::Length(line.length)));
    assert_eq!(said(&plan, "presence-coverage").unwrap().verdict, Verdict::Pass);
    let setting =
        |name: &str| sensors[0].settings.iter().find(|(known, _)| known == name).map(|(_, value)| value.clone());
    assert_eq!(setting("hold time").as_deref(), Some("300 s"));
    assert_eq!(setting("dusk threshold").as_deref(), Some("20 lx"));
    // A function test for each sensor and one for each lost cable, all lamps lit.
    let lamps = plan.rails[0].luminaires.len() as f64;
    let lost: Vec<_> = plan.tests.iter().filter(|test| test.kind.starts_with("taken off")).collect();
    assert_eq!(lost.len(), 3);
    assert!(lost.iter().all(|test| test.expected == lamps && test.unit == "luminaires"));
}

#[test]
fn the_cost_of_a_zone_is_that_of_its_parts_and_labour() {
    let plan = planned(&stair(Control::Dusk), &parts());
    // In a place in the open: one dusk sensor at 30, one relay at 20, a cable of 0.6 m at 1 a metre, one gland at 2, one
    // plug at the tap's 0.6, and two ends made off at 7 minutes of 60 an hour.
    assert_eq!(
        plan.zones[0].objective.cost,
        Money::ten_thousandths(300_000 + 200_000 + 6_000 + 20_000 + 6_000 + 140_000)
    );
    assert_eq!(plan.zones[0].objective.gap(), Money::ZERO);
    assert_eq!(plan.controls.len(), 2);
}

#[test]
fn stairs_take_a_dearer_relay_that_stays_lit() {
    let mut parts = parts();
    let relay = parts.controls.iter().position(|control| control.item.part == "RELAY").unwrap();
    parts.controls[relay].when_lost = Some(catalogue::WhenLost::Dark);
    let mut survey = stair(Control::Dusk);
    let plan = planned(&survey, &parts);
    assert_eq!(of_part(&plan, "RELAY-M").len(), 1);
    assert_eq!(of_part(&plan, "RELAY-M")[0].serves, ["D1"]);
    assert_eq!(of_part(&plan, "RELAY-M")[0].inrush, Some(Amps::new(30.0)));
    survey.brief.zones[0].stairs = Answer::No;
    assert_eq!(of_part(&planned(&survey, &parts), "RELAY").len(), 1);
}

#[test]
fn more_contacts_where_one_cannot_carry_the_load() {
    let mut parts = parts();
    parts.controls.retain(|control| control.item.part != "RELAY-M");
    let mut survey = stair(Control::Dusk);
    // Twice as many rails on one output or two: each output is one contact, since outputs are not tied together.
    let outputs = |plan: &plan::Plan| plan.drivers.iter().map(|driver| driver.outputs.len()).sum::<usize>();
    let plan = planned(&survey, &parts);
    assert_eq!(of_part(&plan, "RELAY").len(), outputs(&plan));
    // A contact in the mains lead carries the input of drivers until their inrush is too much for it.
    survey.rails.push({
        let mut rail = survey.rails[0].clone();
        (rail.id, rail.label) = (id("second"), "Second".into());
        rail
    });
    survey.brief.rails.push(survey::RailBrief { rail: id("second"), ..survey.brief.rails[0].clone() });
    survey.routes.push(whole_support::route(
        "r-second",
        RouteEnd::DriverPlace(id("dp")),
        whole_support::to_way_in("second", "in"),
        4_000,
    ));
    let mut mains = controls_support::parts();
    mains.controls.retain(|control| control.item.part != "RELAY");
    let plan = planned(&survey, &mains);
    let drivers = plan.drivers.len();
    assert_eq!(of_part(&plan, "RELAY-M").len(), 1, "{drivers} drivers of 30 A inrush are within 200 A");
    for control in &mut mains.controls {
        control.contact_inrush = Some(Amps::new(40.0));
    }
    assert_eq!(of_part(&planned(&survey, &mains), "RELAY-M").len(), drivers);
}

#[test]
fn a_wall_station_with_its_own_supply_needs_its_own_mains_point() {
    let mut survey = stair(Control::WallStation);
    let plan = planned(&survey, &parts());
    let stop = said(&plan, "wall-station-supply").unwrap();
    assert_eq!(stop.verdict, Verdict::Stop);
    assert!(stop.advice.contains("survey a mains point"), "{}", stop.advice);
    // The only mains point feeds the driver. With one of its own the station has a mains lead to it.
    survey.mains_points.push(whole_support::mains_point("own"));
    let hangs = || RouteEnd::DriverPlace(id("wall"));
    survey.driver_places.push(whole_support::driver_place("wall"));
    survey.routes.push(whole_support::route("r-wall", hangs(), RouteEnd::DriverPlace(id("dp")), 9_000));
    survey.routes.push(whole_support::route("r-own", RouteEnd::MainsPoint(id("own")), hangs(), 2_500));
    survey.brief.zones[0].control.station = Some(id("wall"));
    let plan = planned(&survey, &parts());
    assert!(said(&plan, "wall-station-supply").is_none() && said(&plan, "wall-station-place").is_none());
    let station = of_part(&plan, "STATION")[0];
    assert_eq!(station.place, "box wall");
    assert!(station.settings.iter().any(|(name, value)| name == "own supply" && value.contains("own")));
    let lead = plan.cables.iter().find(|cable| cable.reference == format!("M{}", station.device)).unwrap();
    assert_eq!((lead.kind, lead.route), (CableKind::Mains, mm(2_500)));
    assert_eq!(plan.zones[0].lines[0].length, mm(9_600));
}

#[test]
fn a_dimmed_zone_gets_a_dimmer_for_each_output_and_a_wall_station() {
    let plan = planned(&stair(Control::Dimmed), &parts());
    assert_eq!(of_part(&plan, "DIMMER").len(), plan.drivers.iter().map(|driver| driver.outputs.len()).sum::<usize>());
    assert_eq!(of_part(&plan, "STATION").len(), 1);
    assert!(plan.controls.iter().all(|device| device.kind != ControlDevice::Relay));
}

#[test]
fn a_device_that_takes_too_much_from_the_volts_is_passed_over() {
    let mut parts = parts();
    let relay = parts.controls.iter().position(|control| control.item.part == "RELAY").unwrap();
    parts.controls[relay].drop = Volts::new(0.6);
    assert_eq!(of_part(&planned(&stair(Control::Dusk), &parts), "RELAY-M").len(), 1);
}

#[test]
fn what_no_sensor_sees_stops_a_stair() {
    let mut survey = stair(Control::PresenceAfterDusk);
    // Without the posts between 2 and 7 m nobody is seen in the middle.
    survey.rails[0].features.retain(|feature| {
        !matches!(feature.kind, FeatureKind::Post { .. }) || !(mm(2_000)..mm(7_000)).contains(&feature.chainage.value)
    });
    let finding = planned(&survey, &parts());
    let finding = said(&finding, "presence-coverage").unwrap();
    assert_eq!(finding.verdict, Verdict::Stop);
    assert!(finding.message.contains("3,500 mm to 5,500 mm"), "{}", finding.message);
}

#[test]
fn a_shut_bore_keeps_the_control_cable_out() {
    let mut survey = stair(Control::PresenceAfterDusk);
    let mut shut = whole_support::feature(
        "shut",
        4_000,
        FeatureKind::Post { width: mm(40), kind: PostKind::Through, into_post: Passage::Unknown },
    );
    shut.bore = Passage::Blocked { how: Proof::Seen };
    survey.rails[0].features.push(shut);
    let plan = planned(&survey, &parts());
    assert!(of_part(&plan, "SENSOR").iter().all(|sensor| sensor.at_rail.as_ref().unwrap().1 < mm(4_000)));
    assert_eq!(said(&plan, "presence-coverage").unwrap().verdict, Verdict::Stop);
}

#[test]
fn a_catalogue_without_the_part_leaves_the_zone_open_in_plain_words() {
    for (kind, words) in [
        (Control::Dusk, "dusk sensor and relay"),
        (Control::PresenceAfterDusk, "presence sensor"),
        (Control::WallStation, "wall station"),
        (Control::Dimmed, "dimmer"),
    ] {
        let plan = planned(&stair(kind), &whole_support::catalogue());
        let open = said(&plan, "control-part").unwrap();
        assert_eq!(open.verdict, Verdict::NotEvaluated);
        assert!(open.message.contains(words), "{}", open.message);
        assert!(plan.controls.is_empty());
    }
    let plan = planned(&stair(Control::AlwaysOn), &whole_support::catalogue());
    assert!(said(&plan, "control-part").is_none() && plan.zones.len() == 1);
}

#[test]
fn a_zone_of_an_unknown_height_is_left_open() {
    let mut survey = stair(Control::PresenceAfterDusk);
    survey.rails[0].height = None;
    assert_eq!(said(&planned(&survey, &parts()), "sensor-height").unwrap().verdict, Verdict::NotEvaluated);
    survey.brief.zones[0].control.sensor_height = Some(mm(500));
    let plan = planned(&survey, &parts());
    assert!(said(&plan, "sensor-height").is_none());
    // At half the height a sensor sees 2 m: eight metres with posts a metre apart need more of them.
    assert!(of_part(&plan, "SENSOR").len() >= 4);
    for sensor in of_part(&plan, "SENSOR") {
        let sees = sensor.sees.unwrap();
        assert_eq!((sees.seen, sees.height), (mm(2_000), mm(500)));
    }
}
