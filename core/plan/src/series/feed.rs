//! Ways to bring power from a place to the near end of a module: extension lead, decoder, luminaire lead.

use super::cost::{Fine, fine, metres, micro_down};
use super::leads::{Make, Maker};
use super::problem::{Feeding, Problem};
use super::reach;
use super::scheme::Heading;
use crate::feeds::LeadPieces;

/// One way to feed a chain up to the near end of its first module.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Feed {
    pub(super) path: usize,
    pub(super) extension: usize,
    pub(super) extension_pieces: LeadPieces,
    pub(super) decoder: Option<usize>,
    pub(super) luminaire_lead: usize,
    pub(super) luminaire_pieces: LeadPieces,
    /// Volts lost for each ampere of one channel while all channels carry the same, ohms.
    pub(super) weight: f64,
    /// Resistance of one channel's conductor and the common's together, ohms.
    pub(super) loop_ohms: f64,
    /// Current that every core and plug carries, microamperes.
    pub(super) carries: i64,
    /// Current of one channel that the decoder carries, microamperes.
    pub(super) contact: i64,
    /// Cost with laying and threading.
    pub(super) cost: Fine,
}

impl Feed {
    fn beats(&self, other: &Self) -> bool {
        self.cost <= other.cost
            && self.weight <= other.weight
            && self.loop_ohms <= other.loop_ohms
            && self.carries >= other.carries
            && self.contact >= other.contact
    }
}

/// The parts of a problem with what does not depend on a length.
pub(super) struct Makers<'a> {
    extensions: Vec<Maker<'a>>,
    luminaire_leads: Vec<Maker<'a>>,
    /// By path, every extension lead that may lie there, however it is made.
    first: Vec<Vec<(usize, Make)>>,
    kept: Vec<bool>,
}

impl<'a> Makers<'a> {
    pub(super) fn of(problem: &'a Problem) -> Self {
        let extensions: Vec<Maker<'a>> = problem.extensions.iter().map(Maker::of).collect();
        let first = problem
            .paths
            .iter()
            .map(|path| {
                let way = match &problem.feeding {
                    Feeding::Plain => path.length,
                    Feeding::Decoded { beside, .. } => *beside,
                };
                let makes = |part: usize| extensions[part].makes(way).into_iter().map(move |make| (part, make));
                path.extensions.iter().copied().flat_map(makes).collect()
            })
            .collect();
        Self {
            extensions,
            luminaire_leads: problem.luminaire_leads.iter().map(Maker::of).collect(),
            first,
            kept: reach::wished(problem),
        }
    }

    /// Every feed from a place to the near end of a module that no other beats, the cheapest first.
    pub(super) fn feeds(&self, problem: &Problem, place: usize, module: usize, heading: Heading) -> Vec<Feed> {
        let near = match heading {
            Heading::Rising => problem.modules[module].start,
            Heading::Falling => problem.modules[module].end,
        };
        let mut all = Vec::new();
        for (index, path) in problem.paths.iter().enumerate().filter(|(_, path)| path.place == place) {
            let way_in = problem.ways_in[path.way_in].chainage;
            if !self.kept[path.way_in] || !reach::passes(problem, way_in, near) {
                continue;
            }
            let in_tube = (near - way_in).abs();
            let second = match &problem.feeding {
                Feeding::Plain => in_tube,
                Feeding::Decoded { .. } => path.length + in_tube,
            };
            let common =
                metres(problem.costs.lay_per_metre, path.length) + metres(problem.costs.thread_per_metre, in_tube);
            let behind = reach::meets_module(problem, way_in, near);
            let room = |lead: &&usize| !behind || problem.passes_behind.get(**lead).copied().unwrap_or(true);
            for lead in path.luminaire_leads.iter().filter(room) {
                let carries = self.luminaire_leads[*lead].carries;
                for onwards in self.luminaire_leads[*lead].makes(second) {
                    for (extension, made) in &self.first[index] {
                        let bare = Feed {
                            path: index,
                            extension: *extension,
                            extension_pieces: made.pieces.clone(),
                            decoder: None,
                            luminaire_lead: *lead,
                            luminaire_pieces: onwards.pieces.clone(),
                            weight: 0.0,
                            loop_ohms: 0.0,
                            carries: self.extensions[*extension].carries.min(carries),
                            contact: i64::MAX,
                            cost: common + made.cost + onwards.cost,
                        };
                        add(problem, place, &mut all, &bare, (made.ohms, onwards.ohms));
                    }
                }
            }
        }
        all.sort_by(|a: &Feed, b: &Feed| a.cost.cmp(&b.cost).then(a.weight.total_cmp(&b.weight)));
        let mut kept: Vec<Feed> = Vec::new();
        for feed in all {
            if !kept.iter().any(|known| known.beats(&feed)) {
                kept.push(feed);
            }
        }
        kept
    }
}

/// Adds a feed with its electrical figures, once for each decoder where there is one.
fn add(problem: &Problem, place: usize, all: &mut Vec<Feed>, bare: &Feed, ohms: (f64, f64)) {
    let channels = f64::from(problem.channels);
    let (first, second) = ohms;
    match &problem.feeding {
        Feeding::Plain => all.push(Feed {
            weight: (1.0 + channels) * (first + second),
            loop_ohms: 2.0 * (first + second),
            ..bare.clone()
        }),
        Feeding::Decoded { decoders, .. } => {
            for (index, decoder) in decoders.iter().enumerate() {
                let Some(Some(enclosure)) = decoder.enclosure.get(place) else { continue };
                let own = decoder.ohms.get();
                all.push(Feed {
                    decoder: Some(index),
                    // Both cores before the decoder carry all channels; its own drop is in each channel alone.
                    weight: 2.0 * channels * first + own + (1.0 + channels) * second,
                    loop_ohms: 2.0 * first + own + 2.0 * second,
                    contact: micro_down(decoder.carries.get()),
                    cost: bare.cost + fine(decoder.cost) + fine(*enclosure),
                    ..bare.clone()
                });
            }
        }
    }
}
