//! Can this tube exist?

use units::Length;

use super::mm;
use crate::{Feature, FeatureKind, Finding, Profile, Rail, Subject, Verdict};

const SOURCE: &str = "geometry of the tube";

/// Outside diameter, wall, slot and existing holes must fit each other.
pub(super) fn sizes(rail: &Rail, found: &mut Vec<Finding>) {
    let od = rail.tube.outside_diameter.value;
    let subject = || Subject::Rail(rail.id.clone());
    match &rail.tube.wall {
        None => found.push(
            Finding::new("tube-wall", subject(), Verdict::NotEvaluated, SOURCE)
                .found("wall not measured")
                .says(format!("The wall of rail {} is not measured.", rail.label))
                .advises("Measure it at an open end, an existing hole, or with a thickness gauge."),
        ),
        Some(wall) if wall.value * 2 >= od => found.push(
            Finding::new("tube-wall", subject(), Verdict::Stop, SOURCE)
                .compared(wall.value.to_mm(), od.half().to_mm(), "mm")
                .says(format!("A wall of {} leaves no bore in a tube of {}.", mm(wall.value), mm(od)))
                .advises("Measure diameter and wall again."),
        ),
        Some(_) => {}
    }
    if let Profile::RoundSlotted { slot_width } = rail.tube.profile
        && slot_width >= od
    {
        found.push(
            Finding::new("tube-slot", subject(), Verdict::Stop, SOURCE)
                .compared(slot_width.to_mm(), od.to_mm(), "mm")
                .says(format!("A slot of {} is wider than the tube of rail {}.", mm(slot_width), rail.label))
                .advises("Measure the slot again."),
        );
    }
    for feature in &rail.features {
        too_wide(rail, feature, od, found);
    }
}

fn too_wide(rail: &Rail, feature: &Feature, od: Length, found: &mut Vec<Finding>) {
    if let FeatureKind::ExistingHole { diameter, .. } = feature.kind
        && diameter >= od
    {
        let subject = Subject::Feature { rail: rail.id.clone(), feature: feature.id.clone() };
        found.push(
            Finding::new("existing-hole", subject, Verdict::Stop, SOURCE)
                .compared(diameter.to_mm(), od.to_mm(), "mm")
                .says(format!("A hole of {} does not fit in a tube of {}.", mm(diameter), mm(od)))
                .advises("Measure the hole again."),
        );
    }
}
