//! Reading a thing's fields, noting what cannot be read.

use automerge::ScalarValue;

use super::content::{Fields, REMOVED};
use super::{Thing, field};
use crate::stored::Stored;

/// Something in the document that this release cannot read, kept as it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Unreadable {
    /// Where it stands.
    pub thing: Thing,
    /// The field; empty where it is the thing as a whole.
    pub field: String,
    /// What is stored there, for showing.
    pub raw: String,
    /// Why it cannot be read.
    pub why: String,
    /// What that means for the survey that was read.
    pub effect: Effect,
}

/// What an unreadable value means for the rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effect {
    /// Only a part that this release does not know; everything it knows was read.
    Extra,
    /// The field counts as not stated.
    NotStated,
    /// The whole thing could not be read and is left out of the survey.
    LeftOut,
}

/// The fields of one thing while it is read.
pub(crate) struct Source<'a> {
    thing: &'a Thing,
    fields: &'a Fields,
    notes: &'a mut Vec<Unreadable>,
}

impl<'a> Source<'a> {
    pub(crate) fn new(thing: &'a Thing, fields: &'a Fields, notes: &'a mut Vec<Unreadable>) -> Self {
        Self { thing, fields, notes }
    }

    /// Reads a field: the winner's value, or the cautious one where several are disputed.
    pub(crate) fn take<T: Stored>(&mut self, name: &str) -> Option<T> {
        let Some(cell) = self.fields.cells.get(name) else {
            let absent = T::absent();
            if absent.is_none() {
                self.note(name, String::new(), "nothing is written here".to_owned(), Effect::LeftOut);
            }
            return absent;
        };
        if cell.is_disputed() {
            let values: Vec<T> = cell.0.iter().filter_map(|w| T::from_scalar(&w.value).ok()).collect();
            if let Some(cautious) = T::cautious(&values) {
                return Some(cautious);
            }
        }
        match T::from_scalar(cell.value()) {
            Ok(value) => {
                if has_members(cell.value()) && value.to_scalar() != *cell.value() {
                    let why = "it holds a part or a form that this release does not know".to_owned();
                    self.note(name, cell.value().to_string(), why, Effect::Extra);
                }
                Some(value)
            }
            Err(why) => {
                let absent = T::absent();
                let effect = if absent.is_some() { Effect::NotStated } else { Effect::LeftOut };
                self.note(name, cell.value().to_string(), why, effect);
                absent
            }
        }
    }

    /// Notes every field that is no part of this shape.
    pub(crate) fn note_unknown(&mut self) {
        for (name, cell) in &self.fields.cells {
            if name != REMOVED && name != "order" && field(self.thing.kind, name).is_none() {
                let why = "this release does not know the field".to_owned();
                self.note(name, cell.value().to_string(), why, Effect::Extra);
            }
        }
        for name in &self.fields.strange {
            self.note(name, String::new(), "this release does not know the field".to_owned(), Effect::Extra);
        }
    }

    fn note(&mut self, field: &str, raw: String, why: String, effect: Effect) {
        self.notes.push(Unreadable { thing: self.thing.clone(), field: field.to_owned(), raw, why, effect });
    }
}

/// Whether a value has members, of which this release may not know all; a bare word or number that could be read holds
/// nothing else.
fn has_members(scalar: &ScalarValue) -> bool {
    match scalar {
        ScalarValue::Str(text) => text.starts_with(['{', '[']),
        ScalarValue::Null => false,
        _ => true,
    }
}
