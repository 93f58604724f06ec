//! Waiting for a place that may never answer: whoever waits is let go as soon as somebody stops.

use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, sync_channel};
use std::sync::{Arc, OnceLock};
use std::time::{Duration, Instant};

use tokio::runtime::Runtime;

use crate::Fault;

/// A stop is heard within so long.
const HEAR_EVERY: Duration = Duration::from_millis(50);
/// So much work may be under way beside everything else. Where as much hangs, more would hang too, so it is not begun.
const MOST_ASIDE: usize = 64;

/// Ends all waiting for a place, now and later, once somebody says so. Its clones are one.
#[derive(Clone, Debug, Default)]
pub struct Stop(Arc<AtomicBool>);

impl From<Arc<AtomicBool>> for Stop {
    fn from(flag: Arc<AtomicBool>) -> Self {
        Self(flag)
    }
}

impl Stop {
    /// Ends it.
    pub fn stop(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Whether somebody did.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }

    /// Waits for an answer, at most for so long where a time is named. `ended` is what it means that none can come.
    pub(crate) fn wait<T>(
        &self,
        told: &Receiver<Result<T, Fault>>,
        patience: Option<Duration>,
        ended: Fault,
    ) -> Result<T, Fault> {
        let begun = Instant::now();
        loop {
            if self.is_stopped() {
                return Err(Fault::Stopped);
            }
            match told.recv_timeout(HEAR_EVERY) {
                Ok(answer) => return answer,
                Err(RecvTimeoutError::Disconnected) => return Err(ended),
                Err(RecvTimeoutError::Timeout) => {}
            }
            if let Some(patience) = patience.filter(|patience| begun.elapsed() >= *patience) {
                return Err(Fault::Slow(patience.as_secs()));
            }
        }
    }
}

/// Does something on a thread of its own that may never come back, as every look into a mounted folder may, and waits for it
/// so long at most, or until somebody stops. What nobody waits for any more comes to its end by itself or hangs.
///
/// # Errors
/// It was stopped, or has not come back in time.
pub fn aside<T: Send + 'static>(
    stop: &Stop,
    patience: Duration,
    work: impl FnOnce() -> T + Send + 'static,
) -> Result<T, Fault> {
    let counted = Counted::new();
    if counted.before >= MOST_ASIDE {
        return Err(Fault::Slow(patience.as_secs()));
    }
    let (tell, told) = sync_channel(1);
    threads()?.spawn_blocking(move || {
        let counted = counted;
        let done = work();
        drop(counted);
        // Nobody waits any more where this fails.
        let _ = tell.send(Ok(done));
    });
    stop.wait(&told, Some(patience), Fault::Away("a part of the program that reads it has ended".to_owned()))
}

/// The threads of everything that is done aside; they end when nothing was for a while.
fn threads() -> Result<&'static Runtime, Fault> {
    static THREADS: OnceLock<Option<Runtime>> = OnceLock::new();
    let made = || tokio::runtime::Builder::new_current_thread().thread_name("folder").build().ok();
    let why = || "it gives the program no more threads".to_owned();
    THREADS.get_or_init(made).as_ref().ok_or_else(|| Fault::Setting { what: "this machine", why: why() })
}

/// A piece of work under way.
struct Counted {
    /// So many were before it.
    before: usize,
}

static UNDER_WAY: AtomicUsize = AtomicUsize::new(0);

impl Counted {
    fn new() -> Self {
        Self { before: UNDER_WAY.fetch_add(1, Ordering::Relaxed) }
    }
}

impl Drop for Counted {
    fn drop(&mut self) {
        UNDER_WAY.fetch_sub(1, Ordering::Relaxed);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LONG: Duration = Duration::from_secs(60);

    #[test]
    fn whoever_waits_is_let_go_by_a_stop_or_when_patience_ends() {
        let (hold, held) = sync_channel::<()>(0);
        let stop = Stop::default();
        let begun = Instant::now();
        let (clone, hangs) = (stop.clone(), move || held.recv().is_err());
        let stopper = std::thread::spawn(move || {
            std::thread::sleep(Duration::from_millis(200));
            clone.stop();
        });
        assert_eq!(aside(&stop, LONG, hangs), Err(Fault::Stopped));
        assert!(begun.elapsed() < Duration::from_secs(5), "{:?}", begun.elapsed());
        stopper.join().expect("ended");
        assert_eq!(aside(&stop, LONG, || 7), Err(Fault::Stopped), "what is stopped stays so");
        drop(hold);
        let (hold, held) = sync_channel::<()>(0);
        let slow = aside(&Stop::default(), Duration::from_secs(1), move || held.recv().is_err());
        assert_eq!(slow, Err(Fault::Slow(1)));
        drop(hold);
        assert_eq!(aside(&Stop::default(), LONG, || 7), Ok(7));
    }

    #[test]
    fn work_that_comes_to_grief_lets_whoever_waits_go() {
        let grief: Result<(), Fault> = aside(&Stop::default(), LONG, || std::panic::resume_unwind(Box::new(())));
        assert!(matches!(grief, Err(Fault::Away(_))), "{grief:?}");
    }
}
