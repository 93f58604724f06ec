//! The list of sites, and what is done to a site as a whole.

use std::fs::File;
use std::io::{Read as _, Seek as _};
use std::path::Path;

use super::{Desk, Window, files};
use crate::demo;
use crate::read::read_survey;
use crate::sites::{Archive, PARCEL_START, Said, SiteError, Sites, rename_device};
use crate::view::wire::{ExportForm, Refusal, SitesPage};
use crate::wire::sites::SiteHits;

impl Window {
    /// The sites.
    ///
    /// # Errors
    /// The store cannot be used at all.
    pub fn list_sites(&self) -> Result<SitesPage, Refusal> {
        self.with_store(|desk, sites| page(desk, sites, None))
    }

    /// Places whose text holds every word.
    ///
    /// # Errors
    /// The store fails.
    pub fn search(&self, words: &str) -> Result<SiteHits, Refusal> {
        self.with_store(|_, sites| Ok(sites.search(words)?))
    }

    /// Adds an empty site: what it is called and where it is.
    ///
    /// # Errors
    /// The label is empty, or the store is open for reading only or fails.
    pub fn new_site(&self, label: &str, address: &str) -> Result<SitesPage, Refusal> {
        self.done(|sites| sites.new_site(label, address))
    }

    /// Adds the invented demo site as a site to work on; where it is there already, once more beside it.
    ///
    /// # Errors
    /// The store is open for reading only or fails.
    pub fn add_demo_site(&self) -> Result<SitesPage, Refusal> {
        self.done(|sites| sites.add_beside(read_survey(demo::SITE, demo::SITE_NAME)?))
    }

    /// Copies a site as it stands, without its history.
    ///
    /// # Errors
    /// There is no such site, the label is empty, or the store is open for reading only or fails.
    pub fn duplicate_site(&self, id: &str, label: &str) -> Result<SitesPage, Refusal> {
        self.done(|sites| sites.duplicate(id, label))
    }

    /// Puts a site into the archive.
    ///
    /// # Errors
    /// There is no such site, or the store is open for reading only or fails.
    pub fn archive_site(&self, id: &str) -> Result<SitesPage, Refusal> {
        self.done(|sites| sites.archive(id, Archive::In))
    }

    /// Takes a site out of the archive.
    ///
    /// # Errors
    /// As [`Self::archive_site`].
    pub fn restore_site(&self, id: &str) -> Result<SitesPage, Refusal> {
        self.done(|sites| sites.archive(id, Archive::Out))
    }

    /// Says how far the job has come: survey, scheme, price or fit.
    ///
    /// # Errors
    /// There is no such site or stage, or the store is open for reading only or fails.
    pub fn put_stage(&self, id: &str, stage: &str) -> Result<SitesPage, Refusal> {
        self.done(|sites| sites.put_stage(id, stage))
    }

    /// Takes in a survey file as a new site, or a site file with its whole history. Nothing that is here is overwritten: a
    /// survey whose id is taken comes in beside the site that has it.
    ///
    /// # Errors
    /// Every fault of the file; or the store is open for reading only or fails.
    pub fn import_site(&self, path: &str) -> Result<SitesPage, Refusal> {
        let parcel = parcel(Path::new(path))?;
        // A site file is read piece by piece, since its photos may be many; a survey file at once.
        let survey = if parcel.is_some() { Vec::new() } else { files::read(Path::new(path))? };
        let name = |refusal: Refusal| match refusal.faults.is_empty() {
            true => refusal,
            false => Refusal { message: format!("{path} cannot be used as it is"), ..refusal },
        };
        self.done(|sites| {
            if let Some(mut file) = parcel {
                let came = sites.receive(&mut file)?;
                let sentence = came.sentence();
                return Ok(Said { id: came.sites.into_iter().next().unwrap_or_default(), sentence });
            }
            sites.add_beside(read_survey(&survey, path)?)
        })
        .map_err(name)
    }

    /// Writes a site into a file.
    ///
    /// # Errors
    /// There is no such site, or the file cannot be written.
    pub fn export_site(&self, id: &str, path: &str, form: ExportForm) -> Result<SitesPage, Refusal> {
        self.with_store(|desk, sites| {
            let left_out = match form {
                ExportForm::Site => sites.send_file(id, Path::new(path))?.left_out(),
                ExportForm::Survey => {
                    let text = sites.export(id, None)?;
                    sites.write_outside(Path::new(path), text.as_bytes())?;
                    String::new()
                }
            };
            page(desk, sites, Some(Said { id: id.to_owned(), sentence: format!("written to {path}{left_out}") }))
        })
    }

    /// Says that a device's changes count from now on.
    ///
    /// # Errors
    /// There is no such device, or the store is open for reading only or fails.
    pub fn know_device(&self, device: &str) -> Result<SitesPage, Refusal> {
        self.done(|sites| Ok(Said { id: String::new(), sentence: sites.know(device)? }))
    }

    /// Says who works here and what this device is called; the changes made from then on carry it.
    ///
    /// # Errors
    /// A name is empty, or the store is open for reading only or cannot be used.
    pub fn name_device(&self, person: &str, device: &str) -> Result<SitesPage, Refusal> {
        let (person, device) = (person.trim(), device.trim());
        if person.is_empty() || device.is_empty() {
            return Err(Refusal::of("a name is empty; accepted: who works here, and what this device is called"));
        }
        self.alone(|| {
            self.with_store(|desk, sites| {
                if let Some(why) = &desk.why_reading {
                    return Err(Refusal::of(why.clone()));
                }
                Ok(rename_device(sites.home(), Some(person), Some(device))?)
            })?;
            // The store signs under the name that it was opened with.
            self.reopen_store()
        })
    }

    /// Does something to the sites, and answers with the list as it is then. The open site is closed first: whoever writes
    /// to a site by its id would not be known to it.
    fn done(&self, work: impl FnOnce(&mut Sites) -> Result<Said, SiteError>) -> Result<SitesPage, Refusal> {
        self.with_store(|desk, sites| {
            if let Some(why) = &desk.why_reading {
                return Err(Refusal::of(why.clone()));
            }
            (desk.open, desk.past) = (None, None);
            let said = work(sites)?;
            page(desk, sites, Some(said))
        })
    }
}

fn page(desk: &Desk, sites: &Sites, said: Option<Said>) -> Result<SitesPage, Refusal> {
    let list = sites.list()?.sites;
    let (own, others): (Vec<_>, Vec<_>) = sites.devices()?.devices.into_iter().partition(|line| line.this);
    let own = own.into_iter().next();
    let (sentence, site) = said.map_or((None, None), |said| (Some(said.sentence), Some(said.id)));
    Ok(SitesPage {
        said: sentence,
        site: site.filter(|id| list.iter().any(|line| &line.id == id)),
        sites: list,
        unknown_devices: others.into_iter().filter(|line| !line.known).collect(),
        read_only: desk.why_reading.clone(),
        home: sites.home().display().to_string(),
        person: own.as_ref().map(|line| line.person.clone()).unwrap_or_default(),
        device: own.map(|line| line.device).unwrap_or_default(),
    })
}

/// The file, where it begins as one of a site with its history does.
fn parcel(path: &Path) -> Result<Option<File>, Refusal> {
    let refused = |error: std::io::Error| Refusal::of(format!("{} cannot be read: {error}", path.display()));
    let mut file = File::open(path).map_err(refused)?;
    let mut start = Vec::new();
    (&mut file).take(PARCEL_START.len() as u64).read_to_end(&mut start).map_err(refused)?;
    file.rewind().map_err(refused)?;
    Ok((start == PARCEL_START).then_some(file))
}
