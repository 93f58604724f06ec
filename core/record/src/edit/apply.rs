//! From an edit to targeted puts.

use std::collections::{BTreeMap, BTreeSet};

use automerge::{ObjType, ScalarValue, transaction::Transactable};

use super::{Edit, NewThing};
use crate::document::{
    Cell, Content, CreateError, Kind, PieceFields, REMOVED, Thing, between, field, nth, order_key, ordered, put_rail,
    put_thing,
};
use crate::stored::{Shape, Stored};

/// Why an edit was not made.
#[derive(Debug, thiserror::Error)]
pub enum EditError {
    /// The thing is not in the document.
    #[error("there is no {0}; look at the list again")]
    Missing(Thing),
    /// A thing with this id is there.
    #[error("{0} is there already; give the new one another id, or restore the removed one")]
    Exists(Thing),
    /// There is exactly one of it.
    #[error("{0} can be neither added nor removed")]
    Single(Thing),
    /// The field does not exist.
    #[error("{thing} has no field {field:?} that this release knows")]
    NoField {
        /// The thing.
        thing: Thing,
        /// The field.
        field: String,
    },
    /// The value cannot be stored there.
    #[error("{field} of {thing}: {why}")]
    Value {
        /// The thing.
        thing: Thing,
        /// The field.
        field: String,
        /// What is wrong.
        why: String,
    },
    /// The document refused.
    #[error("the document could not be written: {0}")]
    Document(#[from] automerge::AutomergeError),
    /// The new thing could not be written.
    #[error(transparent)]
    Create(#[from] CreateError),
}

/// One value to write.
#[derive(Clone, Debug, PartialEq)]
pub struct Put {
    /// The thing.
    pub thing: Thing,
    /// The field.
    pub field: String,
    /// The value.
    pub value: ScalarValue,
}

/// The puts of an edit; an addition has none, since it makes new maps.
///
/// # Errors
/// What is not there, or a value that does not belong there.
pub fn puts(content: &Content, edit: &Edit) -> Result<Vec<Put>, EditError> {
    let thing = edit.thing();
    if let Edit::Add(_) = edit {
        return Ok(Vec::new());
    }
    if !content.things.contains_key(&thing) {
        return Err(EditError::Missing(thing));
    }
    let put = |name: &str, value: ScalarValue| vec![Put { thing: thing.clone(), field: name.to_owned(), value }];
    Ok(match edit {
        Edit::Set { field: name, value, .. } => {
            let known = field(thing.kind, name)
                .ok_or_else(|| EditError::NoField { thing: thing.clone(), field: name.clone() })?;
            (known.check)(value).map_err(|why| EditError::Value { thing: thing.clone(), field: name.clone(), why })?;
            put(name, value.clone())
        }
        Edit::Move { to, .. } => put("chainage", to.to_scalar()),
        Edit::ChangeKind { to, .. } => put("kind", to.to_scalar()),
        Edit::Lock { locks, .. } => put("locks", locks.to_scalar()),
        Edit::Reorder { after, .. } => {
            put("order", ScalarValue::Str(order_after(content, &thing, after.as_ref()).into()))
        }
        Edit::Remove(_) | Edit::Restore(_) if thing.kind.is_single() => return Err(EditError::Single(thing)),
        Edit::Remove(_) => put(REMOVED, ScalarValue::Boolean(true)),
        Edit::Restore(_) => put(REMOVED, ScalarValue::Boolean(false)),
        Edit::Add(_) => Vec::new(),
    })
}

/// Writes an edit into a document.
///
/// # Errors
/// As [`puts`]; or the document's own.
pub fn apply(doc: &mut impl Transactable, content: &Content, edit: &Edit) -> Result<Vec<Put>, EditError> {
    if let Edit::Add(new) = edit {
        let order = order_last(content, &new.thing());
        add(doc, content, new, &order)?;
        return Ok(Vec::new());
    }
    let puts = puts(content, edit)?;
    for put in &puts {
        write(doc, content, put)?;
    }
    Ok(puts)
}

/// Writes several edits into a document; what is added comes after the others of its list, in the order of the edits.
pub(crate) fn apply_all(doc: &mut impl Transactable, content: &Content, edits: &[Edit]) -> Result<(), EditError> {
    // Keys within the one that would come last: as short as for a single addition, however many there are.
    let mut lists: BTreeMap<(Kind, String), (String, usize)> = BTreeMap::new();
    let mut added: BTreeSet<Thing> = BTreeSet::new();
    for edit in edits {
        let Edit::Add(new) = edit else {
            apply(doc, content, edit)?;
            continue;
        };
        let thing = new.thing();
        let list = lists.entry((thing.kind, thing.rail.clone()));
        let (base, n) = list.or_insert_with(|| (order_last(content, &thing), 0));
        let order = format!("{base}{}", nth(*n));
        *n += 1;
        if !added.insert(thing.clone()) {
            return Err(EditError::Exists(thing));
        }
        add(doc, content, new, &order)?;
    }
    Ok(())
}

/// The order key that comes after all of a list.
fn order_last(content: &Content, thing: &Thing) -> String {
    let last = ordered(content, thing.kind, &thing.rail).last().map(|(_, fields)| order_key(fields));
    between(last.as_deref(), None)
}

/// Writes one value into every map of its thing, so that maps made at once by two devices never part again.
pub(crate) fn write(doc: &mut impl Transactable, content: &Content, put: &Put) -> Result<(), EditError> {
    let fields = content.things.get(&put.thing).ok_or_else(|| EditError::Missing(put.thing.clone()))?;
    // Where people disagree, the document would keep the winner's own write and only drop the others: the choice would then
    // fall with that write when its author changes it meanwhile. So what is chosen is written afresh.
    let disputed = fields.cells.get(&put.field).is_some_and(Cell::is_disputed);
    for map in &fields.maps {
        if disputed {
            doc.put(map, put.field.as_str(), ScalarValue::Null)?;
        }
        doc.put(map, put.field.as_str(), put.value.clone())?;
    }
    Ok(())
}

fn add(doc: &mut impl Transactable, content: &Content, new: &NewThing, order: &str) -> Result<(), EditError> {
    let thing = new.thing();
    if content.things.contains_key(&thing) {
        return Err(EditError::Exists(thing));
    }
    let mut path = thing.path();
    path.pop();
    if thing.kind.of_rail() && !content.things.contains_key(&Thing::rail(&thing.rail)) {
        return Err(EditError::Missing(Thing::rail(&thing.rail)));
    }
    let collection = open(doc, &path)?;
    match new {
        NewThing::Rail(t) => put_rail(doc, &collection, t, order)?,
        NewThing::Piece { piece, .. } => {
            put_thing(doc, &collection, &thing.id, &PieceFields { shape: Shape(piece.clone()) }, order)?
        }
        NewThing::Feature { feature, .. } => put_thing(doc, &collection, &thing.id, feature, "")?,
        NewThing::MainsPoint(t) => put_thing(doc, &collection, &thing.id, t, order)?,
        NewThing::DriverPlace(t) => put_thing(doc, &collection, &thing.id, t, order)?,
        NewThing::Route(t) => put_thing(doc, &collection, &thing.id, t, order)?,
        NewThing::Photo(t) => put_thing(doc, &collection, &thing.id, t, order)?,
        NewThing::Wish(t) => put_thing(doc, &collection, &thing.id, t, order)?,
        NewThing::Zone(t) => put_thing(doc, &collection, &thing.id, t, order)?,
    };
    Ok(())
}

/// The map at a path, made where an older release left it out.
pub(crate) fn open(doc: &mut impl Transactable, path: &[&str]) -> Result<automerge::ObjId, EditError> {
    let mut map = automerge::ObjId::Root;
    for key in path {
        map = match doc.get(&map, *key)? {
            Some((value, found)) if value.is_object() => found,
            _ => doc.put_object(&map, *key, ObjType::Map)?,
        };
    }
    Ok(map)
}

fn order_after(content: &Content, thing: &Thing, after: Option<&Thing>) -> String {
    let kind: Kind = thing.kind;
    let others: Vec<(Thing, String)> = ordered(content, kind, &thing.rail)
        .into_iter()
        .filter(|(other, _)| *other != thing)
        .map(|(other, fields)| (other.clone(), order_key(fields)))
        .collect();
    let place = after.and_then(|after| others.iter().position(|(other, _)| other == after)).map_or(0, |at| at + 1);
    let low = place.checked_sub(1).and_then(|at| others.get(at)).map(|(_, key)| key.as_str());
    between(low, others.get(place).map(|(_, key)| key.as_str()))
}
