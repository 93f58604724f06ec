//! A file as a tree of values that remember where they stand.

use std::fmt::Write as _;

/// Where something stands in a file.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Line from 1.
    pub line: usize,
    /// Column from 1, in characters.
    pub column: usize,
}

/// A value with its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Node {
    /// Where it starts.
    pub place: Place,
    /// The value.
    pub value: Value,
}

/// A value as written.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// Nothing.
    Null,
    /// Yes or no.
    Bool(bool),
    /// A number: as written, and as the nearest double (infinite where it is beyond any).
    Number {
        /// As written.
        raw: String,
        /// The nearest double.
        value: f64,
    },
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Node>),
    /// A table, in the order written.
    Table(Vec<Entry>),
}

/// A named value of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    /// Its name.
    pub name: String,
    /// Where the name stands.
    pub place: Place,
    /// Its value.
    pub node: Node,
}

/// A step on the way from the root to a value.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Step {
    /// Into a table.
    Name(String),
    /// Into a list.
    Index(usize),
}

/// A way from the root to a value.
pub type Path = Vec<Step>;

/// Writes a way as RFC 9535 has it: `$.rails[0].tube`.
#[must_use]
pub fn path_text(path: &[Step]) -> String {
    let mut text = String::from("$");
    for step in path {
        match step {
            Step::Index(i) => write!(text, "[{i}]").unwrap_or_default(),
            Step::Name(name) if is_plain(name) => write!(text, ".{name}").unwrap_or_default(),
            Step::Name(name) => write!(text, "[{}]", quoted(name)).unwrap_or_default(),
        }
    }
    text
}

fn is_plain(name: &str) -> bool {
    !name.is_empty()
        && name.chars().count() <= 40
        && name.chars().all(|c| c.is_ascii_alphanumeric() || c == '_')
        && !name.starts_with(|c: char| c.is_ascii_digit())
}

/// A text in quotes, shortened to 40 characters.
#[must_use]
pub fn quoted(text: &str) -> String {
    let mut shown: String = text.chars().take(40).collect();
    if text.chars().count() > 40 {
        shown.push('…');
    }
    format!("{shown:?}")
}

impl Node {
    /// The value shown shortly.
    #[must_use]
    pub fn shown(&self) -> String {
        match &self.value {
            Value::Null => "null".to_owned(),
            Value::Bool(yes) => yes.to_string(),
            Value::Number { raw, .. } if raw.chars().count() > 40 => {
                format!("{}…", raw.chars().take(40).collect::<String>())
            }
            Value::Number { raw, .. } => raw.clone(),
            Value::Text(text) => quoted(text),
            Value::List(items) if items.is_empty() => "[]".to_owned(),
            Value::List(items) => format!("[… {} …]", items.len()),
            Value::Table(entries) if entries.is_empty() => "{}".to_owned(),
            Value::Table(entries) => {
                let names: Vec<String> = entries.iter().take(3).map(|e| quoted(&e.name)).collect();
                format!("{{{}{}}}", names.join(", "), if entries.len() > 3 { ", …" } else { "" })
            }
        }
    }

    /// The value of a table under a name.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Self> {
        match &self.value {
            Value::Table(entries) => entries.iter().find(|e| e.name == name).map(|e| &e.node),
            _ => None,
        }
    }
}
