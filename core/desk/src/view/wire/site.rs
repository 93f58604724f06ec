//! The site as a whole: its rails, mains points and findings, or why it was refused.

use serde::Serialize;
use ts_rs::TS;

use super::{Figure, Mark, RailPage};
use crate::wire::plan::Subject;

/// How many findings carry each verdict.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, TS)]
pub struct Tally {
    /// Findings that pass.
    pub pass: u32,
    /// Findings that could not be evaluated.
    pub not_evaluated: u32,
    /// Cautions.
    pub caution: u32,
    /// Stops.
    pub stop: u32,
}

/// One opened site.
#[derive(Clone, Debug, Serialize, TS)]
pub struct SitePage {
    /// The site's name.
    pub title: String,
    /// What else the heading says: invented or real, when surveyed.
    pub subtitle: String,
    /// Where it was read from, as the person gave it.
    pub file: String,
    /// The identity of the plan: the same inputs give the same text.
    pub plan_id: String,
    /// The rails in the survey's order.
    pub rails: Vec<RailPage>,
    /// The mains points.
    pub mains_points: Vec<MainsLine>,
    /// The zones with lit rails and their control.
    pub zones: Vec<ZoneLine>,
    /// Every finding of the site, stops first.
    pub findings: Vec<FindingLine>,
    /// The findings counted.
    pub tally: Tally,
}

/// A place where mains can be had.
#[derive(Clone, Debug, Serialize, TS)]
pub struct MainsLine {
    /// Identity in the survey.
    pub id: String,
    /// The surveyor's label.
    pub label: String,
    /// What it is and who may work on it.
    pub detail: String,
    /// Rating of the protective device.
    pub rating: Option<Figure>,
}

/// A zone with its control.
#[derive(Clone, Debug, Serialize, TS)]
pub struct ZoneLine {
    /// Identity in the brief.
    pub id: String,
    /// What people call it.
    pub label: String,
    /// How it is controlled and whether it lights stairs, in words.
    pub control: String,
    /// Its control devices, along each control line.
    pub devices: Vec<DeviceRow>,
}

/// A control device.
#[derive(Clone, Debug, Serialize, TS)]
pub struct DeviceRow {
    /// Its reference.
    pub device: String,
    /// The part.
    pub part: String,
    /// Where it stands and what it stands between.
    pub place: String,
    /// The control cable at it; `null` where it has none.
    pub cable: Option<String>,
    /// What is set up on it and recorded.
    pub settings: Vec<SettingLine>,
}

/// A value that is set up.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct SettingLine {
    /// What is set.
    pub name: String,
    /// To what.
    pub value: String,
}

/// A finding as it is shown.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
pub struct FindingLine {
    /// Place in the plan's list.
    pub index: u32,
    /// The rule.
    pub rule: String,
    /// What it is about.
    pub about: Subject,
    /// The same in words.
    pub subject: String,
    /// The rails that it touches.
    pub rails: Vec<String>,
    /// The verdict.
    pub mark: Mark,
    /// What is the matter.
    pub message: String,
    /// Measured and limit in words; empty where there is none.
    pub figures: String,
    /// What to do.
    pub advice: String,
    /// The standard or practice behind it.
    pub source: String,
}

/// Why a file could not be opened.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct Refusal {
    /// In one sentence.
    pub message: String,
    /// One line for each fault: place, value, what is accepted.
    pub faults: Vec<String>,
}
