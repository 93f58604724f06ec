//! The walk along the rails of a group, one after another, that keeps every partial scheme which may still be cheapest.
//!
//! A partial scheme knows the drivers that rails so far have left open, the room used and the locks kept. One beats
//! another where it costs no more even after every driver left open that it lacks is bought. One is dropped where its
//! cost and a floor under what follows exceed the ceiling: floors where blocks pay their part of shared drivers, less
//! what the drivers left open may still be worth, and floors where those are free.

use std::ops::Range;

use super::along::RailWalk;
use super::group::{Priced, Readied};
use super::pool::{Open, Score, Tally};
use crate::feeds::choose::Chosen;
use crate::feeds::lead::Fine;

/// No index.
pub(super) const NOWHERE: u32 = u32::MAX;
/// The first ceiling of a quick walk lies this part of a driver's cost above the floor.
const FIRST_SLACK: Fine = 16;

/// What a walk keeps count of.
#[derive(Clone, Debug, Default)]
pub(super) struct Counted {
    /// Places of the group whose room may run out, with the room.
    pub(super) rooms: Vec<(usize, u32)>,
    /// By rail and lock, the stands that keep it; none where the rail's locks are not counted.
    pub(super) locks: Vec<Vec<Vec<usize>>>,
}

/// A chain of the answer.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step {
    pub(super) rail: usize,
    pub(super) chosen: Chosen,
    /// The driver that a block takes up, as it was left.
    pub(super) taken: Option<Open>,
}

/// What came of a walk.
pub(super) enum Walked {
    /// The cheapest scheme of those that it kept: its cost with the floor under the rails behind the walk.
    Found(Fine, Vec<Step>),
    /// No scheme costs as little as the ceiling.
    Nothing,
    /// It would have taken too long.
    TooLong,
}

/// What a walk goes by.
pub(super) struct Ground<'g, 'p> {
    pub(super) group: &'g Readied<'p>,
    /// The rails walked. What they may share with rails before them is charged for in part.
    pub(super) rails: Range<usize>,
    /// Floors where blocks pay their part of shared drivers.
    pub(super) floors: &'g Priced,
    /// Floors where shared drivers are free.
    pub(super) free: &'g Priced,
    pub(super) counted: &'g Counted,
    pub(super) ceiling: Fine,
    /// How many partial schemes are kept from rail to rail; `None` for all that may be cheapest.
    pub(super) width: Option<usize>,
    /// How many comparisons it may take.
    pub(super) patience: u64,
}

impl Ground<'_, '_> {
    /// A floor under the cost of all rails from the walk's first on, by the cost so far and what is left open for rails
    /// from one on.
    pub(super) fn bound(&self, so_far: Fine, tally: &Tally, from: usize) -> Fine {
        let worth = |open: &Open| self.group.credit(open.class, self.floors.weights, (open.outputs, open.left), from);
        let credit: Fine = tally.waiting.iter().map(worth).sum();
        so_far + self.free.behind[from].max(self.floors.behind[from] - credit)
    }
}

/// A scheme for the luminaires so far.
#[derive(Clone, Copy, Debug)]
pub(super) struct Partial {
    pub(super) score: Score,
    pub(super) tally: u32,
    pub(super) stand: u32,
    /// First luminaire of its last block.
    pub(super) start: u32,
    /// One past the last luminaire that its last driver's power lasts for.
    pub(super) power_to: u32,
    /// Chains of its last block.
    pub(super) chains: u8,
    /// Its last driver as it was where the block started; `None` where no other rail can use it.
    pub(super) driver: Option<Open>,
    /// Whether the block pays its part of a driver that it shares with a rail before the walk.
    pub(super) charged: bool,
    /// What was taken up, in the list of all that were; [`NOWHERE`] for a fresh driver.
    pub(super) taken: u32,
    /// Feed of its last chain, and the luminaire where that starts.
    pub(super) feed: u32,
    pub(super) from: u32,
    /// The partial scheme before, in the arena.
    pub(super) before: u32,
}

/// Before any luminaire of a rail.
pub(super) const START: Partial = Partial {
    score: (0, 0),
    tally: 0,
    stand: NOWHERE,
    start: 0,
    power_to: 0,
    chains: 0,
    driver: None,
    charged: false,
    taken: NOWHERE,
    feed: NOWHERE,
    from: 0,
    before: NOWHERE,
};

/// Walks rails of a group; also says how many comparisons were left.
pub(super) fn walk(ground: &Ground<'_, '_>) -> (Walked, u64) {
    let mut whole = Whole { arena: Vec::new(), taken: Vec::new(), patience: ground.patience };
    let counted: Vec<usize> = ground.counted.rooms.iter().map(|own| own.0).collect();
    let nothing = Tally { rooms: vec![0; counted.len()], ..Tally::default() };
    let mut starts = vec![(START, nothing)];
    for rail in ground.rails.clone() {
        let ends = match ground.width {
            None => RailWalk::over(ground, &counted, &mut whole, (rail, ground.ceiling), starts),
            Some(width) => quickly(ground, &counted, &mut whole, (rail, width), &starts),
        };
        let Some(ends) = ends else { return (Walked::TooLong, 0) };
        starts = ends;
    }
    let bounded = starts.iter().map(|own| (ground.bound(own.0.score.0, &own.1, ground.rails.end), own.0));
    let walked = match bounded.min_by_key(|(bound, partial)| (*bound, partial.score)) {
        Some((bound, best)) => Walked::Found(bound, whole.trace(best.before)),
        None => Walked::Nothing,
    };
    (walked, whole.patience)
}

/// Walks one rail under the least ceiling that leaves any scheme, and keeps a few of those; `None` where that takes too
/// long.
fn quickly(
    ground: &Ground<'_, '_>,
    counted: &[usize],
    whole: &mut Whole,
    (rail, width): (usize, usize),
    starts: &[(Partial, Tally)],
) -> Option<Vec<(Partial, Tally)>> {
    let floor = |own: &(Partial, Tally), from| ground.bound(own.0.score.0, &own.1, from);
    let least = starts.iter().map(|own| floor(own, rail)).min()?;
    let mut above = ground.group.classes.iter().map(|class| class.dearest).max().unwrap_or(least) / FIRST_SLACK + 1;
    loop {
        let ceiling = least.saturating_add(above).min(ground.ceiling);
        let mut ends = RailWalk::over(ground, counted, whole, (rail, ceiling), starts.to_vec())?;
        if !ends.is_empty() || ceiling == ground.ceiling {
            ends.sort_by_cached_key(|own| (floor(own, rail + 1), own.0.score));
            ends.truncate(width);
            return Some(ends);
        }
        above = above.saturating_mul(2);
    }
}

/// What lasts over all rails of a walk.
pub(super) struct Whole {
    arena: Vec<(Partial, u32)>,
    pub(super) taken: Vec<Open>,
    pub(super) patience: u64,
}

impl Whole {
    /// Keeps a partial scheme that ends before a luminaire; its index.
    pub(super) fn keep(&mut self, partial: Partial, at: usize) -> u32 {
        self.arena.push((partial, at as u32));
        (self.arena.len() - 1) as u32
    }

    /// Counts comparisons.
    pub(super) fn spend(&mut self, comparisons: usize) {
        self.patience = self.patience.saturating_sub(comparisons as u64);
    }

    /// The chains that end in a partial scheme of the last rail.
    fn trace(&self, mut index: u32) -> Vec<Step> {
        let mut steps = Vec::new();
        let mut rails = 0;
        while index != NOWHERE {
            let (partial, end) = self.arena[index as usize];
            if partial.feed == NOWHERE {
                // Where a rail starts.
                rails += 1;
            } else {
                let starts = partial.chains == 1;
                steps.push(Step {
                    rail: rails,
                    chosen: Chosen {
                        stand: partial.stand as usize,
                        feed: partial.feed as usize,
                        first: partial.from as usize,
                        last: end as usize - 1,
                        starts,
                    },
                    taken: if starts { self.taken.get(partial.taken as usize).copied() } else { None },
                });
            }
            index = partial.before;
        }
        // Counted from the far end so far.
        steps.iter_mut().for_each(|step| step.rail = rails - 1 - step.rail);
        steps.reverse();
        steps
    }
}
