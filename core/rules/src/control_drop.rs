//! Volts lost in relays, dimmers and decoders between driver and chain.

use catalogue::LoadModel;
use plan::{CableKind, ControlDevice};
use survey::{Finding, Subject, Verdict};

use crate::Job;

const SOURCE: &str =
    "maker's drop at full current; IEC 60364-7-715 clause 715.525 (from memory) and the luminaire's least voltage";

/// What devices between a driver and a chain take from its volts, against what is left above the limit at the luminaire
/// that has least.
///
/// A drop at the source reaches loads of constant current as it is and resistive ones in part. Loads of constant power
/// draw more as the volts fall, and twice the drop is asked for: for one load behind one resistance dV/dVs is
/// V/(2V − Vs), below 2 while V is above 2/3 of Vs.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for circuit in &job.plan.circuits {
        // The network of a chain of modules has its decoder in it.
        let counted =
            job.plan.cables.iter().any(|cable| {
                cable.kind == CableKind::Luminaire && cable.circuit.as_deref() == Some(circuit.id.as_str())
            });
        let serving = job.plan.controls.iter().filter(|device| {
            device.serves.contains(&circuit.id) && !(counted && device.kind == ControlDevice::Decoder)
        });
        let parts = serving.filter_map(|device| {
            let part = job.catalogue.controls.iter().find(|control| control.item.part == device.part)?;
            Some((device.device.as_str(), part.drop.get()))
        });
        let parts: Vec<(&str, f64)> = parts.filter(|(_, drop)| *drop > 0.0).collect();
        let (false, Some(least)) = (parts.is_empty(), circuit.least_load_volts) else { continue };
        let drop: f64 = parts.iter().map(|(_, drop)| drop).sum();
        let power = circuit.loads.iter().any(|load| matches!(load.model, LoadModel::Power(_)));
        let asked = if power { 2.0 * drop } else { drop };
        let left = least.get() - circuit.limit().get();
        let names: Vec<&str> = parts.iter().map(|(name, _)| *name).collect();
        let verdict = if asked <= left + 1e-9 { Verdict::Pass } else { Verdict::Stop };
        let advice = if verdict == Verdict::Pass {
            ""
        } else {
            "Use thicker leads or cores, a nearer feed, a device that drops less, or a relay in the mains lead."
        };
        found.push(
            Finding::new("control-drop", Subject::Circuit(circuit.id.clone()), verdict, SOURCE)
                .compared(asked, left, "V")
                .says(format!(
                    "{} take {drop:.2} V from circuit {}{}; {left:.2} V are left above the limit at the worst luminaire.",
                    names.join(", "),
                    circuit.id,
                    if power { ", counted twice for loads of constant power" } else { "" }
                ))
                .advises(advice),
        );
    }
}
