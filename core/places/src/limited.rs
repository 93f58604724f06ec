//! A place that is used no faster than somebody allows.

use std::sync::{Mutex, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

use exchange::place::{Entry, Place, PlaceError, Span};

use crate::{Fault, Stop};

/// For so long a stop is waited for at most.
const LOOK_EVERY: Duration = Duration::from_millis(50);

/// A place with a limit on its bytes a second, both ways together. Each file is carried at once and paid for before the
/// next one, so that it holds over some files, not within one.
pub struct Limited<P> {
    place: P,
    bytes_per_second: u64,
    /// When what was carried so far is paid for.
    free: Mutex<Instant>,
    stop: Stop,
}

impl<P: Place> Limited<P> {
    /// A place with a limit, at least one byte a second.
    pub fn new(place: P, bytes_per_second: u64) -> Self {
        Self::until(place, bytes_per_second, &Stop::default())
    }

    /// The same; `stop` ends all waiting.
    pub(crate) fn until(place: P, bytes_per_second: u64, stop: &Stop) -> Self {
        let free = Mutex::new(Instant::now());
        Self { place, bytes_per_second: bytes_per_second.max(1), free, stop: stop.clone() }
    }

    /// The place itself.
    pub fn inner(&self) -> &P {
        &self.place
    }

    /// Ends all waiting, now and later: what is asked from now on fails at once.
    pub fn stop(&self) {
        self.stop.stop();
    }

    /// Waits until what was carried before is paid for.
    fn wait(&self, path: &str) -> Result<(), PlaceError> {
        loop {
            if self.stop.is_stopped() {
                return Err(Fault::Stopped.at(path.to_owned()));
            }
            let free = *self.free.lock().unwrap_or_else(PoisonError::into_inner);
            match free.checked_duration_since(Instant::now()) {
                None | Some(Duration::ZERO) => return Ok(()),
                Some(left) => thread::sleep(left.min(LOOK_EVERY)),
            }
        }
    }

    fn pay(&self, bytes: usize) {
        let cost = Duration::from_secs_f64(bytes as f64 / self.bytes_per_second as f64);
        let mut free = self.free.lock().unwrap_or_else(PoisonError::into_inner);
        *free = (*free).max(Instant::now()) + cost;
    }
}

impl<P: Place> Place for Limited<P> {
    fn list(&self, folder: &str) -> Result<Vec<Entry>, PlaceError> {
        self.wait(folder)?;
        self.place.list(folder)
    }

    fn read(&self, path: &str, span: Span) -> Result<Vec<u8>, PlaceError> {
        self.wait(path)?;
        let bytes = self.place.read(path, span)?;
        self.pay(bytes.len());
        Ok(bytes)
    }

    fn read_into(&self, path: &str, span: Span, bytes: &mut Vec<u8>) -> Result<(), PlaceError> {
        self.wait(path)?;
        self.place.read_into(path, span, bytes)?;
        self.pay(bytes.len());
        Ok(())
    }

    fn write_new(&self, path: &str, bytes: &[u8]) -> Result<(), PlaceError> {
        self.wait(path)?;
        // Paid for first, so that several threads do not all begin at once.
        self.pay(bytes.len());
        self.place.write_new(path, bytes)
    }

    fn delete(&self, path: &str) -> Result<(), PlaceError> {
        self.wait(path)?;
        self.place.delete(path)
    }
}
