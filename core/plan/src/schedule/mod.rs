//! Schedules of a plan: cables, cuts over reels, drilling, parts and tests, all read off the layout and the circuits.
//!
//! References are our own: driver `D1`, its outputs `D1.1`, `D1.2`, the circuit on an output `D1.1a`. Cables carry the
//! figures of what they serve behind a letter: mains lead `M1` to driver `D1`; extension lead `E1.1a` and running cores
//! `R1.1a` of circuit `D1.1a`. Where a lead is plugged together from several, or running cores leave the way in both
//! ways, a number follows: `E1.1a-1` is the piece at the driver, `R1.1a-1` the arm towards the datum.
//! Chains of modules have a luminaire lead `L1.1a`, link leads `K1.1a-1`, `K1.1a-2` in the order in which current reaches
//! them, and a decoder `DC1.1a` where the colour can be set.

pub(crate) mod cables;
pub(crate) mod cutting;
pub(crate) mod decoders;
pub(crate) mod drilling;
pub(crate) mod end_caps;
mod module_cables;
mod module_parts;
mod module_tests;
pub(crate) mod parts;
pub(crate) mod reels;
mod test_lines;
pub(crate) mod tests_due;
