//! From a survey and a catalogue to a layout, feeds, circuits and schedules; pure, and the same on every machine.

pub mod document;
pub mod feeds;

pub use document::*;

pub mod circuit;
pub mod layout;
