//! Feeds of linear modules on one rail: modules stand in series, so a chain runs one way from its feed; proved cheapest.
//!
//! # Model
//! Modules `1 … n` lie in order of chainage. A *chain* is a contiguous stretch `i … j` fed by one driver output into the
//! near end of its first module: `i` where it is *rising* (towards greater chainage), `j` where it is *falling*. From the
//! driver there are always an extension lead and a luminaire lead, never a luminaire alone:
//! - fixed colour: extension lead from the driver along a path to a way in; luminaire lead from there through the tube to
//!   the near end;
//! - variable colour: extension lead of two cores to a decoder beside the driver; luminaire lead with a core for the
//!   common and for each channel along the path, into the way in and through the tube to the near end.
//!
//! Within a chain neighbours are plugged together where they meet, and joined by a link lead across a bend, a joint, a post
//! or whatever else keeps them apart; each link is the cheapest make of its part that is long enough (one made-up lead, up
//! to three plugged together, or a cut from a reel), and all links of a chain are of one part. No lead crosses a stretch of
//! bore that is shut, and no luminaire lead passes modules behind which it has no room.
//!
//! A *driver* is a part at a place; its chains cover a contiguous block, and no more of them than it has outputs. A driver
//! with two outputs near the middle of its block feeds one chain each way.
//!
//! # Electrical model
//! A module's light is spread along its own through-conductors. All of its current is put in the middle of them, half of
//! their resistance before and half behind: with current `I` entering and `I − i` leaving, the drop along the module is
//! `R/2 · I + R/2 · (I − i)`, which is that of an evenly spread constant current exactly, `∫ R/ℓ · (I − i x/ℓ) dx`. So the
//! volts behind every module, and at the far end of a chain, are exact; the load's own volts are those of the module's far
//! end where it is the last, the lowest in its chain. (Power and resistance see those lower volts over their whole length,
//! a second-order matter: `tests/modules_spread.rs` compares.) All channels are alike, so that a chain is one ladder with
//! `R_channel + channels · R_common` in each section, and `2 · channels · R` before a decoder.
//!
//! # Constraints
//! With `U_lo`, `U_hi` the ends of the source's tolerance and `L = max(nominal × (1 − allowed drop), least)`:
//! - volts at every module at `U_lo`, warm, everything at full output: `≥ L`; and `U_hi ≤ greatest`;
//! - worst current of a module, all channels: `I`, `P / L`, `U_hi / R`; worst power `U_hi · I`, `U_lo · P / L`, `U_hi² / R`;
//! - per chain `Σ a ≤` output limit, every lead, plug and module connector; each channel `≤` the decoder's contact;
//! - per chain `Σ lengths ≤` the maker's longest chain, and no more than 128 modules;
//! - per driver `Σ p ≤ rated × share × (1 − reserve)`;
//! - short at the far end: the driver holds it to a current that every lead, plug, contact and connector carries, or
//!   `U_lo / loop ohms ≥ k · I_n` of the fuse;
//! - room at places; locks; the wish for where feeds are.
//!
//! # Objective
//! Least `Σ drivers (price + mounting + enclosure + mains lead) + Σ chains (extension lead + decoder with its connection
//! and enclosure + luminaire lead + links + laying along paths + threading in the tube + per chain)`. Ties: fewest drivers,
//! fewest chains, then the lowest indexes. Modules and clips are the layout's and cost the same however they are fed.
//!
//! # Method
//! Every stretch `(i, j)` of modules is worked out once, from its far end to its near one, with the volts and the current
//! that just light it ([`stretch`]). Every chain `(i, j)` of every place and kind of driver gets its cheapest make from the
//! unbeaten feeds of its near end, cheapest first; as a chain grows they are gone through once ([`chains`]), in time
//! `O(tables · n · headings · (K · links + feeds))` with `K` the most modules of a chain. The choice over chains is the one
//! of points ([`crate::feeds::rail`]), and rails that share places are looked at together as those of points are
//! ([`crate::feeds::together`]). All are exact, so that the lower bound of a rail by itself is its cost.

mod chains;
mod cost;
mod draws;
mod feed;
mod leads;
mod links;
pub mod problem;
mod reach;
mod relief;
pub mod scheme;
mod solve;
mod stretch;
mod together;

use crate::feeds::lead::Fine;

pub use problem::*;
pub use scheme::*;
pub use together::{solve_together, solve_together_within};

/// The cheapest way to feed the modules of a rail, or what stands in the way.
#[must_use]
pub fn solve(problem: &Problem) -> Outcome {
    solve_finely(problem).0
}

/// The same with the cost before rounding, zero where there is no scheme.
fn solve_finely(problem: &Problem) -> (Outcome, Fine) {
    solved(problem).unwrap_or_else(|| (Outcome::Infeasible(relief::explain(problem)), 0))
}

/// The same where there is a scheme.
fn solved(problem: &Problem) -> Option<(Outcome, Fine)> {
    if problem.modules.is_empty() {
        return Some((Outcome::Solved(Scheme::default()), 0));
    }
    solve::finely(problem, solve::Volts::Kept).map(|(cost, scheme)| (Outcome::Solved(scheme), cost))
}
