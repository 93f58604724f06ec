//! Blocks of a paper as values for the template. Every text goes in as a string, never as markup.

use typst::foundations::{Array, Dict, IntoValue, Str, Value};

use super::typeface::printable;
use crate::drawing::{Anchor, Dash, Drawing, Mark, Spot, Weight};
use crate::table::{Cell, Column, Side, Table};
use crate::wording;

/// A text that is only ever shown.
pub fn text(words: &str) -> Value {
    Value::Str(Str::from(printable(words)))
}

/// A text in running words or a cell: a long word may break anywhere rather than run out of its place.
fn running(words: &str) -> Value {
    const LONG: usize = 14;
    let shown = printable(words);
    let words: Vec<String> = shown
        .split(' ')
        .map(|word| {
            if word.chars().count() <= LONG {
                return word.to_owned();
            }
            // A mark that joins the letter before it stays with it.
            let mut broken = String::with_capacity(word.len() * 4);
            for letter in word.chars() {
                if !broken.is_empty() && unicode_width::UnicodeWidthChar::width(letter) != Some(0) {
                    broken.push('\u{200B}');
                }
                broken.push(letter);
            }
            broken
        })
        .collect();
    Value::Str(Str::from(words.join(" ")))
}

fn runnings<'a>(lines: impl IntoIterator<Item = &'a str>) -> Value {
    Value::Array(lines.into_iter().map(running).collect::<Array>())
}

/// A name that the template knows, such as a colour.
fn name(name: &'static str) -> Value {
    Value::Str(Str::from(name))
}

fn dict<const N: usize>(pairs: [(&'static str, Value); N]) -> Value {
    Value::Dict(pairs.into_iter().map(|(key, value)| (Str::from(key), value)).collect::<Dict>())
}

/// Whether a heading starts a sheet of its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Start {
    /// On a new sheet.
    NewSheet,
    /// Below what came before.
    Below,
}

/// A heading.
pub fn heading(words: &str, start: Start) -> Value {
    dict([("kind", name("heading")), ("text", text(words)), ("fresh", (start == Start::NewSheet).into_value())])
}

/// A smaller heading within one subject.
pub fn subheading(words: &str, start: Start) -> Value {
    dict([("kind", name("subheading")), ("text", text(words)), ("fresh", (start == Start::NewSheet).into_value())])
}

/// Running words.
pub fn words(words: &str) -> Value {
    dict([("kind", name("words")), ("text", running(words))])
}

/// Names with values.
pub fn facts(pairs: &[(&str, String)]) -> Value {
    let pairs = pairs.iter().map(|(key, value)| runnings([*key, value.as_str()])).collect::<Array>();
    dict([("kind", name("facts")), ("pairs", Value::Array(pairs))])
}

/// How loud a notice is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Loud {
    /// Stops the work.
    Stop,
    /// Asks for care.
    Care,
}

/// A framed notice with reasons under its title.
pub fn notice<'a>(loud: Loud, title: &str, lines: impl IntoIterator<Item = &'a str>) -> Value {
    let loud = match loud {
        Loud::Stop => "stop",
        Loud::Care => "ask",
    };
    dict([("kind", name("notice")), ("loud", name(loud)), ("title", text(title)), ("lines", runnings(lines))])
}

/// Whether a table in halves is short enough to be kept together on one sheet: both halves, with their words wrapped,
/// stay well below a sheet's height.
pub fn stays_together(table: &Table) -> bool {
    const LINES: usize = 30;
    let lines_of = |row: &Vec<Cell>| {
        let of_cell = |(cell, column): (&Cell, &Column)| {
            let across = if column.side == Side::Left { column.widest.clamp(6, 24) } else { usize::MAX };
            cell.plain().chars().count().div_ceil(across)
        };
        row.iter().zip(&table.columns).map(of_cell).max().unwrap_or(1).max(1)
    };
    let (first, second) = table.rows.split_at(table.rows.len().div_ceil(2));
    [first, second].into_iter().all(|half| half.iter().map(lines_of).sum::<usize>() <= LINES)
}

/// How many columns of the sheet a table's rows run down side by side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Across {
    /// The table takes the sheet's width.
    Sheet,
    /// The table takes half the sheet and goes on in the other half.
    Halves,
}

/// A table.
pub fn table(table: &Table, across: Across) -> Value {
    let shares = shares(table);
    let columns = table.columns.iter().zip(shares).map(|(column, share)| {
        dict([
            ("title", text(&column.title)),
            ("unit", text(column.unit)),
            ("right", (column.side == Side::Right).into_value()),
            ("share", share.into_value()),
        ])
    });
    let rows = table.rows.iter().map(|row| Value::Array(row.iter().map(cell).collect::<Array>()));
    dict([
        ("kind", name("table")),
        ("columns", Value::Array(columns.collect::<Array>())),
        ("rows", Value::Array(rows.collect::<Array>())),
        ("halves", (across == Across::Halves).into_value()),
        ("together", stays_together(table).into_value()),
    ])
}

/// Share of the free width for each column; none for a column that is as wide as its short words or figures.
fn shares(table: &Table) -> Vec<f64> {
    let mut shares: Vec<f64> = table
        .columns
        .iter()
        .enumerate()
        .map(|(place, column)| {
            let longest = table.rows.iter().map(|row| row[place].plain().chars().count()).max().unwrap_or(0);
            // A column without any words is there to be written in, and keeps its room.
            let is_short = longest > 0 && longest.max(column.title.chars().count()) <= SHORT;
            if column.side == Side::Right || is_short { 0.0 } else { column.widest as f64 }
        })
        .collect();
    // Something has to take what is left of the sheet, so the widest column of words does.
    if shares.iter().all(|share| *share == 0.0) {
        let words = table.columns.iter().enumerate().filter(|(_, column)| column.side == Side::Left);
        if let Some((place, column)) = words.max_by_key(|(_, column)| column.widest) {
            shares[place] = column.widest as f64;
        }
    }
    shares
}

/// Words up to this many characters never wrap.
const SHORT: usize = 16;

fn cell(cell: &Cell) -> Value {
    match cell {
        Cell::Words(words) => running(words),
        Cell::Verdict(verdict) => dict([("verdict", name(wording::verdict(*verdict)))]),
    }
}

/// A drawing, in millimetres.
pub fn drawing(sheet: &Drawing) -> Value {
    dict([
        ("kind", name("drawing")),
        ("width", sheet.width.into_value()),
        ("height", mm(sheet.height)),
        ("alt", text(&sheet.described)),
        ("marks", Value::Array(sheet.marks.iter().map(mark).collect::<Array>())),
    ])
}

/// Hundredths of a millimetre are finer than any pen, and keep the file small.
fn mm(value: f64) -> Value {
    ((value * 100.0).round() / 100.0).into_value()
}

fn spot(spot: Spot) -> Value {
    Value::Array([mm(spot.0), mm(spot.1)].into_iter().collect::<Array>())
}

fn mark(mark: &Mark) -> Value {
    match mark {
        Mark::Line { from, to, ink, width, dash } => dict([
            ("kind", name("line")),
            ("from", spot(*from)),
            ("to", spot(*to)),
            ("ink", name(ink.name())),
            ("width", mm(*width)),
            ("dashed", (*dash == Dash::Dashed).into_value()),
        ]),
        Mark::Shape { corners, fill, edge, dash } => dict([
            ("kind", name("shape")),
            ("corners", Value::Array(corners.iter().map(|corner| spot(*corner)).collect::<Array>())),
            ("fill", name(fill.name())),
            ("edge", name(edge.name())),
            ("dashed", (*dash == Dash::Dashed).into_value()),
        ]),
        Mark::Disc { at, radius, fill, edge } => dict([
            ("kind", name("disc")),
            ("at", spot(*at)),
            ("radius", mm(*radius)),
            ("fill", name(fill.name())),
            ("edge", name(edge.name())),
        ]),
        Mark::Words { at, anchor, size, ink, weight, text: words } => dict([
            ("kind", name("words")),
            ("at", spot(*at)),
            ("anchor", name(anchor_name(*anchor))),
            ("size", size.into_value()),
            ("ink", name(ink.name())),
            ("bold", (*weight == Weight::Bold).into_value()),
            ("text", text(words)),
        ]),
    }
}

const fn anchor_name(anchor: Anchor) -> &'static str {
    match anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
        Anchor::Upwards => "upwards",
    }
}
