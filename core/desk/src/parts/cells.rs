//! A part as one text for each field, and the way from there to a tree that the reader of files takes.

use std::collections::BTreeMap;

use serde_json::Value as Json;

use super::form::{FieldForm, Input, fields};
use super::{Mark, Sheet};
use crate::read::tree::{Entry, Node, Place, Value};

/// A text for each field, by the field's name; what is not given is absent or empty.
pub type Cells = BTreeMap<String, String>;

/// Yes or no.
pub const fn yes_no(yes: bool) -> &'static str {
    if yes { "yes" } else { "no" }
}

/// The texts of a part in full form; decimals with a point.
pub fn cells_of(sheet: Sheet, part: &Json) -> Cells {
    let value = |form: &FieldForm| form.name.split('.').try_fold(part, |at, name| at.get(name));
    let text = |form: &FieldForm| Some((form.name.clone(), text_of(form.input, value(form)?)?));
    fields(sheet).iter().filter_map(text).collect()
}

/// A value of the full form as a text; `None` where it is absent.
fn text_of(input: Input, value: &Json) -> Option<String> {
    Some(match value {
        Json::Null => return None,
        Json::Bool(yes) => yes_no(*yes).to_owned(),
        Json::String(text) => text.clone(),
        Json::Number(_) if input == Input::Money => money(value),
        Json::Number(_) => number(value),
        Json::Array(items) => items.iter().map(item).collect::<Vec<_>>().join("; "),
        Json::Object(_) => return None,
    })
}

fn item(value: &Json) -> String {
    match value {
        Json::String(word) => word.clone(),
        made_up => {
            let part = |name: &str| made_up.get(name).unwrap_or(&Json::Null);
            format!("{} = {}", number(part("length_mm")), money(part("price")))
        }
    }
}

/// The shortest form that reads back the same, without an exponent.
pub fn number(value: &Json) -> String {
    match value.as_i64() {
        Some(whole) => whole.to_string(),
        None => value.as_f64().unwrap_or_default().to_string(),
    }
}

/// An amount with two decimals, or as many as it has.
pub fn money(value: &Json) -> String {
    let text = number(value);
    match text.split_once('.') {
        None => format!("{text}.00"),
        Some((_, part)) if part.len() < 2 => format!("{text}0"),
        Some(_) => text,
    }
}

/// Whether a field is asked for, by what the others say.
pub fn is_asked_for(form: &FieldForm, cells: &Cells) -> bool {
    let says = |field: &str| cells.get(field).map_or("", |text| text.trim());
    form.only_with.iter().all(|with| with.is.iter().any(|word| word == says(&with.field)))
}

/// The tree of a part as a file would have it; `place` says where each field stands.
pub fn node_of(sheet: Sheet, cells: &Cells, mark: Mark, place: &dyn Fn(&str) -> Place) -> Node {
    let mut entries = Vec::new();
    for form in fields(sheet) {
        let text = cells.get(&form.name).map_or("", String::as_str);
        let at = place(&form.name);
        let is_blank = if form.input == Input::Words { text.is_empty() } else { text.trim().is_empty() };
        // A text that is needed may be empty where nothing in its form is against it.
        let may_be_empty = form.needed && is_asked_for(form, cells) && takes_empty(sheet, form);
        if !is_blank || may_be_empty {
            let path: Vec<&str> = form.name.split('.').collect();
            put(&mut entries, &path, Node { place: at, value: value(form.input, text, mark, at) });
        }
    }
    Node { place: place(""), value: Value::Table(entries) }
}

/// A text without a form; of what the catalogue says of itself all, so that the reader names what is missing.
fn takes_empty(sheet: Sheet, form: &FieldForm) -> bool {
    (form.input == Input::Words && form.name != "part") || (sheet == Sheet::Catalogue && form.input == Input::Code)
}

fn put(entries: &mut Vec<Entry>, path: &[&str], node: Node) {
    let [name, rest @ ..] = path else { return };
    let place = node.place;
    if rest.is_empty() {
        return entries.push(Entry { name: (*name).to_owned(), place, node });
    }
    let at = entries.iter().position(|entry| entry.name == *name).unwrap_or_else(|| {
        let table = Node { place, value: Value::Table(Vec::new()) };
        entries.push(Entry { name: (*name).to_owned(), place, node: table });
        entries.len() - 1
    });
    if let Value::Table(below) = &mut entries[at].node.value {
        put(below, rest, node);
    }
}

fn value(input: Input, text: &str, mark: Mark, place: Place) -> Value {
    let trimmed = text.trim();
    let as_text = || Value::Text(trimmed.to_owned());
    match input {
        Input::Words => Value::Text(text.to_owned()),
        Input::Code | Input::Choice => as_text(),
        Input::YesNo => match trimmed.to_lowercase().as_str() {
            "yes" | "true" => Value::Bool(true),
            "no" | "false" => Value::Bool(false),
            _ => as_text(),
        },
        Input::Number | Input::Length | Input::Money => figure(trimmed, mark),
        Input::Choices => {
            let words = trimmed.split([';', ',', ' ', '\n', '\r', '\t']).filter(|word| !word.is_empty());
            Value::List(words.map(|word| Node { place, value: Value::Text(word.to_owned()) }).collect())
        }
        Input::LengthPrices => {
            let items = trimmed.split([';', '\n', '\r']).filter(|item| !item.trim().is_empty());
            Value::List(items.map(|item| Node { place, value: length_price(item, mark, place) }).collect())
        }
    }
}

/// A number in the notation of files, else the text as it is, which the reader takes as a length or an amount, or refuses.
fn figure(text: &str, mark: Mark) -> Value {
    match mark.plain(text) {
        Some(raw) => Value::Number { value: raw.parse().unwrap_or(f64::NAN), raw },
        None => Value::Text(mark.text(text)),
    }
}

/// A length with its price, such as `1000 = 6.20`.
fn length_price(item: &str, mark: Mark, place: Place) -> Value {
    let (length, price) = item.split_once('=').map_or((item, None), |(length, price)| (length, Some(price)));
    let entry = |name: &str, text: &str| Entry {
        name: name.to_owned(),
        place,
        node: Node { place, value: figure(text.trim(), mark) },
    };
    let price = price.map(|price| entry("price", price));
    Value::Table([entry("length_mm", length)].into_iter().chain(price).collect())
}
