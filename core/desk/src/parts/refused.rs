//! What of a file is not taken: the place, the value, what is the matter and what is accepted.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

use super::{FieldFault, Sheet};

/// A cell of a row, or a field of a part, that keeps the part from being taken.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Refused {
    /// Line of the file from 1.
    pub line: u32,
    /// Column of a CSV row from 1, counted in cells; 0 where the row has none for it, and in other files.
    pub column: u32,
    /// The list that the part is of.
    pub sheet: Sheet,
    /// The part's reference; empty where it has none.
    pub part: String,
    /// The field by its name; empty where the part as a whole is meant.
    pub field: String,
    /// The value as written; empty where something is missing.
    pub value: String,
    /// What is the matter with it, in words.
    pub matter: String,
    /// What is accepted, in words.
    pub accepted: String,
}

impl Refused {
    /// Of a fault of a field.
    pub(super) fn of(fault: FieldFault, sheet: Sheet, part: &str, (line, column): (usize, usize)) -> Self {
        let FieldFault { field, value, matter, accepted } = fault;
        let whole = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        Self { line: whole(line), column: whole(column), sheet, part: part.to_owned(), field, value, matter, accepted }
    }

    /// One line for a person.
    #[must_use]
    pub fn sentence(&self) -> String {
        let mut text = format!("line {}", self.line);
        if self.column > 0 {
            text += &format!(", column {}", self.column);
        }
        for word in [&self.part, &self.field] {
            if !word.is_empty() {
                text += &format!(", {word}");
            }
        }
        let value = if self.value.is_empty() { String::new() } else { format!("{} ", self.value) };
        text += &format!(": {value}{}", self.matter);
        if !self.accepted.is_empty() {
            text += &format!("; accepted: {}", self.accepted);
        }
        crate::safe::safe(&text)
    }
}
