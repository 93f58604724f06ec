//! Disagreements: fields that people changed at once to different values.

use automerge::ScalarValue;

use super::{Site, Store, StoreError};
use crate::document::{Cell, Thing, field};
use crate::edit::{Put, Way, WrittenPut, changed, name};
use crate::stored::{say, say_length};

/// One of several values of a disputed field.
#[derive(Clone, Debug, PartialEq)]
pub struct Position {
    /// The value as stored.
    pub value: ScalarValue,
    /// The value in words.
    pub said: String,
    /// Who wrote it.
    pub person: String,
    /// When, milliseconds since 1970.
    pub time_ms: i64,
}

/// A field that people changed at once to different values.
#[derive(Clone, Debug, PartialEq)]
pub struct Disagreement {
    /// The thing.
    pub thing: Thing,
    /// The field's name.
    pub field: String,
    /// What it is about, in words.
    pub about: String,
    /// The values, the one shown meanwhile first.
    pub positions: Vec<Position>,
}

impl Site {
    /// Fields over which people disagree, those of removed things included.
    #[must_use]
    pub fn disagreements(&self) -> Vec<Disagreement> {
        let mut disputed: Vec<&(Thing, String)> =
            self.projected.shares.values().flat_map(|share| &share.disputed).collect();
        disputed.sort();
        disputed.into_iter().filter_map(|(thing, name)| self.disagreement(thing, name)).collect()
    }

    pub(in crate::store) fn disagreement(&self, thing: &Thing, name: &str) -> Option<Disagreement> {
        let cell = self.cell(thing, name)?;
        let length = field(thing.kind, name).is_some_and(|f| f.length);
        let position = |written: &crate::document::Written| {
            let author = self.author(&written.by);
            Position {
                value: written.value.clone(),
                said: if length { say_length(&written.value) } else { say(&written.value) },
                person: author.map(|a| a.person.clone()).unwrap_or_default(),
                time_ms: author.map_or(0, |a| a.time_ms),
            }
        };
        let positions = cell.distinct().into_iter().map(position).collect();
        Some(Disagreement { thing: thing.clone(), field: name.to_owned(), about: self.about(thing, name), positions })
    }

    /// Settles a disagreement by one value, which need not be one of those in dispute.
    ///
    /// # Errors
    /// The thing is not there, the value does not belong there, or the database fails.
    pub fn settle(
        &mut self,
        store: &mut Store,
        about: &Disagreement,
        value: &ScalarValue,
        time_ms: i64,
    ) -> Result<String, StoreError> {
        self.catch_up(store)?;
        let name = name(&self.content, &about.thing);
        let said = changed(&self.content, &about.thing, &name, &about.field, value);
        let said = format!("settled: {said}");
        let put = Put { thing: about.thing.clone(), field: about.field.clone(), value: value.clone() };
        let put = WrittenPut::over(&self.content, put);
        self.put_all(store, said.clone(), Way::Do, vec![put], time_ms)?;
        Ok(said)
    }

    pub(super) fn cell(&self, thing: &Thing, name: &str) -> Option<&Cell> {
        self.content.things.get(thing).and_then(|fields| fields.cells.get(name))
    }
}
