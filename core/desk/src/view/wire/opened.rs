//! An open site with everything a page needs to show it and to go on from it.

use serde::Serialize;
use ts_rs::TS;

use super::{BesidePage, Figure, SitePage};
use crate::wire::survey::Survey;

/// A site as it is after what was asked for.
#[derive(Clone, Debug, Serialize, TS)]
pub struct Opened {
    /// The site's id.
    pub id: String,
    /// The site with its plan.
    pub page: SitePage,
    /// Which of all the pages that this program has shown of open sites this is: what is tried beside it names it. 0 where
    /// nothing can be tried beside it.
    pub page_number: u32,
    /// What is on site and what the client wants, as survey files have it.
    pub survey: Survey,
    /// What was done, in words; absent where the site was only opened.
    pub said: Option<String>,
    /// What can be taken back now, in words.
    pub undo: Option<String>,
    /// What can be made again now, in words.
    pub redo: Option<String>,
    /// Why nothing can be changed, in words; absent where it can.
    pub read_only: Option<String>,
    /// The moment as of which it is shown, in UTC (RFC 3339); absent where it is shown as it is.
    pub as_of: Option<String>,
    /// What can be done about it.
    pub way_on: WayOn,
    /// The catalogue that it is planned with.
    pub catalogue: CatalogueNote,
    /// What parts and labour of all feeds cost.
    pub cost: Figure,
    /// Feeds of this site cannot cost less: proved.
    pub bound: Figure,
    /// Luminaires of the catalogue that a brief may ask for, in order of part.
    pub luminaire_parts: Vec<PartChoice>,
}

/// A luminaire of the catalogue.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct PartChoice {
    /// Its part reference.
    pub part: String,
    /// Its description.
    pub description: String,
}

/// The catalogue that a site is planned with.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct CatalogueNote {
    /// What people call it.
    pub label: String,
    /// Day of its prices (ISO 8601).
    pub priced_on: String,
    /// Whether its parts and prices are invented.
    pub invented: bool,
    /// Why the demo catalogue stands in for one of the firm's own, in words; absent where it does not.
    pub stands_in: Option<String>,
}

/// How a person gets from a page that cannot be changed to one that can.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum WayOn {
    /// It can be changed already, or nothing here helps.
    None,
    /// The survey file can be taken in as a site.
    TakeIn,
    /// Back from the past to the site as it is.
    ToNow,
}

/// A site as it would be with edits that were not kept.
#[derive(Clone, Debug, Serialize, TS)]
pub struct Tried {
    /// The site with the plan that it would have, beside the page of the open site where the asker has that.
    pub page: BesidePage,
    /// What parts and labour of the feeds would cost, in the catalogue's currency.
    pub cost: Figure,
    /// What they cost as the site is.
    pub cost_now: Figure,
    /// Feeds cannot cost less than this with the edits: proved.
    pub bound: Figure,
    /// Nor than this as the site is.
    pub bound_now: Figure,
}
