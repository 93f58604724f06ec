//! From a document to a survey.

use std::collections::BTreeMap;

use automerge::{Automerge, ScalarValue};
use survey::Survey;

use super::content::{Content, Fields};
use super::part::{compose, parts};
use super::source::Unreadable;
use super::{Kind, Thing};

/// What a document says.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The survey; `None` where even the site itself cannot be read.
    pub survey: Option<Survey>,
    /// What this release cannot read, kept in the document as it is.
    pub unreadable: Vec<Unreadable>,
    /// The shape's version, where it is newer than this release knows.
    pub newer: Option<i64>,
}

/// Reads a document.
#[must_use]
pub fn read(doc: &Automerge) -> Reading {
    read_content(&Content::walk(doc))
}

/// Reads what was walked.
#[must_use]
pub fn read_content(content: &Content) -> Reading {
    compose(content, &parts(content))
}

/// The things of a kind that are not removed, by their order key and then their id.
pub(crate) fn ordered<'a>(content: &'a Content, kind: Kind, rail: &'a str) -> Vec<(&'a Thing, &'a Fields)> {
    let mut sorted: BTreeMap<(String, &Thing), &Fields> = BTreeMap::new();
    for (thing, fields) in content.of(kind, rail).filter(|(_, fields)| !fields.is_removed()) {
        sorted.insert((order_key(fields), thing), fields);
    }
    sorted.into_iter().map(|((_, thing), fields)| (thing, fields)).collect()
}

/// The order key of a thing; what has none, or one of another form, comes last.
pub(crate) fn order_key(fields: &Fields) -> String {
    match fields.cells.get("order").map(super::Cell::value) {
        Some(ScalarValue::Str(text)) => text.to_string(),
        _ => "~".to_owned(),
    }
}
