//! Devices that share a folder through a place that loses, delays, cuts and swaps, with clocks years apart, stopped at
//! any step: after a quiet while all who hold the same log are equal, and nothing that was acknowledged is lost.
//!
//! Everything follows from a seed. `EXCHANGE_SEED=7` replays one and tells what happens, `EXCHANGE_SEEDS=1000000` tries
//! so many.

mod dice;
mod home;
mod hostile;
mod sea;
mod world;

use std::sync::atomic::{AtomicU64, Ordering};
use std::thread;

/// So many seeds are tried where nobody asks for more.
const SEEDS: u64 = 10_000;
/// Beyond those, seeds that have shown a hole once.
const ONCE_FAILED: [u64; 4] = [39_140, 47_624, 55_861, 119_814];

fn number(name: &str) -> Option<u64> {
    std::env::var(name).ok().map(|text| text.parse().expect("a number of seeds"))
}

#[test]
fn whatever_happens_to_the_folder_everybody_ends_equal_and_nothing_is_lost() {
    if let Some(seed) = number("EXCHANGE_SEED") {
        let told = world::run(seed, true);
        println!("{told:?}");
        return;
    }
    let seeds = number("EXCHANGE_SEEDS").unwrap_or(SEEDS);
    let next = AtomicU64::new(0);
    let all = thread::scope(|scope| {
        let threads = thread::available_parallelism().map_or(2, usize::from);
        let work = || {
            let mut told = world::Told::default();
            loop {
                let count = next.fetch_add(1, Ordering::Relaxed);
                let again = count.checked_sub(seeds).map(|beyond| ONCE_FAILED.get(beyond as usize).copied());
                let Some(seed) = again.unwrap_or(Some(count)) else { return told };
                match std::panic::catch_unwind(|| world::run(seed, false)) {
                    Ok(one) => told.add(&one),
                    Err(why) => {
                        eprintln!("replay with EXCHANGE_SEED={seed}");
                        std::panic::resume_unwind(why);
                    }
                }
            }
        };
        let running: Vec<_> = (0..threads).map(|_| scope.spawn(work)).collect();
        let mut all = world::Told::default();
        for one in running {
            match one.join() {
                Ok(told) => all.add(&told),
                Err(why) => std::panic::resume_unwind(why),
            }
        }
        all
    });
    println!("{all:?}");
    // A simulation in which nothing happens proves nothing.
    if seeds >= SEEDS {
        assert!(all.is_rich(), "{all:?}");
    }
}
