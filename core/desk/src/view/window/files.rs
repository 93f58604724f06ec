//! Survey files, looked at without a store; and files that are read and written for a person.

use std::path::Path;
use std::sync::Arc;

use super::{Shown, Window};
use crate::demo;
use crate::planned::plan_files;
use crate::view::Scheme;
use crate::view::wire::{CatalogueNote, Opened, Refusal, WayOn};
use crate::wire::{Mirror, survey::Survey};

/// More than a survey can have; a file beyond it is not even read.
const GREATEST_FILE: u64 = 64 << 20;

impl Window {
    /// Opens a survey file to look at, planned with the catalogue beside it (`catalogue.toml`), else with the demo
    /// catalogue.
    ///
    /// # Errors
    /// What is wrong with the files, every fault in one go.
    pub fn open_file(&self, path: &str) -> Result<Opened, Refusal> {
        let survey = read(Path::new(path))?;
        let beside = Path::new(path).with_file_name("catalogue.toml");
        let stands_in = (!beside.exists()).then(|| {
            "No catalogue.toml lies beside this file, so it is planned with the invented demo catalogue.".to_owned()
        });
        let planned = if beside.exists() {
            let catalogue = read(&beside)?;
            plan_files((&survey, path), (&catalogue, &beside.to_string_lossy()))
        } else {
            plan_files((&survey, path), (demo::CATALOGUE, demo::CATALOGUE_NAME))
        };
        let site = planned
            .map_err(|faults| Refusal { message: format!("{path} cannot be used as it is"), faults: faults.lines() })?;
        let opened = Opened {
            id: site.survey.site.id.to_string(),
            page: Scheme::of(&site).site_page(path),
            page_number: 0,
            survey: Survey::from_plain(&site.survey),
            said: None,
            undo: None,
            redo: None,
            read_only: Some("This is a survey file, opened to look at. Take it in as a site to change it.".to_owned()),
            as_of: None,
            way_on: WayOn::TakeIn,
            catalogue: CatalogueNote { stands_in, ..CatalogueNote::of(&site.catalogue) },
            cost: Scheme::of(&site).cost().cost,
            bound: Scheme::of(&site).cost().lower_bound,
            luminaire_parts: Scheme::of(&site).luminaire_parts(),
        };
        let mut desk = self.desk();
        (desk.open, desk.past) = (None, None);
        *self.shown() = Some(Shown { site: Arc::new(site), is_stored: false });
        drop(desk);
        Ok(opened)
    }
}

/// The bytes of a file, if it is no larger than any that can be used.
pub(super) fn read(path: &Path) -> Result<Vec<u8>, Refusal> {
    let refused = |error: std::io::Error| Refusal::of(format!("{} cannot be read: {error}", path.display()));
    let size = std::fs::metadata(path).map_err(refused)?.len();
    if size > GREATEST_FILE {
        return Err(Refusal::of(format!("{} has {size} bytes; at most 64 MiB are read", path.display())));
    }
    std::fs::read(path).map_err(refused)
}
