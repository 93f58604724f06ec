//! What a file would change in a catalogue, before anything of it is taken.

use std::collections::BTreeSet;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Value as Json, json};
use ts_rs::TS;

use super::form::fields;
use super::incoming::Incoming;
use super::{Cells, Edit, Refused, Sheet, cells_of, find, parts_of, reference};
use crate::fault::{Fault, Faults};

/// What a file would change.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
pub struct Preview {
    /// Version of this shape: 1.
    pub schema_version: u32,
    /// The file.
    pub file: String,
    /// SHA-256 of the file's bytes.
    pub file_sha256: String,
    /// What the catalogue is called that it goes into.
    pub catalogue: String,
    /// SHA-256 of that catalogue as it is; empty where the file becomes one of its own.
    pub content_sha256: String,
    /// Parts that are not in the catalogue yet.
    pub added: Vec<PartChange>,
    /// Parts, or what is said of the catalogue or of labour, that would be changed.
    pub changed: Vec<PartChange>,
    /// How many parts are the same already.
    pub unchanged: u32,
    /// How many parts of the catalogue the file does not name; they stay as they are.
    pub not_named: u32,
    /// What of the file is not taken, and why.
    pub refused: Vec<Refused>,
}

/// A part that would be added or changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
pub struct PartChange {
    /// The list that it is of.
    pub sheet: Sheet,
    /// Its reference; empty for the catalogue itself and for labour.
    pub part: String,
    /// Its description.
    pub description: String,
    /// Its fields that would be other than they are; of a new part all that are given.
    pub fields: Vec<FieldChange>,
}

/// A field that would be changed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
pub struct FieldChange {
    /// Its name.
    pub field: String,
    /// What it says now; empty where it says nothing.
    pub before: String,
    /// What it would say.
    pub after: String,
}

impl Preview {
    /// One line for each field and part that would change, and one that counts all.
    #[must_use]
    pub fn to_text(&self) -> String {
        let mut lines = Vec::new();
        for change in &self.changed {
            let name = if change.part.is_empty() { change.sheet.name() } else { &change.part };
            let field = |field: &FieldChange| {
                format!("changed: {name}, {}: {:?} -> {:?}", field.field, field.before, field.after)
            };
            lines.extend(change.fields.iter().map(field));
        }
        for change in &self.added {
            lines.push(format!("added: {}, {}", change.part, change.description));
        }
        let (added, changed, refused) = (self.added.len(), self.changed.len(), self.refused.len());
        lines.push(format!(
            "{added} added, {changed} changed, {} the same already, {} not in the file, {refused} refused",
            self.unchanged, self.not_named
        ));
        lines.iter().map(|line| format!("{}\n", crate::safe::safe(line))).collect()
    }
}

/// Compares what a file brings with a catalogue in full form; answers what would change, and the edits that do it. Where
/// `full` is absent the file becomes a catalogue of its own.
///
/// # Errors
/// The file does not go with the catalogue: other currency, invented parts among real ones; or it is no whole catalogue
/// where it has to be one.
pub fn preview(incoming: Incoming, full: Option<&Json>, file: &str) -> Result<(Preview, Vec<Edit>), Faults> {
    let Incoming { head, labour, not_whole, parts, refused } = incoming;
    let empty = json!({});
    let now = full.unwrap_or(&empty);
    match full {
        None if !not_whole.list.is_empty() => return Err(not_whole),
        Some(full) => goes_with(head.as_ref(), full, file)?,
        None => {}
    }
    let mut found = Preview {
        schema_version: 1,
        file: file.to_owned(),
        file_sha256: String::new(),
        catalogue: String::new(),
        content_sha256: String::new(),
        added: Vec::new(),
        changed: Vec::new(),
        unchanged: 0,
        not_named: 0,
        refused,
    };
    let mut edits = Vec::new();
    if full.is_some() {
        // Prices come with their day and labour; what the catalogue is called stays.
        if let Some(head) = head.filter(|head| !head["priced_on"].is_null() && head["priced_on"] != now["priced_on"]) {
            let mut after = head_of(now);
            after["priced_on"] = head["priced_on"].clone();
            found.changed.push(change(Sheet::Catalogue, &head_of(now), &after));
            edits.push(Edit::Catalogue { head: after });
        }
        if let Some(labour) = labour.filter(|labour| *labour != now["labour"]) {
            found.changed.push(change(Sheet::Labour, &now["labour"], &labour));
            edits.push(Edit::Labour { labour });
        }
    }
    let mut named: BTreeSet<String> = found.refused.iter().map(|refused| refused.part.clone()).collect();
    for part in parts {
        let (sheet, after) = (part.sheet, part.full);
        named.insert(reference(&after).to_owned());
        match find(now, reference(&after)) {
            None => {
                found.added.push(change(sheet, &empty, &after));
                edits.push(Edit::Put { sheet, was: None, part: after });
            }
            Some((of, before)) if of == sheet => {
                if *before == after {
                    found.unchanged += 1;
                    continue;
                }
                found.changed.push(change(sheet, before, &after));
                edits.push(Edit::Put { sheet, was: Some(reference(&after).to_owned()), part: after });
            }
            Some((other, _)) => {
                found.refused.push(Refused {
                    line: u32::try_from(part.line).unwrap_or(0),
                    column: 0,
                    sheet,
                    part: reference(&after).to_owned(),
                    field: "part".to_owned(),
                    value: reference(&after).to_owned(),
                    matter: format!("is there already, under {}", other.name()),
                    accepted: "another reference".to_owned(),
                });
            }
        }
    }
    let all: usize = Sheet::PARTS.into_iter().map(|sheet| parts_of(now, sheet).len()).sum();
    let named = named.iter().filter(|part| find(now, part).is_some()).count();
    found.not_named = u32::try_from(all.saturating_sub(named)).unwrap_or(u32::MAX);
    Ok((found, edits))
}

/// What the catalogue says of itself.
pub(super) fn head_of(full: &Json) -> Json {
    json!({
        "label": full["label"], "currency": full["currency"], "priced_on": full["priced_on"], "invented": full["invented"],
    })
}

fn goes_with(head: Option<&Json>, full: &Json, file: &str) -> Result<(), Faults> {
    let Some(head) = head else { return Ok(()) };
    let mut list = Vec::new();
    let (theirs, ours) = (head["currency"].as_str(), full["currency"].as_str());
    if theirs.is_some() && theirs != ours {
        let matter = format!("has its prices in {}, this catalogue in {}", theirs.unwrap_or(""), ours.unwrap_or(""));
        list.push(Fault::of_file(file, &matter, "the same currency; or take the file in as a catalogue of its own"));
    }
    if head["invented"] == json!(true) && full["invented"] != json!(true) {
        let matter = "says that its parts are invented, and those of this catalogue are not";
        list.push(Fault::of_file(file, matter, "real parts; or take the file in as a catalogue of its own"));
    }
    if list.is_empty() { Ok(()) } else { Err(Faults { list }) }
}

fn change(sheet: Sheet, before: &Json, after: &Json) -> PartChange {
    let (old, new) = (cells_of(sheet, before), cells_of(sheet, after));
    let text = |cells: &Cells, field: &str| cells.get(field).cloned().unwrap_or_default();
    let differs = |form: &&super::FieldForm| text(&old, &form.name) != text(&new, &form.name);
    let fields = fields(sheet).iter().filter(differs).map(|form| FieldChange {
        before: text(&old, &form.name),
        after: text(&new, &form.name),
        field: form.name.clone(),
    });
    PartChange {
        sheet,
        part: reference(after).to_owned(),
        description: text(&new, "description"),
        fields: fields.collect(),
    }
}
