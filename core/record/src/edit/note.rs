//! What a change carries beside its sentence: the values before and after, from which it can be undone.

use automerge::ScalarValue;
use serde_json::{Value, json};

use super::Put;
use crate::document::{Content, Kind, Thing, absent};

/// Whether a change was made afresh or takes another back.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Way {
    /// An edit.
    Do,
    /// Takes back an earlier change.
    Undo,
    /// Makes an undone change again.
    Redo,
    /// Settles a disagreement, imports or creates: not undone by a key.
    Other,
}

impl Way {
    const fn word(self) -> &'static str {
        match self {
            Self::Do => "do",
            Self::Undo => "undo",
            Self::Redo => "redo",
            Self::Other => "other",
        }
    }
}

/// A value that was written, with what stood there before.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct WrittenPut {
    pub put: Put,
    /// The value that counted before.
    pub before: ScalarValue,
    /// The other values that were in dispute before.
    pub disputed: Vec<ScalarValue>,
    /// The values that were written beside this one, so that they are in dispute with it.
    pub others: Vec<ScalarValue>,
}

impl WrittenPut {
    /// A put where nothing was in dispute.
    pub(crate) const fn new(put: Put, before: ScalarValue) -> Self {
        Self { put, before, disputed: Vec::new(), others: Vec::new() }
    }

    /// A put with what stands there before it.
    pub(crate) fn over(content: &Content, put: Put) -> Self {
        let cell = content.things.get(&put.thing).and_then(|fields| fields.cells.get(&put.field));
        let (before, disputed) = match cell {
            Some(cell) => {
                let distinct = cell.distinct();
                (distinct[0].value.clone(), distinct[1..].iter().map(|written| written.value.clone()).collect())
            }
            None => (absent(&put.field), Vec::new()),
        };
        Self { put, before, disputed, others: Vec::new() }
    }

    /// The put that takes this one back.
    pub(crate) fn inverted(&self) -> Self {
        Self {
            put: Put { value: self.before.clone(), ..self.put.clone() },
            before: self.put.value.clone(),
            disputed: self.others.clone(),
            others: self.disputed.clone(),
        }
    }
}

/// The message of a change.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Note {
    pub sentence: String,
    pub way: Way,
    /// What was written, with the values before.
    pub puts: Vec<WrittenPut>,
}

impl Note {
    /// As the message of a change: the sentence, then one line of JSON.
    pub(crate) fn message(&self) -> String {
        let puts: Vec<Value> = self.puts.iter().map(WrittenPut::to_json).collect();
        format!("{}\n{}", self.sentence.replace(['\n', '\r'], " "), json!({"way": self.way.word(), "puts": puts}))
    }

    /// From a message; a message of another form is a sentence without the rest.
    pub(crate) fn read(message: &str) -> Self {
        let (sentence, rest) = message.split_once('\n').unwrap_or((message, ""));
        let parsed = serde_json::from_str::<Value>(rest).ok();
        let note = parsed.and_then(|json| {
            let way = match json.get("way")?.as_str()? {
                "do" => Way::Do,
                "undo" => Way::Undo,
                "redo" => Way::Redo,
                _ => Way::Other,
            };
            let puts = json.get("puts")?.as_array()?.iter().map(WrittenPut::from_json).collect::<Option<Vec<_>>>()?;
            Some((way, puts))
        });
        let (way, puts) = note.unwrap_or((Way::Other, Vec::new()));
        Self { sentence: sentence.to_owned(), way, puts }
    }
}

impl WrittenPut {
    /// Six members, and two lists more where values were or are in dispute.
    fn to_json(&self) -> Value {
        let Put { thing, field, value } = &self.put;
        let mut json = vec![
            json!(thing.kind.key()),
            json!(thing.rail),
            json!(thing.id),
            json!(field),
            raw(&self.before),
            raw(value),
        ];
        if !(self.disputed.is_empty() && self.others.is_empty()) {
            json.extend([&self.disputed, &self.others].map(|list| list.iter().map(raw).collect()));
        }
        Value::Array(json)
    }

    fn from_json(json: &Value) -> Option<Self> {
        let [kind, rail, id, field, before, after, rest @ ..] = json.as_array()?.as_slice() else { return None };
        let thing = Thing { kind: Kind::of_key(kind.as_str()?)?, rail: rail.as_str()?.into(), id: id.as_str()?.into() };
        let list = |n: usize| match rest.get(n) {
            None => Some(Vec::new()),
            Some(list) => list.as_array()?.iter().map(scalar).collect(),
        };
        let put = Put { thing, field: field.as_str()?.into(), value: scalar(after)? };
        Some(Self { put, before: scalar(before)?, disputed: list(0)?, others: list(1)? })
    }
}

/// A scalar as JSON; forms that this release never writes come as null with their text.
fn raw(scalar: &ScalarValue) -> Value {
    match scalar {
        ScalarValue::Str(text) => json!(text.as_str()),
        ScalarValue::Boolean(yes) => json!(yes),
        ScalarValue::Null => Value::Null,
        ScalarValue::Int(n) => json!({"int": n}),
        ScalarValue::Uint(n) => json!({"uint": n}),
        ScalarValue::F64(n) => json!({"f64": n.to_bits()}),
        other => json!({"other": other.to_string()}),
    }
}

fn scalar(json: &Value) -> Option<ScalarValue> {
    Some(match json {
        Value::String(text) => ScalarValue::Str(text.as_str().into()),
        Value::Bool(yes) => ScalarValue::Boolean(*yes),
        Value::Null => ScalarValue::Null,
        Value::Object(map) => {
            if let Some(n) = map.get("int").and_then(Value::as_i64) {
                ScalarValue::Int(n)
            } else if let Some(n) = map.get("uint").and_then(Value::as_u64) {
                ScalarValue::Uint(n)
            } else {
                ScalarValue::F64(f64::from_bits(map.get("f64")?.as_u64()?))
            }
        }
        _ => return None,
    })
}
