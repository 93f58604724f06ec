//! Every driver's output is separated extra-low voltage within the limit for wet places.

use survey::{Finding, Subject, Verdict};

use crate::Job;

const SOURCE: &str =
    "IEC 60364-4-41 414.4.5 as in BS 7671: at most 30 V DC where it may be wet, without basic protection";

/// SELV or stop; the tube is never a conductor and SELV metal is not earthed on purpose, which every pass says.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for driver in &job.plan.drivers {
        let Some(part) = job.catalogue.driver(&driver.part) else { continue };
        let fits = part.selv && part.output.get() <= 30.0;
        let verdict = if fits { Verdict::Pass } else { Verdict::Stop };
        let finding = Finding::new("selv", Subject::Driver(driver.id.clone()), verdict, SOURCE).compared(
            part.output.get(),
            30.0,
            "V",
        );
        found.push(if fits {
            finding.says(format!(
                "{} gives {} SELV. The tube is never a conductor, and SELV metal is not joined to earth on purpose.",
                driver.id, part.output
            ))
        } else {
            finding
                .says(format!("{} ({}) is no SELV source of 30 V DC or less.", driver.id, driver.part))
                .advises("Use a SELV driver of 12 V or 24 V DC.")
        });
    }
}
