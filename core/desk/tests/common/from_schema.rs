//! Makes documents at random from a schema, so that every field and every kind of the wire types is met.

use serde_json::{Map, Value, json};

/// Makes values from one schema.
pub struct FromSchema<'s> {
    root: &'s Value,
    state: u64,
}

impl<'s> FromSchema<'s> {
    /// The same seed makes the same document.
    pub fn new(root: &'s Value, seed: u64) -> Self {
        Self { root, state: seed | 1 }
    }

    /// A whole document.
    pub fn document(&mut self) -> Value {
        self.value(self.root)
    }

    /// Xorshift (Marsaglia 2003): enough chance for making documents.
    fn below(&mut self, bound: usize) -> usize {
        self.state ^= self.state << 13;
        self.state ^= self.state >> 7;
        self.state ^= self.state << 17;
        (self.state >> 33) as usize % bound.max(1)
    }

    fn one<'v>(&mut self, of: &'v [Value]) -> &'v Value {
        let at = self.below(of.len());
        &of[at]
    }

    /// A value of a part of the schema.
    pub fn value(&mut self, schema: &'s Value) -> Value {
        if let Some(name) = schema.get("$ref").and_then(Value::as_str)
            && schema.get("properties").is_none()
        {
            let name = name.trim_start_matches("#/$defs/");
            return self.value(&self.root["$defs"][name]);
        }
        if let Some(branches) = schema.get("anyOf").and_then(Value::as_array) {
            let branch = self.one(branches);
            return self.value(branch);
        }
        if let Some(constant) = schema.get("const") {
            return constant.clone();
        }
        if let Some(words) = schema.get("enum").and_then(Value::as_array) {
            return self.one(words).clone();
        }
        if schema.get("properties").is_some() || schema.get("oneOf").is_some() {
            return self.table(schema);
        }
        if let Some(items) = schema.get("items") {
            let least = schema.get("minItems").and_then(Value::as_u64).unwrap_or(0) as usize;
            let count = least + self.below(3);
            return (0..count).map(|_| self.value(items)).collect();
        }
        self.single(schema)
    }

    fn table(&mut self, schema: &'s Value) -> Value {
        let mut made = Map::new();
        if let Some(branches) = schema.get("oneOf").and_then(Value::as_array) {
            let branch = self.one(branches);
            match self.value(branch) {
                Value::Object(fields) => made.extend(fields),
                word => return word,
            }
        }
        if let Some(name) = schema.get("$ref").and_then(Value::as_str)
            && let Value::Object(fields) = self.value(&self.root["$defs"][name.trim_start_matches("#/$defs/")])
        {
            made.extend(fields);
        }
        let required = schema.get("required").and_then(Value::as_array).cloned().unwrap_or_default();
        for (name, field) in schema.get("properties").and_then(Value::as_object).into_iter().flatten() {
            if required.contains(&json!(name)) || self.below(3) > 0 {
                made.insert(name.clone(), self.value(field));
            }
        }
        Value::Object(made)
    }

    fn single(&mut self, schema: &Value) -> Value {
        let kinds: Vec<Value> = match &schema["type"] {
            Value::Array(kinds) => kinds.clone(),
            one => vec![one.clone()],
        };
        let kind = self.one(&kinds).as_str().unwrap_or_default().to_owned();
        let texts: &[&str] = match (kind.as_str(), schema.get("format").and_then(Value::as_str)) {
            ("null", _) => return Value::Null,
            ("boolean", _) => return json!(self.below(2) == 0),
            ("number" | "integer", _) => return self.number(schema, &kind),
            (_, Some("length")) => &["1 mm", "2.45 m", "8' 3 1/2\"", "0.5 mm"],
            (_, Some("money")) => &["0", "12.50", "0.0125"],
            (_, Some("id")) => &["a", "b", "Ünder", "x y", "0"],
            (_, Some("date")) => &["2026-05-04", "2024-02-29"],
            (_, Some("moment")) => &["2026-05-04T10:20:30", "2026-05-04T10:20:30.5+02:00"],
            (_, Some("sha256")) => &[
                "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
                "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
            ],
            (_, Some("currency")) => &["EUR", "GBP"],
            (_, Some("ingress")) => &["IP66", "IPX4", "IP2X", "IP66/IP68"],
            _ => &["words", "Wörter, \"quoted\"", "\u{1f600} line\nline"],
        };
        json!(texts[self.below(texts.len())])
    }

    fn number(&mut self, schema: &Value, kind: &str) -> Value {
        let bound = |name: &str| schema.get(name).and_then(Value::as_f64);
        let least = bound("minimum").or(bound("exclusiveMinimum")).unwrap_or(0.0);
        let greatest = bound("maximum").unwrap_or(least + 1000.0);
        if kind == "integer" {
            let span = (greatest - least).min(1e6) as usize;
            return json!(least as i64 + self.below(span + 1) as i64);
        }
        // Whole thousandths (a micrometre where it is a length), or the parts that the plain type keeps.
        let parts = bound("x-parts").unwrap_or(if schema.get("format") == Some(&json!("money")) { 1e4 } else { 1e3 });
        let span = ((greatest - least) * parts).min(1e9) as usize;
        let steps = 1 + self.below(span);
        json!((least * parts + steps as f64).round() / parts)
    }
}

/// Leaves only the full form where a short one may stand, and only numbers where a text with a unit may stand.
#[allow(dead_code, reason = "each test file uses its own share of this module")]
pub fn take_full_forms(schema: &mut Value) {
    match schema {
        Value::Object(map) => {
            if map.contains_key("x-bare")
                && let Some(Value::Array(branches)) = map.get_mut("anyOf")
            {
                branches.remove(0);
            }
            let is_number = matches!(map.get("format").and_then(|f| f.as_str()), Some("length" | "money"));
            if is_number && let Some(Value::Array(kinds)) = map.get_mut("type") {
                kinds.retain(|kind| kind != "string");
            }
            map.values_mut().for_each(take_full_forms);
        }
        Value::Array(items) => items.iter_mut().for_each(take_full_forms),
        _ => {}
    }
}
