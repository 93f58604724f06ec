//! Writes a list of parts as CSV (RFC 4180): the names of the fields, then one row for each part. What is written reads back
//! as the same parts.

use serde_json::Value as Json;

use super::form::{FieldForm, Input, fields};
use super::{Separator, Sheet, cells_of, parts_of};

/// For which spreadsheets a file is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize, ts_rs::TS)]
#[serde(rename_all = "snake_case")]
pub enum CsvStyle {
    /// Commas between cells, points in decimals.
    Points,
    /// Semicolons between cells, commas in decimals.
    Commas,
}

impl CsvStyle {
    const fn separator(self) -> Separator {
        match self {
            Self::Points => Separator::Comma,
            Self::Commas => Separator::Semicolon,
        }
    }

    fn cell(self, form: &FieldForm, text: &str) -> String {
        match form.input {
            Input::Number | Input::Length | Input::Money | Input::LengthPrices => match self {
                Self::Points => text.to_owned(),
                Self::Commas => text.replace('.', ","),
            },
            _ => protected(text),
        }
    }
}

/// A text that a spreadsheet takes for a text: never for a formula, nor for a number or a day that it would write anew in
/// another form. The apostrophe is what people type for that; it is taken off when the file is read.
fn protected(text: &str) -> String {
    let begins = |of: &[char]| text.trim_start_matches([' ', '\t', '\r', '\n']).starts_with(of);
    if begins(&['=', '+', '-', '@', '\'']) || text.starts_with(['\t', '\r', '\n']) {
        format!("'{text}")
    } else {
        text.to_owned()
    }
}

/// A list of parts of a catalogue in full form.
#[must_use]
pub fn csv_of(full: &Json, sheet: Sheet, style: CsvStyle) -> Vec<u8> {
    written(sheet, parts_of(full, sheet), style)
}

/// The header alone, for somebody to fill in.
#[must_use]
pub fn template_of(sheet: Sheet, style: CsvStyle) -> Vec<u8> {
    written(sheet, &[], style)
}

fn written(sheet: Sheet, parts: &[Json], style: CsvStyle) -> Vec<u8> {
    let mut writer = csv::WriterBuilder::new()
        .delimiter(style.separator().byte())
        .terminator(csv::Terminator::CRLF)
        // Spreadsheets know UTF-8 by this mark.
        .from_writer(Vec::from("\u{feff}"));
    let forms = fields(sheet);
    // Writing into memory does not fail.
    let _ = writer.write_record(forms.iter().map(|form| form.name.as_str()));
    for part in parts {
        let cells = cells_of(sheet, part);
        let text = |form: &FieldForm| style.cell(form, cells.get(&form.name).map_or("", String::as_str));
        let _ = writer.write_record(forms.iter().map(text));
    }
    writer.into_inner().unwrap_or_default()
}
