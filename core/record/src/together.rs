//! Work on many things at once, with the results in the order of the things.

use std::num::NonZero;
use std::thread;

/// So few things are not worth a thread.
const WORTH_A_THREAD: usize = 32;

/// Does the same with every thing, on as many threads as the machine has cores.
pub(crate) fn each<A: Sync, B: Send>(things: &[A], work: impl Fn(&A) -> B + Sync) -> Vec<B> {
    let threads = thread::available_parallelism().map_or(1, NonZero::get).min(things.len() / WORTH_A_THREAD);
    if threads < 2 {
        return things.iter().map(work).collect();
    }
    let work = &work;
    thread::scope(|scope| {
        let parts = things.chunks(things.len().div_ceil(threads));
        let running: Vec<_> =
            parts.map(|part| scope.spawn(move || part.iter().map(work).collect::<Vec<B>>())).collect();
        let joined = running.into_iter().map(|thread| match thread.join() {
            Ok(done) => done,
            // What went wrong there went wrong here.
            Err(panic) => std::panic::resume_unwind(panic),
        });
        joined.flatten().collect()
    })
}

#[cfg(test)]
mod tests {
    #[test]
    fn results_stand_in_the_order_of_the_things() {
        let things: Vec<usize> = (0..1000).collect();
        assert_eq!(super::each(&things, |n| n * 2), (0..1000).map(|n| n * 2).collect::<Vec<_>>());
        assert_eq!(super::each(&things[..3], |n| n + 1), [1, 2, 3]);
    }
}
