//! From a survey and a catalogue to a layout, feeds, circuits and schedules; pure, and the same on every machine.

pub mod document;

pub use document::*;
