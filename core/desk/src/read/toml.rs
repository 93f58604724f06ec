//! Reads TOML into a tree with places; every syntax fault is listed, not only the first.

use toml::de::{DeTable, DeValue};

use super::gather::Gather;
use super::limits::{GREATEST_DEPTH, GREATEST_VALUES};
use super::tree::{Entry, Node, Path, Place, Step, Value};

/// Reads a whole document; what keeps it from being read goes into `gather`.
pub fn read(text: &str, gather: &mut Gather) -> Option<Node> {
    let (root, errors) = DeTable::parse_recoverable(text);
    let lines = Lines::of(text);
    for error in &errors {
        let place = error.span().map_or(Place { line: 1, column: 1 }, |span| lines.place(span.start));
        let matter = format!("not TOML: {}", error.message().replace('\n', "; "));
        gather.add(&Path::new(), place, String::new(), matter, "TOML 1.0 with each field name once".to_owned());
    }
    if !errors.is_empty() {
        return None;
    }
    let mut growing = Growing { lines, values: 0, path: Path::new(), gather };
    let value = growing.table(root.get_ref(), 0)?;
    Some(Node { place: Place { line: 1, column: 1 }, value })
}

/// Starts of lines, to turn offsets into places.
struct Lines<'a> {
    text: &'a str,
    starts: Vec<usize>,
}

impl<'a> Lines<'a> {
    fn of(text: &'a str) -> Self {
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(i, _)| i + 1)).collect();
        Self { text, starts }
    }

    fn place(&self, offset: usize) -> Place {
        let line = self.starts.partition_point(|start| *start <= offset).max(1);
        let before = self.text.get(self.starts[line - 1]..offset).unwrap_or_default();
        Place { line, column: before.chars().count() + 1 }
    }
}

struct Growing<'a> {
    lines: Lines<'a>,
    values: usize,
    path: Path,
    gather: &'a mut Gather,
}

impl Growing<'_> {
    fn table(&mut self, table: &DeTable<'_>, depth: usize) -> Option<Value> {
        let mut entries = Vec::new();
        for (key, value) in table {
            let place = self.lines.place(key.span().start);
            let name = key.get_ref().to_string();
            self.path.push(Step::Name(name.clone()));
            let node = self.node(value.get_ref(), self.lines.place(value.span().start), depth + 1)?;
            self.path.pop();
            entries.push(Entry { name, place, node });
        }
        entries.sort_by_key(|entry| entry.place);
        Some(Value::Table(entries))
    }

    fn node(&mut self, value: &DeValue<'_>, place: Place, depth: usize) -> Option<Node> {
        self.values += 1;
        let over = if depth > GREATEST_DEPTH {
            Some(("lists and tables stand too deep in each other", "a depth of at most 64"))
        } else if self.values > GREATEST_VALUES {
            Some(("too many values", "at most 2000000 values in a file"))
        } else {
            None
        };
        if let Some((matter, accepted)) = over {
            let path = self.path.clone();
            self.gather.add(&path, place, String::new(), matter.to_owned(), accepted.to_owned());
            return None;
        }
        let value = match value {
            DeValue::String(text) => Value::Text(text.to_string()),
            DeValue::Integer(number) => whole(number.as_str(), number.radix()),
            DeValue::Float(number) => {
                Value::Number { raw: number.as_str().to_owned(), value: number.as_str().parse().unwrap_or(f64::NAN) }
            }
            DeValue::Boolean(yes) => Value::Bool(*yes),
            // A bare date reads as the text that it is.
            DeValue::Datetime(moment) => Value::Text(moment.to_string()),
            DeValue::Array(items) => {
                let mut list = Vec::new();
                for (i, item) in items.iter().enumerate() {
                    self.path.push(Step::Index(i));
                    list.push(self.node(item.get_ref(), self.lines.place(item.span().start), depth + 1)?);
                    self.path.pop();
                }
                Value::List(list)
            }
            DeValue::Table(table) => self.table(table, depth)?,
        };
        Some(Node { place, value })
    }
}

/// A whole number, in any of the notations of TOML.
fn whole(raw: &str, radix: u32) -> Value {
    match i64::from_str_radix(raw, radix) {
        Ok(number) if radix != 10 => Value::Number { raw: number.to_string(), value: number as f64 },
        _ => Value::Number { raw: raw.trim_start_matches('+').to_owned(), value: raw.parse().unwrap_or(f64::NAN) },
    }
}
