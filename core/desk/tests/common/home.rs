//! A home folder for a test, removed afterwards, with a clock that a test moves.

use std::path::PathBuf;
use std::sync::atomic::{AtomicI64, AtomicUsize, Ordering};

use desk::sites::Sites;

static COUNT: AtomicUsize = AtomicUsize::new(0);
static NOW: AtomicI64 = AtomicI64::new(1_900_000_000_000);

/// Each look at this clock is a second later.
pub fn clock() -> i64 {
    NOW.fetch_add(1000, Ordering::Relaxed)
}

/// A folder of its own.
pub struct Home(pub PathBuf);

impl Home {
    /// A folder that is not there yet, for a device on which this person works.
    pub fn of(person: &str) -> Self {
        let n = COUNT.fetch_add(1, Ordering::Relaxed);
        let home = Self(std::env::temp_dir().join(format!("newel-home-{}-{n}", std::process::id())));
        desk::sites::rename_device(&home.0, Some(person), Some("a tablet")).expect("a home folder");
        home
    }

    /// Opens it to write.
    pub fn open(&self) -> Sites {
        Sites::open(&self.0, clock).expect("a store")
    }

    /// A file outside, where people keep what they export.
    pub fn outside(&self, name: &str) -> PathBuf {
        let folder = self.0.with_extension("outside");
        std::fs::create_dir_all(&folder).expect("a folder");
        folder.join(name)
    }
}

impl Drop for Home {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
        let _ = std::fs::remove_dir_all(self.0.with_extension("outside"));
    }
}
