//! Source: common practice, no source. What fitters take for granted about the control of lighting in handrails, on a
//! fixture of its own (`fixtures/check/README.md` lists the facts).

use newel_tests::tree;
use serde_json::Value;

fn plan() -> Value {
    let (site, parts) = ("fixtures/check/controls.json", "fixtures/check/controls.toml");
    let planned = desk::plan_files((&tree::bytes(site), site), (&tree::bytes(parts), parts))
        .unwrap_or_else(|faults| panic!("{faults}"));
    serde_json::to_value(planned.document()).expect("the plan document is JSON")
}

fn list<'a>(value: &'a Value, name: &str) -> &'a Vec<Value> {
    value[name].as_array().unwrap_or_else(|| panic!("{name} is a list"))
}

fn devices<'a>(plan: &'a Value, part: &str) -> Vec<&'a Value> {
    list(plan, "controls").iter().filter(|device| device["part"] == part).collect()
}

fn setting<'a>(device: &'a Value, name: &str) -> &'a str {
    let found = list(device, "settings").iter().find(|setting| setting["name"] == name);
    found.and_then(|setting| setting["value"].as_str()).unwrap_or_else(|| panic!("{name} is set"))
}

#[test]
fn a_sensor_has_a_dusk_threshold_and_a_mode_of_test_off_always_on_or_hold_time() {
    let plan = plan();
    let sensors = devices(&plan, "CHECK-SENSOR");
    // 6 m of stair, 3 m seen by each, posts at 1.5 and 4.5 m.
    assert_eq!(
        sensors.iter().filter_map(|sensor| sensor["chainage_mm"].as_f64()).collect::<Vec<_>>(),
        [1500.0, 4500.0]
    );
    for sensor in sensors {
        for word in ["test", "off", "always on", "hold time"] {
            assert!(setting(sensor, "mode").contains(word), "{sensor}");
        }
        assert_eq!(setting(sensor, "dusk threshold"), "15 lx");
        assert_eq!(setting(sensor, "hold time"), "120 s");
    }
}

#[test]
fn a_control_cable_has_three_conductors_a_plug_at_one_end_and_terminals_behind_a_gland_at_the_other() {
    let plan = plan();
    let cables: Vec<&Value> = list(&plan, "cables").iter().filter(|cable| cable["kind"] == "control").collect();
    // Relay to the first sensor and on to the second; decoder to wall station.
    assert_eq!(cables.len(), 3, "{cables:?}");
    for cable in cables {
        assert_eq!(cable["cores"], 3);
        let (ends, gland) = (cable["connectors"].as_str().unwrap(), cable["gland"].as_str().unwrap());
        assert!(ends.contains("screw terminals") && gland.contains("CHECK-GLAND"), "{cable}");
        let sensors_only = ["from", "to"].iter().all(|end| cable[*end].as_str().unwrap().starts_with('B'));
        assert_eq!(ends.contains("3-pole plug"), !sensors_only, "{cable}");
    }
}

#[test]
fn a_wall_station_stands_on_a_supply_of_its_own() {
    let plan = plan();
    let station = devices(&plan, "CHECK-STATION")[0];
    assert!(setting(station, "own supply").starts_with("24") && setting(station, "own supply").contains("Socket"));
    let lead = list(&plan, "cables").iter().find(|cable| cable["ref"] == "MS1").expect("its mains lead");
    assert_eq!((lead["kind"].as_str(), lead["route_mm"].as_f64()), (Some("mains"), Some(2000.0)));
    assert!(list(&plan, "drivers").iter().all(|driver| driver["mains_point"] == "board"));
}

#[test]
fn a_decoder_stands_between_driver_and_chain_with_two_poles_in_and_four_out() {
    let plan = plan();
    let decoder = devices(&plan, "CHECK-DECODER-12")[0];
    let circuit = list(&plan, "circuits").iter().find(|circuit| circuit["rail"] == "colour").expect("a circuit");
    assert_eq!(decoder["serves"][0], circuit["id"]);
    assert_eq!(decoder["place"], format!("West, between driver and chain {}", circuit["id"].as_str().unwrap()));
    let run =
        list(&plan, "cables").iter().find(|c| c["kind"] == "run" && c["circuit"] == circuit["id"]).expect("its run");
    assert_eq!(run["cores"], 4, "one common and three channels");
}

#[test]
fn stairs_stay_lit_when_a_sensor_or_a_control_cable_is_lost() {
    let plan = plan();
    assert_eq!(devices(&plan, "CHECK-RELAY-LIT").len(), 1, "the dearer relay is closed at rest");
    assert!(devices(&plan, "CHECK-RELAY-DARK").is_empty());
    let judged: Vec<&Value> = list(&plan, "findings").iter().filter(|f| f["rule"] == "stairs-stay-lit").collect();
    assert!(!judged.is_empty() && judged.iter().all(|finding| finding["verdict"] == "pass"));
    let lost =
        list(&plan, "tests").iter().filter(|test| test["kind"].as_str().unwrap().starts_with("taken off")).count();
    assert_eq!(lost, 2, "one for each control cable of the stair");
}
