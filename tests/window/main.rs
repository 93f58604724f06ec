//! The real window, driven: the built program under a screen of its own, asked as a person would ask it.

mod access;
mod catalogue;
mod estimator;
mod history;
mod installer;
mod journey;
mod keyboard;
#[allow(dead_code, reason = "the pictures use more of it")]
mod machine;
#[allow(dead_code, reason = "the pictures use more of it")]
mod page;
mod photos;
mod plan;
mod same;
mod shared;
mod sites;
mod stored;
mod surveyor;
