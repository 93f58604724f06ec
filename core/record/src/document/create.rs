//! From a survey to a new document. A whole-value write only ever creates a document; later changes are edits.

use std::collections::BTreeSet;

use automerge::{ObjId, ObjType, ScalarValue, transaction::Transactable};
use survey::{Rail, Survey};

use super::order::nth;
use super::table::Tabled;
use super::tables::{PieceFields, RailFields, WholeBrief};
use super::{Kind, SCHEMA_VERSION, Thing};
use crate::stored::Shape;

/// Why no document could be made of a survey.
#[derive(Debug, thiserror::Error)]
pub enum CreateError {
    /// Two things have one id.
    #[error("{0} is there twice; give one of the two another id")]
    Twice(Thing),
    /// The document could not be written.
    #[error("the document could not be written: {0}")]
    Document(#[from] automerge::AutomergeError),
}

/// Writes a survey into an empty document.
///
/// # Errors
/// Two things under one id, or a failure of the document itself.
pub fn create(doc: &mut impl Transactable, survey: &Survey) -> Result<(), CreateError> {
    check_ids(survey)?;
    doc.put(ObjId::Root, "schema_version", SCHEMA_VERSION)?;
    let site = doc.put_object(ObjId::Root, Kind::Site.key(), ObjType::Map)?;
    put_fields(doc, &site, &survey.site)?;
    let brief = doc.put_object(ObjId::Root, Kind::Brief.key(), ObjType::Map)?;
    let whole = WholeBrief {
        reserve_percent: survey.brief.reserve_percent,
        drop_permille: survey.brief.drop_permille,
        loop_per_hole: survey.brief.loop_per_hole,
        spare_percent: survey.brief.spare_percent,
    };
    put_fields(doc, &brief, &whole)?;
    let rails = doc.put_object(ObjId::Root, Kind::Rail.key(), ObjType::Map)?;
    for (n, rail) in survey.rails.iter().enumerate() {
        put_rail(doc, &rails, rail, &nth(n))?;
    }
    collection(doc, Kind::MainsPoint, survey.mains_points.iter().map(|t| (t.id.as_str(), t)))?;
    collection(doc, Kind::DriverPlace, survey.driver_places.iter().map(|t| (t.id.as_str(), t)))?;
    collection(doc, Kind::Route, survey.routes.iter().map(|t| (t.id.as_str(), t)))?;
    collection(doc, Kind::Photo, survey.photos.iter().map(|t| (t.id.as_str(), t)))?;
    collection(doc, Kind::Wish, survey.brief.rails.iter().map(|t| (t.rail.as_str(), t)))?;
    collection(doc, Kind::Zone, survey.brief.zones.iter().map(|t| (t.id.as_str(), t)))
}

/// Writes a rail with its pieces and features under its id.
pub(crate) fn put_rail(
    doc: &mut impl Transactable,
    rails: &ObjId,
    rail: &Rail,
    order: &str,
) -> Result<ObjId, CreateError> {
    let map = put_thing(doc, rails, rail.id.as_str(), &RailFields::of(rail), order)?;
    let pieces = doc.put_object(&map, Kind::Piece.key(), ObjType::Map)?;
    for (n, piece) in rail.pieces.iter().enumerate() {
        put_thing(doc, &pieces, piece.id().as_str(), &PieceFields { shape: Shape(piece.clone()) }, &nth(n))?;
    }
    let features = doc.put_object(&map, Kind::Feature.key(), ObjType::Map)?;
    for feature in &rail.features {
        // Features stand in the order of their chainage.
        put_thing(doc, &features, feature.id.as_str(), feature, "")?;
    }
    Ok(map)
}

/// Writes a thing under its id, with its order key where it has one.
pub(crate) fn put_thing<T: Tabled>(
    doc: &mut impl Transactable,
    collection: &ObjId,
    id: &str,
    thing: &T,
    order: &str,
) -> Result<ObjId, CreateError> {
    let map = doc.put_object(collection, id, ObjType::Map)?;
    if !order.is_empty() {
        doc.put(&map, "order", order)?;
    }
    put_fields(doc, &map, thing)?;
    Ok(map)
}

fn put_fields<T: Tabled>(doc: &mut impl Transactable, map: &ObjId, thing: &T) -> Result<(), CreateError> {
    for (field, scalar) in T::FIELDS.iter().zip(thing.scalars()) {
        // What is not stated needs no room.
        if (field.rewrite)(&ScalarValue::Null).as_ref() != Some(&scalar) {
            doc.put(map, field.name, scalar)?;
        }
    }
    Ok(())
}

fn collection<'a, T: Tabled + 'a>(
    doc: &mut impl Transactable,
    kind: Kind,
    things: impl Iterator<Item = (&'a str, &'a T)>,
) -> Result<(), CreateError> {
    let map = doc.put_object(ObjId::Root, kind.key(), ObjType::Map)?;
    for (n, (id, thing)) in things.enumerate() {
        put_thing(doc, &map, id, thing, &nth(n))?;
    }
    Ok(())
}

fn check_ids(survey: &Survey) -> Result<(), CreateError> {
    let mut seen = BTreeSet::new();
    let mut add = |thing: Thing| match seen.insert(thing.clone()) {
        true => Ok(()),
        false => Err(CreateError::Twice(thing)),
    };
    for rail in &survey.rails {
        add(Thing::rail(rail.id.as_str()))?;
        for piece in &rail.pieces {
            add(Thing::piece(rail.id.as_str(), piece.id().as_str()))?;
        }
        for feature in &rail.features {
            add(Thing::feature(rail.id.as_str(), feature.id.as_str()))?;
        }
    }
    for (kind, ids) in [
        (Kind::MainsPoint, survey.mains_points.iter().map(|t| &t.id).collect::<Vec<_>>()),
        (Kind::DriverPlace, survey.driver_places.iter().map(|t| &t.id).collect()),
        (Kind::Route, survey.routes.iter().map(|t| &t.id).collect()),
        (Kind::Photo, survey.photos.iter().map(|t| &t.id).collect()),
        (Kind::Wish, survey.brief.rails.iter().map(|t| &t.rail).collect()),
        (Kind::Zone, survey.brief.zones.iter().map(|t| &t.id).collect()),
    ] {
        for id in ids {
            add(Thing::new(kind, id.as_str()))?;
        }
    }
    Ok(())
}
