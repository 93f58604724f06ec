//! Use cases and the wire types that cross to files, the window and the command line.

pub mod check;
pub mod day;
pub mod demo;
#[cfg(feature = "store")]
pub mod edit;
#[cfg(feature = "store")]
pub mod exchange;
pub mod fault;
#[cfg(feature = "store")]
pub mod generated;
#[cfg(feature = "store")]
mod hex;
#[cfg(feature = "store")]
mod keyring;
pub mod outputs;
#[cfg(feature = "parts")]
pub mod parts;
#[cfg(feature = "store")]
pub mod photos;
pub mod planned;
#[cfg(feature = "store")]
mod private;
pub mod read;
pub mod safe;
#[cfg(feature = "store")]
pub mod sites;
#[cfg(feature = "store")]
pub mod view;
pub mod wire;

pub use check::{Checked, check_survey};
pub use fault::{Fault, Faults};
#[cfg(feature = "store")]
pub use keyring::use_platform as use_platform_keyring;
pub use outputs::{OutputError, Paper, write_outputs};
pub use planned::{Planned, plan_files};
pub use read::{read_catalogue, read_survey};

/// A value as JSON for people and programs: indented, with a line break at its end.
#[must_use]
pub fn json_text(value: &impl serde::Serialize) -> String {
    // Our own types have text keys and finite numbers, the two things that this can fail on.
    let mut text = serde_json::to_string_pretty(value).unwrap_or_default();
    text.push('\n');
    text
}
