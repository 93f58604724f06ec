//! Decoders in the list of controls: one between driver and chain wherever the colour of modules can be set.

use super::cables::{cable_reference, place_words};
use super::module_cables::decoder_name;
use crate::build::canonical::Inputs;
use crate::build::draft::RailDraft;
use crate::build::power::{Fed, Powered};
use crate::document::{ControlDevice, ControlPlan};

/// The decoders of every chain, in order of driver.
pub(crate) fn decoders(inputs: &Inputs, drafts: &[RailDraft<'_>], powered: &Powered<'_>) -> Vec<ControlPlan> {
    let mut controls = Vec::new();
    for fed in powered.fed() {
        let Fed::Modules(rail, own) = fed else { continue };
        let draft = &drafts[rail.draft];
        let driver = &powered.drivers[own.driver].plan;
        for chain in &own.chains {
            let part = chain.chain.decoder.and_then(|index| rail.case.decoders.get(index));
            let (Some(part), Some(name)) = (part, decoder_name(chain)) else { continue };
            let catalogue::ControlKind::Decoder { inlet_poles, outlet_poles, control_sockets, control_poles } =
                part.kind
            else {
                continue;
            };
            controls.push(ControlPlan {
                // A rail that no zone switches is a zone of its own.
                zone: draft.brief.zone.clone().unwrap_or_else(|| draft.rail.id.clone()),
                device: name,
                part: part.item.part.clone(),
                place: format!("beside driver {}, {}", driver.id, place_words(inputs, driver)),
                kind: ControlDevice::Decoder,
                at_rail: None,
                serves: vec![chain.circuit.id.clone()],
                load: None,
                inrush: None,
                in_tube: vec![],
                sees: None,
                cable_ref: Some(cable_reference('L', &chain.circuit.id, 0, 1)),
                settings: vec![
                    ("inlet".to_owned(), format!("{inlet_poles} poles, from {}", chain.circuit.output)),
                    ("outlet".to_owned(), format!("{outlet_poles} poles, to {}", chain.circuit.id)),
                    ("control sockets".to_owned(), format!("{control_sockets} of {control_poles} poles")),
                ],
            });
        }
    }
    controls
}
