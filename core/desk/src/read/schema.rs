//! What the walk asks of a schema. The shapes are those that our own derives produce, nothing else.

use std::collections::BTreeMap;

use serde_json::Value as Json;

/// Fields of a table.
#[derive(Debug, Default)]
pub struct Fields<'s> {
    /// Every field by its name.
    pub named: BTreeMap<&'s str, &'s Json>,
    /// Fields that have to be there.
    pub required: Vec<&'s str>,
}

impl<'s> Fields<'s> {
    /// Takes over the fields of a schema, those that it refers to included.
    pub fn take(&mut self, root: &'s Json, schema: &'s Json) {
        if let Some(Json::Object(named)) = schema.get("properties") {
            self.named.extend(named.iter().map(|(name, schema)| (name.as_str(), schema)));
        }
        self.required.extend(texts(schema.get("required")));
        if let Some(target) = referred(root, schema) {
            self.take(root, target);
        }
    }
}

fn texts(list: Option<&Json>) -> impl Iterator<Item = &str> {
    list.and_then(Json::as_array).into_iter().flatten().filter_map(Json::as_str)
}

fn referred<'s>(root: &'s Json, schema: &'s Json) -> Option<&'s Json> {
    let name = schema.get("$ref")?.as_str()?.strip_prefix("#/$defs/")?;
    root.get("$defs")?.get(name)
}

/// The schema itself, or the one that it does nothing but refer to.
pub fn resolved<'s>(root: &'s Json, schema: &'s Json) -> &'s Json {
    match referred(root, schema) {
        Some(target) if schema.get("properties").is_none() => resolved(root, target),
        _ => schema,
    }
}

fn branches<'s>(schema: &'s Json, name: &str) -> &'s [Json] {
    schema.get(name).and_then(Json::as_array).map_or(&[], Vec::as_slice)
}

fn is_null(schema: &Json) -> bool {
    schema.get("type").and_then(Json::as_str) == Some("null")
}

/// Whether null may stand here for "not given".
pub fn takes_null(schema: &Json) -> bool {
    texts(schema.get("type")).any(|t| t == "null")
        || branches(schema, "anyOf").iter().any(is_null)
        || branches(schema, "enum").contains(&Json::Null)
}

/// The other branch of "this or null".
pub fn without_null(schema: &Json) -> Option<&Json> {
    let branches = branches(schema, "anyOf");
    if branches.iter().any(is_null) { branches.iter().find(|b| !is_null(b)) } else { None }
}

/// The field that a bare value stands for, the schema of the bare value, the schema of the full form.
pub fn bare_form(schema: &Json) -> Option<(&str, &Json, &Json)> {
    let field = schema.get("x-bare")?.as_str()?;
    match branches(schema, "anyOf") {
        [bare, full] => Some((field, bare, full)),
        _ => None,
    }
}

/// The words that may stand for a kind without details.
pub fn bare_words(schema: &Json) -> Vec<&str> {
    bare_form(schema).map(|(_, bare, _)| texts(bare.get("enum")).collect()).unwrap_or_default()
}

/// The words that may stand here, where only words may.
pub fn words(schema: &Json) -> Option<Vec<&str>> {
    if schema.get("enum").is_some() {
        return Some(texts(schema.get("enum")).collect());
    }
    let words: Vec<&str> =
        branches(schema, "oneOf").iter().filter_map(|b| b.get("const").and_then(Json::as_str)).collect();
    if words.is_empty() { None } else { Some(words) }
}

/// Whether a table stands here.
pub fn is_table(schema: &Json) -> bool {
    schema.get("properties").is_some() || !kinds(schema).is_empty()
}

fn kind(branch: &Json) -> Option<&str> {
    branch.get("properties")?.get("kind")?.get("const")?.as_str()
}

/// The kinds of a table told apart by them.
pub fn kinds(schema: &Json) -> Vec<&str> {
    branches(schema, "oneOf").iter().filter_map(kind).collect()
}

/// The branch of one kind.
pub fn branch<'s>(schema: &'s Json, of: &str) -> Option<&'s Json> {
    branches(schema, "oneOf").iter().find(|b| kind(b) == Some(of))
}

/// Whether some kind has a field of this name.
pub fn some_kind_names(schema: &Json, name: &str) -> bool {
    branches(schema, "oneOf")
        .iter()
        .any(|b| b.get("properties").is_some_and(|p| p.get(name).is_some()) || b.get("$ref").is_some())
}

/// What is accepted here, in a few words.
pub fn accepted(root: &Json, schema: &Json) -> String {
    let schema = resolved(root, schema);
    if let Some(inner) = without_null(schema) {
        return accepted(root, inner);
    }
    if let Some((field, bare, full)) = bare_form(schema) {
        if field != "kind" {
            return format!("{}, or {}", accepted(root, bare), accepted(root, full));
        }
        let words = bare_words(schema);
        let details: Vec<&str> = kinds(full).into_iter().filter(|k| !words.contains(k)).collect();
        let table = format!("a table with kind {} and its details", details.join(" or "));
        return match (words.is_empty(), details.is_empty()) {
            (true, _) => table,
            (false, true) => words.join(", "),
            (false, false) => format!("{}, or {table}", words.join(", ")),
        };
    }
    if let Some(words) = words(schema) {
        return words.join(", ");
    }
    let kinds = kinds(schema);
    if schema.get("properties").is_some() {
        let mut fields = Fields::default();
        fields.take(root, schema);
        let needs: Vec<&str> =
            if fields.required.is_empty() { fields.named.keys().copied().collect() } else { fields.required };
        let kind = if kinds.is_empty() { "" } else { ", kind" };
        return format!("a table with {}{kind}", needs.join(", "));
    }
    if !kinds.is_empty() {
        return format!("a table with kind {}", kinds.join(" or "));
    }
    if schema.get("items").is_some() {
        let least = schema.get("minItems").and_then(Json::as_u64).unwrap_or(0);
        return match schema.get("maxItems") {
            Some(most) => format!("a list of {least} to {most} items"),
            None => "a list".to_owned(),
        };
    }
    super::scalar::accepted(schema)
}
