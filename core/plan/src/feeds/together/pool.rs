//! Drivers that are left open, the room taken, and which of two such states is the better.

use super::group::Class;
use crate::feeds::lead::Fine;
use crate::feeds::missing::Kept;

/// A driver with outputs and power left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Open {
    /// Index of its class.
    pub(super) class: u32,
    /// Outputs left.
    pub(super) outputs: u8,
    /// The rails that it feeds, a bit for each in the class's order.
    pub(super) used: u64,
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
            && self.used & other.used == self.used
            && self.left >= other.left
            && self.load <= other.load
            && self.paid >= other.paid
    }
}

/// Room used, locks kept, drivers left open.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Tally {
    /// For each counted place.
    pub(super) rooms: Vec<u8>,
    /// By rail, a bit for each lock that it keeps; none where no locks are counted.
    pub(super) locks: Vec<Kept>,
    /// Drivers that rails may still use, in order.
    pub(super) open: Vec<Open>,
}

impl Tally {
    /// Becomes another one, in the memory that this one has.
    pub(super) fn become_like(&mut self, other: &Self) {
        self.rooms.clone_from(&other.rooms);
        self.locks.clone_from(&other.locks);
        self.open.clone_from(&other.open);
    }

    /// Whether this is the same state; rooms are few, and told apart sooner one by one than as bytes of memory.
    fn is(&self, other: &Self) -> bool {
        self.rooms.iter().eq(&other.rooms) && self.locks.iter().eq(&other.locks) && self.open == other.open
    }

    /// A number that is the same for equal states, and seldom for others: products with an odd number of evenly spread
    /// bits (Knuth, *The Art of Computer Programming*, volume 3, section 6.4; from memory).
    fn print(&self) -> u64 {
        let mix = |print: u64, part: u64| (print.rotate_left(26) ^ part).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        let rooms = self.rooms.iter().fold(0, |print, own| mix(print, u64::from(*own)));
        let locks = self.locks.iter().fold(rooms, |print, own| mix(print, u64::from(*own)));
        self.open.iter().fold(locks, |print, own| {
            let print = mix(print, u64::from(own.class) << 8 | u64::from(own.outputs));
            let power = mix(mix(print, own.used), own.left.cast_unsigned());
            mix(mix(power, own.load.cast_unsigned()), own.paid.cast_unsigned())
        })
    }

    /// Puts a driver among the open ones.
    pub(super) fn insert(&mut self, one: Open) {
        let at = self.open.partition_point(|known| *known < one);
        self.open.insert(at, one);
    }
}

/// Cost, then drivers, then chains.
pub(super) type Score = (Fine, u32);
pub(super) const ONE_DRIVER: u32 = 1 << 16;
pub(super) const ONE_CHAIN: u32 = 1;

/// States met so far; partial schemes name them by index.
pub(super) struct Tallies<'g> {
    classes: &'g [Class],
    /// Places counted.
    counted: &'g [usize],
    list: Vec<Tally>,
    /// By state, its print.
    prints: Vec<u64>,
    /// States where their prints point, else in the next free place; [`NONE`] where there is none. A power of two of
    /// places, at most half of them taken.
    slots: Vec<u32>,
}

/// No state.
const NONE: u32 = u32::MAX;

impl<'g> Tallies<'g> {
    pub(super) fn new(classes: &'g [Class], counted: &'g [usize]) -> Self {
        Self { classes, counted, list: Vec::new(), prints: Vec::new(), slots: vec![NONE; 64] }
    }

    pub(super) fn get(&self, index: u32) -> &Tally {
        &self.list[index as usize]
    }

    /// Index of a state.
    pub(super) fn index(&mut self, tally: &Tally) -> u32 {
        let print = tally.print();
        let slot = self.slot(print, Some(tally));
        if self.slots[slot] != NONE {
            return self.slots[slot];
        }
        let index = self.list.len() as u32;
        self.slots[slot] = index;
        self.list.push(tally.clone());
        self.prints.push(print);
        if self.list.len() * 2 > self.slots.len() {
            self.slots = vec![NONE; self.slots.len() * 2];
            for index in 0..self.list.len() {
                let slot = self.slot(self.prints[index], None);
                self.slots[slot] = index as u32;
            }
        }
        index
    }

    /// Where a state with this print is, or the free place where it belongs; no known state is looked for where none is
    /// given.
    fn slot(&self, print: u64, tally: Option<&Tally>) -> usize {
        let last = self.slots.len() - 1;
        let mut slot = (print >> 32) as usize & last;
        loop {
            let is =
                |index: usize| self.prints[index] == print && tally.is_some_and(|tally| self.list[index].is(tally));
            if self.slots[slot] == NONE || is(self.slots[slot] as usize) {
                return slot;
            }
            slot = (slot + 1) & last;
        }
    }

    /// Whether a partial scheme in one state still costs no more than one in another state when every open driver of the
    /// other that it lacks is bought.
    ///
    /// It would be bought when the other's completion takes it up: a fresh driver of its class costs no more than the
    /// dearest and can do no less.
    pub(super) fn beats(&self, one: (Score, u32), other: (Score, u32)) -> bool {
        self.beats_with(one, other, None)
    }

    /// The same where the first takes room for one driver more at a place.
    pub(super) fn beats_with(
        &self,
        (score, one): (Score, u32),
        (than, other): (Score, u32),
        taken: Option<usize>,
    ) -> bool {
        if score > than {
            return false;
        }
        let taken = taken.filter(|place| self.counted.contains(place));
        if one == other && taken.is_none() {
            return true;
        }
        let (one, other) = (self.get(one), self.get(other));
        if one.locks.iter().zip(&other.locks).any(|(own, wanted)| own & wanted != *wanted) {
            return false;
        }
        // Drivers still free to do what the other's do; a bit each.
        let mut free = Free { all: &one.open, taken: 0 };
        let mut score = score;
        let mut bought: Vec<usize> = taken.into_iter().collect();
        for open in &other.open {
            if !free.take(open) {
                let class = &self.classes[open.class as usize];
                score = (score.0 + class.dearest, score.1 + ONE_DRIVER);
                if score > than {
                    return false;
                }
                if !self.counted.is_empty() {
                    bought.push(class.place);
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

impl Free<'_> {
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
