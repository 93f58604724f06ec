//! What the window holds: at most one open site.

use std::path::Path;
use std::sync::{Arc, Mutex, PoisonError};

use super::Scheme;
use super::wire::{Asked, Explanation, Refusal, SitePage, Start};
use crate::demo;
use crate::fault::Faults;
use crate::planned::{Planned, plan_files};

/// More than a survey can have; a file beyond it is not even read.
const GREATEST_FILE: u64 = 64 << 20;

/// The state behind a window: the file named when the program was started, and the site that is open.
#[derive(Debug, Default)]
pub struct Window {
    named: Option<String>,
    open: Mutex<Option<Arc<Planned>>>,
}

impl Window {
    /// A window that opens this file first, if one was named.
    #[must_use]
    pub fn new(named: Option<String>) -> Self {
        Self { named, open: Mutex::default() }
    }

    /// What to show first.
    pub fn start(&self) -> Start {
        match self.named.as_deref().map(|path| self.open_file(path)) {
            None => Start::Welcome,
            Some(Ok(page)) => Start::Site { page },
            Some(Err(refusal)) => Start::Refused { refusal },
        }
    }

    /// Opens a survey file, planned with the catalogue beside it (`catalogue.toml`), else with the demo catalogue.
    ///
    /// # Errors
    /// What is wrong with the files, every fault in one go.
    pub fn open_file(&self, path: &str) -> Result<SitePage, Refusal> {
        let survey = read(Path::new(path))?;
        let beside = Path::new(path).with_file_name("catalogue.toml");
        let planned = if beside.exists() {
            let catalogue = read(&beside)?;
            plan_files((&survey, path), (&catalogue, &beside.to_string_lossy()))
        } else {
            plan_files((&survey, path), (demo::CATALOGUE, demo::CATALOGUE_NAME))
        };
        self.show(planned, path)
    }

    /// Opens the invented demo site.
    ///
    /// # Errors
    /// As for a file, should the built-in one be at fault.
    pub fn open_demo(&self) -> Result<SitePage, Refusal> {
        let planned = plan_files((demo::SITE, demo::SITE_NAME), (demo::CATALOGUE, demo::CATALOGUE_NAME));
        self.show(planned, demo::SITE_NAME)
    }

    /// Why a number of the open site is what it is.
    ///
    /// # Errors
    /// Where no site is open, or it has no such thing.
    pub fn explain(&self, asked: &Asked) -> Result<Explanation, Refusal> {
        let open = self.open.lock().unwrap_or_else(PoisonError::into_inner).clone();
        let site = open.ok_or_else(|| Refusal::of("no site is open; open one first"))?;
        Scheme::of(&site)
            .explain(asked)
            .ok_or_else(|| Refusal::of("this is not in the open site any more; open it again"))
    }

    fn show(&self, planned: Result<Planned, Faults>, name: &str) -> Result<SitePage, Refusal> {
        let site = planned
            .map_err(|faults| Refusal { message: format!("{name} cannot be used as it is"), faults: faults.lines() })?;
        let page = Scheme::of(&site).site_page(name);
        *self.open.lock().unwrap_or_else(PoisonError::into_inner) = Some(Arc::new(site));
        Ok(page)
    }
}

fn read(path: &Path) -> Result<Vec<u8>, Refusal> {
    let refused = |error: std::io::Error| Refusal::of(format!("{} cannot be read: {error}", path.display()));
    let size = std::fs::metadata(path).map_err(refused)?.len();
    if size > GREATEST_FILE {
        return Err(Refusal::of(format!("{} has {size} bytes; at most 64 MiB are read", path.display())));
    }
    std::fs::read(path).map_err(refused)
}

impl Refusal {
    fn of(message: impl Into<String>) -> Self {
        Self { message: message.into(), faults: Vec::new() }
    }
}
