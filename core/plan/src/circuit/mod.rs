//! Direct-current networks of a chain, conductor by conductor: resistances, the exact solution and its checks.
//!
//! A chain is radial: one driver output, conductors that run out from it and may branch, and loads between a channel
//! conductor and the common conductor. [`Network`] is that chain as plain data, [`solve`] finds every voltage and
//! current in time proportional to the number of stations, [`Ladder`] answers the same question for a plain two-core
//! chain without building the network, [`case`] says under which conditions a chain is checked, and [`short`] what a
//! short at the far end does.

mod block;
pub mod case;
pub mod conductor;
pub mod ladder;
pub mod network;
pub mod report;
pub mod short;
pub mod solve;
mod sweep;

pub use case::{Case, Conditions, SourceTolerance, Temperatures};
pub use conductor::{Coating, ConductorClass};
pub use ladder::{ConstantCurrentChain, Ladder, LadderResult, Rung};
pub use network::{Branch, BranchKind, CommonSide, Conductor, Fault, Load, LoadModel, Network, Place, Station, Wiring};
pub use report::{CircuitReport, report};
pub use short::{OverloadBehaviour, ShortOutcome, far_end_short};
pub use solve::{LoadDuty, Reason, Solution, Unsolved, solve};
