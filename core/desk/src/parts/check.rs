//! Checks what a form holds, by the reader of files: the faults come beside the field, with the same words.

use serde::Serialize;
use serde_json::Value as Json;
use ts_rs::TS;

use super::cells::node_of;
use super::form::{FieldForm, Input, fields};
use super::{Cells, Mark, Sheet, canonical, find};
use crate::fault::Fault;
use crate::read::read_some_of_catalogue;
use crate::read::tree::{Entry, Node, Path, Place, Step, Value};

/// What is wrong with one field.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, TS)]
pub struct FieldFault {
    /// The field, by its name.
    pub field: String,
    /// The value that it is about; empty where something is missing.
    pub value: String,
    /// What is the matter with it, in words.
    pub matter: String,
    /// What is accepted, in words; empty where the matter says all.
    pub accepted: String,
}

/// Reads a form into the full form of a part, or says what is wrong, field by field. `full` is the catalogue that it is of,
/// `was` the reference of the part that is changed.
///
/// # Errors
/// Every fault, in the order of the form.
pub fn check(sheet: Sheet, cells: &Cells, full: &Json, was: Option<&str>) -> Result<Json, Vec<FieldFault>> {
    let part = node_of(sheet, cells, Mark::Either, &|_| Place::default());
    let read = read_some_of_catalogue(&root(sheet, vec![part]));
    let mut faults: Vec<FieldFault> = read.faults.iter().map(|(_, path, fault)| of(sheet, path, fault)).collect();
    if Sheet::PARTS.contains(&sheet) {
        faults.extend(taken(cells, full, was));
    }
    faults.sort_by_key(|fault| fields(sheet).iter().position(|form| form.name == fault.field));
    faults.dedup_by(|a, b| a.field == b.field);
    if !faults.is_empty() {
        return Err(faults);
    }
    let full = match sheet {
        Sheet::Catalogue => Some(&read.full),
        Sheet::Labour => read.full.get("labour"),
        _ => read.full.get(sheet.name()).and_then(|list| list.get(0)),
    };
    Ok(full.and_then(|full| canonical(sheet, full)).unwrap_or_default())
}

/// A reference that another part has.
fn taken(cells: &Cells, full: &Json, was: Option<&str>) -> Option<FieldFault> {
    let part = cells.get("part").filter(|part| was != Some(part))?;
    let (sheet, _) = find(full, part)?;
    Some(FieldFault {
        field: "part".to_owned(),
        value: part.clone(),
        matter: format!("is there already, under {}", sheet.name()),
        accepted: "a reference that no other part of this catalogue has".to_owned(),
    })
}

/// Some parts as the tree of a file that holds nothing else.
pub(super) fn root(sheet: Sheet, mut parts: Vec<Node>) -> Node {
    let place = Place { line: 1, column: 1 };
    match sheet {
        Sheet::Catalogue => parts.pop().unwrap_or(Node { place, value: Value::Table(Vec::new()) }),
        _ => {
            let value = match sheet {
                Sheet::Labour => parts.pop().map_or(Value::Null, |node| node.value),
                _ => Value::List(parts),
            };
            let entry = Entry { name: sheet.name().to_owned(), place, node: Node { place, value } };
            Node { place, value: Value::Table(vec![entry]) }
        }
    }
}

/// A fault of a part beside its field.
pub(super) fn of(sheet: Sheet, path: &Path, fault: &Fault) -> FieldFault {
    let skipped = match sheet {
        Sheet::Catalogue => 0,
        Sheet::Labour => 1,
        _ => 2,
    };
    let form = form_at(sheet, path.get(skipped..).unwrap_or_default());
    // A row and a form say by words what a file says by types.
    let matter = match fault.matter.as_str() {
        "is missing" => "nothing is given",
        "is of another type" => "cannot stand here",
        matter => matter,
    };
    let by_form = form.is_some_and(|form| matches!(form.input, Input::YesNo | Input::Choices | Input::LengthPrices));
    let whole = form.filter(|_| by_form || fault.accepted.starts_with("a table"));
    FieldFault {
        field: form.map(|form| form.name.clone()).unwrap_or_default(),
        value: fault.value.clone(),
        matter: matter.to_owned(),
        accepted: whole.map_or_else(|| fault.accepted.clone(), |form| form.accepted.clone()),
    }
}

/// The field at the end of a way within a part; of a table as a whole, the first field in it.
fn form_at(sheet: Sheet, way: &[Step]) -> Option<&'static FieldForm> {
    let names: Vec<&str> =
        way.iter().map_while(|step| if let Step::Name(name) = step { Some(name.as_str()) } else { None }).collect();
    let named = names.join(".");
    let all = fields(sheet);
    let exact = (1..=names.len()).rev().map(|n| names[..n].join(".")).find_map(|n| all.iter().find(|f| f.name == n));
    exact.or_else(|| all.iter().find(|form| form.name.starts_with(&format!("{named}."))))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parts::{cells_of, full_form, parts_of};
    use crate::read::read_catalogue;

    fn demo() -> Json {
        full_form(&read_catalogue(crate::demo::CATALOGUE, "demo.toml").expect("it reads"))
    }

    fn faults(change: &[(&str, &str)]) -> Vec<(String, String)> {
        let full = demo();
        let mut cells = cells_of(Sheet::Luminaires, &parts_of(&full, Sheet::Luminaires)[0]);
        cells.extend(change.iter().map(|(name, text)| ((*name).to_owned(), (*text).to_owned())));
        let found = check(Sheet::Luminaires, &cells, &full, Some("PT-18-W30")).err().unwrap_or_default();
        let said = |f: FieldFault| (f.field, format!("{} {}; {}", f.value, f.matter, f.accepted).trim().to_owned());
        found.into_iter().map(said).collect()
    }

    fn one(field: &str, words: &str) -> Vec<(String, String)> {
        vec![(field.to_owned(), words.to_owned())]
    }

    #[test]
    fn every_part_of_the_demo_passes_its_own_form_and_comes_back_the_same() {
        let full = demo();
        for sheet in Sheet::PARTS {
            for part in parts_of(&full, sheet) {
                let cells = cells_of(sheet, part);
                let read = check(sheet, &cells, &full, Some(super::super::reference(part))).expect("a good part");
                assert_eq!(cells_of(sheet, &read), cells);
            }
        }
        let labour = full.get("labour").expect("labour");
        assert!(check(Sheet::Labour, &cells_of(Sheet::Labour, labour), &full, None).is_ok());
        assert!(check(Sheet::Catalogue, &cells_of(Sheet::Catalogue, &full), &full, None).is_ok());
    }

    #[test]
    fn a_fault_stands_beside_its_field_and_says_what_is_accepted() {
        assert_eq!(faults(&[]), []);
        assert_eq!(
            faults(&[("nominal_v", "twelve")]),
            one("nominal_v", "\"twelve\" cannot stand here; a number above 0, up to 1000 V")
        );
        assert_eq!(faults(&[("nominal_v", "")]), one("nominal_v", "nothing is given; a number above 0, up to 1000 V"));
        assert_eq!(faults(&[("nominal_v", "12,0")]), [], "decimals are typed with a comma in many countries");
        assert_eq!(
            faults(&[("shape.hole_mm", "40")]),
            one("shape.hole_mm", "40 is no less than tube_least_mm, 38; less than 38")
        );
        assert_eq!(
            faults(&[("shape.retention.kind", "glued")]),
            one("shape.retention.kind", "\"glued\" is none of the kinds that can stand here; pressed, rivets")
        );
        assert_eq!(
            faults(&[("part", "DR-12-20")]),
            one(
                "part",
                "DR-12-20 is there already, under drivers; a reference that no other part of this catalogue has"
            )
        );
        assert_eq!(faults(&[("load.kind", "")])[0].0, "load.kind");
    }
}
