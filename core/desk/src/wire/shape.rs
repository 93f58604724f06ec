//! Changes to a derived schema: what a file may leave out for brevity, and that it may add nothing.

use schemars::Schema;
use serde_json::{Map, Value, json};

/// Lets a kind without details be written as its bare word: `"unknown"` for `{"kind": "unknown"}`.
pub fn bare_word(schema: &mut Schema) {
    let branches = schema.get("oneOf").and_then(Value::as_array).cloned().unwrap_or_default();
    let words: Vec<Value> = branches.iter().filter(|b| needs_only_kind(b)).filter_map(kind_of).collect();
    let full = json!({"oneOf": branches});
    wrap(schema, "oneOf", &[("x-bare", json!("kind"))], json!({"type": "string", "enum": words}), full);
}

/// Lets a measurement be written as its bare value, taken with a class II tape.
pub fn bare_value(schema: &mut Schema) {
    let mut full = Map::new();
    for name in ["type", "properties", "required"] {
        if let Some(part) = schema.remove(name) {
            full.insert(name.to_owned(), part);
        }
    }
    let value = full.get("properties").and_then(|p| p.get("value_mm")).cloned().unwrap_or_default();
    wrap(schema, "type", &[("x-bare", json!("value_mm"))], value, Value::Object(full));
}

fn wrap(schema: &mut Schema, replaced: &str, marks: &[(&str, Value)], bare: Value, full: Value) {
    schema.remove(replaced);
    for (name, value) in marks {
        schema.insert((*name).to_owned(), value.clone());
    }
    schema.insert("anyOf".to_owned(), json!([bare, full]));
}

fn needs_only_kind(branch: &Value) -> bool {
    branch.get("required").and_then(Value::as_array).is_some_and(|r| r.len() == 1)
}

/// The word that tells a branch from the others.
#[must_use]
pub fn kind_of(branch: &Value) -> Option<Value> {
    branch.get("properties")?.get("kind")?.get("const").cloned()
}

/// Closes every object of a whole schema: a field that it does not name is refused.
pub fn close(schema: &mut Value) {
    close_below(schema, Standing::Alone);
}

/// Whether an object schema stands alone, or lends its fields to the object around it.
#[derive(Clone, Copy, PartialEq)]
enum Standing {
    Alone,
    Lent,
}

fn close_below(schema: &mut Value, standing: Standing) {
    let Value::Object(map) = schema else { return };
    let has_fields = map.contains_key("properties");
    let has_branches = map.contains_key("oneOf") || map.contains_key("allOf");
    for (name, part) in map.iter_mut() {
        match (name.as_str(), part) {
            ("properties" | "$defs", Value::Object(named)) => {
                named.values_mut().for_each(|s| close_below(s, Standing::Alone));
            }
            ("items", items) => close_below(items, Standing::Alone),
            ("anyOf", Value::Array(branches)) => branches.iter_mut().for_each(|s| close_below(s, Standing::Alone)),
            ("oneOf" | "allOf", Value::Array(branches)) => {
                let inner = if has_fields { Standing::Lent } else { standing };
                branches.iter_mut().for_each(|s| close_below(s, inner));
            }
            _ => {}
        }
    }
    if has_fields && standing == Standing::Alone {
        let word = if has_branches { "unevaluatedProperties" } else { "additionalProperties" };
        map.insert(word.to_owned(), Value::Bool(false));
    }
}
