//! Zones of the brief: rails that switch together have one voltage.

use std::collections::{BTreeMap, BTreeSet};

use survey::{Finding, Id, Subject, Verdict};
use units::Volts;

use super::canonical::Inputs;
use super::draft::RailDraft;
use super::say::{list, say};

/// A finding for every zone whose rails have luminaires of more than one nominal voltage.
pub(crate) fn mixed_voltages(inputs: &Inputs, drafts: &[RailDraft<'_>]) -> Vec<Finding> {
    let mut zones: BTreeMap<&Id, BTreeMap<Volts, BTreeSet<&str>>> = BTreeMap::new();
    for draft in drafts {
        if let (Some(zone), Some(nominal)) = (&draft.brief.zone, draft.plan.nominal) {
            zones.entry(zone).or_default().entry(nominal).or_default().insert(&draft.plan.label);
        }
    }
    zones
        .into_iter()
        .filter(|(_, voltages)| voltages.len() > 1)
        .map(|(zone, voltages)| {
            let words: Vec<String> = voltages
                .iter()
                .map(|(volts, rails)| {
                    let rails: Vec<String> = rails.iter().map(|rail| (*rail).to_owned()).collect();
                    format!("{volts} on {}", list(&rails))
                })
                .collect();
            let name = inputs.survey.brief.zones.iter().find(|known| &known.id == zone);
            let name = name.map_or(zone.as_str(), |known| Inputs::name(&known.label, &known.id));
            say(
                Verdict::Stop,
                "voltages-not-mixed",
                Subject::Zone(zone.clone()),
                format!("zone {name} has luminaires of different voltages: {}", list(&words)),
                "put the rails of each voltage in a zone of their own, or choose luminaires of one voltage",
            )
        })
        .collect()
}
