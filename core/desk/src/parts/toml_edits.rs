//! Changes of a catalogue as changes of its TOML file: what is not changed stays as it is written, comments included. What
//! comes of it is read again and must be what was meant; where a file is written in a way that this cannot follow, it is
//! written anew.

use serde_json::{Map, Value as Json, json};
use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, TableLike, Value};

use super::form::fields;
use super::{Sheet, cells, find, full_form, parts_of, reference};
use crate::fault::{Fault, Faults};
use crate::read::read_catalogue;

/// A change of a catalogue.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// A part as it is now.
    Put {
        /// Its list.
        sheet: Sheet,
        /// The reference that it had; absent where it is new.
        was: Option<String>,
        /// Its full form.
        part: Json,
    },
    /// A part is taken out.
    Remove {
        /// Its reference.
        part: String,
    },
    /// What the catalogue says of itself.
    Catalogue {
        /// Label, currency, day of prices, whether invented.
        head: Json,
    },
    /// Labour.
    Labour {
        /// Its full form.
        labour: Json,
    },
}

/// A catalogue with changes, as TOML. `bytes` are its file as it is, `full` its full form.
///
/// # Errors
/// It would not be a catalogue any more, such as one with too many parts of a list.
pub fn edited(bytes: &[u8], full: &Json, edits: &[Edit]) -> Result<String, Faults> {
    let mut meant = full.clone();
    for edit in edits {
        apply(&mut meant, edit);
    }
    let kept = std::str::from_utf8(bytes).ok().and_then(|text| text.trim_start_matches('\u{feff}').parse().ok());
    let kept = kept.and_then(|doc: DocumentMut| with_edits(doc, full, edits));
    let reads_as_meant =
        |text: &String| read_catalogue(text.as_bytes(), "catalogue.toml").is_ok_and(|c| full_form(&c) == meant);
    if let Some(text) = kept.filter(reads_as_meant) {
        return Ok(text);
    }
    let text = whole(&meant);
    let read = read_catalogue(text.as_bytes(), "catalogue.toml")?;
    if full_form(&read) == meant {
        return Ok(text);
    }
    let fault = Fault::of_file("catalogue.toml", "would read otherwise than it was meant; nothing was changed", "");
    Err(Faults { list: vec![fault] })
}

/// Makes a change in a full form.
fn apply(full: &mut Json, edit: &Edit) {
    match edit {
        Edit::Put { sheet, was, part } => {
            let at = was.as_ref().and_then(|was| index(full, *sheet, was));
            let Some(list) = list_mut(full, *sheet) else { return };
            match at.and_then(|at| list.get_mut(at)) {
                Some(there) => *there = part.clone(),
                None => list.push(part.clone()),
            }
        }
        Edit::Remove { part } => {
            let Some((sheet, _)) = find(full, part) else { return };
            let at = index(full, sheet, part);
            if let (Some(at), Some(list)) = (at, list_mut(full, sheet)) {
                list.remove(at);
            }
        }
        Edit::Catalogue { head } => {
            if let (Some(full), Some(head)) = (full.as_object_mut(), head.as_object()) {
                full.extend(head.clone());
            }
        }
        Edit::Labour { labour } => {
            if let Some(full) = full.as_object_mut() {
                full.insert("labour".to_owned(), labour.clone());
            }
        }
    }
}

fn index(full: &Json, sheet: Sheet, part: &str) -> Option<usize> {
    parts_of(full, sheet).iter().position(|found| reference(found) == part)
}

fn list_mut(full: &mut Json, sheet: Sheet) -> Option<&mut Vec<Json>> {
    let list = full.as_object_mut()?.entry(sheet.name()).or_insert_with(|| json!([]));
    list.as_array_mut()
}

/// The file with the changes; `None` where its way of writing cannot be followed.
fn with_edits(mut doc: DocumentMut, full: &Json, edits: &[Edit]) -> Option<String> {
    let mut now = full.clone();
    for edit in edits {
        match edit {
            Edit::Put { sheet, was, part } => {
                let at = was.as_ref().and_then(|was| index(&now, *sheet, was));
                let list = doc.entry(sheet.name()).or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
                let list = list.as_array_of_tables_mut()?;
                match at {
                    Some(at) => merge(list.get_mut(at)?, parts_of(&now, *sheet).get(at)?, part),
                    None => list.push(new_part(*sheet, part)),
                }
            }
            Edit::Remove { part } => {
                let (sheet, _) = find(&now, part)?;
                let at = index(&now, sheet, part)?;
                remove(doc.get_mut(sheet.name())?.as_array_of_tables_mut()?, at)?;
            }
            Edit::Catalogue { head } => merge(doc.as_table_mut(), &super::compare::head_of(&now), head),
            Edit::Labour { labour } => {
                let table = doc.entry("labour").or_insert_with(|| Item::Table(Table::new()));
                merge(table.as_table_like_mut()?, &now["labour"], labour);
            }
        }
        apply(&mut now, edit);
    }
    Some(doc.to_string())
}

/// Takes a part out. A comment that stands apart above it is of all that follow, and stays.
fn remove(list: &mut ArrayOfTables, at: usize) -> Option<()> {
    let above = list.get(at)?.decor().prefix().and_then(|prefix| prefix.as_str()).unwrap_or_default().to_owned();
    list.remove(at);
    let apart = above.rfind("\n\n").map(|end| &above[..=end]).filter(|text| text.contains('#'));
    if let (Some(apart), Some(next)) = (apart, list.get_mut(at)) {
        let own = next.decor().prefix().and_then(|prefix| prefix.as_str()).unwrap_or_default().to_owned();
        next.decor_mut().set_prefix(format!("{apart}{own}"));
    }
    Some(())
}

/// Brings a table from one full form to another; what is the same in both is not touched.
fn merge(table: &mut dyn TableLike, before: &Json, after: &Json) {
    let (empty, none) = (Map::new(), Json::Null);
    let (old, new) = (before.as_object().unwrap_or(&empty), after.as_object().unwrap_or(&empty));
    let gone = old.keys().filter(|name| new.get(*name).is_none_or(Json::is_null));
    for name in gone {
        table.remove(name);
    }
    for (name, value) in new.iter().filter(|(_, value)| !value.is_null()) {
        let was = old.get(name).unwrap_or(&none);
        if was == value {
            continue;
        }
        if value.is_object()
            && was.is_object()
            && let Some(below) = table.get_mut(name).and_then(Item::as_table_like_mut)
        {
            merge(below, was, value);
            continue;
        }
        let mut next = toml(name, value);
        match table.get_mut(name).and_then(Item::as_value_mut) {
            Some(there) => {
                *next.decor_mut() = there.decor().clone();
                *there = next;
            }
            None => drop(table.insert(name, Item::Value(next))),
        }
    }
}

/// A part that is new, in the order of its form; what is as usual is left out.
fn new_part(sheet: Sheet, part: &Json) -> Table {
    let mut table = Table::new();
    table.decor_mut().set_prefix("\n");
    let mut last: Vec<(&str, Table)> = Vec::new();
    for name in names(sheet) {
        let Some(value) = part.get(name).filter(|value| !is_usual(sheet, name, value)) else { continue };
        match (name, value) {
            // The many fields of a luminaire's shape stand below one another.
            ("shape", Json::Object(_)) => {
                let mut below = Table::new();
                below.decor_mut().set_prefix("\n");
                merge(&mut below, &Json::Null, value);
                last.push((name, below));
            }
            _ => drop(table.insert(name, Item::Value(toml(name, value)))),
        }
    }
    for (name, below) in last {
        table.insert(name, Item::Table(below));
    }
    table
}

/// The names of a part's fields and tables, in the order of its form.
fn names(sheet: Sheet) -> Vec<&'static str> {
    let mut names: Vec<&str> = Vec::new();
    for form in fields(sheet) {
        let first = form.name.split('.').next().unwrap_or_default();
        if !names.contains(&first) {
            names.push(first);
        }
    }
    names
}

fn is_usual(sheet: Sheet, name: &str, value: &Json) -> bool {
    let usual = fields(sheet).iter().find(|form| form.name == name && !form.needed).map(|form| form.usual.as_str());
    let text = match value {
        Json::Null => return true,
        Json::String(text) => text.clone(),
        Json::Bool(yes) => cells::yes_no(*yes).to_owned(),
        Json::Number(_) => cells::number(value),
        _ => return false,
    };
    usual == Some(text.as_str())
}

fn toml(name: &str, value: &Json) -> Value {
    match value {
        Json::Null => Value::from(""),
        Json::Bool(yes) => Value::from(*yes),
        Json::String(text) => Value::from(text.as_str()),
        Json::Number(_) => {
            let is_price = name == "price" || name.ends_with("_price");
            let text = if is_price { cells::money(value) } else { cells::number(value) };
            // The notation of our own figures is one that TOML has.
            text.parse().unwrap_or_else(|_| Value::from(value.as_f64().unwrap_or_default()))
        }
        Json::Array(items) => Value::Array(items.iter().map(|item| toml(name, item)).collect::<Array>()),
        Json::Object(map) => {
            let mut table = InlineTable::new();
            // The kind comes first, as a person would write it.
            let (kind, rest): (Vec<_>, Vec<_>) = map.iter().partition(|(name, _)| *name == "kind");
            for (name, value) in kind.into_iter().chain(rest).filter(|(_, value)| !value.is_null()) {
                table.insert(name, toml(name, value));
            }
            Value::InlineTable(table)
        }
    }
}

/// A whole catalogue from its full form.
#[must_use]
pub fn whole(full: &Json) -> String {
    let mut doc = DocumentMut::new();
    doc.insert("schema_version", toml_edit::value(1));
    merge(doc.as_table_mut(), &Json::Null, &super::compare::head_of(full));
    let mut labour = Table::new();
    labour.decor_mut().set_prefix("\n");
    merge(&mut labour, &Json::Null, &full["labour"]);
    doc.insert("labour", Item::Table(labour));
    for sheet in Sheet::PARTS.into_iter().filter(|sheet| !parts_of(full, *sheet).is_empty()) {
        let list: ArrayOfTables = parts_of(full, sheet).iter().map(|part| new_part(sheet, part)).collect();
        doc.insert(sheet.name(), Item::ArrayOfTables(list));
    }
    doc.to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parts::parts_of;

    fn demo() -> (&'static [u8], Json) {
        let bytes = crate::demo::CATALOGUE;
        (bytes, full_form(&read_catalogue(bytes, "demo.toml").expect("it reads")))
    }

    fn lines_that_differ(before: &str, after: &str) -> (Vec<String>, Vec<String>) {
        let only = |a: &str, b: &str| {
            let there: Vec<&str> = b.lines().collect();
            a.lines().filter(|line| !there.contains(line)).map(str::to_owned).collect()
        };
        (only(before, after), only(after, before))
    }

    fn put(full: &Json, at: usize, change: impl Fn(&mut Json)) -> Edit {
        let mut part = parts_of(full, Sheet::Luminaires)[at].clone();
        let was = reference(&part).to_owned();
        change(&mut part);
        Edit::Put { sheet: Sheet::Luminaires, was: Some(was), part }
    }

    #[test]
    fn a_change_touches_its_own_line_and_no_comment() {
        let (bytes, full) = demo();
        let before = std::str::from_utf8(bytes).expect("text");
        let edit = put(&full, 0, |part| {
            part["price"] = json!(18);
            part["shape"]["hole_mm"] = json!(18.5);
        });
        let after = edited(bytes, &full, &[edit]).expect("a catalogue");
        let (gone, new) = lines_that_differ(before, &after);
        assert_eq!(gone, ["price = 17.40"]);
        assert_eq!(new, ["price = 18.00", "hole_mm = 18.5"]);
        assert_eq!(before.matches('#').count(), after.matches('#').count());
    }

    #[test]
    fn no_change_leaves_the_file_as_it_is() {
        let (bytes, full) = demo();
        assert_eq!(edited(bytes, &full, &[]).expect("a catalogue").as_bytes(), bytes);
    }

    #[test]
    fn a_part_of_another_kind_is_written_with_its_own_fields_alone() {
        let (bytes, full) = demo();
        let edit = put(&full, 0, |part| {
            part["load"] = json!({"kind": "power", "watts": 0.5});
            part["shape"]["retention"] = json!({"kind": "rivets", "count": 2, "diameter_mm": 2});
        });
        let after = edited(bytes, &full, &[edit]).expect("a catalogue");
        assert!(after.contains("load = { kind = \"power\", watts = 0.5 }"), "{after}");
        assert!(after.contains("retention = { kind = \"rivets\", count = 2, diameter_mm = 2 }"), "{after}");
    }

    #[test]
    fn a_part_is_added_and_taken_out_again_and_the_comments_above_others_stay() {
        let (bytes, full) = demo();
        let mut part = parts_of(&full, Sheet::Drivers)[0].clone();
        part["part"] = json!("DR-NEW");
        let added = edited(bytes, &full, &[Edit::Put { sheet: Sheet::Drivers, was: None, part }]).expect("a catalogue");
        let full_then = full_form(&read_catalogue(added.as_bytes(), "t.toml").expect("it reads"));
        assert_eq!(parts_of(&full_then, Sheet::Drivers).len(), parts_of(&full, Sheet::Drivers).len() + 1);
        let back = edited(added.as_bytes(), &full_then, &[Edit::Remove { part: "DR-NEW".to_owned() }]).expect("one");
        assert_eq!(full_form(&read_catalogue(back.as_bytes(), "t.toml").expect("it reads")), full);
        // The first driver stands below the comment on all drivers.
        let without = edited(bytes, &full, &[Edit::Remove { part: "DR-12-20".to_owned() }]).expect("a catalogue");
        assert!(without.contains("# Drivers hold their output voltage."));
        assert!(!without.contains("\"DR-12-20\""));
    }

    #[test]
    fn a_catalogue_written_whole_reads_as_the_same() {
        let (_, full) = demo();
        assert_eq!(full_form(&read_catalogue(whole(&full).as_bytes(), "t.toml").expect("it reads")), full);
        // A catalogue kept as JSON becomes TOML with its first change.
        let json = crate::json_text(&full);
        let after = edited(json.as_bytes(), &full, &[put(&full, 1, |part| part["price"] = json!(1.25))]).expect("one");
        assert!(after.contains("price = 1.25"));
    }
}
