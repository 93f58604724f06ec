//! Why something could not be done with the sites: each sentence names the place, the value and what is accepted.

use std::path::PathBuf;

use record::store::StoreError;

use crate::fault::Faults;

/// Why something could not be done with the sites.
#[derive(Debug, thiserror::Error)]
pub enum SiteError {
    /// The store refused.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The machine names no folder for a program's data.
    #[error("no folder for data is known on this machine; name one with --home DIR or in NEWEL_HOME")]
    NoHome,
    /// A file or folder of the home cannot be used.
    #[error("{}: {why}; accepted: {accepted}", path.display())]
    File {
        /// Which.
        path: PathBuf,
        /// What is the matter.
        why: String,
        /// What would do.
        accepted: &'static str,
    },
    /// The machine gave no random bytes.
    #[error("the machine gives no random numbers ({0}); try again after a restart")]
    NoRandom(String),
    /// No site is called so.
    #[error("{asked:?} is the id or label of no site; accepted: {known}")]
    NoSite {
        /// What was asked for.
        asked: String,
        /// The sites that are there.
        known: String,
    },
    /// Several sites are called so.
    #[error("{asked:?} fits several sites; accepted: one of {fitting}")]
    Several {
        /// What was asked for.
        asked: String,
        /// The sites that it fits.
        fitting: String,
    },
    /// The site as stored makes no survey.
    #[error("site {document} cannot be read by this release: {why}; update Newel, nothing is lost meanwhile")]
    Unreadable {
        /// The document.
        document: String,
        /// The first reasons.
        why: String,
    },
    /// The id cannot be one.
    #[error("{0:?} is no id; accepted: 1 to 64 characters without control characters")]
    NoId(String),
    /// No stage of a job.
    #[error("{0:?} is no stage; accepted: survey, scheme, price, fit")]
    NoStage(String),
    /// A label that says nothing.
    #[error("the label is empty; accepted: 1 to 100 characters without control characters")]
    NoLabel,
    /// No change or moment of this name.
    #[error("{asked:?} is no change of this site and no moment; accepted: {accepted}")]
    NoMoment {
        /// What was asked for.
        asked: String,
        /// What would do.
        accepted: String,
    },
    /// No disagreement of this name.
    #[error("{asked:?} is no disagreement of this site; accepted: {accepted}")]
    NoDisagreement {
        /// What was asked for.
        asked: String,
        /// Those that are there.
        accepted: String,
    },
    /// No such device.
    #[error("{asked:?} is no device that was heard of; accepted: {accepted}")]
    NoDevice {
        /// What was asked for.
        asked: String,
        /// Those that are there.
        accepted: String,
    },
    /// What was given cannot be read.
    #[error(transparent)]
    Faults(#[from] Faults),
    /// Another part of the site refers to what was to be removed.
    #[error("{thing} cannot be removed: {users} refer to it; change them first")]
    InUse {
        /// What.
        thing: String,
        /// By what it is used.
        users: String,
    },
}
