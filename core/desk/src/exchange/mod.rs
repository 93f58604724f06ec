//! The shared folder: a team's devices give each other what their stores hold, through a place that all of them reach.
//!
//! The engine (`exchange`) knows bytes, names and seals; the store (`record`) knows rows; here they meet. Whose changes
//! count is read from the log of members after each round and told to the store.

mod clock;
mod enter;
mod error;
mod keeper;
mod network;
mod parts;
mod pictures;
mod place;
mod rate;
mod round;
mod say;
mod secrets;
mod settings;
mod status;
mod team;
mod who;

pub use enter::{Seal, join_team, set_place, start_team};
pub use error::ExchangeError;
pub use keeper::Lend;
pub use network::{Networks, ThisMachine};
pub use places::{Stop, with_login};
pub use rate::rate;
pub use round::{Follow, Go, SoFar, Unfollowed, run};
#[cfg(test)]
pub(crate) use secrets::For;
pub(crate) use secrets::Secrets;
pub(crate) use status::InLittle;

/// Under this name the settings of a store keep where its team's files lie, and how that is reached.
const PLACE: &str = "exchange place";
/// Under this name an earlier release kept the path of the team's folder.
const ADDRESS: &str = "exchange address";
/// Under this name they keep which team was about to begin, until it has.
const FOUNDING: &str = "exchange founding";
/// Under this name they keep how the last round ended.
const LAST: &str = "exchange last round";
