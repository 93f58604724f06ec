//! What the rail's metal is joined to.

use survey::{Answer, Finding, Rail, Subject, Verdict};

use crate::Job;

const SOURCE: &str = "IEC 60364-4-41 414.4.4 and 411.3.1.2; a bond is never removed";

/// Asks about bonding, lightning protection and electric traction; never advises to remove a bond.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for (rail, _) in job.rails() {
        ask(
            rail,
            found,
            rail.bonding.bonded,
            "bonded to earth",
            Verdict::Caution,
            "Leave every bond as it is. Keep the SELV conductors apart from the metal, and tell the licensed person.",
        );
        ask(
            rail,
            found,
            rail.bonding.lightning,
            "part of a lightning protection system",
            Verdict::Stop,
            "Do not drill or thread it before a lightning protection specialist has agreed in writing.",
        );
        ask(
            rail,
            found,
            rail.bonding.near_traction,
            "near electric traction",
            Verdict::Stop,
            "Do not work on it before the traction operator has agreed in writing.",
        );
    }
}

fn ask(rail: &Rail, found: &mut Vec<Finding>, answer: Answer, what: &str, if_so: Verdict, advice: &str) {
    let new = |verdict| Finding::new("bonding", Subject::Rail(rail.id.clone()), verdict, SOURCE);
    match answer {
        Answer::No => {}
        Answer::Yes => {
            found.push(new(if_so).found("yes").says(format!("Rail {} is {what}.", rail.label)).advises(advice));
        }
        Answer::Unknown => found.push(
            new(Verdict::NotEvaluated)
                .found("unknown")
                .says(format!("It is unknown whether rail {} is {what}.", rail.label))
                .advises("Ask the owner, look for bonding conductors, and note the answer."),
        ),
    }
}
