//! What each fuzz target does with its bytes, how bytes are changed, and the planted faults that prove the guidance.
//!
//! A target fails by a panic. Beyond that each one checks what its parser promises, so that a wrong answer fails too.

mod change;
mod files;
mod guidance;
mod plant;
mod site;
mod typed;

pub use change::change;
pub use files::{catalogue_json, catalogue_toml, survey_json, survey_toml};
pub use site::plan_site;
pub use typed::{length, money};

/// Defines a target: one function on bytes. With `NEWEL_UNGUIDED` set, what it covers is forgotten after each run.
#[macro_export]
macro_rules! target {
    ($run:path) => {
        libfuzzer_sys::fuzz_target!(|data: &[u8]| {
            $run(data);
            $crate::forget_coverage();
        });
    };
}

/// As [`target!`], for files: numbers in them are changed as numbers half of the time.
#[macro_export]
macro_rules! file_target {
    ($run:path) => {
        $crate::target!($run);
        libfuzzer_sys::fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
            $crate::change(data, size, max_size, seed)
        });
    };
}

pub use guidance::forget_coverage;
