//! From an address to a place that keeps files. An address is the path of a folder; others are refused in words.

use std::path::Path;

use exchange::layout::ABOUT;
use exchange::place::{Folder, Place};

use super::ExchangeError;
use crate::sites::{Sites, random};

/// So many names of what else is in a folder are told.
const MOST_NAMED: usize = 3;

/// A place with its address as it is kept.
pub(super) struct Opened {
    pub address: String,
    pub place: Box<dyn Place>,
    /// What lies in it besides the file that says what it is, as far as the place can tell.
    pub others: Vec<String>,
}

/// Opens the place of an address.
pub(super) fn open(sites: &Sites, address: &str) -> Result<Opened, ExchangeError> {
    let wrong = |why: &str| ExchangeError::Address { address: address.to_owned(), why: why.to_owned() };
    if address.trim().is_empty() {
        return Err(wrong("it is empty; accepted: the path of a folder"));
    }
    if let Some((scheme, _)) = address.split_once("://") {
        let why = format!("this release knows no {scheme}:// places; accepted: the path of a folder");
        return Err(wrong(&why));
    }
    folder(sites, Path::new(address))
}

fn folder(sites: &Sites, path: &Path) -> Result<Opened, ExchangeError> {
    let path = std::path::absolute(path).map_err(|why| ExchangeError::Address {
        address: path.display().to_string(),
        why: format!("{why}; accepted: the path of a folder"),
    })?;
    // What others write must never lie beside the store.
    sites.outside(&path)?;
    let place = Folder::open(&path, random::bytes()?)?;
    let entries = std::fs::read_dir(&path).into_iter().flatten().flatten();
    let names = entries.map(|entry| entry.file_name().to_string_lossy().into_owned());
    // Where that file alone is missing, the rest may still be a running team's.
    let mut others: Vec<String> =
        names.filter(|name| name != ABOUT && !name.starts_with('.')).take(MOST_NAMED).collect();
    others.sort();
    Ok(Opened { address: path.display().to_string(), place: Box::new(place), others })
}
