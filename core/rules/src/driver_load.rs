//! Load of each driver and each output.

use survey::{Finding, Subject, Verdict};

use crate::Job;

const SOURCE: &str = "maker's rating and derating; reserve by the brief (20 % is common practice, no source)";

/// Power against what derating and reserve leave; current of each output against its limit.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for driver in &job.plan.drivers {
        let subject = || Subject::Driver(driver.id.clone());
        let verdict = if driver.load <= driver.usable { Verdict::Pass } else { Verdict::Stop };
        let said = format!(
            "{} gives {:.1} W of {:.1} W usable ({:.0} W rated, {:.0} % left by its temperature, {} % kept in reserve).",
            driver.id,
            driver.load.get(),
            driver.usable.get(),
            driver.rated.get(),
            driver.derating * 100.0,
            driver.reserve_percent
        );
        let advice = if verdict == Verdict::Pass { "" } else { "Use a larger driver or one more." };
        found.push(
            Finding::new("driver-load", subject(), verdict, SOURCE)
                .compared(driver.load.get(), driver.usable.get(), "W")
                .says(said)
                .advises(advice),
        );
        for output in driver.outputs.iter().filter(|o| o.amps > o.limit) {
            found.push(
                Finding::new("output-current", subject(), Verdict::Stop, "maker's limit of one output")
                    .compared(output.amps.get(), output.limit.get(), "A")
                    .says(format!(
                        "Output {} gives {:.2} A, its limit is {:.2} A.",
                        output.id,
                        output.amps.get(),
                        output.limit.get()
                    ))
                    .advises("Share the luminaires among more outputs."),
            );
        }
    }
}
