//! Who takes part: a log of signed entries, each naming those it builds on, from which everybody who holds the same
//! entries reads the same team, in whatever order they came.

mod code;
mod entry;
mod join;
mod keys;
mod log;
mod verdict;

pub use code::{Code, CodeError};
pub(crate) use entry::hash;
pub use entry::{Body, Entry, Label, Newcomer};
pub use join::Join;
pub(crate) use join::newcomer;
pub use keys::Ring;
pub(crate) use keys::fresh_key;
pub use log::{Log, Member, Removed, Team};
pub use verdict::{Item, Verdict, verdicts};

/// The hash of an entry.
pub type Hash = [u8; 32];
