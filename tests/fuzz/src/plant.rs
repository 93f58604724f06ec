//! Planted faults: a panic several nested comparisons deep, which a search without guidance has no hope to reach.

/// Panics where every comparison holds. Each is made only where all before it hold, and each is a branch of its own, so
/// that coverage tells how many were passed.
#[cfg(feature = "planted")]
macro_rules! plant {
    ($comparison:expr $(, $more:expr)* $(,)?) => {
        if $crate::plant::holds($comparison) {
            $crate::plant::plant!(@ $($more),*);
        }
    };
    (@ $comparison:expr $(, $more:expr)*) => {
        if $crate::plant::holds($comparison) {
            $crate::plant::plant!(@ $($more),*);
        }
    };
    (@) => { panic!("the planted fault") };
}

/// Nothing is planted in an ordinary build.
#[cfg(not(feature = "planted"))]
macro_rules! plant {
    ($($comparison:expr),+ $(,)?) => {
        $( let _ = || $comparison; )+
    };
}

pub(crate) use plant;

/// Keeps the compiler from making one branch of several.
#[cfg(feature = "planted")]
#[inline(never)]
pub fn holds(comparison: bool) -> bool {
    std::hint::black_box(comparison)
}
