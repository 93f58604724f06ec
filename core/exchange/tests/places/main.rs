//! One behaviour suite for every place where a team's files may lie; a new place adds a file here that calls `suite::all`.

mod folder;
mod scratch;
mod suite;
