//! Why a file was not taken in, in words that say what to do.

use crate::kind::Kind;

/// Why a file was refused. The others of the batch are imported all the same.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Reason {
    /// It is a symbolic link.
    #[error("is a symbolic link; add the file that it points to")]
    Link,
    /// It is a pipe, a device or a socket.
    #[error("is no file but a {0}; it was not opened")]
    Special(&'static str),
    /// It lies outside the folder that was named.
    #[error("lies outside the folder; only files inside it are read")]
    Outside,
    /// It cannot be read.
    #[error("cannot be read: {0}")]
    Unreadable(String),
    /// It has no bytes.
    #[error("is empty (0 bytes); copy it again from the camera")]
    Empty,
    /// It is too large.
    #[error("has {bytes} bytes; the greatest size is {most}")]
    TooLarge {
        /// Its size.
        bytes: u64,
        /// What is taken.
        most: u64,
    },
    /// It is no picture.
    #[error("is no picture that can be read; JPEG, PNG, TIFF, WebP and HEIC are accepted")]
    NoPicture,
    /// It begins like a picture and is none.
    #[error("begins like a {} but cannot be read as one: {why}", kind.word())]
    Broken {
        /// What it begins like.
        kind: Kind,
        /// Why.
        why: String,
    },
    /// It claims far more pixels than its bytes can hold.
    #[error("claims {width} x {height} pixels in {bytes} bytes, which no photo does; it was not unpacked")]
    Bomb {
        /// Width, pixels.
        width: u64,
        /// Height, pixels.
        height: u64,
        /// Its size.
        bytes: u64,
    },
    /// More files than one import takes.
    #[error("was left out: one import takes {0} files; add the rest in another")]
    TooMany(usize),
    /// Folders nested too deep.
    #[error("lies more than {0} folders deep and was left out")]
    TooDeep(usize),
    /// The store could not be written.
    #[error("could not be kept: {0}; nothing of it was stored")]
    NotKept(String),
}
