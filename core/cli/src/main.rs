//! The `newel` command: a thin shell over `desk`.
fn main() {}
