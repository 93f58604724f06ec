//! What the rules need to know of chains of linear modules.

use catalogue::{LinearModule, Luminaire, LuminaireKind};
use plan::{Circuit, LuminairePlan};

use crate::Job;

/// A module of a chain.
pub(crate) struct Served<'a> {
    pub(crate) planned: &'a LuminairePlan,
    pub(crate) luminaire: &'a Luminaire,
    pub(crate) module: &'a LinearModule,
}

/// The modules of a circuit in the order in which current reaches them; empty for a circuit of points.
pub(crate) fn served<'a>(job: Job<'a>, circuit: &Circuit) -> Vec<Served<'a>> {
    let Some(rail) = job.plan.rails.iter().find(|rail| rail.id == circuit.rail) else { return vec![] };
    let mut out: Vec<Served<'a>> = Vec::new();
    for load in &circuit.loads {
        if out.last().is_some_and(|last| last.planned.id == load.luminaire) {
            continue;
        }
        let Some(planned) = rail.luminaires.iter().find(|luminaire| luminaire.id == load.luminaire) else { continue };
        let Some(luminaire) = job.catalogue.luminaire(&planned.part) else { continue };
        if let LuminaireKind::Linear(module) = &luminaire.kind {
            out.push(Served { planned, luminaire, module });
        } else {
            // A chain of points has no module.
            return vec![];
        }
    }
    out
}
