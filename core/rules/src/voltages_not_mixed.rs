//! 12 V and 24 V parts never share a driver, a lead or a zone.

use std::collections::BTreeMap;

use survey::{Finding, Id, Subject, Verdict};

use crate::Job;

const SOURCE: &str = "common practice, no source";

/// Compares nominal voltages within each driver's circuits and within each zone.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for driver in &job.plan.drivers {
        let Some(part) = job.catalogue.driver(&driver.part) else { continue };
        for circuit in job.plan.circuits.iter().filter(|c| c.driver == driver.id && c.nominal != part.output) {
            found.push(
                Finding::new("voltages-not-mixed", Subject::Circuit(circuit.id.clone()), Verdict::Stop, SOURCE)
                    .compared(circuit.nominal.get(), part.output.get(), "V")
                    .says(format!(
                        "Circuit {} is for {}, its driver gives {}.",
                        circuit.id, circuit.nominal, part.output
                    ))
                    .advises("Use a driver of the luminaires' own voltage."),
            );
        }
    }
    let mut zones: BTreeMap<&Id, Vec<f64>> = BTreeMap::new();
    for brief in &job.survey.brief.rails {
        let Some(zone) = &brief.zone else { continue };
        let planned = job.plan.rails.iter().find(|r| r.id == brief.rail);
        if let Some(volts) = planned.and_then(|r| r.nominal) {
            let volts_of = zones.entry(zone).or_default();
            if !volts_of.contains(&volts.get()) {
                volts_of.push(volts.get());
            }
        }
    }
    for (zone, volts) in zones.iter().filter(|(_, volts)| volts.len() > 1) {
        let mut sorted = volts.clone();
        sorted.sort_by(f64::total_cmp);
        let words: Vec<String> = sorted.iter().map(|v| format!("{v} V")).collect();
        found.push(
            Finding::new("voltages-not-mixed", Subject::Zone((*zone).clone()), Verdict::Stop, SOURCE)
                .found(words.join(" and "))
                .says(format!("Zone {zone} has luminaires of {}.", words.join(" and ")))
                .advises("Give each voltage a zone of its own."),
        );
    }
}
