//! From a survey and a catalogue to a layout, feeds, circuits and schedules; pure, and the same on every machine.

pub mod circuit;
pub mod document;
pub mod feeds;
pub mod identity;
pub mod ingress;
pub mod layout;
mod memory;
pub mod series;

mod build;
mod controls;
mod schedule;

pub use build::{plan, plan_with};
pub use document::*;
pub use memory::Memory;
