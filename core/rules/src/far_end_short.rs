//! A short at the far end of a chain: limited by the driver, or cleared by a fuse.

use survey::{Finding, Subject, Verdict};

use crate::Job;

/// Takes the plan's own check of each circuit.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for circuit in &job.plan.circuits {
        let short = &circuit.short;
        let verdict = if short.cleared { Verdict::Pass } else { Verdict::Stop };
        let advice = if short.cleared {
            ""
        } else {
            "Use a driver that limits its current to what every conductor stands, larger conductors, or a shorter chain."
        };
        found.push(
            Finding::new(
                "far-end-short",
                Subject::Circuit(circuit.id.clone()),
                verdict,
                "IEC 60364-4-43 434.5 (clause from memory); maker's short-circuit behaviour",
            )
            .compared(short.lasting.get(), short.least_capacity.get(), "A")
            .says(format!("Circuit {}: {}", circuit.id, short.reason))
            .advises(advice),
        );
    }
}
