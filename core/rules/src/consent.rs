//! Whose rail it is, and whether they agree to holes in it.

use survey::{Consent, Finding, Subject, Verdict};

use crate::Job;

const SOURCE: &str =
    "common practice, no source: the owner decides; a bridge or highway parapet is part of a structure";

/// A parapet of a bridge or highway stops until consent is in writing.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for (rail, _) in job.rails() {
        let new = |verdict| Finding::new("consent", Subject::Rail(rail.id.clone()), verdict, SOURCE);
        let Some(owner) = &rail.ownership else {
            found.push(
                new(Verdict::NotEvaluated)
                    .found("owner unknown")
                    .says(format!("Nobody has noted whose rail {} is.", rail.label))
                    .advises("Ask who owns it and get their consent to drilling in writing."),
            );
            continue;
        };
        found.push(match &owner.consent {
            Consent::InWriting(reference) => {
                new(Verdict::Pass).found("in writing").says(format!("{} agreed in writing ({reference}).", owner.owner))
            }
            Consent::Refused => new(Verdict::Stop)
                .found("refused")
                .says(format!("{} refused drilling of rail {}.", owner.owner, rail.label))
                .advises("Do not drill. Offer lighting that needs no holes, or leave this rail out."),
            given @ (Consent::Spoken | Consent::NotAsked) => {
                let words = if *given == Consent::Spoken { "said, not written" } else { "not asked" };
                let verdict = if owner.bridge_or_highway { Verdict::Stop } else { Verdict::Caution };
                let why = if owner.bridge_or_highway { ", and it is a bridge or highway parapet" } else { "" };
                new(verdict)
                    .found(words)
                    .says(format!("Consent of {} for rail {} is {words}{why}.", owner.owner, rail.label))
                    .advises("Get consent in writing before the first hole; a parapet needs its engineer's as well.")
            }
        });
    }
}
