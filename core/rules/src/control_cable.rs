//! Length of control cable.

use survey::{Finding, Subject, Verdict};

use crate::Job;

const SOURCE: &str = "maker's greatest length of control cable";

/// All control cable of a line, made-up leads with their whole length, against the least of the lengths that the makers
/// of its parts state.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for zone in &job.plan.zones {
        for line in zone.lines.iter().filter(|line| !line.cables.is_empty()) {
            let subject = Subject::Zone(zone.id.clone());
            let ends = (line.devices.first(), line.devices.last());
            let (Some(first), Some(last)) = ends else { continue };
            let Some(limit) = line.limit else {
                found.push(
                    Finding::new("control-cable-length", subject, Verdict::NotEvaluated, SOURCE)
                        .found("greatest length not stated")
                        .says(format!(
                            "{} of control cable join {first} to {last}, and no part of them states a greatest length.",
                            line.length
                        ))
                        .advises("Ask the maker and write the greatest length in the catalogue."),
                );
                continue;
            };
            let verdict = if line.length <= limit { Verdict::Pass } else { Verdict::Stop };
            let advice = if verdict == Verdict::Pass {
                ""
            } else {
                "Survey a shorter route, split the zone, or use parts that stand a longer cable."
            };
            found.push(
                Finding::new("control-cable-length", subject, verdict, SOURCE)
                    .compared(line.length.to_mm(), limit.to_mm(), "mm")
                    .says(format!("{} of control cable join {first} to {last}; {limit} are allowed.", line.length))
                    .advises(advice),
            );
        }
    }
}
