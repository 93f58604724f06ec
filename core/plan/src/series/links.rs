//! Link leads between modules that do not meet.

use super::cost::{Fine, metres};
use super::leads::Maker;
use super::problem::{Gap, Problem};
use crate::feeds::LeadPieces;

/// The make of a link across one gap by one part.
pub(super) struct LinkMake {
    pub(super) pieces: LeadPieces,
    pub(super) ohms: f64,
    pub(super) cost: Fine,
}

/// Links of every part across every gap; `None` where the gap needs none or the part makes none.
pub(super) struct Links {
    /// By part, then by gap.
    pub(super) makes: Vec<Vec<Option<LinkMake>>>,
    /// Current that cores and plugs carry, by part, microamperes.
    pub(super) carries: Vec<i64>,
}

impl Links {
    pub(super) fn of(problem: &Problem) -> Self {
        let makers: Vec<Maker<'_>> = problem.links.iter().map(Maker::of).collect();
        let make = |maker: &Maker<'_>, gap: &Gap| match gap {
            Gap::Plugged | Gap::Shut => None,
            Gap::Linked { length } => maker.makes(*length).next().map(|make| LinkMake {
                cost: make.cost + metres(problem.costs.thread_per_metre, *length),
                pieces: maker.pieces(*length, make.combination),
                ohms: make.ohms,
            }),
        };
        Self {
            makes: makers.iter().map(|maker| problem.gaps.iter().map(|gap| make(maker, gap)).collect()).collect(),
            carries: makers.iter().map(|maker| maker.carries).collect(),
        }
    }
}
