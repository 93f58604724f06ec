//! Whether the rail carries people's weight as part of a guard.

use survey::{Answer, Finding, Subject, Verdict};

use crate::Job;

const SOURCE: &str = "common practice, no source: holes weaken a guard; strength is a structural engineer's to judge";

/// A guard that is to be drilled is never passed here.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for (rail, _) in job.lit_rails() {
        let new = |verdict| Finding::new("guard", Subject::Rail(rail.id.clone()), verdict, SOURCE);
        found.push(match rail.guard {
            Answer::No => {
                new(Verdict::Pass).found("no guard").says(format!("Rail {} is a handrail only, no guard.", rail.label))
            }
            Answer::Yes => new(Verdict::Caution)
                .found("guard")
                .says(format!("Rail {} is part of a guard that carries load, and the plan drills it.", rail.label))
                .advises("Have a structural engineer confirm the drilled section before the first hole."),
            Answer::Unknown => new(Verdict::NotEvaluated)
                .found("unknown")
                .says(format!("It is unknown whether rail {} is part of a guard that carries load.", rail.label))
                .advises("Find out; if it is, a structural engineer confirms the drilled section."),
        });
    }
}
