//! What the outside checks share: where fixtures are, the plan document as JSON, a circuit simulator, other programs.

pub mod ngspice;
pub mod outside;
pub mod tree;
