//! What a file brings for a catalogue, part by part: a catalogue file in TOML or JSON, or CSV.

use serde_json::{Map, Value as Json};

use super::csv_import::read_csv;
use super::{FieldFault, Refused, Sheet, canonical, check, reference};
use crate::fault::{Fault, Faults};
use crate::read::read_loose_catalogue;
use crate::read::tree::Step;

/// What a file brings.
#[derive(Clone, Debug, Default)]
pub struct Incoming {
    /// What it says of itself; absent where it says nothing, as CSV does.
    pub head: Option<Json>,
    /// Labour, where it has that.
    pub labour: Option<Json>,
    /// What keeps it from being a catalogue of its own.
    pub not_whole: Faults,
    /// The parts that can be taken.
    pub parts: Vec<IncomingPart>,
    /// Why others cannot.
    pub refused: Vec<Refused>,
}

/// A part that can be taken.
#[derive(Clone, Debug)]
pub struct IncomingPart {
    /// The list that it is of.
    pub sheet: Sheet,
    /// Its line in the file; 0 where that is not known.
    pub line: usize,
    /// Its full form.
    pub full: Json,
}

/// Reads a file by its ending; `full` is the catalogue that it is meant for, in full form.
///
/// # Errors
/// Nothing of it can be taken: every fault.
pub fn read(bytes: &[u8], name: &str, full: &Json) -> Result<Incoming, Faults> {
    if name.to_ascii_lowercase().ends_with(".csv") || name.to_ascii_lowercase().ends_with(".tsv") {
        let mut incoming = read_csv(bytes, name, full)?;
        let accepted = "a catalogue file in TOML; a CSV file goes into a catalogue that is there";
        incoming.not_whole.list.push(Fault::of_file(
            name,
            "holds parts alone, and no labour, currency or day",
            accepted,
        ));
        return Ok(incoming);
    }
    read_whole(bytes, name)
}

fn read_whole(bytes: &[u8], name: &str) -> Result<Incoming, Faults> {
    let loose = read_loose_catalogue(bytes, name)?;
    let mut incoming = Incoming::default();
    let mut whole = Faults::default();
    let list_of = |sheet: Sheet| loose.full.get(sheet.name()).and_then(Json::as_array).map_or(&[][..], Vec::as_slice);
    let mut spoilt: Vec<(Sheet, usize)> = Vec::new();
    let named = |mut fault: Fault| {
        name.clone_into(&mut fault.file);
        fault
    };
    for (place, path, fault) in loose.faults {
        match path.as_slice() {
            [Step::Name(list), Step::Index(at), ..] if Sheet::of_parts(list).is_some() => {
                let Some(sheet) = Sheet::of_parts(list) else { continue };
                let part = list_of(sheet).get(*at).map(reference).unwrap_or_default();
                let mut beside = check::of(sheet, &path, &fault);
                if beside.field.is_empty() {
                    // A name that is no field stands as it is written.
                    beside = FieldFault { field: last_name(&path), ..beside };
                }
                incoming.refused.push(Refused::of(beside, sheet, part, (place.line, 0)));
                spoilt.push((sheet, *at));
            }
            [Step::Name(_)] if fault.matter == "is missing" => incoming.not_whole.list.push(named(fault)),
            _ => whole.list.push(named(fault)),
        }
    }
    if !whole.list.is_empty() {
        return Err(whole);
    }
    for sheet in Sheet::PARTS {
        for (at, part) in list_of(sheet).iter().enumerate().filter(|(at, _)| !spoilt.contains(&(sheet, *at))) {
            if let Some(full) = canonical(sheet, part) {
                incoming.parts.push(IncomingPart { sheet, line: 0, full });
            } else {
                let fault = Fault::of_file(name, &format!("part {at} of {} cannot be read", sheet.name()), "");
                return Err(Faults { list: vec![fault] });
            }
        }
    }
    let head = ["label", "currency", "priced_on", "invented"];
    let said: Map<String, Json> =
        head.iter().filter_map(|name| Some(((*name).to_owned(), loose.full.get(*name)?.clone()))).collect();
    incoming.head = Some(Json::Object(said));
    incoming.labour = loose.full.get("labour").and_then(|labour| canonical(Sheet::Labour, labour));
    Ok(incoming)
}

fn last_name(path: &[Step]) -> String {
    let name = path.iter().rev().find_map(|step| if let Step::Name(name) = step { Some(name.clone()) } else { None });
    name.unwrap_or_default()
}
