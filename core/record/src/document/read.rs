//! From a document to a survey.

use std::collections::BTreeMap;

use automerge::{Automerge, ScalarValue};
use survey::{Brief, DriverPlace, Feature, Id, MainsPoint, Photo, Piece, Rail, RailBrief, Route, Site, Survey, Zone};

use super::content::{Content, Fields};
use super::source::{Effect, Source, Unreadable};
use super::table::Tabled;
use super::tables::{PieceFields, RailFields, WholeBrief};
use super::{Kind, SCHEMA_VERSION, Thing};

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
    let mut notes = Vec::new();
    for name in &content.strange {
        notes.push(Unreadable {
            thing: Thing::site(),
            field: name.clone(),
            raw: String::new(),
            why: "this release does not know this part of the document".to_owned(),
            effect: Effect::Extra,
        });
    }
    let survey = survey(content, &mut notes);
    Reading { survey, unreadable: notes, newer: content.schema_version.filter(|v| *v > SCHEMA_VERSION) }
}

fn survey(content: &Content, notes: &mut Vec<Unreadable>) -> Option<Survey> {
    let site: Option<Site> = single(content, &Thing::site(), notes);
    let whole: Option<WholeBrief> = single(content, &Thing::brief(), notes);
    let mut rails = Vec::new();
    for (thing, fields) in ordered(content, Kind::Rail, "") {
        rails.extend(rail(content, thing, fields, notes));
    }
    let mains_points = list::<MainsPoint>(content, Kind::MainsPoint, "", notes);
    let driver_places = list::<DriverPlace>(content, Kind::DriverPlace, "", notes);
    let routes = list::<Route>(content, Kind::Route, "", notes);
    let photos = list::<Photo>(content, Kind::Photo, "", notes);
    let wishes = list::<RailBrief>(content, Kind::Wish, "", notes);
    let zones = list::<Zone>(content, Kind::Zone, "", notes);
    let whole = whole?;
    let brief = Brief {
        rails: wishes,
        zones,
        reserve_percent: whole.reserve_percent,
        drop_permille: whole.drop_permille,
        loop_per_hole: whole.loop_per_hole,
        spare_percent: whole.spare_percent,
    };
    Some(Survey { site: site?, rails, mains_points, driver_places, routes, photos, brief })
}

/// One rail with its pieces and features.
fn rail(content: &Content, thing: &Thing, fields: &Fields, notes: &mut Vec<Unreadable>) -> Option<Rail> {
    let own: Option<RailFields> = one(thing, fields, notes);
    let mut pieces: Vec<Piece> = Vec::new();
    for (piece, piece_fields) in ordered(content, Kind::Piece, &thing.id) {
        let read: Option<PieceFields> = one(piece, piece_fields, notes);
        if let (Some(read), Some(id)) = (read, Id::new(&piece.id)) {
            pieces.push(read.shape.with_id(id));
        }
    }
    let mut features = list::<Feature>(content, Kind::Feature, &thing.id, notes);
    features.sort_by(|a, b| (a.chainage.value, &a.id).cmp(&(b.chainage.value, &b.id)));
    own.map(|own| own.with(pieces, features))
}

fn single<T: Tabled>(content: &Content, thing: &Thing, notes: &mut Vec<Unreadable>) -> Option<T> {
    let Some(fields) = content.things.get(thing) else {
        let why = "it is missing".to_owned();
        notes.push(Unreadable {
            thing: thing.clone(),
            field: String::new(),
            raw: String::new(),
            why,
            effect: Effect::LeftOut,
        });
        return None;
    };
    let mut source = Source::new(thing, fields, notes);
    source.note_unknown();
    // The id of the site is a field; that of the brief does not matter.
    T::read(&Id::new("single")?, &mut source)
}

fn one<T: Tabled>(thing: &Thing, fields: &Fields, notes: &mut Vec<Unreadable>) -> Option<T> {
    let Some(id) = Id::new(&thing.id) else {
        let why = "its id is empty, too long or holds a control character".to_owned();
        notes.push(Unreadable {
            thing: thing.clone(),
            field: String::new(),
            raw: String::new(),
            why,
            effect: Effect::LeftOut,
        });
        return None;
    };
    let mut source = Source::new(thing, fields, notes);
    source.note_unknown();
    T::read(&id, &mut source)
}

fn list<T: Tabled>(content: &Content, kind: Kind, rail: &str, notes: &mut Vec<Unreadable>) -> Vec<T> {
    ordered(content, kind, rail).into_iter().filter_map(|(thing, fields)| one(thing, fields, notes)).collect()
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
