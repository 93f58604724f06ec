//! The catalogue page: the firm's catalogues, one of them with its parts, and the forms of its fields.

use serde::{Deserialize, Serialize};
use ts_rs::TS;

use crate::parts::{Cells, CsvStyle, FieldForm, Sheet};
use crate::wire::sites::DisagreementLine;

/// The catalogues, and the one that is looked at, after what was asked for.
#[derive(Clone, Debug, Serialize, TS)]
pub struct CataloguePage {
    /// What was done, in words.
    pub said: Option<String>,
    /// The catalogues: the firm's own, then the built-in demo.
    pub catalogues: Vec<CatalogueEntry>,
    /// The one that is looked at.
    pub open: OpenCatalogue,
    /// Why the demo catalogue stands in for one of the firm's own, in words; absent where one is in force.
    pub stands_in: Option<String>,
    /// The sites of this computer, by label: each is planned with the catalogue in force.
    pub sites: Vec<String>,
    /// What can be taken back now, in words.
    pub undo: Option<String>,
    /// What can be made again now, in words.
    pub redo: Option<String>,
    /// Why nothing can be changed, in words; absent where it can.
    pub read_only: Option<String>,
    /// Whether the open site was planned anew.
    pub replanned: bool,
}

/// A catalogue in the list.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct CatalogueEntry {
    /// What it is known by.
    pub id: String,
    /// What people call it.
    pub name: String,
    /// How many parts it has.
    pub parts: u32,
    /// Day of its prices (ISO 8601).
    pub priced_on: String,
    /// Whether its parts and prices are invented.
    pub invented: bool,
    /// Whether it is built in and cannot be changed.
    pub built_in: bool,
    /// Whether sites are planned with it.
    pub in_force: bool,
    /// Why it cannot be used, in words; absent where it can.
    pub unusable: Option<String>,
}

/// A catalogue with its parts.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct OpenCatalogue {
    /// What it is known by.
    pub id: String,
    /// What people call it.
    pub name: String,
    /// Whether it is built in and cannot be changed.
    pub built_in: bool,
    /// Currency of its prices (ISO 4217).
    pub currency: String,
    /// A name for a copy that no other has.
    pub copy_name: String,
    /// What it says of itself, a text for each field.
    pub head: Cells,
    /// Labour, a text for each field.
    pub labour: Cells,
    /// Where people changed it at once, each in another way: their versions.
    pub disagreement: Option<DisagreementLine>,
    /// Its parts, list by list in the order of its file.
    pub parts: Vec<PartLine>,
}

/// A part.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct PartLine {
    /// The list that it is of.
    pub sheet: Sheet,
    /// Its reference.
    pub part: String,
    /// A text for each field, by its name.
    pub cells: Cells,
}

/// The fields of a sheet.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct SheetForm {
    /// The sheet.
    pub sheet: Sheet,
    /// Its fields, in the order of a form.
    pub fields: Vec<FieldForm>,
}

/// In what form a catalogue leaves this computer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize, TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum CatalogueForm {
    /// All of it, as a TOML file.
    Toml,
    /// A list of its parts as CSV.
    Csv {
        /// The list.
        sheet: Sheet,
        /// For which spreadsheets.
        style: CsvStyle,
    },
    /// The first row of such a file, to be filled in.
    Template {
        /// The list.
        sheet: Sheet,
        /// For which spreadsheets.
        style: CsvStyle,
    },
}
