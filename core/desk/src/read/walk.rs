//! Walks a tree along the schema derived from the wire types: lists every fault, and brings short forms to the full one.

use serde_json::{Map, Value as Json};

use super::gather::Gather;
use super::scalar;
use super::schema::{self, Fields};
use super::tree::{Node, Path, Step, Value};

/// Walks a document along a schema and returns it in full form; whatever could not be read is null in there and has a
/// fault in `gather`.
pub fn walk(schema: &Json, root: &Node, gather: &mut Gather) -> Json {
    Walk { root: schema, path: Path::new(), gather }.value(schema, root)
}

/// As [`walk`], of a part of a document: only what is written at its root is read, and nothing else is missed there.
#[cfg(feature = "parts")]
pub fn walk_present(schema: &Json, root: &Node, gather: &mut Gather) -> Json {
    let mut walk = Walk { root: schema, path: Path::new(), gather };
    let mut read = Map::new();
    if let Value::Table(entries) = &root.value {
        for entry in entries {
            let Some(field) = schema.get("properties").and_then(|named| named.get(&entry.name)) else { continue };
            walk.path.push(Step::Name(entry.name.clone()));
            read.insert(entry.name.clone(), walk.value(field, &entry.node));
            walk.path.pop();
        }
    }
    Json::Object(read)
}

pub(super) struct Walk<'a> {
    root: &'a Json,
    path: Path,
    gather: &'a mut Gather,
}

impl Walk<'_> {
    /// Adds a fault of the value at hand.
    pub(super) fn refuse(&mut self, node: &Node, matter: &str, accepted: &str) -> Json {
        self.gather.add(&self.path, node.place, node.shown(), matter.to_owned(), accepted.to_owned());
        Json::Null
    }

    fn value(&mut self, schema: &Json, node: &Node) -> Json {
        let root = self.root;
        let schema = schema::resolved(root, schema);
        if matches!(node.value, Value::Null) && schema::takes_null(schema) {
            return Json::Null;
        }
        if let Some(inner) = schema::without_null(schema) {
            return self.value(inner, node);
        }
        if let Some((field, bare, full)) = schema::bare_form(schema) {
            return match &node.value {
                Value::Table(_) => self.value(full, node),
                Value::Text(text) if field == "kind" => self.bare_word(schema, full, node, text),
                Value::Number { .. } | Value::Text(_) if field != "kind" => {
                    let value = self.value(bare, node);
                    Json::Object(Map::from_iter([(field.to_owned(), value)]))
                }
                _ => self.refuse_type(schema, node),
            };
        }
        if let Some(words) = schema::words(schema) {
            return match &node.value {
                Value::Text(text) if words.contains(&text.as_str()) => Json::String(text.clone()),
                _ => self.refuse(node, "is none of the words that can stand here", &words.join(", ")),
            };
        }
        if schema::is_table(schema) {
            return match &node.value {
                Value::Table(_) => self.table(schema, node),
                _ => self.refuse_type(schema, node),
            };
        }
        if let Some(items) = schema.get("items") {
            return match &node.value {
                Value::List(list) => self.list(schema, items, node, list),
                _ => self.refuse_type(schema, node),
            };
        }
        scalar::read(self, schema, node)
    }

    pub(super) fn refuse_type(&mut self, schema: &Json, node: &Node) -> Json {
        let accepted = schema::accepted(self.root, schema);
        self.refuse(node, "is of another type", &accepted)
    }

    fn bare_word(&mut self, schema: &Json, full: &Json, node: &Node, text: &str) -> Json {
        if schema::bare_words(schema).contains(&text) {
            return Json::Object(Map::from_iter([("kind".to_owned(), Json::String(text.to_owned()))]));
        }
        let accepted = schema::accepted(self.root, schema);
        let matter = if schema::branch(full, text).is_some() {
            "needs its details beside its kind"
        } else {
            "is none of the kinds that can stand here"
        };
        self.refuse(node, matter, &accepted)
    }

    fn list(&mut self, schema: &Json, items: &Json, node: &Node, list: &[Node]) -> Json {
        let bound = |name: &str| schema.get(name).and_then(Json::as_u64).map(|n| n as usize);
        if bound("maxItems").is_some_and(|most| list.len() > most) || bound("minItems").is_some_and(|n| list.len() < n)
        {
            let matter = format!("has {} items", list.len());
            let accepted = schema::accepted(self.root, schema);
            // Walking on would bury this fault under one for each item.
            return self.refuse(node, &matter, &accepted);
        }
        let mut read = Vec::with_capacity(list.len());
        for (i, item) in list.iter().enumerate() {
            self.path.push(Step::Index(i));
            read.push(self.value(items, item));
            self.path.pop();
        }
        Json::Array(read)
    }

    fn table(&mut self, schema: &Json, node: &Node) -> Json {
        let Value::Table(entries) = &node.value else { return Json::Null };
        let mut fields = Fields::default();
        fields.take(self.root, schema);
        let kinds = schema::kinds(schema);
        let mut kind_is_known = true;
        if !kinds.is_empty() {
            let branch = self.branch(schema, node, &kinds);
            match branch {
                Some(branch) => fields.take(self.root, branch),
                None => kind_is_known = false,
            }
        }
        let mut read = Map::new();
        for entry in entries {
            self.path.push(Step::Name(entry.name.clone()));
            if let Some(schema) = fields.named.get(entry.name.as_str()) {
                let value = self.value(schema, &entry.node);
                read.insert(entry.name.clone(), value);
            } else if kind_is_known || !(entry.name == "kind" || schema::some_kind_names(schema, &entry.name)) {
                // Where the kind is wrong, a field that some kind has is not blamed as well.
                let names: Vec<&str> = fields.named.keys().copied().collect();
                self.gather.add(
                    &self.path,
                    entry.place,
                    String::new(),
                    "is an unknown field".to_owned(),
                    names.join(", "),
                );
            }
            self.path.pop();
        }
        for name in &fields.required {
            if !entries.iter().any(|entry| entry.name == *name) {
                self.missing(node, name, fields.named.get(name).copied());
            }
        }
        // What is left out stands in the full form with its default, so that checks between fields see it.
        for (name, schema) in &fields.named {
            if let Some(usual) = schema.get("default")
                && !read.contains_key(*name)
            {
                read.insert((*name).to_owned(), usual.clone());
            }
        }
        Json::Object(read)
    }

    fn missing(&mut self, node: &Node, name: &str, schema: Option<&Json>) {
        let accepted = schema.map(|s| schema::accepted(self.root, s)).unwrap_or_default();
        self.path.push(Step::Name(name.to_owned()));
        self.gather.add(&self.path, node.place, String::new(), "is missing".to_owned(), accepted);
        self.path.pop();
    }

    /// The branch of a table told apart by its kind.
    fn branch<'s>(&mut self, schema: &'s Json, node: &Node, kinds: &[&str]) -> Option<&'s Json> {
        let accepted = kinds.join(", ");
        let Some(kind) = node.get("kind") else {
            self.path.push(Step::Name("kind".to_owned()));
            self.gather.add(&self.path, node.place, String::new(), "is missing".to_owned(), accepted);
            self.path.pop();
            return None;
        };
        let found = match &kind.value {
            Value::Text(text) => schema::branch(schema, text),
            _ => None,
        };
        if found.is_none() {
            self.path.push(Step::Name("kind".to_owned()));
            self.refuse(kind, "is none of the kinds that can stand here", &accepted);
            self.path.pop();
        }
        found
    }
}
