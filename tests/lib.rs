//! What the outside checks share: where fixtures are, the plan document as JSON, and a circuit simulator.

pub mod ngspice;
pub mod tree;
