//! A folder of a test, removed when it ends.

use std::path::PathBuf;
use std::sync::atomic::{AtomicU64, Ordering};

/// The folder.
pub struct Scratch(pub PathBuf);

impl Scratch {
    /// A fresh one.
    pub fn new() -> Self {
        static NEXT: AtomicU64 = AtomicU64::new(0);
        let n = NEXT.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("exchange-place-{}-{n}", std::process::id()));
        std::fs::create_dir_all(&path).expect("a folder for the test");
        Self(path)
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}
