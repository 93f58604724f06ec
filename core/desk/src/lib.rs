//! Use cases and the wire types that cross to files, the window and the command line.

pub mod fault;
pub mod read;
pub mod wire;

pub use fault::{Fault, Faults};
pub use read::{read_catalogue, read_survey};
