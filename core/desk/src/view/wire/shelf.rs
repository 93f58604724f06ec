//! The list of sites, and what this window remembers of how a person likes to see things.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{Opened, Refusal};
use crate::wire::sites::{DeviceLine, SiteLine};

/// The sites of this computer, after what was asked for.
#[derive(Clone, Debug, Serialize, TS)]
pub struct SitesPage {
    /// What was done, in words.
    pub said: Option<String>,
    /// The site that it was done to, or that was made.
    pub site: Option<String>,
    /// The sites, last changed first.
    pub sites: Vec<SiteLine>,
    /// Devices whose changes wait until somebody here says that they count.
    pub unknown_devices: Vec<DeviceLine>,
    /// Why nothing can be changed, in words; absent where it can.
    pub read_only: Option<String>,
    /// The folder that holds the sites.
    pub home: String,
    /// Who works here, by the device's own word.
    pub person: String,
    /// What this device is called.
    pub device: String,
}

/// What the window shows first.
#[derive(Clone, Debug, Serialize, TS)]
pub struct Start {
    /// How this person likes to see things.
    pub settings: Settings,
    /// The first screen.
    pub first: First,
}

/// The first screen.
#[derive(Clone, Debug, Serialize, TS)]
#[serde(tag = "show", rename_all = "snake_case")]
#[allow(clippy::large_enum_variant, reason = "one crosses when the program starts")]
pub enum First {
    /// The list of sites.
    Sites,
    /// The survey file that was named.
    Site {
        /// Opened to look at.
        opened: Opened,
    },
    /// The named file cannot be used.
    Refused {
        /// Why.
        refusal: Refusal,
    },
}

/// How a person likes to see things.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, TS)]
pub struct Settings {
    /// Day or dark.
    pub theme: ThemeChoice,
    /// Metric or imperial lengths.
    pub units: Units,
}

/// The colours of the window.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ThemeChoice {
    /// What the desktop asks for.
    #[default]
    Desktop,
    /// Dark on light, 7:1 or better, for outdoors.
    Day,
    /// Light on dark, for plant rooms and night work.
    Dark,
}

/// In what lengths are shown. They are kept in whole micrometres either way.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum Units {
    /// Millimetres and metres.
    #[default]
    Metric,
    /// Feet, inches and sixteenths.
    Imperial,
}

/// In what form a site leaves this computer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, TS)]
#[serde(rename_all = "snake_case")]
pub enum ExportForm {
    /// One file with the whole history, for another Newel.
    Site,
    /// A survey file as the site stands.
    Survey,
}
