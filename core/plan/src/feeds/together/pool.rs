//! Drivers that rails walked before have left open, the room they took, and which of two such states is the better.

use std::collections::BTreeMap;

use super::group::{Class, Readied};
use crate::feeds::charge::Weights;
use crate::feeds::lead::Fine;

/// A driver with outputs and power left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Open {
    /// Index of its class.
    pub(super) class: usize,
    /// Outputs left.
    pub(super) outputs: u8,
    /// Power left, microwatts.
    pub(super) left: i64,
    /// Power that its blocks draw, microwatts.
    pub(super) load: i64,
    /// What was paid for it.
    pub(super) paid: Fine,
}

impl Open {
    /// Whether this one does all that another does, for no more.
    pub(super) fn covers(&self, other: &Self) -> bool {
        self.class == other.class
            && self.outputs >= other.outputs
            && self.left >= other.left
            && self.load <= other.load
            && self.paid >= other.paid
    }
}

/// Room used, locks kept on this rail, drivers left open.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Tally {
    /// For each counted place.
    pub(super) rooms: Vec<u8>,
    /// A bit for each lock of this rail.
    pub(super) locks: u16,
    /// Drivers of rails before, which this rail may still use, in order.
    pub(super) waiting: Vec<Open>,
    /// Drivers that this rail uses already, left for rails after it, in order.
    pub(super) done: Vec<Open>,
}

/// Puts a driver among others in order.
pub(super) fn insert(among: &mut Vec<Open>, one: Open) {
    let at = among.partition_point(|known| *known < one);
    among.insert(at, one);
}

/// Cost, then drivers, then chains.
pub(super) type Score = (Fine, u32);
pub(super) const ONE_DRIVER: u32 = 1 << 16;
pub(super) const ONE_CHAIN: u32 = 1;

/// States met on one rail so far; partial schemes name them by index.
pub(super) struct Tallies<'g> {
    classes: &'g [Class],
    /// Places counted.
    counted: &'g [usize],
    known: BTreeMap<Tally, u32>,
    /// By index, with what the open drivers may still be worth.
    list: Vec<(Tally, Fine)>,
}

impl<'g> Tallies<'g> {
    pub(super) fn new(classes: &'g [Class], counted: &'g [usize]) -> Self {
        Self { classes, counted, known: BTreeMap::new(), list: Vec::new() }
    }

    pub(super) fn get(&self, index: u32) -> &Tally {
        &self.list[index as usize].0
    }

    /// What its open drivers are worth at most to the floors of what follows.
    pub(super) fn credit(&self, index: u32) -> Fine {
        self.list[index as usize].1
    }

    /// Index of a state met on a rail.
    pub(super) fn index(&mut self, tally: Tally, group: &Readied<'_>, weights: Weights, rail: usize) -> u32 {
        if let Some(index) = self.known.get(&tally) {
            return *index;
        }
        let worth = |open: &Open, from| group.credit(open.class, weights, (open.outputs, open.left), from);
        let waiting: Fine = tally.waiting.iter().map(|open| worth(open, rail)).sum();
        let done: Fine = tally.done.iter().map(|open| worth(open, rail + 1)).sum();
        let index = self.list.len() as u32;
        self.known.insert(tally.clone(), index);
        self.list.push((tally, waiting + done));
        index
    }

    /// Whether a partial scheme in one state still costs no more than one in another state when every open driver of the
    /// other that it lacks is bought.
    ///
    /// It would be bought when the other's completion takes it up: a fresh driver of its class costs no more than the
    /// dearest and can do no less.
    pub(super) fn beats(&self, (score, one): (Score, u32), (than, other): (Score, u32)) -> bool {
        if score > than {
            return false;
        }
        if one == other {
            return true;
        }
        let (one, other) = (self.get(one), self.get(other));
        if one.locks & other.locks != other.locks {
            return false;
        }
        // Drivers still free to do what the other's do; a bit each.
        let (mut waiting, mut done) = (Free::all(&one.waiting), Free::all(&one.done));
        let mut score = score;
        let mut bought = Vec::new();
        let wanted = other.waiting.iter().map(|open| (open, false)).chain(other.done.iter().map(|open| (open, true)));
        for (open, is_done) in wanted {
            if !(is_done && done.take(open) || waiting.take(open)) {
                score = (score.0 + self.classes[open.class].dearest, score.1 + ONE_DRIVER);
                if score > than {
                    return false;
                }
                if !self.counted.is_empty() {
                    bought.push(self.classes[open.class].place);
                }
            }
        }
        self.counted.iter().zip(one.rooms.iter().zip(&other.rooms)).all(|(place, (own, others))| {
            usize::from(*own) + bought.iter().filter(|bought| *bought == place).count() <= usize::from(*others)
        })
    }
}

/// Open drivers of which some are spoken for.
struct Free<'o> {
    all: &'o [Open],
    /// A bit for each that is spoken for; those beyond the bits are not looked at.
    taken: u64,
}

impl<'o> Free<'o> {
    fn all(all: &'o [Open]) -> Self {
        Self { all, taken: 0 }
    }

    /// Speaks for one that does all that the wanted one does.
    fn take(&mut self, wanted: &Open) -> bool {
        let found = (self.all.iter().take(64).enumerate())
            .position(|(index, open)| self.taken & (1 << index) == 0 && open.covers(wanted));
        found.is_some_and(|index| {
            self.taken |= 1 << index;
            true
        })
    }
}
