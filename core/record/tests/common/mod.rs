//! What the tests of this crate share: dice, surveys thrown with them, devices and stores.
#![allow(dead_code, reason = "each test file uses a part of it")]

pub mod dice;
pub mod edits;
pub mod folder;
pub mod newer;
pub mod post;
pub mod things;

use survey::Survey;

/// A survey with features in the order of their chainage, in which a document gives them back.
#[must_use]
pub fn by_chainage(mut survey: Survey) -> Survey {
    for rail in &mut survey.rails {
        rail.features.sort_by(|a, b| (a.chainage.value, &a.id).cmp(&(b.chainage.value, &b.id)));
    }
    survey
}
