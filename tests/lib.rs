//! What the outside checks share: where fixtures are, the plan document as JSON, a circuit simulator, other programs.

pub mod highs;
pub mod ngspice;
pub mod outside;
pub mod tree;
