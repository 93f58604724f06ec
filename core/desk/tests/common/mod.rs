//! A good survey and a good catalogue, to be spoilt one way at a time.

#[allow(dead_code, reason = "each test file uses its own share of this module")]
pub mod card;
#[allow(dead_code, reason = "each test file uses its own share of this module")]
pub mod from_schema;
#[allow(dead_code, reason = "each test file uses its own share of this module")]
#[cfg(feature = "store")]
pub mod home;
#[allow(dead_code, reason = "each test file uses its own share of this module")]
pub mod killed;
#[allow(dead_code, reason = "each test file uses its own share of this module")]
#[cfg(feature = "store")]
pub mod open;
#[allow(dead_code, reason = "each test file uses its own share of this module")]
#[cfg(feature = "store")]
pub mod team;

/// A survey without a fault.
#[allow(dead_code, reason = "each test file uses its own share of this module")]
pub const SURVEY: &str = include_str!("../files/survey.json");
/// A catalogue without a fault.
#[allow(dead_code, reason = "each test file uses its own share of this module")]
pub const CATALOGUE: &str = include_str!("../files/catalogue.toml");

#[allow(dead_code, reason = "each test file uses its own share of this module")]
/// A good file with one thing changed; what is changed has to be there exactly once.
pub fn spoilt(good: &str, from: &str, to: &str) -> String {
    assert_eq!(good.matches(from).count(), 1, "{from:?} stands once in the good file");
    good.replace(from, to)
}
