//! A look at a walked document, for what lies between fields: ids given twice, dangling references, limits in order.

use std::collections::BTreeMap;

use serde_json::Value as Json;

use super::gather::Gather;
use super::tree::{Node, Path, Place, Step, Value};

/// A walked document with the tree it came from.
pub struct Look<'a> {
    root: &'a Node,
    full: &'a Json,
    gather: &'a mut Gather,
}

/// A value of the document with the way to it.
#[derive(Clone, Debug)]
pub struct At<'a> {
    /// The way to it.
    pub path: Path,
    /// The value; null where it could not be read.
    pub json: &'a Json,
}

impl<'a> At<'a> {
    /// The field of a table; `None` where it is absent or could not be read.
    #[must_use]
    pub fn field(&self, name: &str) -> Option<Self> {
        let json = self.json.get(name).filter(|j| !j.is_null())?;
        let mut path = self.path.clone();
        path.push(Step::Name(name.to_owned()));
        Some(Self { path, json })
    }

    /// The items of a list under a name; none where it is absent or could not be read.
    #[must_use]
    pub fn items(&self, name: &str) -> Vec<Self> {
        let Some(list) = self.field(name) else { return Vec::new() };
        let items = list.json.as_array().map_or(&[] as &[Json], Vec::as_slice);
        let step = |(i, json)| {
            let mut path = list.path.clone();
            path.push(Step::Index(i));
            Self { path, json }
        };
        items.iter().enumerate().map(step).collect()
    }

    /// The text of a field.
    #[must_use]
    pub fn text(&self, name: &str) -> Option<&'a str> {
        self.json.get(name)?.as_str()
    }

    /// The number of a field.
    #[must_use]
    pub fn number(&self, name: &str) -> Option<f64> {
        self.json.get(name)?.as_f64()
    }

    /// The kind of a table.
    #[must_use]
    pub fn kind(&self) -> &'a str {
        self.text("kind").unwrap_or_default()
    }
}

impl<'a> Look<'a> {
    /// A look at a whole document.
    pub fn new(root: &'a Node, full: &'a Json, gather: &'a mut Gather) -> Self {
        Self { root, full, gather }
    }

    /// The whole document.
    #[must_use]
    pub fn whole(&self) -> At<'a> {
        At { path: Path::new(), json: self.full }
    }

    /// Adds a fault of a value.
    pub fn refuse(&mut self, at: &At<'_>, matter: &str, accepted: &str) {
        let (node, is_written) = found(self.root, &at.path);
        // A value that was left out has its default.
        let shown = if is_written { node.shown() } else { at.json.to_string() };
        self.gather.add(&at.path, node.place, shown, matter.to_owned(), accepted.to_owned());
    }

    /// Refuses every value of a field that an earlier item has too; returns all values.
    pub fn unique(&mut self, items: &[At<'a>], field: &str, accepted: &str) -> BTreeMap<&'a str, Place> {
        let mut seen: BTreeMap<&str, Place> = BTreeMap::new();
        for item in items {
            let (Some(text), Some(at)) = (item.text(field), item.field(field)) else { continue };
            if let Some(first) = seen.get(text) {
                let matter = format!("is given twice, first in line {}", first.line);
                self.refuse(&at, &matter, accepted);
            } else {
                seen.insert(text, found(self.root, &at.path).0.place);
            }
        }
        seen
    }

    /// Refuses a reference that leads nowhere.
    pub fn refers(&mut self, item: &At<'a>, field: &str, known: &BTreeMap<&'a str, Place>, of: &str) {
        let (Some(text), Some(at)) = (item.text(field), item.field(field)) else { return };
        if !known.contains_key(text) {
            self.refuse(&at, &format!("refers to no {of} of this file"), &some_of(known));
        }
    }

    /// Refuses a number that is less than the one it has to reach.
    pub fn in_order(&mut self, item: &At<'a>, least: &str, greatest: &str) {
        if let (Some(low), Some(high), Some(at)) = (item.number(least), item.number(greatest), item.field(greatest))
            && high < low
        {
            self.refuse(&at, &format!("is less than {least}, {low}"), &format!("{low} or more"));
        }
    }
}

/// The first few names that would have been accepted.
fn some_of(known: &BTreeMap<&str, Place>) -> String {
    if known.is_empty() {
        return "nothing, since none is there".to_owned();
    }
    let names: Vec<String> = known.keys().take(8).map(|name| super::tree::quoted(name)).collect();
    format!("{}{}", names.join(", "), if known.len() > 8 { ", …" } else { "" })
}

/// The node at the end of a way, or the last one before the way leaves what was written, and whether it was reached.
fn found<'n>(root: &'n Node, path: &[Step]) -> (&'n Node, bool) {
    let mut node = root;
    for step in path {
        let next = match (step, &node.value) {
            (Step::Name(name), Value::Table(_)) => node.get(name),
            (Step::Index(i), Value::List(items)) => items.get(*i),
            // A short form stands for the table or value within.
            (_, Value::Text(_) | Value::Number { .. }) => return (node, true),
            _ => None,
        };
        match next {
            Some(next) => node = next,
            None => return (node, false),
        }
    }
    (node, true)
}
