//! Voltage at every luminaire against the allowed drop and the luminaire's own least voltage.

use std::collections::BTreeMap;

use survey::{Finding, Subject, Verdict};

use crate::Job;

/// The greatest voltage that each luminaire of the plan stands.
type Parts<'a> = BTreeMap<&'a str, units::Volts>;

const SOURCE: &str =
    "IEC 60364-7-715 715.525: at most 5 % from source to luminaire (clause from memory); least voltage: maker's data";

/// One finding a circuit, on its lowest luminaire, with both limits named; the tighter governs.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    let planned = job.plan.rails.iter().flat_map(|rail| &rail.luminaires);
    let parts: Parts<'_> = planned
        .filter_map(|luminaire| Some((luminaire.id.as_str(), job.catalogue.luminaire(&luminaire.part)?.greatest)))
        .collect();
    for circuit in &job.plan.circuits {
        let subject = Subject::Circuit(circuit.id.clone());
        let Some(least) = circuit.least_load_volts.filter(|_| circuit.solved) else {
            let why = circuit.reason.clone().unwrap_or_else(|| "its network has no solution".into());
            found.push(
                Finding::new("least-voltage", subject, Verdict::Stop, SOURCE)
                    .found("no solution")
                    .says(format!("Circuit {} cannot work: {why}", circuit.id))
                    .advises("Shorten the chain, feed it nearer its middle, or use a larger conductor."),
            );
            continue;
        };
        let limit = circuit.limit();
        let drop = circuit.nominal - least;
        let percent = drop / circuit.nominal * 100.0;
        let verdict = if least >= limit { Verdict::Pass } else { Verdict::Stop };
        let said = format!(
            "{} is the lowest of circuit {}: {:.3} V, {:.3} V ({:.1} %) below {} V nominal; allowed {:.2} V by the drop, {:.2} V by the luminaire.",
            circuit.least_luminaire.as_deref().unwrap_or("A luminaire"),
            circuit.id,
            least.get(),
            drop.get(),
            percent,
            circuit.nominal.get(),
            circuit.limit_by_drop.get(),
            circuit.limit_by_luminaire.get()
        );
        let finding =
            Finding::new("least-voltage", subject, verdict, SOURCE).compared(least.get(), limit.get(), "V").says(said);
        found.push(if verdict == Verdict::Pass {
            finding
        } else {
            finding.advises("Shorten the chain, feed it nearer its middle, or use a larger conductor.")
        });
        too_high(&parts, circuit, found);
    }
}

/// At the high end of the tolerance no luminaire may see more than it stands.
fn too_high(parts: &Parts<'_>, circuit: &plan::Circuit, found: &mut Vec<Finding>) {
    let greatest =
        circuit.loads.iter().filter_map(|load| parts.get(load.luminaire.as_str()).copied()).reduce(units::Volts::min);
    if let (Some(high), Some(limit)) = (circuit.greatest_load_volts_high, greatest)
        && high > limit
    {
        found.push(
            Finding::new(
                "greatest-voltage",
                Subject::Circuit(circuit.id.clone()),
                Verdict::Stop,
                "maker's data of driver and luminaire",
            )
            .compared(high.get(), limit.get(), "V")
            .says(format!(
                "A luminaire of circuit {} may see {:.2} V and stands {:.2} V.",
                circuit.id,
                high.get(),
                limit.get()
            ))
            .advises("Choose a driver with a closer tolerance or a luminaire with a wider range."),
        );
    }
}
