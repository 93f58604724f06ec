//! The open site: edits that are on the disk when they are answered, undo and redo, and edits that are only tried.

use std::sync::Arc;

use serde_json::Value;

use super::{Desk, Shown, Window};
use crate::edit::OpenSite;
use crate::fault::Faults;
use crate::planned::Planned;
use crate::read::read_edits;
use crate::sites::{SiteError, Sites};
use crate::view::wire::{Opened, Refusal, Tried};

impl Window {
    /// Opens a site, as it is now.
    ///
    /// # Errors
    /// There is no such site, or it cannot be read.
    pub fn open_site(&self, id: &str) -> Result<Opened, Refusal> {
        self.with_store(|desk, sites| {
            (desk.open, desk.past) = (None, None);
            let open = OpenSite::open(sites, id, sites.catalogue_to_plan_with()?)?;
            let opened = open.opened(sites, None);
            desk.open = Some(open);
            Ok(opened)
        })
        .map(|opened| self.showing(opened))
    }

    /// Makes edits as one change. They are given in the form of [`crate::edit::Edit`]; lengths may be texts with a unit.
    ///
    /// # Errors
    /// Every fault of the edits; or one does not fit the site, the store is open for reading only, or it fails; then
    /// nothing is changed.
    pub fn edit(&self, edits: &Value) -> Result<Opened, Refusal> {
        let edits = read_edits(edits).map_err(not_fitting)?;
        self.change(|open, sites| open.edit(sites, edits))
    }

    /// Takes back this device's last change.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn undo(&self) -> Result<Opened, Refusal> {
        self.change(OpenSite::undo)
    }

    /// Makes again what was taken back last.
    ///
    /// # Errors
    /// There is none, or somebody has changed a value since.
    pub fn redo(&self) -> Result<Opened, Refusal> {
        self.change(OpenSite::redo)
    }

    /// Plans the open site as it would be with edits; nothing is kept. `beside` is the number of the page that the asker has:
    /// of the open site's page only what differs is answered, where that is the one.
    ///
    /// # Errors
    /// As [`Self::edit`].
    pub fn try_edits(&self, edits: &Value, beside: u32) -> Result<Tried, Refusal> {
        let edits = read_edits(edits).map_err(not_fitting)?;
        self.with_store(|desk, sites| Ok(open(desk)?.try_edits(sites, edits, beside)?))
    }

    /// Changes the open site, which must be shown as it is now.
    pub(super) fn change(
        &self,
        work: impl FnOnce(&mut OpenSite, &mut Sites) -> Result<Opened, SiteError>,
    ) -> Result<Opened, Refusal> {
        self.with_store(|desk, sites| {
            may_change(desk)?;
            Ok(work(open(desk)?, sites)?)
        })
        .map(|opened| self.showing(opened))
    }

    /// Notes what is shown, so that its numbers can be explained, and says in this window's words why it may not be
    /// changed.
    fn showing(&self, mut opened: Opened) -> Opened {
        self.show_open();
        let desk = self.desk();
        if desk.why_reading.is_some() {
            opened.read_only.clone_from(&desk.why_reading);
        }
        opened
    }

    /// Shows the open site, as it was where it is looked at so.
    pub(super) fn show_open(&self) {
        // The desk is held meanwhile, so that nobody puts another site on the screen in between.
        let mut desk = self.desk();
        if let Ok(site) = looked_at(&mut desk) {
            *self.shown() = Some(Shown { site, is_stored: true });
        }
    }
}

/// Refuses where the site on the screen may not be changed.
pub(super) fn may_change(desk: &Desk) -> Result<(), Refusal> {
    if desk.past.is_some() {
        return Err(Refusal::of("this is the site as it was; go back to now to change it"));
    }
    desk.why_reading.clone().map_or(Ok(()), |why| Err(Refusal::of(why)))
}

/// The open site as it is shown: as it was, or as it is now.
pub(super) fn looked_at(desk: &mut Desk) -> Result<Arc<Planned>, Refusal> {
    let now = open(desk)?.planned().clone();
    Ok(desk.past.clone().unwrap_or(now))
}

/// The open site.
pub(super) fn open(desk: &mut Desk) -> Result<&mut OpenSite, Refusal> {
    desk.open.as_mut().ok_or_else(|| Refusal::of("no site is open; open one first"))
}

fn not_fitting(faults: Faults) -> Refusal {
    Refusal { message: "this cannot be kept as it is".to_owned(), faults: faults.lines() }
}
