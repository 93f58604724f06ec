//! The parts of a catalogue one by one: as forms of texts with the same checks as a file, as rows of CSV, and as changes of
//! a TOML file that keep its comments.
//!
//! A form, a row and a file all go through the reader of files, so that they take the same values and refuse with the same
//! words. Which fields there are is derived from the schema, so that a field of the wire types has its place here by itself.

mod cells;
mod check;
mod compare;
mod csv_export;
mod csv_import;
mod dialect;
mod form;
mod incoming;
mod refused;
mod toml_edits;

pub use cells::Cells;
pub use check::{FieldFault, check};
pub use compare::{FieldChange, PartChange, Preview, preview};
pub use csv_export::{CsvStyle, csv_of, template_of};
pub use dialect::{Mark, Separator};
pub use form::{Choice, FieldForm, Input, OnlyWith, fields};
pub use incoming::{Incoming, read};
pub use refused::Refused;
pub use toml_edits::{Edit, edited, whole};

pub(crate) use cells::cells_of;

use serde::{Deserialize, Serialize};
use serde_json::Value as Json;

use crate::wire::{Mirror as _, catalogue as wire};

/// A sheet of a catalogue: one of its lists of parts, or what it says of itself or of labour.
#[derive(
    Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, schemars::JsonSchema, ts_rs::TS,
)]
#[serde(rename_all = "snake_case")]
pub enum Sheet {
    /// What the catalogue says of itself.
    Catalogue,
    /// Luminaires.
    Luminaires,
    /// Drivers.
    Drivers,
    /// Leads and cable.
    Leads,
    /// Sensors, relays, dimmers, decoders, wall stations.
    Controls,
    /// Small parts.
    Fixings,
    /// Labour.
    Labour,
}

impl Sheet {
    /// The lists of parts, in the order of the file.
    pub const PARTS: [Self; 5] = [Self::Luminaires, Self::Drivers, Self::Leads, Self::Controls, Self::Fixings];

    /// Its name in the file.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Catalogue => "catalogue",
            Self::Luminaires => "luminaires",
            Self::Drivers => "drivers",
            Self::Leads => "leads",
            Self::Controls => "controls",
            Self::Fixings => "fixings",
            Self::Labour => "labour",
        }
    }

    /// The list of parts of a name.
    #[must_use]
    pub fn of_parts(name: &str) -> Option<Self> {
        Self::PARTS.into_iter().find(|sheet| sheet.name() == name)
    }
}

/// A catalogue in its full form, as files have it.
pub(crate) fn full_form(catalogue: &catalogue::Catalogue) -> Json {
    // Our own types have text keys and finite numbers, the two things that this can fail on.
    serde_json::to_value(wire::Catalogue::from_plain(catalogue)).unwrap_or_default()
}

/// A sheet's part as it is written when it is read: every field, numbers as files have them.
pub(crate) fn canonical(sheet: Sheet, part: &Json) -> Option<Json> {
    fn through<W: serde::Serialize + serde::de::DeserializeOwned>(part: &Json) -> Option<Json> {
        serde_json::to_value(serde_json::from_value::<W>(part.clone()).ok()?).ok()
    }
    match sheet {
        // Texts and a truth value, which have one form.
        Sheet::Catalogue => Some(part.clone()),
        Sheet::Luminaires => through::<wire::Luminaire>(part),
        Sheet::Drivers => through::<wire::Driver>(part),
        Sheet::Leads => through::<wire::Lead>(part),
        Sheet::Controls => through::<wire::Control>(part),
        Sheet::Fixings => through::<wire::Fixing>(part),
        Sheet::Labour => through::<wire::Labour>(part),
    }
}

/// The parts of a list in the full form of a catalogue.
pub(crate) fn parts_of(full: &Json, sheet: Sheet) -> &[Json] {
    full.get(sheet.name()).and_then(Json::as_array).map_or(&[], Vec::as_slice)
}

/// The reference of a part in full form.
pub(crate) fn reference(part: &Json) -> &str {
    part.get("part").and_then(Json::as_str).unwrap_or_default()
}

/// The sheet and the full form of the part of a reference.
pub(crate) fn find<'a>(full: &'a Json, part: &str) -> Option<(Sheet, &'a Json)> {
    Sheet::PARTS.into_iter().find_map(|sheet| {
        parts_of(full, sheet).iter().find(|found| reference(found) == part).map(|found| (sheet, found))
    })
}
