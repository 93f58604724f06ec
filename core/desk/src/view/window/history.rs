//! The history of the open site, the site as it was, and disagreements.

use std::collections::BTreeMap;

use super::Window;
use super::site::open;
use crate::hex::hex;
use crate::sites::{SiteError, Sites, disagreement_lines, moment, set_aside_lines};
use crate::view::Scheme;
use crate::view::wire::{HistoryPage, Opened, PastChange, Refusal, WayOn};
use crate::wire::{Mirror, survey::Survey};

impl Window {
    /// What was changed, last first, and over what people disagree.
    ///
    /// # Errors
    /// No site is open, or the store fails.
    pub fn history(&self) -> Result<HistoryPage, Refusal> {
        self.with_store(|desk, sites| {
            let names = names(sites)?;
            let site = open(desk)?.site();
            let changes = site.history().into_iter().rev().map(|entry| {
                let id = hex(&entry.device.0);
                let (device, here) = names.get(&id).cloned().unwrap_or_default();
                PastChange {
                    change: entry.change.to_string(),
                    when: moment::written(entry.time_ms),
                    person: entry.person,
                    device,
                    here,
                    sentence: entry.sentence,
                }
            });
            Ok(HistoryPage {
                changes: changes.collect(),
                set_aside: set_aside_lines(site),
                disagreements: disagreement_lines(site),
            })
        })
    }

    /// The open site as it was with a change, to look at; [`Self::open_site`] goes back to now.
    ///
    /// # Errors
    /// No site is open, or it has no such change.
    pub fn view_at(&self, change: &str) -> Result<Opened, Refusal> {
        self.with_store(|desk, _| {
            let site = open(desk)?;
            let entry = site.site().history().into_iter().find(|entry| entry.change.to_string() == change);
            let planned = site.past(change)?;
            let after = entry
                .as_ref()
                .map_or_else(String::new, |entry| format!(" after a change by {}: {}", entry.person, entry.sentence));
            let opened = Opened {
                id: site.id().to_owned(),
                page: Scheme::of(&planned).site_page(site.id()),
                page_number: 0,
                survey: Survey::from_plain(&planned.survey),
                said: None,
                undo: None,
                redo: None,
                read_only: Some(format!("This is the site as it was{after}.")),
                as_of: entry.map(|entry| moment::written(entry.time_ms)),
                way_on: WayOn::ToNow,
                catalogue: site.in_force().note(),
                cost: Scheme::of(&planned).cost().cost,
                bound: Scheme::of(&planned).cost().lower_bound,
                luminaire_parts: Scheme::of(&planned).luminaire_parts(),
            };
            desk.past = Some(planned);
            Ok(opened)
        })
        .inspect(|_| self.show_open())
    }

    /// Settles a disagreement by one of its values, named by its number.
    ///
    /// # Errors
    /// There is no such disagreement or number, or the store is open for reading only or fails.
    pub fn settle(&self, name: &str, number: u32) -> Result<Opened, Refusal> {
        self.change(|site, sites| site.settle(sites, name, number))
    }
}

/// What devices are called, by id, and whether each is this one.
fn names(sites: &Sites) -> Result<BTreeMap<String, (String, bool)>, SiteError> {
    Ok(sites.devices()?.devices.into_iter().map(|line| (line.id, (line.device, line.this))).collect())
}
