//! Parts: what is read at once, so that one edit reads one part anew and not the whole document.
//!
//! A rail with its pieces and features is one part; every other thing is a part of its own.

use std::collections::{BTreeMap, BTreeSet};

use survey::{Brief, DriverPlace, Feature, Id, MainsPoint, Photo, Piece, Rail, RailBrief, Route, Site, Survey, Zone};

use super::content::{Content, Fields};
use super::read::{Reading, order_key, ordered};
use super::source::{Effect, Source, Unreadable};
use super::table::Tabled;
use super::tables::{PieceFields, RailFields, WholeBrief};
use super::{Kind, SCHEMA_VERSION, Thing};
use crate::together::each;

/// One part as it was read.
#[derive(Clone, Debug, Default)]
pub(crate) struct Part {
    /// Where it stands among its kind.
    order: String,
    value: Option<Value>,
    /// What could not be read in it.
    pub notes: Vec<Unreadable>,
}

#[derive(Clone, Debug)]
enum Value {
    Site(Box<Site>),
    Brief(WholeBrief),
    Rail(Box<Rail>),
    MainsPoint(Box<MainsPoint>),
    DriverPlace(Box<DriverPlace>),
    Route(Box<Route>),
    Photo(Box<Photo>),
    Wish(Box<RailBrief>),
    Zone(Zone),
}

/// The parts of a document by the thing at their head.
pub(crate) type Parts = BTreeMap<Thing, Part>;

/// The head of the part to which a thing belongs.
pub(crate) fn part_of(thing: &Thing) -> Thing {
    if thing.kind.of_rail() { Thing::rail(&thing.rail) } else { thing.clone() }
}

/// Every part of a document.
pub(crate) fn parts(content: &Content) -> Parts {
    let heads = content.things.keys().filter(|thing| !thing.kind.of_rail());
    // The site and the brief are missed where they are not there.
    let singles = [Thing::site(), Thing::brief()];
    let of_team = content.things.contains_key(&Thing::firm());
    let heads: BTreeSet<&Thing> = heads.chain(singles.iter().filter(|_| !of_team)).collect();
    let heads: Vec<&Thing> = heads.into_iter().collect();
    each(&heads, |head| ((*head).clone(), part(content, head))).into_iter().collect()
}

/// Reads one part; one that is removed holds nothing.
pub(crate) fn part(content: &Content, head: &Thing) -> Part {
    let mut notes = Vec::new();
    let Some(fields) = content.things.get(head) else {
        if head.kind.is_single() {
            notes.push(left_out(head, "it is missing"));
        }
        return Part { notes, ..Part::default() };
    };
    if fields.is_removed() && !head.kind.is_single() {
        return Part::default();
    }
    let n = &mut notes;
    let value = match head.kind {
        Kind::Site => one(head, fields, n).map(|v| Value::Site(Box::new(v))),
        Kind::Brief => one(head, fields, n).map(Value::Brief),
        Kind::Rail => rail(content, head, fields, n).map(|v| Value::Rail(Box::new(v))),
        Kind::MainsPoint => one(head, fields, n).map(|v| Value::MainsPoint(Box::new(v))),
        Kind::DriverPlace => one(head, fields, n).map(|v| Value::DriverPlace(Box::new(v))),
        Kind::Route => one(head, fields, n).map(|v| Value::Route(Box::new(v))),
        Kind::Photo => one(head, fields, n).map(|v| Value::Photo(Box::new(v))),
        Kind::Wish => one(head, fields, n).map(|v| Value::Wish(Box::new(v))),
        Kind::Zone => one(head, fields, n).map(Value::Zone),
        Kind::Piece | Kind::Feature => None,
        // The team document is read field by field.
        Kind::Firm | Kind::Setting | Kind::Member | Kind::Catalogue | Kind::Series => None,
    };
    Part { order: order_key(fields), value, notes }
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
    let features = ordered(content, Kind::Feature, &thing.id).into_iter();
    let mut features: Vec<Feature> = features.filter_map(|(thing, fields)| one(thing, fields, notes)).collect();
    features.sort_by(|a, b| (a.chainage.value, &a.id).cmp(&(b.chainage.value, &b.id)));
    own.map(|own| own.with(pieces, features))
}

fn one<T: Tabled>(thing: &Thing, fields: &Fields, notes: &mut Vec<Unreadable>) -> Option<T> {
    // The id of the site is a field, and the brief has none.
    let Some(id) = Id::new(if thing.kind.is_single() { "single" } else { &thing.id }) else {
        notes.push(left_out(thing, "its id is empty, too long or holds a control character"));
        return None;
    };
    let mut source = Source::new(thing, fields, notes);
    source.note_unknown();
    T::read(&id, &mut source)
}

fn left_out(thing: &Thing, why: &str) -> Unreadable {
    Unreadable {
        thing: thing.clone(),
        field: String::new(),
        raw: String::new(),
        why: why.to_owned(),
        effect: Effect::LeftOut,
    }
}

impl Part {
    /// The rail, where it is one that could be read.
    pub(crate) fn rail(&self) -> Option<&Rail> {
        match &self.value {
            Some(Value::Rail(rail)) => Some(rail),
            _ => None,
        }
    }

    /// Whether it is a photo that could be read.
    pub(crate) fn is_photo(&self) -> bool {
        matches!(self.value, Some(Value::Photo(_)))
    }

    /// The site's label and address, where it is the site and could be read.
    pub(crate) fn site(&self) -> Option<&Site> {
        match &self.value {
            Some(Value::Site(site)) => Some(site),
            _ => None,
        }
    }
}

/// What is strange about a document as a whole.
pub(crate) fn strange(content: &Content) -> Vec<Unreadable> {
    let unknown = |name: &String| Unreadable {
        thing: Thing::site(),
        field: name.clone(),
        raw: String::new(),
        why: "this release does not know this part of the document".to_owned(),
        effect: Effect::Extra,
    };
    content.strange.iter().map(unknown).collect()
}

/// The shape's version, where it is newer than this release knows.
pub(crate) fn newer(content: &Content) -> Option<i64> {
    content.schema_version.filter(|version| *version > SCHEMA_VERSION)
}

/// Puts parts together; the parts of a kind stand by their order key and then their id.
pub(crate) fn compose(content: &Content, parts: &Parts) -> Reading {
    let mut unreadable = strange(content);
    unreadable.extend(parts.values().flat_map(|part| part.notes.iter().cloned()));
    let mut sorted: Vec<(&Thing, &Part)> = parts.iter().collect();
    sorted.sort_by(|(a, x), (b, y)| (a.kind, &x.order, &a.id).cmp(&(b.kind, &y.order, &b.id)));
    let (mut site, mut whole) = (None, None);
    let (mut rails, mut mains_points, mut driver_places, mut routes) = (vec![], vec![], vec![], vec![]);
    let (mut photos, mut wishes, mut zones) = (vec![], vec![], vec![]);
    for value in sorted.into_iter().filter_map(|(_, part)| part.value.clone()) {
        match value {
            Value::Site(v) => site = Some(*v),
            Value::Brief(v) => whole = Some(v),
            Value::Rail(v) => rails.push(*v),
            Value::MainsPoint(v) => mains_points.push(*v),
            Value::DriverPlace(v) => driver_places.push(*v),
            Value::Route(v) => routes.push(*v),
            Value::Photo(v) => photos.push(*v),
            Value::Wish(v) => wishes.push(*v),
            Value::Zone(v) => zones.push(v),
        }
    }
    let survey = site.zip(whole).map(|(site, whole)| Survey {
        site,
        rails,
        mains_points,
        driver_places,
        routes,
        photos,
        brief: Brief {
            rails: wishes,
            zones,
            reserve_percent: whole.reserve_percent,
            drop_permille: whole.drop_permille,
            loop_per_hole: whole.loop_per_hole,
            spare_percent: whole.spare_percent,
        },
    });
    Reading { survey, unreadable, newer: newer(content) }
}
