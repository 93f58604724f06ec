//! Floors under the cost of the rest of a rail whose locks have still to be kept, see [`super::bound`].
//!
//! A lock asks for a driver of its own, so what is still to be fed costs more the more locks are missing. Locks that the
//! same stands keep are one kind; a *state* is how many of each kind are missing, and each state has floors of its own:
//! the least over blocks that keep one of the missing locks, with the floors of what is then missing behind them, and over
//! blocks that keep none. Where there would be more states than are worth their memory, floors see fewer locks than there
//! are, which leaves them floors.

use super::bound::{BEYOND, Block, Floors, Known};
use super::lead::Fine;

/// States of one rail at most.
const MOST_STATES: usize = 64;
/// Cells of chain tables at most, each state counted.
const MOST_CELLS: usize = 1 << 21;

/// Locks kept, a bit for each.
pub(super) type Kept = u16;

/// The locks kept once another driver stands, each lock given by the stands that keep it: one that was missing besides,
/// where there is one. Of several it is the one that fewest stands keep; the stands of two locks lie within one another or
/// have nothing in common, so to keep that one is never worse: what the driver would keep instead, another one that keeps
/// it does.
pub(super) fn keep(locks: &[Vec<usize>], kept: Kept, stand: usize) -> Kept {
    let missing = locks.iter().enumerate().filter(|(lock, by)| kept & (1 << lock) == 0 && by.contains(&stand));
    missing.min_by_key(|(_, by)| by.len()).map_or(kept, |(lock, _)| kept | 1 << lock)
}

/// Every lock of so many.
pub(super) fn every(locks: usize) -> Kept {
    ((1_u32 << locks) - 1) as Kept
}

/// Locks that the same stands keep.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Kind {
    /// The stands.
    by: Vec<usize>,
    /// A bit for each lock.
    locks: Kept,
    /// How many missing ones floors tell apart.
    most: usize,
    /// From one state to that with one more missing.
    step: usize,
}

impl Kind {
    /// How many are missing in a state.
    fn missing(&self, state: usize) -> usize {
        state / self.step % (self.most + 1)
    }
}

/// How the locks of a rail are told apart.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Kinds(Vec<Kind>);

impl Kinds {
    /// Of locks, each by the stands that keep it, on a rail whose chain tables have so many cells.
    pub(super) fn of(locks: &[Vec<usize>], cells: usize) -> Self {
        let mut kinds: Vec<Kind> = Vec::new();
        let most_states = MOST_STATES.min(MOST_CELLS / cells.max(1));
        for (lock, by) in locks.iter().enumerate() {
            match kinds.iter_mut().find(|kind| kind.by == *by) {
                Some(kind) => kind.locks |= 1 << lock,
                None => kinds.push(Kind { by: by.clone(), locks: 1 << lock, most: 0, step: 0 }),
            }
        }
        let mut states = 1;
        for kind in &mut kinds {
            kind.step = states;
            kind.most = (kind.locks.count_ones() as usize).min((most_states / states).saturating_sub(1));
            states *= kind.most + 1;
        }
        kinds.retain(|kind| kind.most > 0);
        Self(kinds)
    }

    fn states(&self) -> usize {
        self.0.iter().map(|kind| kind.most + 1).product()
    }

    /// The state where these locks are kept.
    fn state(&self, kept: Kept) -> usize {
        let missing = |kind: &Kind| ((kind.locks & !kept).count_ones() as usize).min(kind.most);
        self.0.iter().map(|kind| missing(kind) * kind.step).sum()
    }

    /// For each kind of which one is missing, the stands that keep it and the state then.
    fn kept(&self, state: usize) -> impl Iterator<Item = (&[usize], usize)> {
        self.0.iter().filter(move |kind| kind.missing(state) > 0).map(move |kind| (&kind.by[..], state - kind.step))
    }
}

/// Floors of one rail by the locks that are missing.
pub(super) struct LockFloors {
    kinds: Kinds,
    by_state: Vec<Floors>,
}

impl LockFloors {
    pub(super) fn of(count: usize, known: Known<'_>, kinds: &Kinds) -> Self {
        let by_state = (0..kinds.states()).map(|_| Floors::unknown(count, known)).collect();
        Self { kinds: kinds.clone(), by_state }.again(known)
    }

    /// Floors with other charges, in the place of these.
    pub(super) fn again(self, known: Known<'_>) -> Self {
        let Self { kinds, by_state } = self;
        let mut done: Vec<Floors> = Vec::with_capacity(by_state.len());
        for (state, floors) in by_state.into_iter().enumerate() {
            let kept: Vec<(&[usize], &Floors)> = kinds.kept(state).map(|(by, state)| (by, &done[state])).collect();
            let end = if state == 0 { 0 } else { BEYOND };
            let floors = floors.again(known, end, &kept);
            done.push(floors);
        }
        Self { kinds, by_state: done }
    }

    /// Where these locks are kept.
    #[inline]
    pub(super) fn keeping(&self, kept: Kept) -> &Floors {
        if self.by_state.len() == 1 { self.none_missing() } else { &self.by_state[self.kinds.state(kept)] }
    }

    /// Where all locks are kept.
    #[inline]
    pub(super) fn none_missing(&self) -> &Floors {
        &self.by_state[0]
    }

    /// A floor under the whole rail.
    pub(super) fn whole(&self) -> Fine {
        self.by_state[self.by_state.len() - 1].rest[0]
    }

    /// The blocks of a way along the rail that costs no more than its floor.
    pub(super) fn way(&self, known: Known<'_>) -> Vec<Block> {
        let (mut first, mut blocks, mut state) = (0, Vec::new(), self.by_state.len() - 1);
        loop {
            let here = &self.by_state[state];
            let kept = self.kinds.kept(state).map(|(by, state)| (Some(by), state));
            let Some((block, next)) = std::iter::once((None, state))
                .chain(kept)
                .find_map(|(among, next)| Some((here.block(known, first, &self.by_state[next], among)?, next)))
            else {
                break;
            };
            (first, state) = (block.end, next);
            blocks.push(block);
        }
        blocks
    }
}
