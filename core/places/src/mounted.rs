//! A local or mounted folder. Its drive may hang, and then so does whoever asks it anything; so it is asked aside.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use exchange::layout::HEADS;
use exchange::place::{Entry, Folder, Place, PlaceError, Span};

use crate::Fault;
use crate::stop::{Stop, aside};
use crate::transport::SLOWEST;

/// No file of a team is longer by far, bytes.
const MOST_READ: u64 = 64 << 20;
/// A listing looks at every file of a folder, which takes so many times as long as one file on a slow share.
const LISTING: u32 = 10;

/// A folder that is asked aside.
pub(crate) struct Mounted {
    folder: Arc<Folder>,
    root: PathBuf,
    /// For so long it may be silent.
    patience: Duration,
    stop: Stop,
}

impl Mounted {
    /// A folder that is there already. `fresh` are random bytes.
    ///
    /// # Errors
    /// There is no such folder, or it does not answer.
    pub fn open(root: &Path, fresh: [u8; 8], patience: Duration, stop: &Stop) -> Result<Self, Fault> {
        let root = root.to_owned();
        let path = root.clone();
        let opened = aside(stop, patience, move || Folder::open(&path, fresh)).and_then(told);
        let folder = opened.map_err(|fault| of_root(fault, &root))?;
        Ok(Self { folder: Arc::new(folder), root, patience, stop: stop.clone() })
    }

    /// Its path.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// The names of files and folders directly in it.
    ///
    /// # Errors
    /// It cannot be read.
    pub fn names(&self) -> Result<Vec<String>, Fault> {
        let root = self.root.clone();
        let listed = self.ask(self.patience * LISTING, move |folder| {
            // The folder itself tells why where it cannot be read.
            folder.list(HEADS)?;
            Ok(std::fs::read_dir(&root)
                .map(|found| found.flatten().map(|entry| entry.file_name().to_string_lossy().into_owned()).collect()))
        });
        listed.map_err(Fault::Folder)?.map_err(|why| Fault::Away(why.to_string()))
    }

    fn ask<T: Send + 'static>(
        &self,
        patience: Duration,
        work: impl FnOnce(&Folder) -> Result<T, PlaceError> + Send + 'static,
    ) -> Result<T, PlaceError> {
        let folder = Arc::clone(&self.folder);
        let asked = aside(&self.stop, patience, move || work(&folder)).and_then(told);
        asked.map_err(|fault| fault.at(self.root.display().to_string()))
    }

    fn patience_for(&self, bytes: u64) -> Duration {
        self.patience + Duration::from_secs(bytes.min(MOST_READ) / SLOWEST)
    }
}

fn told<T>(answer: Result<T, PlaceError>) -> Result<T, Fault> {
    answer.map_err(Fault::Folder)
}

/// A fault of the folder as such names it.
fn of_root(fault: Fault, root: &Path) -> Fault {
    Fault::Folder(fault.at(root.display().to_string()))
}

impl Place for Mounted {
    fn list(&self, folder: &str) -> Result<Vec<Entry>, PlaceError> {
        let within = folder.to_owned();
        self.ask(self.patience * LISTING, move |folder| folder.list(&within))
    }

    fn read(&self, path: &str, span: Span) -> Result<Vec<u8>, PlaceError> {
        let path = path.to_owned();
        self.ask(self.patience_for(span.most), move |folder| folder.read(&path, span))
    }

    fn read_into(&self, path: &str, span: Span, bytes: &mut Vec<u8>) -> Result<(), PlaceError> {
        // The buffer goes along; where the folder does not answer, it stays with it.
        let (path, mut file) = (path.to_owned(), std::mem::take(bytes));
        let patience = self.patience_for(span.most);
        *bytes = self.ask(patience, move |folder| folder.read_into(&path, span, &mut file).map(|()| file))?;
        Ok(())
    }

    fn write_new(&self, path: &str, bytes: &[u8]) -> Result<(), PlaceError> {
        let (path, bytes) = (path.to_owned(), bytes.to_vec());
        self.ask(self.patience_for(bytes.len() as u64), move |folder| folder.write_new(&path, &bytes))
    }

    fn delete(&self, path: &str) -> Result<(), PlaceError> {
        let path = path.to_owned();
        self.ask(self.patience, move |folder| folder.delete(&path))
    }
}
