//! The sentence of an edit: "post P7 moved from 4,310 to 4,325 mm".

use automerge::ScalarValue;
use survey::{FeatureKind, Measurement};

use super::Edit;
use crate::document::{Cell, Content, Kind, Thing, field};
use crate::stored::{Stored, grouped_mm, say, say_length};

/// What an edit does, in words; the content is that before the edit.
#[must_use]
pub fn sentence(content: &Content, edit: &Edit) -> String {
    let thing = edit.thing();
    let name = name(content, &thing);
    match edit {
        Edit::Set { field: written, value, .. } if written == "chainage" => moved(content, &thing, &name, value),
        Edit::Move { to, .. } => moved(content, &thing, &name, &to.to_scalar()),
        Edit::Set { field: written, value, .. } => changed(content, &thing, &name, written, value),
        Edit::ChangeKind { to, .. } => changed(content, &thing, &name, "kind", &to.to_scalar()),
        Edit::Lock { locks, .. } => changed(content, &thing, &name, "locks", &locks.to_scalar()),
        Edit::Add(_) => format!("{thing} added"),
        Edit::Reorder { after: Some(after), .. } => format!("{name} put after {}", self::name(content, after)),
        Edit::Reorder { after: None, .. } => format!("{name} put first"),
        Edit::Remove(_) => format!("{name} removed"),
        Edit::Restore(_) => format!("{name} restored"),
    }
}

/// What people call a thing: its kind and its label, else its id.
#[must_use]
pub(crate) fn name(content: &Content, thing: &Thing) -> String {
    match thing.kind {
        Kind::Site | Kind::Brief | Kind::Firm => thing.to_string(),
        Kind::Feature => {
            let kind = content.things.get(thing).and_then(|f| f.cells.get("kind"));
            let kind = kind.and_then(|cell| FeatureKind::from_scalar(cell.value()).ok());
            format!("{} {}", kind.map_or("feature", |kind| kind.word()), content.label(thing))
        }
        _ => format!("{} {}", thing.kind.word(), content.label(thing)),
    }
}

fn before<'a>(content: &'a Content, thing: &Thing, field: &str) -> Option<&'a ScalarValue> {
    content.things.get(thing).and_then(|fields| fields.cells.get(field)).map(Cell::value)
}

fn moved(content: &Content, thing: &Thing, name: &str, to: &ScalarValue) -> String {
    let mm = |scalar: &ScalarValue| Measurement::from_scalar(scalar).ok().map(|m| grouped_mm(m.value.to_um()));
    match (before(content, thing, "chainage").and_then(mm), mm(to)) {
        (Some(from), Some(to)) if from != to => format!("{name} moved from {} to {to}", from.trim_end_matches(" mm")),
        _ => changed(content, thing, name, "chainage", to),
    }
}

pub(crate) fn changed(content: &Content, thing: &Thing, name: &str, written: &str, to: &ScalarValue) -> String {
    let known = field(thing.kind, written);
    let words = known.map_or(written, |field| field.words);
    let speak = |scalar: &ScalarValue| if known.is_some_and(|f| f.length) { say_length(scalar) } else { say(scalar) };
    let from = before(content, thing, written).map_or_else(|| "not stated".to_owned(), speak);
    format!("{words} of {name} changed from {from} to {}", speak(to))
}
