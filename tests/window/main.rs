//! The real window, driven: the built program under a screen of its own, asked as a person would ask it.

mod journey;
mod machine;
mod page;
mod plan;
