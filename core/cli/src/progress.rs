//! Progress on standard error, one plain line at a time, and Ctrl-C.

use std::io::{self, IsTerminal, Write};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use desk::photos::{Go, Watch};

/// Nobody needs to be told about less.
const QUIET: Duration = Duration::from_millis(500);
/// Where the lines stay, as in a log, fewer are better.
const SELDOM: Duration = Duration::from_secs(5);

/// Says how far the work has come, and stops it when the person at the keyboard asks for it.
pub struct Progress {
    interrupted: Arc<AtomicBool>,
    told: Mutex<Instant>,
    every: Duration,
}

impl Progress {
    /// Until Ctrl-C, after which the work comes to its end by itself.
    ///
    /// # Errors
    /// The system does not let the program catch Ctrl-C.
    pub fn until_interrupted() -> Result<Self, Box<dyn std::error::Error>> {
        let interrupted = Arc::new(AtomicBool::new(false));
        let flag = Arc::clone(&interrupted);
        ctrlc::set_handler(move || flag.store(true, Ordering::Relaxed))?;
        let every = if io::stderr().is_terminal() { QUIET } else { SELDOM };
        Ok(Self { interrupted, told: Mutex::new(Instant::now()), every })
    }
}

impl Watch for Progress {
    fn step(&self, done: usize, all: usize, name: &str) -> Go {
        let mut told = self.told.lock().unwrap_or_else(PoisonError::into_inner);
        if told.elapsed() >= self.every && done < all {
            *told = Instant::now();
            // Where standard error is closed there is nobody to tell.
            let _ = writeln!(io::stderr(), "{done} of {all}  {} %  {name}", done * 100 / all.max(1));
        }
        if self.interrupted.load(Ordering::Relaxed) { Go::Stop } else { Go::On }
    }
}
