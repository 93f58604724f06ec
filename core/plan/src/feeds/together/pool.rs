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

/// What one state lacks of another: what it costs to buy that, and how many drivers.
pub(super) type Lack = (Fine, u32);

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
    pub(super) fn index(&mut self, tally: Tally, group: &Readied<'_>, weights: &[Weights], rail: usize) -> u32 {
        if let Some(index) = self.known.get(&tally) {
            return *index;
        }
        let worth = |open: &Open, from| group.credit(open.class, weights[open.class], (open.outputs, open.left), from);
        let waiting: Fine = tally.waiting.iter().map(|open| worth(open, rail)).sum();
        let done: Fine = tally.done.iter().map(|open| worth(open, rail + 1)).sum();
        let index = self.list.len() as u32;
        self.known.insert(tally.clone(), index);
        self.list.push((tally, waiting + done));
        index
    }

    /// What it costs to make one state do all that another does, `None` where nothing does.
    ///
    /// An open driver that is missing is bought when the other's completion takes it up: a fresh driver of its class costs
    /// no more than the dearest and can do no less.
    pub(super) fn lack(&self, one: u32, other: u32) -> Option<Lack> {
        if one == other {
            return Some((0, 0));
        }
        let (one, other) = (self.get(one), self.get(other));
        if one.locks & other.locks != other.locks {
            return None;
        }
        let mut lack = (0, 0);
        if !(other.waiting.is_empty() && other.done.is_empty()) {
            lack = self.missing(one, other)?;
        } else if one.rooms.iter().zip(&other.rooms).any(|(a, b)| a > b) {
            return None;
        }
        Some(lack)
    }

    fn missing(&self, one: &Tally, other: &Tally) -> Option<Lack> {
        let mut rooms = one.rooms.clone();
        let (mut waiting, mut done) = (one.waiting.clone(), one.done.clone());
        let mut lack = (0, 0);
        let take = |own: &mut Vec<Open>, wanted: &Open| {
            let found = own.iter().position(|open| open.covers(wanted));
            found.map(|index| own.remove(index)).is_some()
        };
        let wanted = other.waiting.iter().map(|open| (open, true)).chain(other.done.iter().map(|open| (open, false)));
        for (open, is_waiting) in wanted {
            if !is_waiting && take(&mut done, open) || take(&mut waiting, open) {
                continue;
            }
            let class = &self.classes[open.class];
            lack = (lack.0 + class.dearest, lack.1 + 1);
            if let Some(counted) = self.counted.iter().position(|place| *place == class.place) {
                rooms[counted] = rooms[counted].saturating_add(1);
            }
        }
        rooms.iter().zip(&other.rooms).all(|(a, b)| a <= b).then_some(lack)
    }
}
