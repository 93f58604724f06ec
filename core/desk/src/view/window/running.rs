//! Something that takes its time, of which one at a time may run: whoever lets go of it ends it, and a person can stop it.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex};

use super::held;
use crate::view::wire::Refusal;

/// What stops it; `None` while nothing runs.
pub(super) type Stop = Mutex<Option<Arc<AtomicBool>>>;

/// Stops what runs there; where nothing does, nothing happens.
pub(super) fn stop(running: &Stop) {
    if let Some(stop) = &*held(running) {
        stop.store(true, Ordering::Relaxed);
    }
}

/// The one that runs.
pub(super) struct Running<'a> {
    slot: &'a Stop,
    /// Set once a person has stopped it.
    pub stop: Arc<AtomicBool>,
}

impl<'a> Running<'a> {
    /// Each has a flag of its own, so that a late stop never meets the next one. `why_not` is said while one runs.
    pub fn begin(slot: &'a Stop, why_not: &str) -> Result<Self, Refusal> {
        let mut running = held(slot);
        if running.is_some() {
            return Err(Refusal::of(why_not));
        }
        let stop = Arc::default();
        *running = Some(Arc::clone(&stop));
        Ok(Self { slot, stop })
    }
}

impl Drop for Running<'_> {
    fn drop(&mut self) {
        *held(self.slot) = None;
    }
}
