//! A site kept open for editing: each change is on the disk when it is answered.

use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};

use plan::Memory;
use record::edit::Edit as Stored;
use record::store::Site;

use super::{Edit, uses};
use crate::fault::Faults;
use crate::planned::Planned;
use crate::read::read_edit;
use crate::sites::{self, InForce, Said, SiteError, Sites};
use crate::view::{BesidePage, Opened, Scheme, SitePage, Tried, WayOn};
use crate::wire::{Mirror, survey::Survey};

/// A site that is open for editing. It alone writes to its site while it is there: two that did so would each not know
/// what the other wrote.
pub struct OpenSite {
    site: Site,
    in_force: InForce,
    planned: Arc<Planned>,
    memory: Arc<Memory>,
    /// What the window shows of it.
    page: SitePage,
    /// The number of that page.
    number: u32,
}

/// The number of the last page. A plan names no page: a label may change under the same plan, and a site may be opened anew.
static LAST: AtomicU32 = AtomicU32::new(0);

/// The number of a new page.
fn next_number() -> u32 {
    LAST.fetch_add(1, Ordering::Relaxed).wrapping_add(1)
}

impl OpenSite {
    /// Opens a site and plans it.
    ///
    /// # Errors
    /// There is no such site, it cannot be read, or the database fails.
    pub fn open(sites: &mut Sites, asked: &str, in_force: InForce) -> Result<Self, SiteError> {
        let site = sites.site(asked)?;
        let planned = Arc::new(sites::planned(&site, None, in_force.catalogue.clone(), sites.memory())?);
        let page = Scheme::of(&planned).site_page(site.document());
        Ok(Self { site, in_force, planned, memory: sites.memory().clone(), page, number: next_number() })
    }

    /// The site's id.
    #[must_use]
    pub fn id(&self) -> &str {
        self.site.document()
    }

    /// The site with its plan.
    #[must_use]
    pub fn planned(&self) -> &Arc<Planned> {
        &self.planned
    }

    /// The catalogue that it is planned with.
    #[must_use]
    pub fn in_force(&self) -> &InForce {
        &self.in_force
    }

    /// Plans it anew with another catalogue.
    ///
    /// # Errors
    /// It cannot be read, or the database fails.
    pub fn plan_with(&mut self, in_force: InForce) -> Result<(), SiteError> {
        self.in_force = in_force;
        self.plan()
    }

    /// What the window shows of it.
    #[must_use]
    pub fn page(&self) -> &SitePage {
        &self.page
    }

    /// The site as it is, with what can be taken back.
    #[must_use]
    pub fn opened(&self, sites: &Sites, said: Option<String>) -> Opened {
        let (undo, redo) = self.site.steps(sites.store());
        Opened {
            id: self.id().to_owned(),
            page: self.page.clone(),
            page_number: self.number,
            survey: Survey::from_plain(&self.planned.survey),
            said,
            undo,
            redo,
            read_only: sites.read_only().map(str::to_owned),
            as_of: None,
            way_on: WayOn::None,
            catalogue: self.in_force.note(),
            cost: Scheme::of(&self.planned).cost().cost,
            bound: Scheme::of(&self.planned).cost().lower_bound,
            luminaire_parts: Scheme::of(&self.planned).luminaire_parts(),
        }
    }

    /// Makes edits as one change, which is taken back at once.
    ///
    /// # Errors
    /// One of them does not fit the site, something refers to what one removes, or the database fails; then nothing is
    /// changed.
    pub fn edit(&mut self, sites: &mut Sites, edits: Vec<Edit>) -> Result<Opened, SiteError> {
        let said = make(sites, &mut self.site, edits)?;
        self.answer(sites, said)
    }

    /// Makes edits of the document as one change under a sentence of its own.
    pub(crate) fn edit_as(
        &mut self,
        sites: &mut Sites,
        sentence: String,
        edits: &[Stored],
    ) -> Result<Opened, SiteError> {
        let now = sites.now();
        self.site.edit_with_photos(sites.store_mut(), &sentence, edits, &[], now)?;
        self.answer(sites, sentence)
    }

    /// Plans the site as it would be with edits; nothing of it is kept. `beside` is the number of the page that the asker has.
    ///
    /// # Errors
    /// One of them does not fit the site, or something refers to what one removes.
    pub fn try_edits(&mut self, sites: &Sites, edits: Vec<Edit>, beside: u32) -> Result<Tried, SiteError> {
        let edits = checked(sites, &mut self.site, edits)?;
        let reading = self.site.rehearse(sites.store(), &edits)?;
        let tried = sites::planned_reading(&self.site, reading, self.in_force.catalogue.clone(), &self.memory)?;
        let known = Some(&self.page).filter(|_| self.number == beside);
        let (then, now) = (Scheme::of(&tried).cost(), Scheme::of(&self.planned).cost());
        Ok(Tried {
            page: BesidePage::of(Scheme::of(&tried).site_page(self.id()), known),
            cost: then.cost,
            cost_now: now.cost,
            bound: then.lower_bound,
            bound_now: now.lower_bound,
        })
    }

    /// The site as it was with a change, to look at.
    ///
    /// # Errors
    /// There is no such change, or the site as it was cannot be read.
    pub fn past(&self, change: &str) -> Result<Arc<Planned>, SiteError> {
        Ok(Arc::new(sites::planned(&self.site, Some(change), self.in_force.catalogue.clone(), &self.memory)?))
    }

    /// Takes back this device's last change.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn undo(&mut self, sites: &mut Sites) -> Result<Opened, SiteError> {
        let now = sites.now();
        let said = self.site.undo(sites.store_mut(), now)?;
        self.answer(sites, said)
    }

    /// Makes again what was taken back last.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn redo(&mut self, sites: &mut Sites) -> Result<Opened, SiteError> {
        let now = sites.now();
        let said = self.site.redo(sites.store_mut(), now)?;
        self.answer(sites, said)
    }

    /// Settles a disagreement by one of its values, named by its number.
    ///
    /// # Errors
    /// There is no such disagreement or number, or the database fails.
    pub fn settle(&mut self, sites: &mut Sites, disagreement: &str, number: u32) -> Result<Opened, SiteError> {
        let said = sites.settle_in(&mut self.site, disagreement, number)?;
        self.answer(sites, said)
    }

    /// The stored site.
    pub(crate) fn site(&self) -> &Site {
        &self.site
    }

    fn answer(&mut self, sites: &Sites, said: String) -> Result<Opened, SiteError> {
        self.plan()?;
        Ok(self.opened(sites, Some(said)))
    }

    fn plan(&mut self) -> Result<(), SiteError> {
        self.planned = Arc::new(sites::planned(&self.site, None, self.in_force.catalogue.clone(), &self.memory)?);
        self.page = Scheme::of(&self.planned).site_page(self.site.document());
        self.number = next_number();
        Ok(())
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
        let sentence = make(self, &mut site, vec![edit])?;
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

fn make(sites: &mut Sites, site: &mut Site, edits: Vec<Edit>) -> Result<String, SiteError> {
    let edits = checked(sites, site, edits)?;
    let now = sites.now();
    // The history keeps its sentences in one line each.
    Ok(site.edit_all(sites.store_mut(), &edits, now)?.replace(['\n', '\r'], " "))
}

/// The edits of the document, unless a rail holds an id twice or something is removed to which others still refer after
/// all of them.
fn checked(sites: &Sites, site: &mut Site, edits: Vec<Edit>) -> Result<Vec<Stored>, SiteError> {
    for edit in &edits {
        if let Edit::AddRail { new } = edit {
            one_id_each(new)?;
        }
    }
    let removed: Vec<_> = edits
        .iter()
        .filter_map(|edit| match edit {
            Edit::Remove { thing } => Some(thing.clone()),
            _ => None,
        })
        .collect();
    let edits: Vec<Stored> = edits.into_iter().map(Edit::into_stored).collect();
    if removed.is_empty() {
        return Ok(edits);
    }
    if let Some(survey) = site.rehearse(sites.store(), &edits)?.survey {
        for thing in removed {
            let users = uses::users(&survey, &thing);
            if !users.is_empty() {
                return Err(SiteError::InUse { thing: thing.thing().to_string(), users: users.join(", ") });
            }
        }
    }
    Ok(edits)
}

/// A rail is written whole, so two of its parts under one id would become one.
fn one_id_each(rail: &crate::wire::survey::Rail) -> Result<(), SiteError> {
    use crate::fault::Fault;
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
