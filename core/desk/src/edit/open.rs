//! A site kept open for editing: each edit is on the disk when it is answered.

use catalogue::Catalogue;
use record::store::Site;
use serde::Serialize;
use ts_rs::TS;

use super::{Edit, uses};
use crate::fault::Faults;
use crate::planned::Planned;
use crate::read::read_edit;
use crate::sites::{Said, SiteError, Sites};
use crate::view::{Scheme, SitePage};

/// What an edit did.
#[derive(Clone, Debug, Serialize, TS)]
pub struct Edited {
    /// What was changed, in words.
    pub said: String,
    /// What can be taken back now, in words.
    pub undo: Option<String>,
    /// What can be made again now, in words.
    pub redo: Option<String>,
    /// The site with its plan as it is now.
    pub page: SitePage,
}

/// A site that is open for editing.
pub struct OpenSite {
    site: Site,
    catalogue: Catalogue,
    planned: Planned,
}

impl OpenSite {
    /// Opens a site and plans it.
    ///
    /// # Errors
    /// There is no such site, it cannot be read, or the database fails.
    pub fn open(sites: &mut Sites, asked: &str, catalogue: Catalogue) -> Result<Self, SiteError> {
        let site = sites.site(asked)?;
        let planned = crate::sites::planned(&site, None, catalogue.clone())?;
        Ok(Self { site, catalogue, planned })
    }

    /// The site's id.
    #[must_use]
    pub fn id(&self) -> &str {
        self.site.document()
    }

    /// The site with its plan.
    #[must_use]
    pub fn planned(&self) -> &Planned {
        &self.planned
    }

    /// What the window shows of it.
    #[must_use]
    pub fn page(&self) -> SitePage {
        Scheme::of(&self.planned).site_page(self.id())
    }

    /// Makes an edit.
    ///
    /// # Errors
    /// It does not fit the site, something refers to what it removes, or the database fails; then nothing is changed.
    pub fn edit(&mut self, sites: &mut Sites, edit: Edit) -> Result<Edited, SiteError> {
        let said = make(sites, &mut self.site, edit)?;
        self.answer(sites, said)
    }

    /// Takes back this device's last change.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn undo(&mut self, sites: &mut Sites) -> Result<Edited, SiteError> {
        let now = sites.now();
        let said = self.site.undo(sites.store_mut(), now)?;
        self.answer(sites, said)
    }

    /// Makes again what was taken back last.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn redo(&mut self, sites: &mut Sites) -> Result<Edited, SiteError> {
        let now = sites.now();
        let said = self.site.redo(sites.store_mut(), now)?;
        self.answer(sites, said)
    }

    fn answer(&mut self, sites: &mut Sites, said: String) -> Result<Edited, SiteError> {
        self.planned = crate::sites::planned(&self.site, None, self.catalogue.clone())?;
        let (undo, redo) = self.site.steps(sites.store_mut());
        Ok(Edited { said, undo, redo, page: self.page() })
    }
}

impl Sites {
    /// Makes an edit, given as JSON or TOML in the form of [`Edit`]; lengths may be texts with a unit.
    ///
    /// # Errors
    /// Every fault of the text; then as [`OpenSite::edit`].
    pub fn edit(&mut self, asked: &str, edit: &[u8], name: &str) -> Result<Said, SiteError> {
        let edit = read_edit(edit, name)?;
        let mut site = self.site(asked)?;
        let sentence = make(self, &mut site, edit)?;
        Ok(Said { id: site.document().to_owned(), sentence })
    }

    /// Takes back this device's last change of a site.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn undo(&mut self, asked: &str) -> Result<Said, SiteError> {
        let (mut site, now) = (self.site(asked)?, self.now());
        let sentence = site.undo(self.store_mut(), now)?;
        Ok(Said { id: site.document().to_owned(), sentence })
    }

    /// Makes again what was taken back last.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn redo(&mut self, asked: &str) -> Result<Said, SiteError> {
        let (mut site, now) = (self.site(asked)?, self.now());
        let sentence = site.redo(self.store_mut(), now)?;
        Ok(Said { id: site.document().to_owned(), sentence })
    }
}

fn make(sites: &mut Sites, site: &mut Site, edit: Edit) -> Result<String, SiteError> {
    site.catch_up(sites.store_mut())?;
    if let Edit::Remove { thing } = &edit
        && let Some(survey) = site.reading().survey
    {
        let users = uses::users(&survey, thing);
        if !users.is_empty() {
            return Err(SiteError::InUse { thing: thing.thing().to_string(), users: users.join(", ") });
        }
    }
    if let Edit::AddRail { new } = &edit {
        one_id_each(new)?;
    }
    let now = sites.now();
    // The history keeps its sentences in one line each.
    Ok(site.edit(sites.store_mut(), &edit.into_stored(), now)?.replace(['\n', '\r'], " "))
}

/// A rail is written whole, so two of its parts under one id would become one.
fn one_id_each(rail: &crate::wire::survey::Rail) -> Result<(), SiteError> {
    use crate::fault::Fault;
    use crate::wire::Mirror;
    let rail = rail.clone().into_plain();
    let mut seen = std::collections::BTreeSet::new();
    let ids = rail.pieces.iter().map(survey::Piece::id).chain(rail.features.iter().map(|feature| &feature.id));
    let twice: Vec<Fault> = ids
        .filter(|id| !seen.insert((*id).clone()))
        .map(|id| {
            let accepted = "an id that no other piece or feature of the rail has";
            Fault { value: id.to_string(), ..Fault::of_file("edit", "is given twice", accepted) }
        })
        .collect();
    if twice.is_empty() { Ok(()) } else { Err(Faults { list: twice }.into()) }
}
