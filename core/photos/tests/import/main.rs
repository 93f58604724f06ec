//! Importing: what is taken in, what is refused and why, and what is left after a kill or a power cut.

mod bad_input;
mod crash;
mod made;
mod memory;
mod power;
mod taking_in;
