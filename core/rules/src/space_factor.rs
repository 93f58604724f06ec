//! How full the bore is.

use catalogue::{FixingKind, LuminaireKind};
use survey::{Finding, Subject, Verdict};
use units::Length;

use crate::{Job, bundle};

const LIMIT_PERCENT: f64 = 45.0;
const SOURCE: &str = "45 % of the bore as for trunking, IET On-Site Guide appendix E (from memory)";

/// Running cores with their loops folded once, the taps of one luminaire and control cable, against the bore's area at the fullest
/// section. Bodies of luminaires stand across the bore and are judged by `body-clearance`.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for (rail, planned) in job.lit_rails() {
        let subject = Subject::Rail(rail.id.clone());
        let runs = bundle::runs(job, &rail.id);
        if runs.is_empty() {
            continue;
        }
        let control = bundle::control_cables(job, &rail.id);
        let Some(bore) = bore_mm2(rail) else {
            found.push(
                Finding::new("space-factor", subject, Verdict::NotEvaluated, SOURCE)
                    .found("wall unknown")
                    .says(format!("The bore of rail {} is unknown, since its wall is not measured.", rail.label))
                    .advises("Measure the wall at an open end, an existing hole, or with a thickness gauge."),
            );
            continue;
        };
        let is_point = planned
            .luminaires
            .iter()
            .filter_map(|l| job.catalogue.luminaire(&l.part))
            .any(|l| matches!(l.kind, LuminaireKind::Point(_)));
        let fullest = bundle::sections(runs.iter().chain(&control))
            .into_iter()
            .map(|at| {
                let here: Vec<_> = runs.iter().filter(|r| r.from <= at && at <= r.to).collect();
                let cores: f64 = here.iter().map(|r| bundle::bodies(r) * bundle::area_mm2(r.lead)).sum();
                // A loop lies as two more thicknesses of the cores of the one run that is looped here.
                let loops = if job.survey.brief.loop_per_hole > Length::ZERO && is_point {
                    here.iter().map(|r| 2.0 * bundle::bodies(r) * bundle::area_mm2(r.lead)).fold(0.0, f64::max)
                } else {
                    0.0
                };
                let taps = if is_point {
                    here.iter().map(|r| f64::from(r.conductors)).fold(0.0, f64::max) * tap_mm2(job)
                } else {
                    0.0
                };
                let beside: f64 =
                    control.iter().filter(|r| r.from <= at && at <= r.to).map(|r| bundle::area_mm2(r.lead)).sum();
                (cores + loops + taps + beside, cores, loops, taps, beside)
            })
            .max_by(|a, b| a.0.total_cmp(&b.0));
        let Some((sum, cores, loops, taps, beside)) = fullest else { continue };
        let percent = sum / bore * 100.0;
        let verdict = if percent <= LIMIT_PERCENT { Verdict::Pass } else { Verdict::Stop };
        let advice = if verdict == Verdict::Pass {
            ""
        } else {
            "Use thinner cores with more feeds, shorter loops, or fewer runs side by side."
        };
        found.push(
            Finding::new("space-factor", subject, verdict, SOURCE)
                .compared(percent, LIMIT_PERCENT, "%")
                .says(format!(
                    "The fullest section of rail {}: cores {cores:.1} mm², loops {loops:.1} mm², taps {taps:.1} mm²{} in a bore of {bore:.0} mm².",
                    rail.label,
                    if beside > 0.0 { format!(", control cable {beside:.1} mm²") } else { String::new() }
                ))
                .advises(advice),
        );
    }
}

fn bore_mm2(rail: &survey::Rail) -> Option<f64> {
    let bore = (rail.tube.outside_diameter.value - rail.tube.wall.as_ref()?.value * 2).to_mm();
    if bore <= 0.0 {
        return None;
    }
    match &rail.tube.profile {
        survey::Profile::Round | survey::Profile::RoundSlotted { .. } => Some(std::f64::consts::PI * bore * bore / 4.0),
        survey::Profile::Flat { thickness } => {
            let inside = (*thickness - rail.tube.wall.as_ref()?.value * 2).to_mm();
            (inside > 0.0).then_some(bore * inside)
        }
        survey::Profile::Other(_) => None,
    }
}

fn tap_mm2(job: Job<'_>) -> f64 {
    job.catalogue
        .fixings
        .iter()
        .filter_map(|f| match f.kind {
            FixingKind::Tap { section_tenths_mm2, .. } => Some(f64::from(section_tenths_mm2) / 10.0),
            _ => None,
        })
        .fold(0.0, f64::max)
}
