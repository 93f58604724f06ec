//! Reads a list of parts from CSV: a first row with names of fields, then one row for each part. Columns that are absent leave
//! a part that is there as it is, so that a list of references and prices is enough to bring prices up to date.

use std::collections::BTreeMap;

use serde_json::Value as Json;

use super::cells::{is_asked_for, node_of};
use super::check::{self, root};
use super::form::{Input, fields};
use super::incoming::{Incoming, IncomingPart};
use super::{Cells, FieldFault, Mark, Refused, Separator, Sheet, canonical, cells_of, find};
use crate::fault::{Fault, Faults};
use crate::read::read_some_of_catalogue;
use crate::read::tree::{Node, Place, Step};

/// Greatest size of a file, in bytes (8 MiB).
pub const GREATEST_BYTES: usize = 8 << 20;
/// Greatest number of rows below the first, as many as a list of a catalogue holds.
pub const GREATEST_ROWS: usize = 10_000;
/// Greatest number of columns.
const GREATEST_COLUMNS: usize = 200;

/// A row with its cells as written, the apostrophe before a text taken off.
struct Row {
    line: usize,
    cells: Vec<String>,
}

/// A row on its way to a part.
struct Read {
    line: usize,
    sheet: Sheet,
    part: String,
    is_new: bool,
    /// It is no part of the list that its columns are of, so its fields say nothing.
    is_misplaced: bool,
    typed: Cells,
    refused: Vec<Refused>,
    node: Node,
}

/// Reads a file into parts of a catalogue in full form.
///
/// # Errors
/// It is too large, is no text, or its first row names something that is no field.
pub(super) fn read_csv(bytes: &[u8], name: &str, full: &Json) -> Result<Incoming, Faults> {
    let one = |matter: String, accepted: &str| Faults { list: vec![Fault::of_file(name, &matter, accepted)] };
    if bytes.len() > GREATEST_BYTES {
        return Err(one(format!("the file has {} bytes", bytes.len()), "at most 8 MiB"));
    }
    let Ok(text) = std::str::from_utf8(bytes) else {
        return Err(one(
            "is no text in UTF-8".to_owned(),
            "CSV in UTF-8, which a spreadsheet offers where it saves as CSV",
        ));
    };
    let (text, skipped) = without_notice(text.trim_start_matches('\u{feff}'));
    let separator = Separator::of(text.lines().next().unwrap_or_default());
    let mut rows = rows(text, separator, skipped).map_err(|matter| one(matter, "CSV after RFC 4180"))?;
    if rows.is_empty() {
        return Err(one("has no first row".to_owned(), "a first row with the names of fields, as a template has it"));
    }
    let header = rows.remove(0);
    if rows.len() > GREATEST_ROWS || header.cells.len() > GREATEST_COLUMNS {
        let matter = format!("has {} rows and {} columns", rows.len(), header.cells.len());
        return Err(one(matter, "at most 10000 rows below the first and 200 columns"));
    }
    let columns = Columns::of(&header, &rows, name)?;
    let figures = rows.iter().flat_map(|row| columns.figures(row));
    let mark = Mark::of(separator, figures);
    Ok(parts(rows.iter().map(|row| columns.read(row, mark, full)).collect(), &columns))
}

/// Some spreadsheets write `sep=;` above the first row; the separator is found out all the same.
fn without_notice(text: &str) -> (&str, usize) {
    let first = text.lines().next().unwrap_or_default();
    let is_notice = first.trim().trim_matches('"').to_ascii_lowercase().starts_with("sep=");
    if is_notice { (text.split_once('\n').map_or("", |(_, rest)| rest), 1) } else { (text, 0) }
}

fn rows(text: &str, separator: Separator, skipped: usize) -> Result<Vec<Row>, String> {
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(separator.byte())
        .from_reader(text.as_bytes());
    let mut rows = Vec::new();
    let (mut line, mut counted) = (skipped + 1, 0);
    for record in reader.records() {
        let record = record.map_err(|why| format!("cannot be read: {why}"))?;
        // The reader's own count is one line behind where lines end with a carriage return and a line feed.
        let at = record.position().and_then(|at| usize::try_from(at.byte()).ok()).unwrap_or(counted);
        let begins =
            at + text.get(at..).unwrap_or_default().bytes().take_while(|byte| matches!(byte, b'\r' | b'\n')).count();
        line += text.get(counted..begins).unwrap_or_default().matches('\n').count();
        counted = begins;
        let cell = |text: &str| text.strip_prefix('\'').unwrap_or(text).to_owned();
        let cells: Vec<String> = record.iter().map(cell).collect();
        if cells.iter().any(|cell| !cell.trim().is_empty()) {
            rows.push(Row { line, cells });
        }
        // One row more than is taken is enough to refuse the file.
        if rows.len() > GREATEST_ROWS + 1 {
            break;
        }
    }
    Ok(rows)
}

/// What the columns hold.
struct Columns {
    /// The field of each column; `None` where a column is empty from top to bottom.
    names: Vec<Option<String>>,
    /// The lists that have all these fields.
    sheets: Vec<Sheet>,
}

impl Columns {
    fn of(header: &Row, rows: &[Row], file: &str) -> Result<Self, Faults> {
        let names: Vec<String> = header.cells.iter().map(|cell| cell.trim().to_lowercase()).collect();
        let known = |sheet: Sheet, name: &str| fields(sheet).iter().any(|form| form.name == name);
        let given = || names.iter().filter(|name| !name.is_empty());
        let fitting = |sheet: &Sheet| given().all(|name| known(*sheet, name));
        let sheets: Vec<Sheet> = Sheet::PARTS.into_iter().filter(fitting).collect();
        let mut faults = Vec::new();
        let mut fault = |column: usize, matter: String, accepted: String| {
            let value = crate::read::tree::quoted(&header.cells[column]);
            let mut fault = Fault::of_file(file, &matter, &accepted);
            (fault.line, fault.column, fault.value) = (header.line, column + 1, value);
            faults.push(fault);
        };
        // Most likely it is meant for the list that knows most of the names.
        let nearest = Sheet::PARTS
            .into_iter()
            .max_by_key(|sheet| (given().filter(|name| known(*sheet, name)).count(), std::cmp::Reverse(*sheet)));
        let nearest = nearest.unwrap_or(Sheet::Luminaires);
        for (column, name) in names.iter().enumerate() {
            let is_empty = |row: &Row| row.cells.get(column).is_none_or(|cell| cell.trim().is_empty());
            if name.is_empty() {
                if !rows.iter().all(is_empty) {
                    fault(
                        column,
                        "names no field, and the column is not empty".to_owned(),
                        "the name of a field".to_owned(),
                    );
                }
            } else if names[..column].contains(name) {
                fault(column, "is given twice".to_owned(), "each field once".to_owned());
            } else if sheets.is_empty() && !known(nearest, name) {
                let all: Vec<&str> = fields(nearest).iter().map(|form| form.name.as_str()).collect();
                fault(column, format!("is no field of {}", nearest.name()), all.join(", "));
            }
        }
        if !names.iter().any(|name| name == "part") {
            fault(
                0,
                "begins a first row without part".to_owned(),
                "a column part with the reference of each part".to_owned(),
            );
        }
        if !faults.is_empty() {
            return Err(Faults { list: faults });
        }
        Ok(Self { names: names.into_iter().map(|name| Some(name).filter(|name| !name.is_empty())).collect(), sheets })
    }

    fn column(&self, field: &str) -> Option<usize> {
        self.names.iter().position(|name| name.as_deref() == Some(field))
    }

    /// How a field is given; the lists agree where they have a field of one name.
    fn input(&self, field: &str) -> Input {
        let of = |sheet: &Sheet| fields(*sheet).iter().find(|form| form.name == field).map(|form| form.input);
        self.sheets.iter().find_map(of).unwrap_or(Input::Words)
    }

    /// The cells of a row that hold figures.
    fn figures<'a>(&'a self, row: &'a Row) -> impl Iterator<Item = &'a str> {
        let is_figure = |name: &String| {
            matches!(self.input(name), Input::Number | Input::Length | Input::Money | Input::LengthPrices)
        };
        let held = self.names.iter().zip(&row.cells).filter(move |(name, _)| name.as_ref().is_some_and(is_figure));
        // Prices of lengths are many figures in one cell.
        held.flat_map(|(_, cell)| cell.split(['=', ';', '\n'])).map(str::trim)
    }

    /// A row over the part that is there.
    fn read(&self, row: &Row, mark: Mark, full: &Json) -> Read {
        let named = self.names.iter().zip(&row.cells).filter_map(|(name, cell)| Some((name.clone()?, cell.clone())));
        let typed: Cells = named.collect();
        let part = typed.get("part").cloned().unwrap_or_default();
        let there = find(full, &part);
        let sheet = match self.sheets.as_slice() {
            [only] => *only,
            several => there.map(|(sheet, _)| sheet).filter(|s| several.contains(s)).unwrap_or(several[0]),
        };
        let mut refused = Vec::new();
        let mut refuse = |field: &str, value: &str, matter: &str, accepted: &str| {
            let column = self.column(field).map_or(0, |column| column + 1);
            let [field, value, matter, accepted] = [field, value, matter, accepted].map(str::to_owned);
            refused.push(Refused::of(FieldFault { field, value, matter, accepted }, sheet, &part, (row.line, column)));
        };
        if row.cells[self.names.len().min(row.cells.len())..].iter().any(|cell| !cell.trim().is_empty()) {
            refuse("", "", "the row has more cells than the first row has names", "one cell for each name");
        }
        let mut is_misplaced = true;
        match there {
            Some((other, _)) if other != sheet => {
                refuse("part", &part, &format!("is there already, under {}", other.name()), "another reference");
            }
            None if self.sheets.len() > 1 => {
                let accepted = "a part that is there; for a new one all columns of its list, as its template has them";
                refuse("part", &part, "is no part of this catalogue", accepted);
            }
            _ => is_misplaced = false,
        }
        let mut cells = there.filter(|(of, _)| *of == sheet).map(|(_, old)| cells_of(sheet, old)).unwrap_or_default();
        for (name, cell) in &typed {
            let input = self.input(name);
            if let Some(matter) = mark.misfit(input, cell) {
                refuse(
                    name,
                    cell,
                    matter,
                    "one way of writing decimals in the whole file, and nothing between thousands",
                );
            }
            cells.insert(name.clone(), plain(input, cell, mark));
        }
        // Where a row makes a part another kind, what belonged to the old kind goes with it.
        let gone = |name: &String| !typed.contains_key(name);
        let before = cells.clone();
        let asked = |name: &String| fields(sheet).iter().any(|form| &form.name == name && is_asked_for(form, &before));
        cells.retain(|name, _| !gone(name) || asked(name));
        let place = |field: &str| Place { line: row.line, column: self.column(field).map_or(0, |column| column + 1) };
        let node = node_of(sheet, &cells, Mark::Point, &place);
        Read { line: row.line, sheet, part, is_new: there.is_none(), is_misplaced, typed, refused, node }
    }
}

/// A cell in the notation of files.
fn plain(input: Input, cell: &str, mark: Mark) -> String {
    match input {
        Input::Number | Input::Length | Input::Money => mark.plain(cell.trim()).unwrap_or_else(|| mark.text(cell)),
        Input::LengthPrices => mark.text(cell),
        _ => cell.to_owned(),
    }
}

/// All rows through the reader of files, list by list, so that a reference given twice is seen.
fn parts(mut read: Vec<Read>, columns: &Columns) -> Incoming {
    let mut incoming = Incoming::default();
    let mut by_sheet: BTreeMap<Sheet, Vec<usize>> = BTreeMap::new();
    for (at, row) in read.iter().enumerate() {
        by_sheet.entry(row.sheet).or_default().push(at);
    }
    let mut found: Vec<(usize, IncomingPart)> = Vec::new();
    for (sheet, rows) in &by_sheet {
        let nodes = rows.iter().map(|at| read[*at].node.clone()).collect();
        let loose = read_some_of_catalogue(&root(*sheet, nodes));
        for (place, path, fault) in &loose.faults {
            let Some(row) = row_of(path).and_then(|at| rows.get(at)).and_then(|at| read.get_mut(*at)) else { continue };
            let mut beside = check::of(*sheet, path, fault);
            // One reason for each cell is enough.
            if row.is_misplaced || row.refused.iter().any(|refused| refused.field == beside.field) {
                continue;
            }
            if let Some(typed) = row.typed.get(&beside.field) {
                beside.value.clone_from(typed);
            }
            let column = columns.column(&beside.field).map_or(0, |column| column + 1);
            let line = if place.line == 0 { row.line } else { place.line };
            row.refused.push(Refused::of(beside, *sheet, &row.part, (line, column)));
        }
        for (n, at) in rows.iter().enumerate() {
            let full =
                loose.full.get(sheet.name()).and_then(|list| list.get(n)).and_then(|part| canonical(*sheet, part));
            if let (true, Some(full)) = (read[*at].refused.is_empty(), full) {
                found.push((*at, IncomingPart { sheet: *sheet, line: read[*at].line, full }));
            }
        }
    }
    found.sort_by_key(|(at, _)| *at);
    incoming.parts = found.into_iter().map(|(_, part)| part).collect();
    incoming.refused = read.into_iter().flat_map(shortened).collect();
    incoming
}

fn row_of(path: &[Step]) -> Option<usize> {
    path.iter().find_map(|step| if let Step::Index(at) = step { Some(*at) } else { None })
}

/// A new part in a file that lacks columns is told once what is missing.
fn shortened(row: Read) -> Vec<Refused> {
    let lacks = |refused: &Refused| refused.column == 0 && refused.value.is_empty() && !refused.field.is_empty();
    if !row.is_new || row.refused.iter().filter(|refused| lacks(refused)).count() < 2 {
        return row.refused;
    }
    let (missing, mut rest): (Vec<Refused>, Vec<Refused>) = row.refused.into_iter().partition(lacks);
    let names: Vec<&str> = missing.iter().map(|refused| refused.field.as_str()).collect();
    let first = missing[0].clone();
    rest.insert(
        0,
        Refused {
            field: "part".to_owned(),
            value: row.part.clone(),
            matter: "is new here, and the file has no column for what a new part needs".to_owned(),
            accepted: format!("the columns {}", names.join(", ")),
            ..first
        },
    );
    rest
}
