//! How much memory an import may use: shared among its hands, so that two large photos wait for each other.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};

/// The greatest file that is taken in, bytes.
pub const MOST_FILE_BYTES: u64 = 128 << 20;
/// What unpacked pictures may use together, bytes; a picture that needs more is kept without a preview.
pub const MOST_PICTURE_BYTES: u64 = 512 << 20;

/// The greatest memory of an import, bytes: each hand holds one file and at most one copy of its EXIF block (a TIFF is
/// one such block), all share the unpacked pictures, and 64 MiB are for everything else.
#[must_use]
pub const fn bound(hands: u64) -> u64 {
    hands * 2 * MOST_FILE_BYTES + MOST_PICTURE_BYTES + (64 << 20)
}

/// A shared amount of memory.
pub(crate) struct Budget {
    left: Mutex<u64>,
    freed: Condvar,
}

/// A part of the budget; gives it back when dropped.
pub(crate) struct Part<'a> {
    budget: &'a Budget,
    bytes: u64,
}

impl Budget {
    pub(crate) const fn new() -> Self {
        Self { left: Mutex::new(MOST_PICTURE_BYTES), freed: Condvar::new() }
    }

    /// Waits until so many bytes are free; `None` where they never will be.
    pub(crate) fn take(&self, bytes: u64) -> Option<Part<'_>> {
        if bytes > MOST_PICTURE_BYTES {
            return None;
        }
        let mut left = self.lock();
        while *left < bytes {
            left = self.freed.wait(left).unwrap_or_else(PoisonError::into_inner);
        }
        *left -= bytes;
        Some(Part { budget: self, bytes })
    }

    fn lock(&self) -> MutexGuard<'_, u64> {
        self.left.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Drop for Part<'_> {
    fn drop(&mut self) {
        *self.budget.lock() += self.bytes;
        self.budget.freed.notify_all();
    }
}
