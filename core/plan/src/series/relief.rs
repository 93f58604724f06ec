//! Why no scheme works, and what would help: every constraint is lifted by itself and the problem asked again.

use catalogue::ShortCircuit;
use survey::FeedWish;
use units::{Amps, Length};

use super::problem::{Feeding, Gap, Problem};
use super::scheme::{Infeasible, Relief};
use super::solve::{Volts, cheapest};
use crate::feeds::{LeadSupply, Mains};

/// More of anything than a rail asks for.
const PLENTY: f64 = 1e4;

/// How one constraint is lifted.
type Lift = fn(&mut Problem);

/// What would help, and the best effort.
pub(super) fn explain(problem: &Problem) -> Infeasible {
    let missing = missing(problem);
    if !missing.is_empty() {
        return Infeasible { best_effort: None, reliefs: missing };
    }
    let best_effort = cheapest(problem, Volts::Ignored);
    let mut reliefs = Vec::new();
    if best_effort.is_some() {
        reliefs.push(Relief::Volts);
    }
    let lifts: [(Relief, Lift); 9] = [
        (Relief::LongestChain, |p| p.longest_chain = Length::GREATEST),
        (Relief::Current, plenty_of_current),
        (Relief::Short, |p| {
            for driver in &mut p.drivers {
                driver.short_circuit = ShortCircuit::Limited(Amps::ZERO);
            }
        }),
        (Relief::Power, |p| {
            for driver in &mut p.drivers {
                driver.rated = driver.rated * PLENTY;
                driver.output_limit = driver.output_limit * PLENTY;
                driver.outputs = u8::MAX;
            }
        }),
        (Relief::Room, |p| {
            for place in &mut p.places {
                place.room = None;
            }
        }),
        (Relief::Locks, |p| p.locks.clear()),
        (Relief::Bore, |p| {
            p.blocked.clear();
            p.passes_behind.clear();
            for gap in &mut p.gaps {
                if *gap == Gap::Shut {
                    *gap = Gap::Linked { length: Length::ZERO };
                }
            }
        }),
        (Relief::Link, |p| {
            for gap in &mut p.gaps {
                if matches!(gap, Gap::Linked { .. }) {
                    *gap = Gap::Plugged;
                }
            }
        }),
        (Relief::Place, |p| p.wish = FeedWish::Cheapest),
    ];
    for (relief, lift) in lifts {
        let mut free = problem.clone();
        lift(&mut free);
        if free != *problem && cheapest(&free, Volts::Kept).is_some() {
            reliefs.push(relief);
        }
    }
    reliefs.sort_unstable();
    Infeasible { best_effort, reliefs }
}

fn plenty_of_current(problem: &mut Problem) {
    let more = Amps::new(PLENTY);
    problem.connector_carries = more;
    for lead in problem.extensions.iter_mut().chain(&mut problem.luminaire_leads).chain(&mut problem.links) {
        lead.carries = more;
        if let LeadSupply::MadeUp { plug_carries, .. } = &mut lead.supply {
            *plug_carries = more;
        }
    }
    if let Feeding::Decoded { decoders, .. } = &mut problem.feeding {
        for decoder in decoders {
            decoder.carries = more;
        }
    }
}

/// What is not there at all.
fn missing(problem: &Problem) -> Vec<Relief> {
    let mut missing = Vec::new();
    let powered = |place: usize| problem.places[place].mains != Mains::Unreached;
    if !problem.paths.iter().any(|path| powered(path.place)) {
        missing.push(Relief::Place);
    }
    let stands = |p: &crate::feeds::Place| !p.fits.is_empty();
    let fits = problem.modules.iter().map(|module| module.greatest).min();
    let low_enough = |driver: usize| fits.is_none_or(|greatest| problem.drivers[driver].high <= greatest);
    if !problem.places.iter().any(|p| stands(p) && p.fits.iter().any(|fit| low_enough(fit.driver))) {
        missing.push(Relief::Driver);
    }
    if problem.paths.iter().all(|path| path.extensions.is_empty()) {
        missing.push(Relief::Extension);
    }
    if problem.paths.iter().all(|path| path.luminaire_leads.is_empty()) {
        missing.push(Relief::LuminaireLead);
    }
    if let Feeding::Decoded { decoders, .. } = &problem.feeding
        && !decoders.iter().any(|decoder| decoder.enclosure.iter().any(Option::is_some))
    {
        missing.push(Relief::Decoder);
    }
    missing.sort_unstable();
    missing
}
