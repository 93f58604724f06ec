//! What each fuzz target does with its bytes, how bytes are changed, and the planted faults that prove the guidance.
//!
//! A target fails by a panic. Beyond that each one checks what its parser promises, so that a wrong answer fails too.

mod change;
mod csv;
mod exchange;
mod files;
mod guidance;
mod plant;
mod read;
mod row;
mod site;
mod typed;

pub use change::{change_bytes, change_file, change_typed};
pub use csv::catalogue_csv;
pub use exchange::{exchange_plain, exchange_signed};
pub use files::{catalogue_json, catalogue_toml, survey_json, survey_toml};
pub use read::Read;
pub use row::store_row;
pub use site::plan_site;
pub use typed::{length, money};

/// Defines a target: one function on bytes, and how inputs are changed for it. With `NEWEL_UNGUIDED` set, what it covers
/// is forgotten after each run.
#[macro_export]
macro_rules! target {
    ($run:path, $change:path) => {
        libfuzzer_sys::fuzz_target!(|data: &[u8]| -> libfuzzer_sys::Corpus {
            let read = $run(data);
            $crate::forget_coverage();
            read.keep()
        });
        libfuzzer_sys::fuzz_mutator!(|data: &mut [u8], size: usize, max_size: usize, seed: u32| {
            $change(data, size, max_size, seed)
        });
    };
}

pub use guidance::forget_coverage;
