//! Feeds of one rail: which drivers stand where, which chains their outputs feed, with which leads; proved cheapest.
//!
//! # Model
//! Luminaires `1 … n` lie in order of chainage `x`. A *chain* is a contiguous stretch `i … j` fed by one driver output
//! through one extension lead (along one path, to one way in `w`) and from `w` by running cores of one part, along a
//! left arm (luminaires at or below `w`), a right arm (at or above `w`) or both. No arm crosses a blocked stretch. `w`
//! may lie outside the chain; then the arm passes luminaires of other chains without a loop there.
//!
//! Length of an arm to luminaire `k` = `|x_k − x_w|` + loop × (luminaires served up to and with `k`).
//!
//! A *driver* is a part at a place; its chains cover a contiguous block, so that a block can be isolated as one
//! stretch, and no more of them than it has outputs.
//!
//! # Constraints
//! With `U_lo`, `U_hi` the ends of the source's tolerance and `L_k = max(nominal × (1 − allowed drop), least_k)`:
//! - volts at every channel of every luminaire, at `U_lo`, warm, everything at full output, solved as a network: `≥ L_k`;
//! - `U_hi ≤ greatest_k`: with neighbours off the lead gives no help;
//! - worst current of a luminaire `a_k` = sum over channels of: `I` (constant current), `P / L_k` (constant power: no
//!   luminaire of a scheme that passes sees less than `L_k`), `U_hi / R` (resistance: without the help of the drop);
//!   worst power `p_k` = sum of `U_hi · I`, `U_lo · P / L_k`, `U_hi² / R`. Both bound what the network draws;
//! - per chain `Σ a ≤` output limit, lead, plug; per arm `Σ a ≤` run; per driver `Σ p ≤ rated × share × (1 − reserve)`;
//! - short at an arm's far end: the driver holds it to a current that lead, plug and run carry, or
//!   `U_lo / (2 × ohms of one conductor to the far end) ≥ k · I_n` of the fuse;
//! - room at places; locks.
//!
//! # Objective
//! Least `Σ drivers (price + mounting + enclosure + mains lead) + Σ chains (lead + laying + ends + plugs + per chain +
//! arms × per arm + metres of run × (price × lengths + threading))`. Ties: fewest drivers, fewest chains, then the
//! lowest indexes. Metres are charged exactly (micrometres × ten-thousandths) and the sum is rounded once.

mod bound;
mod chains;
mod charge;
mod check;
pub(crate) mod choose;
mod help;
pub(crate) mod lead;
mod mend;
mod missing;
pub mod problem;
pub(crate) mod rail;
mod reach;
pub mod scheme;
pub(crate) mod side_by_side;
mod solve;
pub(crate) mod source;
mod spans;
pub(crate) mod stand;
pub(crate) mod table;
mod tee;
pub mod together;

pub use problem::*;
pub use scheme::*;
pub use together::{Shared, Together, solve_together, solve_together_within};

/// The cheapest way to feed a rail, or what stands in the way.
#[must_use]
pub fn solve(problem: &Problem) -> Outcome {
    solve_finely(problem).0
}

/// The same with the cost before rounding, zero where there is no scheme.
fn solve_finely(problem: &Problem) -> (Outcome, lead::Fine) {
    let faults = check::faults(problem);
    if !faults.is_empty() {
        return (Outcome::Refused(faults), 0);
    }
    solved(problem).unwrap_or_else(|| (Outcome::Infeasible(help::explain(problem)), 0))
}

/// The same for a readable problem where there is a scheme.
fn solved(problem: &Problem) -> Option<(Outcome, lead::Fine)> {
    let prepared = solve::Prepared::of(problem, 0.0);
    let (cost, scheme) = prepared.best()?;
    let mend = mend::mend(problem, &prepared.limits, &scheme);
    Some((Outcome::Solved(Solved { lower_bound: scheme.cost, scheme, mend }), cost))
}
