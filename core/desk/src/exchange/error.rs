//! Why something could not be done with the shared folder: each sentence says what to do.

use exchange::engine::Failure;
use exchange::layout::{ABOUT, AboutError};
use exchange::members::CodeError;
use exchange::memory::MemberError;
use exchange::place::{PlaceError, Trouble};
use record::store::StoreError;

use crate::sites::SiteError;

/// Why it could not be done.
#[derive(Debug, thiserror::Error)]
pub enum ExchangeError {
    /// The home folder or its store.
    #[error(transparent)]
    Site(#[from] SiteError),
    /// The place.
    #[error(transparent)]
    Place(#[from] PlaceError),
    /// The team.
    #[error(transparent)]
    Member(#[from] MemberError),
    /// A round ended before its end; what was done before stays.
    #[error("{0}; what was shared before stays, and the next round goes on from there")]
    Round(Failure),
    /// Nobody shares here.
    #[error(
        "this device shares with nobody yet; newel exchange start FOLDER begins a team, newel exchange join FOLDER --code CODE joins one"
    )]
    NoTeam,
    /// Nobody lent the store.
    #[error("the store is closed; open it and run the round again")]
    Closed,
    /// This device shares already.
    #[error(
        "this device shares through {0} already; newel exchange leave ends that first, and nothing here is lost by it"
    )]
    InTeam(String),
    /// Nobody said who works on this device.
    #[error("this device does not say whose it is; newel device name --person YOU names you to the team")]
    Nobody,
    /// The address is none.
    #[error("{address:?} is no place for shared files: {why}")]
    Address {
        /// What was asked for.
        address: String,
        /// Why, and what is accepted.
        why: String,
    },
    /// The file that says what a folder is does not say that it is a team's.
    #[error("{place}: {why}")]
    Folder {
        /// Where.
        place: String,
        /// What is the matter.
        why: AboutError,
    },
    /// There are other things in the folder.
    #[error("{place} holds other things already ({found}); make an empty folder, and name that")]
    NotEmpty {
        /// Where.
        place: String,
        /// Some of them.
        found: String,
    },
    /// A team has the folder already.
    #[error("a team shares {0} already; ask one of it for an invitation, then: newel exchange join FOLDER --code CODE")]
    Taken(String),
    /// No team shares through the folder.
    #[error(
        "no team shares {0} yet; newel exchange start FOLDER begins one there, or name the folder that your team uses"
    )]
    NotStarted(String),
    /// The folder is of another team.
    #[error("{0} belongs to another team than this device's; name the folder of your own team")]
    OtherTeam(String),
    /// The team's folder is not where it was.
    #[error(
        "{place} is not the team's folder now: {ABOUT} is missing there. Connect the drive if it is not; if the folder was \
         moved, name the new one: newel exchange join FOLDER"
    )]
    Gone {
        /// Where.
        place: String,
    },
    /// The code cannot be read.
    #[error("the code cannot be used: {0}")]
    Code(#[from] CodeError),
    /// The code is of another team.
    #[error("this code is for another team's folder than {0}; name the folder that was given with the code")]
    OtherCode(String),
    /// An invitation is needed.
    #[error("a code is needed to join a team for the first time; ask one of the team for it (newel exchange invite)")]
    NoCode,
    /// No device is called so.
    #[error("{asked:?} names no {what}, or several; accepted: {accepted}")]
    NoDevice {
        /// What kind of device was asked for.
        what: &'static str,
        /// What was asked for.
        asked: String,
        /// Those that are there.
        accepted: String,
    },
    /// What the store remembers of the team cannot be read.
    #[error(
        "what this device remembers of its team cannot be read; newel exchange leave, then join again with a new invitation"
    )]
    Memory,
}

impl From<StoreError> for ExchangeError {
    fn from(why: StoreError) -> Self {
        Self::Site(SiteError::Store(why))
    }
}

impl ExchangeError {
    /// Whether it passes by itself: the place cannot be reached now, or is full.
    #[must_use]
    pub fn is_passing(&self) -> bool {
        let trouble = match self {
            Self::Round(failure) => failure.trouble,
            Self::Place(error) => Some(error.trouble),
            Self::Gone { .. } => Some(Trouble::Away),
            _ => None,
        };
        matches!(trouble, Some(Trouble::Away | Trouble::Full))
    }
}
