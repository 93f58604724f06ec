//! One behaviour suite for every place where a team's files may lie; a new place adds a file here that calls `suite::all`.

mod folder;
mod folding;
mod scratch;
mod suite;
#[allow(dead_code, reason = "the tests of places use the rest")]
#[path = "../team/mod.rs"]
mod team;
