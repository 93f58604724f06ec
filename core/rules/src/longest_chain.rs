//! Length of each chain of modules against the maker's longest.

use survey::{Finding, Subject, Verdict};
use units::Length;

use crate::{Job, modules};

const SOURCE: &str = "maker's longest chain, as summed module length";

/// The sum of a chain's module lengths against the least limit among its modules.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for circuit in &job.plan.circuits {
        let served = modules::served(job, circuit);
        let Some(limit) = served.iter().map(|own| own.module.longest_chain).min() else { continue };
        let length: Length = served.iter().map(|own| own.module.length).sum();
        let verdict = if length <= limit { Verdict::Pass } else { Verdict::Stop };
        found.push(
            Finding::new("longest-chain", Subject::Circuit(circuit.id.clone()), verdict, SOURCE)
                .compared(length.to_mm(), limit.to_mm(), "mm")
                .says(format!(
                    "Circuit {} is a chain of {} modules, {:.2} m long; its maker allows {:.2} m.",
                    circuit.id,
                    served.len(),
                    length.to_m(),
                    limit.to_m()
                ))
                .advises(if verdict == Verdict::Pass { "" } else { "Feed the modules in shorter chains." }),
        );
    }
}
