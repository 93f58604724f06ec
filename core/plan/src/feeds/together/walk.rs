//! The walk along the rails of a group that keeps every partial scheme which may still be cheapest.
//!
//! A partial scheme knows how far each rail is fed, the drivers left open, the room used and the locks kept. One beats
//! another that is as far where it costs no more even after every driver left open that it lacks is bought. One is dropped
//! where its cost and a floor under what follows exceed the ceiling: floors where blocks pay their part of shared drivers,
//! less what the drivers left open may still be worth, and floors where those are free.

use super::front::Front;
use super::group::{Class, Priced, Readied};
use super::order::Order;
use super::pool::{Open, Score, Tally};
use crate::feeds::choose::Chosen;
use crate::feeds::lead::Fine;
use crate::feeds::missing::Kept;

/// No index.
pub(super) const NOWHERE: u32 = u32::MAX;

/// What a walk keeps count of.
#[derive(Clone, Debug, Default)]
pub(super) struct Counted {
    /// Places of the group whose room may run out, with the room.
    pub(super) rooms: Vec<(usize, u32)>,
    /// By rail and lock, the stands that keep it. Those of two locks of one rail are the same, or lie within one another, or have
    /// nothing in common.
    pub(super) locks: Vec<Vec<Vec<usize>>>,
}

impl Counted {
    /// By rail, that no lock is kept; nothing where none is counted.
    pub(super) fn no_locks(&self) -> Vec<Kept> {
        if self.locks.iter().all(Vec::is_empty) { Vec::new() } else { vec![0; self.locks.len()] }
    }
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
    /// The cheapest scheme of those that it kept.
    Found(Fine, Vec<Step>),
    /// No scheme costs as little as the ceiling.
    Nothing,
    /// It would have taken too long.
    TooLong,
}

/// What a walk goes by.
pub(super) struct Ground<'g, 'p> {
    pub(super) group: &'g Readied<'p>,
    pub(super) order: &'g Order,
    /// Floors where blocks pay their part of shared drivers.
    pub(super) floors: &'g Priced,
    /// Floors where shared drivers are free.
    pub(super) free: &'g Priced,
    pub(super) counted: &'g Counted,
    pub(super) ceiling: Fine,
    /// By rail, the luminaires walked: the first, and one past the last. What comes before and behind is fed already.
    pub(super) spans: Vec<(u32, u32)>,
    /// What is fed already has left open, has taken and keeps.
    pub(super) start: Tally,
    /// The rails before this one are not fed: what they may share with those behind is charged for in part, and what comes
    /// of the walk is a floor. Only where rails are walked one after another.
    pub(super) suffix: Option<usize>,
    /// How many comparisons it may take.
    pub(super) patience: u64,
}

impl Ground<'_, '_> {
    /// Whether rails before the walk may share the drivers of a class.
    pub(super) fn is_charged(&self, class: &Class) -> bool {
        self.suffix.is_some_and(|first| class.rails.first().is_some_and(|own| own.0 < first))
    }
}

/// A scheme for the luminaires so far.
#[derive(Clone, Copy, Debug)]
pub(super) struct Partial {
    pub(super) score: Score,
    pub(super) tally: u32,
    /// Rail and stand of its last block.
    pub(super) rail: u32,
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
    /// One past the last luminaire of its last chain.
    pub(super) end: u32,
    /// The partial scheme before, in the arena.
    pub(super) before: u32,
}

/// Before any luminaire.
pub(super) const START: Partial = Partial {
    score: (0, 0),
    tally: 0,
    rail: 0,
    stand: NOWHERE,
    start: 0,
    power_to: 0,
    chains: 0,
    driver: None,
    charged: false,
    taken: NOWHERE,
    feed: NOWHERE,
    from: 0,
    end: 0,
    before: NOWHERE,
};

/// Walks the rails of a group; also says how many comparisons were left.
pub(super) fn walk(ground: &Ground<'_, '_>) -> (Walked, u64) {
    let counted: Vec<usize> = ground.counted.rooms.iter().map(|own| own.0).collect();
    let sums: Vec<_> = ground.group.rails.iter().map(|prepared| prepared.sums()).collect();
    Front::over(ground, &counted, &sums).walked()
}

/// A floor under what a walk can cost.
pub(super) fn floor(ground: &Ground<'_, '_>) -> Fine {
    Front::over(ground, &[], &[]).floor()
}

/// Partial schemes that others go on from.
#[derive(Default)]
pub(super) struct Arena {
    /// With one past the last luminaire of the rail that was fed last.
    kept: Vec<(Partial, u32)>,
    /// Drivers that were taken up.
    taken: Vec<Open>,
}

impl Arena {
    /// Keeps a partial scheme whose last rail is fed up to a luminaire; its index.
    pub(super) fn keep(&mut self, partial: Partial, at: u32) -> u32 {
        self.kept.push((partial, at));
        (self.kept.len() - 1) as u32
    }

    /// Keeps a driver that is taken up; its index.
    pub(super) fn take_up(&mut self, open: Open) -> u32 {
        self.taken.push(open);
        (self.taken.len() - 1) as u32
    }

    /// The chains that end in a partial scheme, in the order in which they were chosen.
    pub(super) fn trace(&self, mut index: u32) -> Vec<Step> {
        let mut steps = Vec::new();
        while index != NOWHERE {
            let (partial, end) = self.kept[index as usize];
            if partial.feed != NOWHERE {
                let starts = partial.chains == 1;
                steps.push(Step {
                    rail: partial.rail as usize,
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
        steps.reverse();
        steps
    }
}
