//! Importing: what is taken in, what is refused and why, and what is left after a kill.

mod bad_input;
mod crash;
mod made;
mod memory;
mod taking_in;
