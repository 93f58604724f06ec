//! Use cases and the wire types that cross to files, the window and the command line.

pub mod wire;
