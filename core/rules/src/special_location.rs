//! Pools, basins and bathrooms have rules of their own.

use survey::{Finding, SpecialLocation, Subject, Verdict};

use crate::Job;

const SOURCE: &str = "IEC 60364-7-701 and -702: zones with rules of their own";

/// Stops and defers.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for (rail, _) in job.rails() {
        let Some(special) = job.survey.exposure_of(rail).special else { continue };
        let words = match special {
            SpecialLocation::Pool => "a swimming pool",
            SpecialLocation::Basin => "a basin or fountain",
            SpecialLocation::Bathroom => "a room with a bath or shower",
        };
        found.push(
            Finding::new("special-location", Subject::Rail(rail.id.clone()), Verdict::Stop, SOURCE)
                .found(words)
                .says(format!("Rail {} is at {words}, which has zones with rules of their own.", rail.label))
                .advises("Newel does not plan this. Have a licensed person plan it by the code in force."),
        );
    }
}
