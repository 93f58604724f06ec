//! Progress on standard error, one plain line at a time, and Ctrl-C.

use std::io::{self, IsTerminal, Write};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};
use std::time::{Duration, Instant};

use desk::exchange::{self, Follow, SoFar};
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
        Ok(Self { interrupted: interrupted()?, told: Mutex::new(Instant::now()), every: every() })
    }
}

/// How often a line is due.
fn every() -> Duration {
    if io::stderr().is_terminal() { QUIET } else { SELDOM }
}

/// Set once Ctrl-C was pressed, whichever part of a command is at work.
fn interrupted() -> Result<Arc<AtomicBool>, Box<dyn std::error::Error>> {
    static FLAG: OnceLock<Arc<AtomicBool>> = OnceLock::new();
    if let Some(flag) = FLAG.get() {
        return Ok(Arc::clone(flag));
    }
    let flag = Arc::new(AtomicBool::new(false));
    let set = Arc::clone(&flag);
    ctrlc::set_handler(move || set.store(true, Ordering::Relaxed))?;
    Ok(Arc::clone(FLAG.get_or_init(|| flag)))
}

/// Says how far a round of the exchange has come, and stops it when the person at the keyboard asks for it.
pub struct Round {
    interrupted: Arc<AtomicBool>,
    told: Instant,
    every: Duration,
}

impl Round {
    /// Until Ctrl-C.
    ///
    /// # Errors
    /// The system does not let the program catch Ctrl-C.
    pub fn until_interrupted() -> Result<Self, Box<dyn std::error::Error>> {
        Ok(Self { interrupted: interrupted()?, told: Instant::now(), every: every() })
    }
}

impl Follow for Round {
    fn step(&mut self, so_far: &SoFar) -> exchange::Go {
        if self.told.elapsed() >= self.every {
            self.told = Instant::now();
            // Where standard error is closed there is nobody to tell.
            let _ = writeln!(io::stderr(), "{}", so_far.sentence());
        }
        if self.interrupted.load(Ordering::Relaxed) { exchange::Go::Stop } else { exchange::Go::On }
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
