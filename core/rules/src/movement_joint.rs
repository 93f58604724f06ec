//! Cables past joints that move.

use plan::{CableKind, Circuit};
use survey::{Feature, FeatureKind, Finding, Subject, Verdict};
use units::Length;

use crate::{Job, bundle, modules};

const SOURCE: &str = "common practice, no source: slack beside a joint that moves is no less than its range";

/// A link lead past a moving joint has the joint's whole range to spare; running cores have it in the loops at the holes
/// beside it; a module never lies across.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for (rail, planned) in job.lit_rails() {
        for feature in &rail.features {
            let FeatureKind::MovementJoint { range, .. } = feature.kind else { continue };
            let at = feature.chainage.value;
            let subject = || Subject::Feature { rail: rail.id.clone(), feature: feature.id.clone() };
            if let Some(across) = planned.luminaires.iter().find(|own| own.start < at && own.end > at) {
                found.push(
                    Finding::new("movement-joint", subject(), Verdict::Stop, SOURCE)
                        .says(format!("{} lies across a joint that moves.", across.id))
                        .advises("Leave the joint free; a link lead goes past it."),
                );
                continue;
            }
            for circuit in job.plan.circuits.iter().filter(|circuit| circuit.rail == rail.id) {
                if let Some((slack, what)) = slack(job, circuit, feature) {
                    let verdict = if slack >= range { Verdict::Pass } else { Verdict::Caution };
                    found.push(
                        Finding::new("movement-joint", subject(), verdict, SOURCE)
                            .compared(slack.to_mm(), range.to_mm(), "mm")
                            .says(format!(
                                "{what} of circuit {} have {slack} of slack beside a joint of rail {} that moves by {range}.",
                                circuit.id, rail.label
                            ))
                            .advises(if verdict == Verdict::Pass {
                                ""
                            } else {
                                "Leave a loop beside the joint as long as it moves, or more."
                            }),
                    );
                }
            }
        }
    }
}

/// Slack of what a circuit has beside a joint; `None` where nothing of it passes.
fn slack(job: Job<'_>, circuit: &Circuit, joint: &Feature) -> Option<(Length, &'static str)> {
    let at = joint.chainage.value;
    let served = modules::served(job, circuit);
    if served.is_empty() {
        let (from, to) = bundle::extent(circuit, &circuit.rail)?;
        return (from < at && to > at).then_some((job.survey.brief.loop_per_hole, "Running cores"));
    }
    let mut links = job
        .plan
        .cables
        .iter()
        .filter(|cable| cable.kind == CableKind::Link && cable.circuit.as_deref() == Some(circuit.id.as_str()))
        .filter(|cable| !cable.from.starts_with("plug of"));
    for pair in served.windows(2) {
        let (a, b) = (pair[0].planned, pair[1].planned);
        let (low, high) = if a.start < b.start { (a, b) } else { (b, a) };
        let gap = high.start - low.end;
        if gap <= pair[0].module.joint_allowance.max(pair[1].module.joint_allowance) {
            continue;
        }
        let link = links.next()?;
        if low.end <= at && high.start >= at {
            // All pieces of one link count.
            let pieces = job.plan.cables.iter().filter(|cable| {
                cable.kind == CableKind::Link
                    && (cable.reference == link.reference
                        || cable.reference.starts_with(&format!("{}.", link.reference.split('.').next().unwrap_or(""))))
            });
            let whole: Length = if link.made_up.is_some() && link.to.starts_with("plug of") {
                pieces.map(|cable| cable.cut).sum()
            } else {
                link.cut
            };
            return Some((whole - gap, "The link leads"));
        }
    }
    None
}
