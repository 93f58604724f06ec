//! Room left in the bore under a luminaire's body.

use std::collections::BTreeSet;

use catalogue::LuminaireKind;
use survey::{Finding, Subject, Verdict};
use units::Length;

use crate::{Job, bundle};

const SOURCE: &str =
    "geometry; the bundle's width is that of a circle with twice the conductors' area (common practice, no source)";

/// The bore less the body's depth must take the bundle that passes it.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for (rail, planned) in job.lit_rails() {
        let Some(wall) = &rail.tube.wall else { continue };
        let Some(needed) = bundle::diameter(job, &rail.id) else { continue };
        let bore = rail.tube.outside_diameter.value - wall.value * 2;
        let parts: BTreeSet<&str> = planned.luminaires.iter().map(|l| l.part.as_str()).collect();
        for luminaire in parts.into_iter().filter_map(|p| job.catalogue.luminaire(p)) {
            let depth = match &luminaire.kind {
                LuminaireKind::Point(point) => point.depth,
                LuminaireKind::Linear(module) => module.depth,
            };
            // The wall counts towards the depth only outside the bore, so it is given back.
            let left = bore - (depth - wall.value).max(Length::ZERO);
            let verdict = if left >= needed { Verdict::Pass } else { Verdict::Stop };
            let advice = if verdict == Verdict::Pass { "" } else { "Use a shallower luminaire or thinner cores." };
            found.push(
                Finding::new("body-clearance", Subject::Rail(rail.id.clone()), verdict, SOURCE)
                    .compared(left.to_mm(), needed.to_mm(), "mm")
                    .says(format!(
                        "Behind {} the bore of rail {} leaves {:.1} mm; the cables need {:.1} mm.",
                        luminaire.item.part,
                        rail.label,
                        left.to_mm(),
                        needed.to_mm()
                    ))
                    .advises(advice),
            );
        }
    }
}
