//! Why something could not be done with the sites: each sentence names the place, the value and what is accepted.

use std::path::PathBuf;

use photos::LibraryError;
use record::store::StoreError;

use crate::fault::Faults;
use crate::outputs::OutputError;

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
    /// The keyring is not to be had.
    #[error(
        "the keyring of this computer, where the key of this device lies, cannot be used: {0}; unlock it or sign in to the \
         desktop, and try again"
    )]
    Keyring(String),
    /// The keyring has no such key.
    #[error(
        "the keyring of this computer has no key of device {}, as where a folder was copied from another computer; bring \
         the keyring back, or move device.json away: then this is a new device with all that is here, and joins its team anew",
        device.get(..16).unwrap_or(device)
    )]
    NoKey {
        /// Its public key.
        device: String,
    },
    /// No keyring runs.
    #[error("keys cannot be kept in a keyring: {0}; they stay in files that only you may read")]
    NoKeyring(String),
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
    /// A team decides whose changes count.
    #[error(
        "a team decides whose changes count here: newel exchange approve lets a device in; newel exchange accept {0} says that what is here of this one counts"
    )]
    TeamDecides(String),
    /// What was given cannot be read.
    #[error(transparent)]
    Faults(#[from] Faults),
    /// No photo is called so.
    #[error("{asked:?} is no photo of this site; accepted: {accepted}")]
    NoPhoto {
        /// What was asked for.
        asked: String,
        /// Those that are there.
        accepted: String,
    },
    /// No thing of a kind is called so.
    #[error("{asked:?} is no {kind} of this site; accepted: {accepted}")]
    NoThing {
        /// What kind of thing.
        kind: &'static str,
        /// What was asked for.
        asked: String,
        /// Those that are there.
        accepted: String,
    },
    /// A photo has no proposal to accept.
    #[error("no rail is proposed for {photo}: {why}; say what it shows")]
    NoProposal {
        /// The photo.
        photo: String,
        /// Why.
        why: &'static str,
    },
    /// The picture of a photo was never added.
    #[error("{0} is merely named by the survey; add the file first, with newel photo add")]
    OnlyNamed(String),
    /// A time that cannot be put right.
    #[error("{0}: accepted are photos whose time can be read and stays within the years 1 to 9999")]
    NoTime(String),
    /// No span of time.
    #[error("{0:?} is no span of time; accepted: seconds, or numbers with d, h, min and s, such as 1 h 2 min")]
    NoSpan(String),
    /// The library of photos refused.
    #[error(transparent)]
    Library(#[from] LibraryError),
    /// A file could not be written.
    #[error(transparent)]
    Output(#[from] OutputError),
    /// Adding photos ended before its end.
    #[error("{why}; {before} photos were added before and stay, the others can be added again")]
    PartAdded {
        /// How many were added before.
        before: u32,
        /// Why it ended.
        why: Box<SiteError>,
    },
    /// No catalogue is called so.
    #[error("{asked:?} is no catalogue of the firm; accepted: {accepted}")]
    NoCatalogue {
        /// What was asked for.
        asked: String,
        /// Those that are there.
        accepted: String,
    },
    /// What is built in cannot be changed.
    #[error("the demo catalogue is invented and stays as it is; make a copy of it and change that")]
    BuiltIn,
    /// A name that another catalogue has, or none.
    #[error(
        "{0:?} cannot be a catalogue's name; accepted: 1 to 100 characters that no other catalogue here is called by"
    )]
    CatalogueName(String),
    /// People changed a catalogue at once.
    #[error("people changed catalogue {0} at once, each in another way; settle that first, on the catalogue's page")]
    Differ(String),
    /// What was looked at is not what is there.
    #[error("{0} is not as it was when it was looked at; look at what would change once more")]
    Stale(String),
    /// No part of a catalogue is called so.
    #[error("{part:?} is no part of catalogue {catalogue}")]
    NoPart {
        /// The reference.
        part: String,
        /// The catalogue.
        catalogue: String,
    },
    /// Another part of the site refers to what was to be removed.
    #[error("{thing} cannot be removed: {users} refer to it; change them first")]
    InUse {
        /// What.
        thing: String,
        /// By what it is used.
        users: String,
    },
}
