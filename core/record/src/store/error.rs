//! Why the store could not do something, and what to do next.

use std::path::PathBuf;

use rusqlite::ErrorCode;

use crate::document::CreateError;
use crate::edit::EditError;

/// Why the store could not do it.
#[derive(Debug, thiserror::Error)]
pub enum StoreError {
    /// Another process has it.
    #[error(
        "{} is in use by another Newel (process {process}); close that one first, or open this one for reading only",
        folder.display()
    )]
    InUse {
        /// The folder.
        folder: PathBuf,
        /// The other process.
        process: String,
    },
    /// The folder cannot be used.
    #[error("{} cannot be used: {why}; choose a folder on a drive that can be written to", path.display())]
    Folder {
        /// The path.
        path: PathBuf,
        /// Why.
        why: std::io::Error,
    },
    /// A newer release wrote the database.
    #[error(
        "the store was written by a newer release (schema {found}, this one knows {known}); update Newel, or open it for reading only"
    )]
    Newer {
        /// What was found.
        found: i64,
        /// What this release knows.
        known: usize,
    },
    /// The database failed; nothing that was acknowledged is lost.
    #[error("{}", in_words(.0))]
    Database(#[from] rusqlite::Error),
    /// A device that was never heard of.
    #[error("the device {0} was never heard of here; look at the list of devices again")]
    Stranger(crate::sign::DeviceId),
    /// The store was opened for reading only.
    #[error("this store is open for reading only ({0}); nothing was changed")]
    ReadOnly(String),
    /// The document failed.
    #[error("the document cannot be read or written: {0}")]
    Document(Box<automerge::AutomergeError>),
    /// The survey makes no document.
    #[error(transparent)]
    Create(Box<CreateError>),
    /// The edit was not made.
    #[error(transparent)]
    Edit(Box<EditError>),
    /// A document of this name is there already.
    #[error("a site with the id {0} is there already; duplicate it under another id")]
    Exists(String),
    /// The name of the team document.
    #[error("the id \"team\" is kept for the firm's own document; give the site another id")]
    Reserved,
    /// No catalogue of this content is here.
    #[error("there is no catalogue {0} here; add it, or take in the team's file again")]
    NoCatalogue(String),
    /// There is no such document.
    #[error("there is no site with the id {0}")]
    Missing(String),
    /// There is nothing to take back or to make again.
    #[error("there is nothing of this device to {0}")]
    Nothing(&'static str),
    /// The value is no longer this device's own.
    #[error("{what} was changed since by {who}; look at it before changing it back")]
    ChangedSince {
        /// What, in words.
        what: String,
        /// Who.
        who: String,
    },
    /// A file outside the store failed.
    #[error("the file cannot be read or written: {0}")]
    Outside(std::io::Error),
    /// A file is no site file, or is damaged.
    #[error("this is no whole site file: {0}")]
    Parcel(String),
}

/// Boxes what is large, so that results stay small.
macro_rules! boxed {
    ($($variant:ident: $error:ty),+) => {$(
        impl From<$error> for StoreError {
            fn from(error: $error) -> Self {
                Self::$variant(Box::new(error))
            }
        }
    )+};
}
boxed!(Create: CreateError, Edit: EditError, Document: automerge::AutomergeError);

/// A failure of the database as a person reads it. A change that failed was not kept; those before it were.
fn in_words(error: &rusqlite::Error) -> String {
    let kept = "what was saved before is safe, the last change was not kept";
    match error.sqlite_error_code() {
        Some(ErrorCode::DiskFull) => format!("the disk is full: {kept}; make room and do it again"),
        Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => {
            format!("another program holds the store: {kept}; close that program and do it again")
        }
        Some(ErrorCode::ReadOnly | ErrorCode::PermissionDenied) => {
            format!("the store may not be written to: {kept}; allow writing to its folder, or open it for reading only")
        }
        Some(ErrorCode::CannotOpen) => {
            "the store cannot be opened: see that its folder is there and may be read and written".to_owned()
        }
        Some(ErrorCode::SystemIoFailure) => {
            format!("the drive failed to read or write ({error}): {kept}; check the drive, then open the store again")
        }
        Some(ErrorCode::DatabaseCorrupt | ErrorCode::NotADatabase) => {
            format!("the store's file is damaged ({error}); keep a copy of the folder and bring back a backup")
        }
        _ => format!("the store cannot be read or written: {error}"),
    }
}
