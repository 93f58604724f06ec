//! Layout of linear modules: clear lengths of slotted tube filled for the greatest lit length.
//!
//! # Model
//! A *room* is a clear length of straight slotted tube between two obstructions. It takes a row of modules of one make,
//! of the lengths in stock `l_1 … l_m`, with the maker's joint allowance `g` between neighbours: counts `n_i` fit a room
//! `R` where `Σ n_i (l_i + g) − g ≤ R`.
//!
//! # Objective
//! For every room by itself, in this order: greatest lit length `Σ n_i l_i`, fewest pieces `Σ n_i`, least price; then the
//! most even ends: the row stands in the middle of its room (to half a millimetre where the room has one), and the same
//! read from either end wherever at most one length has an odd count. Rooms share nothing, so the best of each is the best
//! of all.
//!
//! # Method
//! [`fill`] is exact: a dynamic programme over lengths in the greatest unit that divides every `l_i + g`, time and memory
//! `O(m · R / unit)` for the longest room, once for a whole rail. The unit is 0.5 mm for lengths in half millimetres.
//! Where it would be so fine that the table passes [`fill::MOST_CELLS`], lengths are rounded up to a coarser unit: the row
//! still fits, and what may be lost is less than one such unit for each piece (0.15 mm in a room of 60 m).

mod arrange;
mod clips;
pub mod fill;

pub use clips::clips;
pub use fill::{Filler, Kind};

use units::Length;

/// A clear length of tube.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Room {
    /// Chainage where it starts.
    pub from: Length,
    /// Chainage where it ends.
    pub to: Length,
}

/// A module in its place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Piece {
    /// Position of its length in the list of kinds.
    pub kind: usize,
    /// Chainage where it starts.
    pub start: Length,
    /// Chainage where it ends.
    pub end: Length,
}

/// Lays modules out in rooms: one list for each, by chainage. A room of no length, and a kind of no length, take none.
#[must_use]
pub fn lay_modules(rooms: &[Room], kinds: &[Kind], joint: Length) -> Vec<Vec<Piece>> {
    let longest = rooms.iter().map(|room| room.to - room.from).max().unwrap_or(Length::ZERO);
    let filler = Filler::of(kinds, joint, longest);
    rooms
        .iter()
        .map(|room| arrange::in_room(*room, &arrange::in_order(&filler.fill(room.to - room.from)), kinds, joint))
        .collect()
}

/// Lit length of a layout.
#[must_use]
pub fn lit_length(laid: &[Vec<Piece>]) -> Length {
    laid.iter().flatten().map(|piece| piece.end - piece.start).sum()
}
