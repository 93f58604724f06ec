//! How far a job has come.

use crate::stored::kinds;

/// The stage of a job, as a person put it; a new site is at its survey.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Being measured.
    #[default]
    Survey,
    /// Being laid out.
    Scheme,
    /// Being quoted.
    Price,
    /// Being fitted.
    Fit,
}

impl Stage {
    /// Every stage in order.
    pub const ALL: [Self; 4] = [Self::Survey, Self::Scheme, Self::Price, Self::Fit];

    /// Its word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Survey => "survey",
            Self::Scheme => "scheme",
            Self::Price => "price",
            Self::Fit => "fit",
        }
    }

    /// The stage of this word.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|stage| stage.word() == word)
    }
}

// Where two people put it differently it counts as the earliest, in which most is still asked.
kinds!(Stage { Survey = "survey", Scheme = "scheme", Price = "price", Fit = "fit" } absent Survey);
