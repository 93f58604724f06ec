//! Source: common practice, no source. What fitters of point luminaires take for granted, on a fixture of its own
//! (`fixtures/check/README.md` lists the facts).

use newel_tests::tree;
use serde_json::Value;

fn plan() -> Value {
    let (site, parts) = ("fixtures/check/points.json", "fixtures/check/catalogue.toml");
    let planned = desk::plan_files((&tree::bytes(site), site), (&tree::bytes(parts), parts))
        .unwrap_or_else(|faults| panic!("{faults}"));
    serde_json::to_value(planned.document()).expect("the plan document is JSON")
}

fn list<'a>(value: &'a Value, name: &str) -> &'a Vec<Value> {
    value[name].as_array().unwrap_or_else(|| panic!("{name} is a list"))
}

fn quantity(plan: &Value, part: &str) -> f64 {
    list(plan, "parts").iter().filter(|p| p["part"] == part).map(|p| p["quantity"].as_f64().expect("a quantity")).sum()
}

#[test]
fn points_stand_in_24_mm_holes_at_300_mm_centres() {
    let plan = plan();
    for (rail, count) in [("one-rivet", 40), ("two-rivets", 20)] {
        let holes: Vec<&Value> = list(&plan, "drilling").iter().filter(|h| h["rail"] == rail).collect();
        assert_eq!(holes.len(), count, "{rail}");
        for (i, hole) in holes.iter().enumerate() {
            assert_eq!(hole["chainage_mm"].as_f64(), Some(150.0 + 300.0 * i as f64), "{rail}");
            assert_eq!(hole["diameter_mm"].as_f64(), Some(24.0), "{rail}");
        }
    }
}

#[test]
fn points_run_on_12_v_and_nothing_is_mixed() {
    let plan = plan();
    for circuit in list(&plan, "circuits") {
        let volts = circuit["source"]["volts"].as_f64().expect("volts");
        assert!((11.0..=12.0).contains(&volts), "{volts} V is the low end of a 12 V driver");
    }
    let mixed = list(&plan, "findings").iter().any(|f| f["rule"] == "voltages-not-mixed" && f["verdict"] != "pass");
    assert!(!mixed);
    for driver in list(&plan, "drivers") {
        assert!(!driver["part"].as_str().expect("part").contains("24"), "{driver}");
    }
}

#[test]
fn a_driver_near_the_middle_of_its_run_feeds_both_ways() {
    let plan = plan();
    let on_a: Vec<&Value> = list(&plan, "circuits").iter().filter(|c| c["rail"] == "one-rivet").collect();
    assert_eq!(on_a.len(), 2, "two chains on rail A");
    let driver = &on_a[0]["driver"];
    assert_eq!(&on_a[1]["driver"], driver, "one driver");
    let drivers = list(&plan, "drivers");
    let driver = drivers.iter().find(|d| &d["id"] == driver).expect("the driver is listed");
    assert_eq!(driver["place"], "middle");
    for circuit in on_a {
        let mut luminaires: Vec<&str> =
            list(circuit, "loads").iter().map(|l| l["luminaire"].as_str().expect("a reference")).collect();
        luminaires.sort_unstable();
        luminaires.dedup();
        assert_eq!(luminaires.len(), 20, "twenty to each side");
    }
}

#[test]
fn a_driver_never_plugs_straight_into_a_luminaire() {
    let plan = plan();
    for circuit in list(&plan, "circuits") {
        let (plus, minus) = (&circuit["source"]["plus"], &circuit["source"]["minus"]);
        let branches = list(circuit, "branches");
        for load in list(circuit, "loads") {
            for (end, terminal) in [(&load["from"], plus), (&load["to"], minus)] {
                let mut kinds = Vec::new();
                let mut node = end;
                while node != terminal {
                    let branch = branches.iter().find(|b| &b["to"] == node).expect("a branch leads to every node");
                    kinds.push(branch["kind"].as_str().expect("a kind"));
                    node = &branch["from"];
                }
                assert!(kinds.contains(&"lead"), "{} reaches {} through {kinds:?}", circuit["id"], load["luminaire"]);
            }
        }
    }
    let extensions = list(&plan, "cables").iter().filter(|c| c["kind"] == "extension").count();
    assert_eq!(extensions, list(&plan, "circuits").len());
}

#[test]
fn each_luminaire_is_joined_by_two_sealed_taps_and_each_run_end_is_sealed() {
    let plan = plan();
    for circuit in list(&plan, "circuits") {
        let taps = list(circuit, "branches").iter().filter(|b| b["kind"] == "tap").count();
        assert_eq!(taps, 2 * list(circuit, "loads").len(), "a tap on each core");
        // The running core is uncut: what is in series with the run beyond the lead is run alone.
        assert!(
            list(circuit, "branches").iter().filter(|b| b["kind"] == "run").count() >= list(circuit, "loads").len()
        );
    }
    for run in list(&plan, "cables").iter().filter(|c| c["kind"] == "run") {
        assert_eq!(run["cores"], 2, "two unsheathed cores");
    }
    let points = list(&plan, "drilling").len() as f64;
    assert_eq!(quantity(&plan, "CHECK-TAP"), 2.0 * points);
    // Rail B is fed both ways from one way in: its chain has two ends, rail A's two chains one each.
    let ends: usize = list(&plan, "cables").iter().filter(|c| c["kind"] == "run").count();
    assert_eq!(quantity(&plan, "CHECK-SEAL"), 2.0 * ends as f64);
}

#[test]
fn rivets_of_2_mm_hold_the_flange() {
    assert_eq!(quantity(&plan(), "CHECK-RIVET"), 40.0 + 2.0 * 20.0);
}
