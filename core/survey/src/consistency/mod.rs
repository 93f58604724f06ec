//! The survey’s own findings: what does not add up while the surveyor still stands there.

mod bends;
mod closure;
mod extent;
mod tube;

use crate::{Finding, Rail, Survey};

/// Every consistency finding of a survey, in the order of [`Finding::order`].
#[must_use]
pub fn findings(survey: &Survey) -> Vec<Finding> {
    let mut found: Vec<Finding> = survey.rails.iter().flat_map(of_rail).collect();
    found.sort_by(Finding::order);
    found
}

/// The consistency findings of one rail, in the order of [`Finding::order`].
#[must_use]
pub fn of_rail(rail: &Rail) -> Vec<Finding> {
    let mut found = Vec::new();
    found.extend(closure::closure(rail));
    extent::features_within(rail, &mut found);
    extent::overlaps(rail, &mut found);
    bends::taped_against_radius(rail, &mut found);
    tube::sizes(rail, &mut found);
    found.sort_by(Finding::order);
    found
}

/// Millimetres as people read them, to the tenth.
fn mm(length: units::Length) -> String {
    length.to_tenth_mm().to_string()
}
