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

/// A wrong voltage in the document must not slip through: the check itself is checked.
#[test]
#[allow(clippy::missing_panics_doc)]
fn a_wrong_voltage_is_found() {
    let mut plan = plan("fixtures/check/points.json", "fixtures/check/catalogue.toml");
    let node = plan["circuits"][0]["nodes"].as_array_mut().expect("nodes").last_mut().expect("a node");
    node["volts"] = Value::from(node["volts"].as_f64().expect("volts") - 0.002);
    assert!(std::panic::catch_unwind(|| check(&plan)).is_err());
}
