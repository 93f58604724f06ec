//! Planted faults: a panic several nested comparisons deep, which a search without guidance has no hope to reach.

use std::sync::LazyLock;

static PLANTED: LazyLock<bool> = LazyLock::new(|| std::env::var_os("NEWEL_PLANTED").is_some());

/// With `NEWEL_PLANTED` set, panics where every comparison holds. Each is made only where all before it hold, and each is
/// a branch of its own, so that coverage tells how many were passed.
macro_rules! plant {
    ($($comparison:expr),+ $(,)?) => {
        if $crate::plant::is_planted() {
            $crate::plant::plant!(@ $($comparison),+);
        }
    };
    (@ $comparison:expr $(, $more:expr)*) => {
        if $crate::plant::holds($comparison) {
            $crate::plant::plant!(@ $($more),*);
        }
    };
    (@) => { panic!("the planted fault") };
}

pub(crate) use plant;

/// Whether faults are planted in this run of the program.
pub fn is_planted() -> bool {
    *PLANTED
}

/// Keeps the compiler from making one branch of several.
#[inline(never)]
pub fn holds(comparison: bool) -> bool {
    std::hint::black_box(comparison)
}
