//! Current through plugs and taps.

use catalogue::FixingKind;
use plan::BranchKind;
use survey::{Finding, Subject, Verdict};
use units::Amps;

use crate::{Job, modules};

const SOURCE: &str = "maker's limit of one pole or tap";

/// The greatest current of any plug of a circuit against its weakest connector, and of any tap against the tap's limit.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    let tap_limit = job
        .catalogue
        .fixings
        .iter()
        .filter_map(|f| match f.kind {
            FixingKind::Tap { tenths_amp, .. } => Some(Amps::new(f64::from(tenths_amp) / 10.0)),
            _ => None,
        })
        .reduce(Amps::min);
    for circuit in &job.plan.circuits {
        let growth = if circuit.amps.get() > 0.0 { (circuit.amps_high / circuit.amps).max(1.0) } else { 1.0 };
        let greatest = |kind| {
            circuit
                .branches
                .iter()
                .filter(|b| b.kind == kind)
                .filter_map(|b| b.amps)
                .map(|a| a.get().abs() * growth)
                .reduce(f64::max)
        };
        let plug_limit = job
            .plan
            .cables
            .iter()
            .filter(|c| c.circuit.as_deref() == Some(circuit.id.as_str()))
            .filter_map(|c| job.catalogue.lead(c.part.as_deref()?)?.connector.as_ref())
            .map(|c| c.limit)
            .reduce(Amps::min);
        let module_limit = modules::served(job, circuit).iter().map(|own| own.module.connector.limit).min();
        for (what, amps, limit) in [
            ("plug", greatest(BranchKind::Plug), plug_limit),
            ("tap", greatest(BranchKind::Tap), tap_limit),
            ("module", greatest(BranchKind::Module), module_limit),
        ] {
            let (Some(amps), Some(limit)) = (amps, limit) else { continue };
            let verdict = if amps <= limit.get() { Verdict::Pass } else { Verdict::Stop };
            let advice = if verdict == Verdict::Pass {
                ""
            } else {
                "Share the load among more chains or use a stronger connector."
            };
            found.push(
                Finding::new("connector-current", Subject::Circuit(circuit.id.clone()), verdict, SOURCE)
                    .compared(amps, limit.get(), "A")
                    .says(format!(
                        "The most loaded {what} of circuit {} carries {amps:.2} A; its limit is {:.2} A.",
                        circuit.id,
                        limit.get()
                    ))
                    .advises(advice),
            );
        }
    }
}
