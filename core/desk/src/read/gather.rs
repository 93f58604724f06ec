//! Gathers faults while a file is read, and puts them in the order of the file.

use super::tree::{Path, Place, path_text};
use crate::fault::{Fault, Faults, MOST_LISTED};

/// Faults found so far.
#[derive(Debug, Default)]
pub struct Gather {
    found: Vec<(Place, Path, Fault)>,
    unlisted: usize,
}

impl Gather {
    /// Adds a fault at a place.
    pub fn add(&mut self, path: &Path, place: Place, value: String, matter: String, accepted: String) {
        if self.found.len() >= MOST_LISTED {
            self.unlisted += 1;
            return;
        }
        let (line, column) = (place.line, place.column);
        let fault = Fault { file: String::new(), line, column, path: path_text(path), value, matter, accepted };
        self.found.push((place, path.clone(), fault));
    }

    /// Whether nothing was found.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// The faults with their places and ways, in the order of the file.
    #[cfg(feature = "parts")]
    #[must_use]
    pub fn into_found(mut self) -> Vec<(Place, Path, Fault)> {
        self.found.sort_by(|a, b| (a.0, &a.1, &a.2.matter).cmp(&(b.0, &b.1, &b.2.matter)));
        self.found.dedup();
        self.found
    }

    /// The faults in the order of the file.
    #[must_use]
    pub fn into_faults(mut self, file: &str) -> Faults {
        self.found.sort_by(|a, b| (a.0, &a.1, &a.2.matter).cmp(&(b.0, &b.1, &b.2.matter)));
        self.found.dedup();
        let mut list: Vec<Fault> = self.found.into_iter().map(|(_, _, fault)| fault).collect();
        if self.unlisted > 0 {
            list.push(Fault::of_file(file, &format!("has {} more faults that are not listed", self.unlisted), ""));
        }
        for fault in &mut list {
            fault.file = file.to_owned();
        }
        Faults { list }
    }
}
