//! One process writes to a store at a time.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::{Read, Seek, Write};
use std::path::Path;

use super::StoreError;

/// Held while a store is open; the system lets go of it when the process ends, however it ends.
#[derive(Debug)]
pub(crate) struct Lock(#[allow(dead_code, reason = "held, not read")] File);

impl Lock {
    pub(crate) fn take(folder: &Path) -> Result<Self, StoreError> {
        let path = folder.join("in-use");
        let failed = |why: std::io::Error| StoreError::Folder { path: path.clone(), why };
        let mut file =
            OpenOptions::new().read(true).write(true).create(true).truncate(false).open(&path).map_err(failed)?;
        match Self::try_for_a_moment(&file) {
            Ok(()) => {}
            Err(TryLockError::WouldBlock) => {
                let mut holder = String::new();
                // The holder's number only helps the reader; without it the message still stands.
                let _ = file.read_to_string(&mut holder);
                return Err(StoreError::InUse { folder: folder.to_owned(), process: holder.trim().to_owned() });
            }
            Err(TryLockError::Error(why)) => return Err(failed(why)),
        }
        file.set_len(0).and_then(|()| file.rewind()).map_err(failed)?;
        write!(file, "{}", std::process::id()).map_err(failed)?;
        Ok(Self(file))
    }

    /// A program that is just closing, or one that is just being started by the holder, keeps the file for a moment.
    fn try_for_a_moment(file: &File) -> Result<(), TryLockError> {
        for _ in 0..10 {
            match file.try_lock() {
                Err(TryLockError::WouldBlock) => std::thread::sleep(std::time::Duration::from_millis(50)),
                done => return done,
            }
        }
        file.try_lock()
    }
}
