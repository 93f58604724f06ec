//! Source: ngspice (Debian package), an independent circuit simulator.
//!
//! Every circuit of the demo site and of the check fixtures, of points and of modules, is rebuilt from the plan document alone; every node agrees
//! within a millivolt.

use newel_tests::{ngspice, tree};
use serde_json::Value;

/// Largest difference that the contract allows, in volts.
const WITHIN: f64 = 1e-3;

fn plan(site: &str, catalogue: &str) -> Value {
    let planned = desk::plan_files((&tree::bytes(site), site), (&tree::bytes(catalogue), catalogue))
        .unwrap_or_else(|faults| panic!("{faults}"));
    serde_json::to_value(planned.document()).expect("the plan document is JSON")
}

fn check(plan: &Value) -> usize {
    let circuits: Vec<&Value> = plan["circuits"].as_array().expect("circuits").iter().collect();
    let solved: Vec<&Value> = circuits.iter().copied().filter(|c| c["solved"] == true).collect();
    let mut worst = 0.0_f64;
    let mut nodes = 0;
    for (circuit, answer) in solved.iter().zip(ngspice::volts_of_all(&solved)) {
        let volts = answer.unwrap_or_else(|e| panic!("{}: {e}", circuit["id"]));
        for node in circuit["nodes"].as_array().expect("nodes") {
            let ours = node["volts"].as_f64().unwrap_or_else(|| panic!("{node} of a solved circuit has volts"));
            let theirs = volts[node["id"].as_str().expect("id")];
            worst = worst.max((ours - theirs).abs());
            assert!(
                (ours - theirs).abs() <= WITHIN,
                "{} {}: ours {ours} V, ngspice {theirs} V",
                circuit["id"],
                node["id"]
            );
            nodes += 1;
        }
    }
    println!("{} circuits, {nodes} nodes, worst difference {worst:.2e} V", solved.len());
    solved.len()
}

#[test]
fn every_circuit_of_the_demo_site() {
    let plan = plan("fixtures/demo/site.json", "fixtures/demo/catalogue.toml");
    let checked = check(&plan);
    let modules = plan["circuits"].as_array().expect("circuits").iter().filter(|circuit| circuit["rail"] == "shelter");
    assert!(modules.count() >= 1, "the slotted rail of the shelter is planned");
    assert!(checked >= 10, "only {checked} circuits were checked");
}

#[test]
fn every_circuit_of_the_check_fixture() {
    let checked = check(&plan("fixtures/check/points.json", "fixtures/check/catalogue.toml"));
    assert!(checked >= 2, "only {checked} circuits were checked");
}

#[test]
fn every_circuit_of_modules_in_the_check_fixture() {
    let plan = plan("fixtures/check/modules.json", "fixtures/check/modules.toml");
    let checked = check(&plan);
    assert!(checked >= 8, "only {checked} circuits were checked");
    let through = plan["circuits"].as_array().expect("circuits").iter().all(|circuit| {
        circuit["branches"].as_array().expect("branches").iter().any(|branch| branch["kind"] == "module")
    });
    assert!(through, "every chain of modules goes through their own conductors");
}

/// The check fixture's rail M as two rails of half its length, fed from its one place.
fn two_rails_of_modules() -> Vec<u8> {
    let bytes = tree::bytes("fixtures/check/modules.json");
    let mut site: Value = serde_json::from_slice(&bytes).expect("the fixture is JSON");
    let ids = ["half-one", "half-two"];
    let of = |list: &Value, field: &str| {
        list.as_array().expect("a list").iter().find(|own| own[field] == "mixed").expect("rail M").clone()
    };
    let (rail, brief) = (of(&site["rails"], "id"), of(&site["brief"]["rails"], "rail"));
    let is_lead = |route: &&Value| route["id"] == "r-pm";
    let lead = site["routes"].as_array().expect("routes").iter().find(is_lead).expect("a way to rail M").clone();
    let halves = ids.map(|id| {
        let (mut rail, mut brief, mut lead) = (rail.clone(), brief.clone(), lead.clone());
        (rail["id"], rail["label"], brief["rail"]) = (id.into(), id.into(), id.into());
        (rail["pieces"][0]["length_mm"], rail["overall_mm"]) = (3170.into(), 3170.into());
        let features = rail["features"].as_array_mut().expect("features");
        features.retain(|feature| feature["id"] != "j2");
        let way_in = features.iter_mut().find(|feature| feature["id"] == "in-m").expect("a way in");
        way_in["chainage_mm"] = 3150.into();
        (lead["id"], lead["to"]["rail"]) = (format!("r-{id}").into(), id.into());
        (rail, brief, lead)
    });
    let own: Vec<&str> = lead["from"]["id"].as_str().into_iter().collect();
    let kept = |route: &Value| own.iter().any(|place| route["to"]["id"] == **place);
    let mut routes: Vec<Value> =
        site["routes"].as_array().expect("routes").iter().filter(|own| kept(own)).cloned().collect();
    routes.extend(halves.iter().map(|half| half.2.clone()));
    site["routes"] = routes.into();
    site["rails"] = halves.iter().map(|half| half.0.clone()).collect();
    site["brief"]["rails"] = halves.iter().map(|half| half.1.clone()).collect();
    serde_json::to_vec(&site).expect("it is JSON again")
}

#[test]
fn every_circuit_of_a_driver_that_two_rails_of_modules_share() {
    let (site, parts) = (two_rails_of_modules(), "fixtures/check/modules.toml");
    let planned = desk::plan_files((&site, "two-rails.json"), (&tree::bytes(parts), parts))
        .unwrap_or_else(|faults| panic!("{faults}"));
    let plan = serde_json::to_value(planned.document()).expect("the plan document is JSON");
    let drivers = plan["drivers"].as_array().expect("drivers");
    assert_eq!(drivers.len(), 1, "one driver is good for six long-module equivalents, on whichever rail they are");
    assert_eq!(drivers[0]["rails"], serde_json::json!(["half-one", "half-two"]));
    let served: Vec<&str> =
        plan["circuits"].as_array().expect("circuits").iter().filter_map(|circuit| circuit["rail"].as_str()).collect();
    assert_eq!(served, ["half-one", "half-two"]);
    assert_eq!(check(&plan), 2);
}

/// A wrong voltage in the document must not slip through: the check itself is checked.
#[test]
#[allow(clippy::missing_panics_doc)]
fn a_wrong_voltage_is_found() {
    let mut plan = plan("fixtures/check/points.json", "fixtures/check/catalogue.toml");
    let node = plan["circuits"][0]["nodes"].as_array_mut().expect("nodes").last_mut().expect("a node");
    node["volts"] = Value::from(node["volts"].as_f64().expect("volts") - 0.002);
    assert!(std::panic::catch_unwind(|| check(&plan)).is_err());
}
