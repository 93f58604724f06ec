//! Ways to bring power from a place to the near end of a module: extension lead, decoder, luminaire lead.

use units::Length;

use super::cost::{Fine, fine, metres, micro_down};
use super::leads::Maker;
use super::problem::{Feeding, Path, Problem};
use super::reach;
use super::scheme::Heading;
use crate::feeds::LeadPieces;

/// One way to feed a chain up to the near end of its first module.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Feed {
    pub(super) path: u32,
    pub(super) extension: u32,
    extension_make: u32,
    /// Index of the decoder; [`PLAIN`] where there is none.
    decoder: u32,
    pub(super) luminaire_lead: u32,
    luminaire_make: u32,
    pub(super) worth: Worth,
}

/// In place of a decoder's index.
const PLAIN: u32 = u32::MAX;

impl Feed {
    /// Index of the decoder, where there is one.
    pub(super) fn decoder(&self) -> Option<usize> {
        (self.decoder != PLAIN).then_some(self.decoder as usize)
    }
}

/// What a way to feed costs and what it is good for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Worth {
    /// Cost with laying and threading.
    pub(super) cost: Fine,
    /// Volts lost for each ampere of one channel while all channels carry the same, ohms.
    pub(super) weight: f64,
    /// Resistance of one channel's conductor and the common's together, ohms.
    pub(super) loop_ohms: f64,
    /// Current that every core and plug carries, microamperes.
    pub(super) carries: i64,
    /// Current of one channel that the decoder carries, microamperes.
    pub(super) contact: i64,
}

impl Worth {
    fn beats(&self, other: &Self) -> bool {
        self.cost <= other.cost
            && self.weight <= other.weight
            && self.loop_ohms <= other.loop_ohms
            && self.carries >= other.carries
            && self.contact >= other.contact
    }
}

/// Leaves the cheapest first, and none that another beats; of equals the first stays.
fn keep_unbeaten(feeds: &mut Vec<Feed>) {
    feeds.sort_by(|a, b| a.worth.cost.cmp(&b.worth.cost).then(a.worth.weight.total_cmp(&b.worth.weight)));
    let mut kept = 0;
    for index in 0..feeds.len() {
        let feed = feeds[index];
        if !feeds[..kept].iter().any(|known| known.worth.beats(&feed.worth)) {
            feeds[kept] = feed;
            kept += 1;
        }
    }
    feeds.truncate(kept);
}

/// The parts of a problem with what does not depend on a module.
pub(super) struct Makers<'a> {
    problem: &'a Problem,
    extensions: Vec<Maker<'a>>,
    luminaire_leads: Vec<Maker<'a>>,
    /// By place: paths that the wish leaves, with every unbeaten extension lead and decoder there, to which the luminaire
    /// lead is still to be added.
    first: Vec<Vec<(usize, Vec<Feed>)>>,
}

impl<'a> Makers<'a> {
    pub(super) fn of(problem: &'a Problem) -> Self {
        let kept = reach::wished(problem);
        let mut makers = Self {
            problem,
            extensions: problem.extensions.iter().map(Maker::of).collect(),
            luminaire_leads: problem.luminaire_leads.iter().map(Maker::of).collect(),
            first: vec![Vec::new(); problem.places.len()],
        };
        for (index, path) in problem.paths.iter().enumerate().filter(|(_, path)| kept[path.way_in]) {
            let first = makers.before_the_luminaire_lead(index, path);
            makers.first[path.place].push((index, first));
        }
        makers
    }

    /// Every unbeaten extension lead along a path, with each decoder where there are any.
    fn before_the_luminaire_lead(&self, index: usize, path: &Path) -> Vec<Feed> {
        let channels = f64::from(self.problem.channels);
        let laid = metres(self.problem.costs.lay_per_metre, path.length);
        let mut feeds = Vec::new();
        for extension in &path.extensions {
            let maker = &self.extensions[*extension];
            for make in maker.makes(self.extension_way(path)) {
                let bare = Feed {
                    path: index as u32,
                    extension: *extension as u32,
                    extension_make: make.combination,
                    decoder: PLAIN,
                    luminaire_lead: 0,
                    luminaire_make: 0,
                    worth: Worth {
                        cost: laid + make.cost,
                        weight: (1.0 + channels) * make.ohms,
                        loop_ohms: 2.0 * make.ohms,
                        carries: maker.carries,
                        contact: i64::MAX,
                    },
                };
                let Feeding::Decoded { decoders, .. } = &self.problem.feeding else {
                    feeds.push(bare);
                    continue;
                };
                for (decoder, option) in decoders.iter().enumerate() {
                    let Some(Some(enclosure)) = option.enclosure.get(path.place) else { continue };
                    let own = option.ohms.get();
                    let worth = Worth {
                        cost: bare.worth.cost + fine(option.cost) + fine(*enclosure),
                        // Both cores before the decoder carry all channels; its own drop is in each channel alone.
                        weight: 2.0 * channels * make.ohms + own,
                        loop_ohms: 2.0 * make.ohms + own,
                        contact: micro_down(option.carries.get()),
                        ..bare.worth
                    };
                    feeds.push(Feed { decoder: decoder as u32, worth, ..bare });
                }
            }
        }
        keep_unbeaten(&mut feeds);
        feeds
    }

    /// Every feed from a place to the near end of a module that no other beats, the cheapest first.
    pub(super) fn feeds(&self, place: usize, module: usize, heading: Heading) -> Vec<Feed> {
        let problem = self.problem;
        let near = self.near_end(module, heading);
        let channels = f64::from(problem.channels);
        let mut all = Vec::new();
        for (index, first) in &self.first[place] {
            let path = &problem.paths[*index];
            let way_in = problem.ways_in[path.way_in].chainage;
            if first.is_empty() || !reach::passes(problem, way_in, near) {
                continue;
            }
            let way = self.luminaire_way(path, near);
            let threaded = metres(problem.costs.thread_per_metre, (near - way_in).abs());
            let behind = reach::meets_module(problem, way_in, near);
            let room = |lead: &&usize| !behind || problem.passes_behind.get(**lead).copied().unwrap_or(true);
            for lead in path.luminaire_leads.iter().filter(room) {
                let maker = &self.luminaire_leads[*lead];
                for make in maker.makes(way) {
                    all.extend(first.iter().map(|before| Feed {
                        luminaire_lead: *lead as u32,
                        luminaire_make: make.combination,
                        worth: Worth {
                            cost: before.worth.cost + threaded + make.cost,
                            weight: before.worth.weight + (1.0 + channels) * make.ohms,
                            loop_ohms: before.worth.loop_ohms + 2.0 * make.ohms,
                            carries: before.worth.carries.min(maker.carries),
                            contact: before.worth.contact,
                        },
                        ..*before
                    }));
                }
            }
        }
        keep_unbeaten(&mut all);
        all
    }

    /// What the extension lead of a feed consists of.
    pub(super) fn extension_pieces(&self, feed: &Feed) -> LeadPieces {
        let way = self.extension_way(&self.problem.paths[feed.path as usize]);
        self.extensions[feed.extension as usize].pieces(way, feed.extension_make)
    }

    /// What the luminaire lead of a feed to the near end of a module consists of.
    pub(super) fn luminaire_pieces(&self, feed: &Feed, module: usize, heading: Heading) -> LeadPieces {
        let way = self.luminaire_way(&self.problem.paths[feed.path as usize], self.near_end(module, heading));
        self.luminaire_leads[feed.luminaire_lead as usize].pieces(way, feed.luminaire_make)
    }

    /// Chainage of the end of a module into which a chain is fed.
    fn near_end(&self, module: usize, heading: Heading) -> Length {
        match heading {
            Heading::Rising => self.problem.modules[module].start,
            Heading::Falling => self.problem.modules[module].end,
        }
    }

    fn extension_way(&self, path: &Path) -> Length {
        match &self.problem.feeding {
            Feeding::Plain => path.length,
            Feeding::Decoded { beside, .. } => *beside,
        }
    }

    fn luminaire_way(&self, path: &Path, near: Length) -> Length {
        let in_tube = (near - self.problem.ways_in[path.way_in].chainage).abs();
        match &self.problem.feeding {
            Feeding::Plain => in_tube,
            Feeding::Decoded { .. } => path.length + in_tube,
        }
    }
}
