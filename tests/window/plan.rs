//! The plan of a survey as the command line prints it: the outside witness for what the window shows.

use std::path::Path;
use std::process::Command;

use serde_json::Value;

use crate::machine::built;

/// The plan document of a survey.
pub struct Plan(Value);

impl Plan {
    /// Asks the command line.
    pub fn of(survey: &Path, catalogue: &Path) -> Self {
        let mut command = Command::new(built("newel"));
        let output = command.arg("plan").arg(survey).arg("--catalogue").arg(catalogue).arg("--json").output();
        let output = output.expect("the command line runs");
        let plan = serde_json::from_slice(&output.stdout);
        Self(plan.unwrap_or_else(|error| panic!("no plan: {error}\n{}", String::from_utf8_lossy(&output.stderr))))
    }

    /// The rails: id, label, luminaires.
    pub fn rails(&self) -> Vec<(String, String, Vec<String>)> {
        let word = |value: &Value| value.as_str().unwrap_or_default().to_owned();
        let rails = self.0["rails"].as_array().expect("rails").iter();
        rails
            .map(|rail| {
                let luminaires = rail["luminaires"].as_array().expect("luminaires").iter().map(|l| word(&l["id"]));
                (word(&rail["id"]), word(&rail["label"]), luminaires.collect())
            })
            .collect()
    }

    /// The volts across a luminaire by the nodes at its two ends; the least over its channels.
    pub fn volts(&self, luminaire: &str) -> Option<f64> {
        let circuits = self.0["circuits"].as_array().expect("circuits").iter();
        let across = circuits.flat_map(|circuit| {
            let node = |id: &Value| {
                let nodes = circuit["nodes"].as_array().expect("nodes");
                nodes.iter().find(|node| &node["id"] == id).and_then(|node| node["volts"].as_f64())
            };
            let loads = circuit["loads"].as_array().expect("loads").iter();
            loads
                .filter(|load| load["luminaire"] == luminaire)
                .filter_map(|load| Some(node(&load["from"])? - node(&load["to"])?))
                .collect::<Vec<_>>()
        });
        across.reduce(f64::min)
    }

    fn rail(&self, id: &str) -> &Value {
        let mut rails = self.0["rails"].as_array().expect("rails").iter();
        rails.find(|rail| rail["id"] == id).unwrap_or_else(|| panic!("no rail {id}"))
    }

    fn of_luminaires(&self, rail: &str, field: &str) -> Vec<String> {
        let luminaires = self.rail(rail)["luminaires"].as_array().expect("luminaires").iter();
        luminaires.map(|each| each[field].as_str().unwrap_or_default().to_owned()).collect()
    }

    /// The luminaires of a rail, by chainage.
    pub fn luminaires(&self, rail: &str) -> Vec<String> {
        self.of_luminaires(rail, "id")
    }

    /// Their parts.
    pub fn parts(&self, rail: &str) -> Vec<String> {
        self.of_luminaires(rail, "part")
    }

    /// What keeps a rail's holes from being drilled.
    pub fn not_ready(&self, rail: &str) -> Vec<String> {
        let waits = self.rail(rail)["not_ready"].as_array().expect("a list").iter();
        waits.map(|wait| wait.as_str().unwrap_or_default().to_owned()).collect()
    }

    /// The holes of a rail, by chainage.
    pub fn drilling(&self, rail: &str) -> Vec<Value> {
        let holes = self.0["drilling"].as_array().expect("drilling").iter();
        holes.filter(|hole| hole["rail"] == rail).cloned().collect()
    }

    /// Chainage of a hole of a rail, by its number [mm].
    pub fn hole(&self, rail: &str, number: usize) -> f64 {
        let mut holes = self.0["drilling"].as_array().expect("drilling").iter().filter(|hole| hole["rail"] == rail);
        holes.nth(number).and_then(|hole| hole["chainage_mm"].as_f64()).expect("a hole")
    }

    /// What the feeds cost together, in the catalogue's currency.
    pub fn cost(&self) -> f64 {
        self.0["objective"]["cost"].as_f64().expect("a cost")
    }

    /// Load [W] and part of the first driver.
    pub fn first_driver(&self) -> (f64, String) {
        let driver = &self.0["drivers"][0];
        (driver["load_w"].as_f64().expect("a load"), driver["part"].as_str().unwrap_or_default().to_owned())
    }

    /// What to do, of every finding with a verdict.
    pub fn advice(&self, verdict: &str) -> Vec<String> {
        let findings = self.0["findings"].as_array().expect("findings").iter();
        let with_verdict = findings.filter(|finding| finding["verdict"] == verdict);
        with_verdict.map(|finding| finding["advice"].as_str().unwrap_or_default().to_owned()).collect()
    }
}
