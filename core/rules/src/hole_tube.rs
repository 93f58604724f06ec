//! The hole and the tube: does the luminaire fit, and does its retainer grip?

use std::collections::BTreeSet;

use catalogue::{LuminaireKind, PointLuminaire};
use survey::{Finding, Rail, Subject, Verdict};

use crate::Job;

const SOURCE: &str = "maker's data of the luminaire";

/// Each point luminaire of a rail against the tube's diameter and wall.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for (rail, planned) in job.lit_rails() {
        let parts: BTreeSet<&str> = planned.luminaires.iter().map(|l| l.part.as_str()).collect();
        for luminaire in parts.into_iter().filter_map(|p| job.catalogue.luminaire(p)) {
            let LuminaireKind::Point(point) = &luminaire.kind else { continue };
            diameter(rail, &luminaire.item.part, point, found);
            grip(rail, &luminaire.item.part, point, found);
        }
    }
}

fn diameter(rail: &Rail, part: &str, point: &PointLuminaire, found: &mut Vec<Finding>) {
    let od = rail.tube.outside_diameter.value;
    let verdict = if od >= point.tube_least { Verdict::Pass } else { Verdict::Stop };
    let advice = if verdict == Verdict::Pass { "" } else { "Choose a luminaire made for this diameter." };
    found.push(
        Finding::new("hole-tube", Subject::Rail(rail.id.clone()), verdict, SOURCE)
            .compared(od.to_mm(), point.tube_least.to_mm(), "mm")
            .says(format!(
                "{part} needs a tube of {} mm or more; rail {} has {} mm, for a hole of {} mm.",
                point.tube_least.to_mm(),
                rail.label,
                od.to_mm(),
                point.hole.to_mm()
            ))
            .advises(advice),
    );
}

fn grip(rail: &Rail, part: &str, point: &PointLuminaire, found: &mut Vec<Finding>) {
    let range = format!("{} to {} mm", point.wall_least.to_mm(), point.wall_greatest.to_mm());
    let new = |verdict| Finding::new("wall-grip", Subject::Rail(rail.id.clone()), verdict, SOURCE);
    found.push(match &rail.tube.wall {
        None => new(Verdict::NotEvaluated)
            .found("wall unknown")
            .says(format!("{part} grips walls of {range}; the wall of rail {} is not measured.", rail.label))
            .advises("Measure the wall before drilling."),
        Some(wall) => {
            let tolerance = wall.tolerance();
            let inside = |w| w >= point.wall_least && w <= point.wall_greatest;
            let said = format!(
                "{part} grips walls of {range}; rail {} has {} mm ± {} mm.",
                rail.label,
                wall.value.to_mm(),
                tolerance.to_mm()
            );
            let limit = if wall.value < point.wall_least { point.wall_least } else { point.wall_greatest };
            if inside(wall.value) && inside(wall.value - tolerance) && inside(wall.value + tolerance) {
                new(Verdict::Pass).compared(wall.value.to_mm(), limit.to_mm(), "mm").says(said)
            } else if inside(wall.value) {
                new(Verdict::Caution)
                    .compared(wall.value.to_mm(), limit.to_mm(), "mm")
                    .says(said)
                    .advises("The wall is at the edge of the range: try the luminaire in an offcut first.")
            } else {
                new(Verdict::Stop)
                    .compared(wall.value.to_mm(), limit.to_mm(), "mm")
                    .says(said)
                    .advises("Choose a luminaire whose retainer grips this wall.")
            }
        }
    });
}
