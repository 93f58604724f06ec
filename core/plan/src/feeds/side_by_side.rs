//! Several rails at once: each is a problem of its own, so that they are worked out on several processors.

use std::sync::atomic::{AtomicUsize, Ordering};

/// Threads at most. Fixed, since asking the machine is not for a pure crate; each holds the tables of one rail in memory.
const MOST_THREADS: usize = 2;

/// Rails with fewer luminaires together are worked out sooner than a thread is begun and ended; a judgement, no source.
const FEW: usize = 64;

/// The answer to each item, where the rails behind them have so many luminaires together.
pub(crate) fn each_of<T: Sync, R: Send>(items: &[T], luminaires: usize, answer: impl Fn(&T) -> R + Sync) -> Vec<R> {
    if luminaires < FEW { items.iter().map(answer).collect() } else { each(items, answer) }
}

/// The answer to each item, in the order of the items whichever thread found it.
pub(crate) fn each<T: Sync, R: Send>(items: &[T], answer: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let threads = items.len().min(MOST_THREADS);
    if threads < 2 {
        return items.iter().map(answer).collect();
    }
    let next = AtomicUsize::new(0);
    let work = || {
        let mut done = Vec::new();
        loop {
            let index = next.fetch_add(1, Ordering::Relaxed);
            match items.get(index) {
                Some(item) => done.push((index, answer(item))),
                None => return done,
            }
        }
    };
    let mut found: Vec<(usize, R)> = std::thread::scope(|scope| {
        let helpers: Vec<_> = (1..threads).map(|_| scope.spawn(work)).collect();
        let mut found = work();
        for helper in helpers {
            found.extend(helper.join().unwrap_or_else(|cause| std::panic::resume_unwind(cause)));
        }
        found
    });
    found.sort_by_key(|own| own.0);
    found.into_iter().map(|own| own.1).collect()
}
