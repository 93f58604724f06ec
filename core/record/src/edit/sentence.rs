//! The sentence of an edit: "post P7 moved from 4,310 to 4,325 mm"; and of several that are made at once.

use automerge::ScalarValue;
use survey::{FeatureKind, Measurement, Piece};

use super::{Edit, NewThing};
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
        Edit::Add(new) => format!("{} added{}", new_name(new), to_rail(content, &thing)),
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
            let at = before(content, thing, "chainage").and_then(|cell| Measurement::from_scalar(cell).ok());
            format!("{} {}", kind.map_or("feature", |kind| kind.word()), called(content.label(thing), at.as_ref()))
        }
        _ => format!("{} {}", thing.kind.word(), content.label(thing)),
    }
}

/// A feature's label or short id; an id that a program made says nothing to a person, where the feature stands does.
fn called(label: &str, at: Option<&Measurement>) -> String {
    match at {
        Some(at) if is_made_by_program(label) => format!("at {}", grouped_mm(at.value.to_um())),
        _ => label.to_owned(),
    }
}

/// Whether an id has the form of a UUID (RFC 9562): 36 characters with hyphens at their places.
fn is_made_by_program(id: &str) -> bool {
    id.len() == 36
        && id.bytes().enumerate().all(|(at, byte)| match at {
            8 | 13 | 18 | 23 => byte == b'-',
            _ => byte.is_ascii_hexdigit(),
        })
}

/// What a new thing is and what people will call it.
fn new_name(new: &NewThing) -> String {
    let thing = new.thing();
    let (word, label) = match new {
        NewThing::Feature { feature, .. } => {
            let label = if feature.label.is_empty() { &thing.id } else { &feature.label };
            return format!("{} {}", feature.kind.word(), called(label, Some(&feature.chainage)));
        }
        NewThing::Piece { piece: Piece::Straight(_), .. } => return "straight".to_owned(),
        NewThing::Piece { piece: Piece::Bend(_), .. } => return "bend".to_owned(),
        NewThing::Rail(new) => (thing.kind.word(), new.label.as_str()),
        NewThing::MainsPoint(new) => (thing.kind.word(), new.label.as_str()),
        NewThing::DriverPlace(new) => (thing.kind.word(), new.label.as_str()),
        NewThing::Zone(new) => (thing.kind.word(), new.label.as_str()),
        NewThing::Route(new) => (thing.kind.word(), new.label.as_str()),
        NewThing::Photo(_) | NewThing::Wish(_) => (thing.kind.word(), ""),
    };
    let label = if label.is_empty() { &thing.id } else { label };
    if is_made_by_program(label) { word.to_owned() } else { format!("{word} {label}") }
}

/// The rail to which something was added.
fn to_rail(content: &Content, thing: &Thing) -> String {
    if thing.kind.of_rail() { format!(" to {}", name(content, &Thing::rail(&thing.rail))) } else { String::new() }
}

/// Several edits that are made at once, each with its sentence, in one sentence; like additions are counted.
#[must_use]
pub(crate) fn together(said: Vec<(Option<String>, String)>) -> String {
    const MOST_SAID: usize = 3;
    let mut counted: Vec<(Option<String>, usize, String)> = Vec::new();
    for (like, sentence) in said {
        match counted.last_mut() {
            Some((last, count, _)) if like.is_some() && *last == like => *count += 1,
            _ => counted.push((like, 1, sentence)),
        }
    }
    let all = counted.len();
    let shown = if all > MOST_SAID { MOST_SAID - 1 } else { all };
    let mut words: Vec<String> = counted
        .into_iter()
        .take(shown)
        .map(|(like, count, sentence)| match like {
            Some(like) if count > 1 => format!("{count} × {like}"),
            _ => sentence,
        })
        .collect();
    if all > shown {
        words.push(format!("and {} changes more", all - shown));
    }
    words.join("; ")
}

/// What an addition has in common with others like it: "post added to rail West ramp".
pub(crate) fn like(content: &Content, edit: &Edit) -> Option<String> {
    let Edit::Add(new) = edit else { return None };
    let thing = new.thing();
    let word = match new.as_ref() {
        NewThing::Feature { feature, .. } => feature.kind.word(),
        _ => thing.kind.word(),
    };
    Some(format!("{word} added{}", to_rail(content, &thing)))
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
