//! End caps: exactly one for each chain of modules, where the chain ends.

use super::module_cables::far_end;
use crate::build::draft::RailDraft;
use crate::build::power::{Fed, Powered};
use crate::document::EndCapPlan;

/// The end caps of every chain of modules, in the order of their circuits.
pub(crate) fn end_caps(drafts: &[RailDraft<'_>], powered: &Powered<'_>) -> Vec<EndCapPlan> {
    let mut caps = Vec::new();
    for fed in powered.fed() {
        let Fed::Modules(rail, own) = fed else { continue };
        let draft = &drafts[rail.draft];
        for chain in &own.chains {
            let Some(last) = chain.chain.outwards().last().copied() else { continue };
            caps.push(EndCapPlan {
                circuit: chain.circuit.id.clone(),
                part: rail.case.end_cap.map(|cap| cap.item.part.clone()),
                poles: rail.case.poles,
                luminaire: draft.plan.luminaires[last].id.clone(),
                rail: draft.rail.id.clone(),
                chainage: far_end(draft, chain, last),
            });
        }
    }
    caps
}
