//! Current of every cable against what it carries.

use survey::{Finding, Subject, Verdict};

use crate::Job;

const SOURCE: &str = "Ib ≤ Iz, IEC 60364-4-43 433.1; Iz by the catalogue";

/// The current at the high end of the driver's tolerance, where resistive loads peak, against the cable's capacity.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for cable in &job.plan.cables {
        let Some(lead) = cable.part.as_deref().and_then(|p| job.catalogue.lead(p)) else { continue };
        let Some(worst) = cable.amps else { continue };
        let circuit = cable.circuit.as_deref().and_then(|c| job.plan.circuits.iter().find(|k| k.id == c));
        // A run feeds part of its circuit; at the high end its share grows as the whole does.
        let growth = circuit.map_or(1.0, |c| if c.amps.get() > 0.0 { (c.amps_high / c.amps).max(1.0) } else { 1.0 });
        let amps = worst * growth;
        let verdict = if amps <= lead.carries { Verdict::Pass } else { Verdict::Stop };
        let advice = if verdict == Verdict::Pass { "" } else { "Use a larger conductor or a shorter chain." };
        found.push(
            Finding::new("conductor-current", Subject::Cable(cable.reference.clone()), verdict, SOURCE)
                .compared(amps.get(), lead.carries.get(), "A")
                .says(format!(
                    "Cable {} carries {:.2} A at most; {} is good for {:.2} A.",
                    cable.reference,
                    amps.get(),
                    lead.item.part,
                    lead.carries.get()
                ))
                .advises(advice),
        );
    }
}
