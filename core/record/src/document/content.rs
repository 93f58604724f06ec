//! The walker: everything that a document holds, thing by thing and field by field, with every value of a conflict.

use std::collections::BTreeMap;

use automerge::{Automerge, ObjId, ObjType, ReadDoc, ScalarValue, Value};

use super::{Kind, Thing};
use crate::together::each;

/// A value with the operation that wrote it.
#[derive(Clone, Debug, PartialEq)]
pub struct Written {
    /// The value as it is stored.
    pub value: ScalarValue,
    /// The operation.
    pub by: ObjId,
}

/// One field: its values, the winner first; more than one distinct value is a disagreement.
#[derive(Clone, Debug, PartialEq)]
pub struct Cell(pub Vec<Written>);

impl Cell {
    /// The value that counts.
    #[must_use]
    pub fn value(&self) -> &ScalarValue {
        &self.0[0].value
    }

    /// The distinct values, each with its first writer in order of operations.
    #[must_use]
    pub fn distinct(&self) -> Vec<&Written> {
        let mut seen: Vec<&Written> = Vec::new();
        for written in &self.0 {
            if !seen.iter().any(|s| s.value == written.value) {
                seen.push(written);
            }
        }
        seen
    }

    /// Whether people disagree here.
    #[must_use]
    pub fn is_disputed(&self) -> bool {
        self.0.iter().any(|w| w.value != self.0[0].value)
    }
}

/// The maps and fields of one thing. Two devices that create a thing under one id at once make two maps; both count.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Fields {
    /// Its maps.
    pub maps: Vec<ObjId>,
    /// Its fields by name, known or not.
    pub cells: BTreeMap<String, Cell>,
    /// Names of members that are no scalars and no part of this shape.
    pub strange: Vec<String>,
}

impl Fields {
    /// Whether it is removed. Where people disagree about that it counts as being there: nothing is hidden by chance.
    #[must_use]
    pub fn is_removed(&self) -> bool {
        self.cells.get(REMOVED).is_some_and(|cell| cell.0.iter().all(|w| w.value == ScalarValue::Boolean(true)))
    }
}

/// The field that says whether a thing is removed.
pub const REMOVED: &str = "removed";

/// What a field holds where nothing is written: not removed is the same as never removed.
pub(crate) fn absent(name: &str) -> ScalarValue {
    if name == REMOVED { ScalarValue::Boolean(false) } else { ScalarValue::Null }
}

/// Everything in a document.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Content {
    /// The shape's version as it is written.
    pub schema_version: Option<i64>,
    /// Things by kind, rail and id.
    pub things: BTreeMap<Thing, Fields>,
    /// Names of members at the root that are no part of this shape.
    pub strange: Vec<String>,
}

/// Members of some maps, joined: every value of every conflict, greatest operation first.
type Members = BTreeMap<String, Vec<(Value<'static>, ObjId)>>;

fn members(doc: &impl ReadDoc, maps: &[ObjId]) -> Members {
    let mut all = Members::new();
    for map in maps {
        for item in doc.map_range(map, ..) {
            let found = all.entry(item.key.to_string()).or_default();
            if item.conflict {
                let values = doc.get_all(map, item.key.as_ref()).unwrap_or_default();
                found.extend(values.into_iter().map(|(value, id)| (value.into_owned(), id)));
            } else {
                found.push((item.value.to_owned().into(), item.id()));
            }
        }
    }
    for values in all.values_mut() {
        values.sort_by(|a, b| order(&b.1, &a.1));
    }
    all
}

/// Operations by counter, then actor: the order in which Automerge picks a winner.
fn order(a: &ObjId, b: &ObjId) -> std::cmp::Ordering {
    let key = |id: &ObjId| match id {
        ObjId::Root => (0, Vec::new()),
        ObjId::Id(counter, actor, _) => (*counter, actor.to_bytes().to_vec()),
    };
    key(a).cmp(&key(b))
}

fn maps_of(values: &[(Value<'static>, ObjId)]) -> Vec<ObjId> {
    values.iter().filter(|(v, _)| matches!(v, Value::Object(ObjType::Map))).map(|(_, id)| id.clone()).collect()
}

impl Content {
    /// Walks a whole document.
    #[must_use]
    pub fn walk(doc: &Automerge) -> Self {
        let mut content = Self::default();
        for (key, values) in members(doc, &[ObjId::Root]) {
            let maps = maps_of(&values);
            match Kind::of_key(&key) {
                Some(kind) if kind.is_single() && !maps.is_empty() => content.thing(doc, Thing::new(kind, ""), maps),
                Some(kind) if !kind.of_rail() && !maps.is_empty() => content.collection(doc, kind, "", &maps),
                _ if key == "schema_version" => {
                    content.schema_version = values.iter().filter_map(|(value, _)| value.as_i64()).max();
                }
                _ => content.strange.push(key),
            }
        }
        content
    }

    /// Looks again at one thing of a document, also while a change is being made.
    pub fn refresh(&mut self, doc: &(impl ReadDoc + Sync), thing: &Thing) {
        let maps = maps_in(doc, &thing.path());
        if maps.is_empty() {
            self.things.remove(thing);
        } else {
            self.thing(doc, thing.clone(), maps);
        }
    }

    /// Looks again at the shape's version.
    pub(crate) fn refresh_version(&mut self, doc: &Automerge) {
        let values = doc.get_all(ObjId::Root, "schema_version").unwrap_or_default();
        self.schema_version = values.iter().filter_map(|(value, _)| value.as_i64()).max();
    }

    fn collection(&mut self, doc: &(impl ReadDoc + Sync), kind: Kind, rail: &str, maps: &[ObjId]) {
        let mut found = Vec::new();
        for (id, values) in members(doc, maps) {
            let thing = Thing { kind, rail: rail.to_owned(), id };
            let maps = maps_of(&values);
            if !maps.is_empty() {
                found.push((thing, maps));
            } else if !self.strange.contains(&thing.to_string()) {
                self.strange.push(thing.to_string());
            }
        }
        if kind != Kind::Rail {
            found.into_iter().for_each(|(thing, maps)| self.thing(doc, thing, maps));
            return;
        }
        // Nearly all of a document lies in its rails.
        let rails = each(&found, |(thing, maps)| {
            let mut rail = Self::default();
            rail.thing(doc, thing.clone(), maps.clone());
            rail
        });
        for rail in rails {
            self.things.extend(rail.things);
            self.strange.extend(rail.strange);
        }
    }

    fn thing(&mut self, doc: &(impl ReadDoc + Sync), thing: Thing, maps: Vec<ObjId>) {
        let mut fields = Fields { maps, ..Fields::default() };
        for (name, values) in members(doc, &fields.maps) {
            let inner = maps_of(&values);
            let within = Kind::of_key(&name).filter(|kind| thing.kind == Kind::Rail && kind.of_rail());
            if let (Some(kind), false) = (within, inner.is_empty()) {
                self.collection(doc, kind, &thing.id, &inner);
                continue;
            }
            let written: Vec<Written> = values
                .into_iter()
                .filter_map(|(value, by)| match value {
                    Value::Scalar(scalar) => Some(Written { value: scalar.into_owned(), by }),
                    Value::Object(_) => None,
                })
                .collect();
            if written.is_empty() {
                fields.strange.push(name);
            } else {
                fields.cells.insert(name, Cell(written));
            }
        }
        self.things.insert(thing, fields);
    }

    /// The things of a kind, within a rail where the kind lies in rails.
    pub fn of<'a>(&'a self, kind: Kind, rail: &'a str) -> impl Iterator<Item = (&'a Thing, &'a Fields)> + 'a {
        let first = Thing { kind, rail: rail.to_owned(), id: String::new() };
        self.things.range(first..).take_while(move |(thing, _)| thing.kind == kind && thing.rail == rail)
    }

    /// Whether a thing can be seen: it is there, and neither it nor its rail is removed.
    #[must_use]
    pub fn is_visible(&self, thing: &Thing) -> bool {
        let own = self.things.get(thing).is_some_and(|fields| !fields.is_removed());
        own && (!thing.kind.of_rail() || self.is_visible(&Thing::rail(&thing.rail)))
    }

    /// The label of a thing as people call it, else its id.
    #[must_use]
    pub fn label<'a>(&'a self, thing: &'a Thing) -> &'a str {
        let label = self.things.get(thing).and_then(|fields| fields.cells.get("label"));
        match label.map(Cell::value) {
            Some(ScalarValue::Str(text)) if !text.is_empty() => text,
            _ => &thing.id,
        }
    }
}

/// Every map at a path: one, or several where devices created it at once.
#[must_use]
pub fn find_maps(doc: &Automerge, path: &[&str]) -> Vec<ObjId> {
    maps_in(doc, path)
}

/// As [`find_maps`], also while a change is being made.
pub(crate) fn maps_in(doc: &impl ReadDoc, path: &[&str]) -> Vec<ObjId> {
    let mut maps = vec![ObjId::Root];
    for key in path {
        let mut next = Vec::new();
        for map in &maps {
            let values = doc.get_all(map, *key).unwrap_or_default();
            next.extend(values.into_iter().filter(|(v, _)| v.is_object()).map(|(_, id)| id));
        }
        maps = next;
    }
    maps
}
