//! Whether an input was read, and whether the search keeps it.

use libfuzzer_sys::Corpus;

use crate::plant::is_planted;

/// What a reader made of an input.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Read {
    /// It was read.
    Whole,
    /// It was refused.
    Refused,
}

impl Read {
    /// What covers something new is kept. The search for a planted fault, which stands behind the reader, goes on from
    /// what was read only; the search for real faults also from what was refused.
    #[must_use]
    pub fn keep(self) -> Corpus {
        if self == Self::Refused && is_planted() { Corpus::Reject } else { Corpus::Keep }
    }
}
