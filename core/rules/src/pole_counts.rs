//! Poles of everything that is plugged together in a chain of modules.

use catalogue::{ControlKind, FixingKind, Lead};
use plan::{CableKind, Circuit, Quantity};
use survey::{Finding, Subject, Verdict};

use crate::{Job, modules};

const SOURCE: &str = "maker's connectors; two poles for fixed and one more than its channels for variable colour \
                      (common practice, no source)";

/// Modules, luminaire and link leads and the decoder's outlet have the poles of the chain; the extension lead those of what
/// it feeds; every chain has one end cap of its poles.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for circuit in &job.plan.circuits {
        let served = modules::served(job, circuit);
        let Some(first) = served.first() else { continue };
        let poles = first.module.connector.poles;
        let mut wrong: Vec<String> = Vec::new();
        for own in &served {
            if own.module.connector.poles != poles || own.luminaire.cores != poles {
                wrong.push(format!("{} has {} poles", own.planned.id, own.module.connector.poles));
            }
        }
        let decoder = decoder(job, circuit);
        for cable in job.plan.cables.iter().filter(|cable| cable.circuit.as_deref() == Some(circuit.id.as_str())) {
            let Some(lead) = cable.part.as_deref().and_then(|part| job.catalogue.lead(part)) else { continue };
            let wanted = match (cable.kind, decoder) {
                (CableKind::Extension, Some((inlet, _))) => inlet,
                (CableKind::Extension, None) => 2,
                _ => poles,
            };
            if !fits(lead, wanted) {
                wrong.push(format!("{} has not {wanted} poles", cable.reference));
            }
        }
        if let Some((_, outlet)) = decoder
            && outlet != poles
        {
            wrong.push(format!("the decoder's outlet has {outlet}"));
        }
        let verdict = if wrong.is_empty() { Verdict::Pass } else { Verdict::Stop };
        let subject = Subject::Circuit(circuit.id.clone());
        let finding = Finding::new("pole-counts", subject, verdict, SOURCE);
        found.push(if wrong.is_empty() {
            finding.says(format!("Everything that is plugged together in circuit {} has {poles} poles.", circuit.id))
        } else {
            finding
                .says(format!("Circuit {} has {poles} poles, and {}.", circuit.id, wrong.join(", ")))
                .advises("Choose parts whose connectors have the same number of poles.")
        });
    }
    end_caps(job, found);
}

/// Whether a lead has so many cores, and plugs of so many poles where it has any.
fn fits(lead: &Lead, poles: u8) -> bool {
    lead.cores >= poles && lead.connector.as_ref().is_none_or(|connector| connector.poles == poles)
}

/// Poles of the inlet and the outlet of a circuit's decoder.
fn decoder(job: Job<'_>, circuit: &Circuit) -> Option<(u8, u8)> {
    let figures = circuit.id.strip_prefix('D').unwrap_or(&circuit.id);
    let name = format!("DC{figures}");
    let planned = job.plan.controls.iter().find(|control| control.device == name)?;
    let part = job.catalogue.controls.iter().find(|part| part.item.part == planned.part)?;
    match part.kind {
        ControlKind::Decoder { inlet_poles, outlet_poles, .. } => Some((inlet_poles, outlet_poles)),
        _ => None,
    }
}

/// End caps in the parts list against chains, by number of poles.
fn end_caps(job: Job<'_>, found: &mut Vec<Finding>) {
    let chains: Vec<u8> = job
        .plan
        .circuits
        .iter()
        .filter_map(|circuit| modules::served(job, circuit).first().map(|own| own.module.connector.poles))
        .collect();
    let mut kinds = chains.clone();
    kinds.sort_unstable();
    kinds.dedup();
    for poles in kinds {
        let wanted = chains.iter().filter(|own| **own == poles).count();
        let listed: u32 = job
            .plan
            .parts
            .iter()
            .filter(|line| {
                job.catalogue.fixings.iter().any(|fixing| {
                    fixing.item.part == line.part
                        && matches!(fixing.kind, FixingKind::EndCap { poles: own } if own == poles)
                })
            })
            .map(|line| match line.quantity {
                Quantity::Pieces(pieces) => pieces,
                Quantity::Length(_) => 0,
            })
            .sum();
        let verdict = if listed as usize == wanted { Verdict::Pass } else { Verdict::Stop };
        found.push(
            Finding::new("end-caps", Subject::Site, verdict, SOURCE)
                .compared(f64::from(listed), wanted as f64, "end caps")
                .says(format!("{wanted} chains of {poles} poles end in {listed} end caps of {poles} poles."))
                .advises(if verdict == Verdict::Pass {
                    ""
                } else {
                    "Add an end cap with this number of poles to the catalogue; no chain is left open."
                }),
        );
    }
}
