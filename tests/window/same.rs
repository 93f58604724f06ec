//! Stored documents compared: ids that differ from run to run are named plainly, and a difference names its place.

use serde_json::{Value, json};

/// The document with ids that do not change from run to run: each is named after where it comes first.
pub fn plainly_named(survey: Value) -> Value {
    let mut found = Vec::new();
    collect_ids(&survey, &mut found);
    renamed(survey, &found)
}

fn renamed(value: Value, ids: &[String]) -> Value {
    match value {
        Value::String(text) => match ids.iter().position(|id| *id == text) {
            Some(index) => json!(format!("id {index}")),
            None => Value::String(text),
        },
        Value::Array(values) => values.into_iter().map(|each| renamed(each, ids)).collect(),
        Value::Object(fields) => fields.into_iter().map(|(name, each)| (name, renamed(each, ids))).collect(),
        other => other,
    }
}

fn collect_ids(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            let id = fields.get("id").and_then(Value::as_str).map(str::to_owned);
            found.extend(id.filter(|id| !found.contains(id)));
            fields.values().for_each(|each| collect_ids(each, found));
        }
        Value::Array(values) => values.iter().for_each(|each| collect_ids(each, found)),
        _ => {}
    }
}

/// Compares field by field, so that a difference names its place.
pub fn assert_same(stored: &Value, wanted: &Value, place: &str) {
    match (stored, wanted) {
        (Value::Object(left), Value::Object(right)) => {
            let names = |fields: &serde_json::Map<String, Value>| fields.keys().cloned().collect::<Vec<_>>();
            assert_eq!(names(left), names(right), "fields of {place}");
            left.iter().for_each(|(name, value)| assert_same(value, &right[name], &format!("{place}.{name}")));
        }
        (Value::Array(left), Value::Array(right)) => {
            assert_eq!(left.len(), right.len(), "length of {place}");
            left.iter()
                .zip(right)
                .enumerate()
                .for_each(|(index, (l, r))| assert_same(l, r, &format!("{place}[{index}]")));
        }
        _ => assert_eq!(stored, wanted, "{place}"),
    }
}

/// A measurement's value [mm], however short the document writes it.
pub fn millimetres(measured: &Value) -> f64 {
    measured.as_f64().or_else(|| measured["value_mm"].as_f64()).unwrap_or_else(|| panic!("no length: {measured}"))
}
