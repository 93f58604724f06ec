//! What was laid out on each rail, and the features that the layout keeps clear of.

use std::collections::BTreeMap;

use plan::document::{LitFigures, PatternFigures, RailPlan};
#[cfg(feature = "pdf")]
use survey::{Passage, Piece, Rail};
use units::Length;

use super::length;
use crate::table::{Column, Table};
use crate::{PaperInput, figures, wording};

/// One line per rail: what was asked for, what was reached, and whether it may be drilled.
#[must_use]
pub fn summary(input: &PaperInput) -> Table {
    let mut table = Table::new(vec![
        Column::words("Rail", 22),
        Column::figures("Length", "m"),
        Column::figures("Volts", "V"),
        Column::figures("Lamps", ""),
        Column::figures("Target", "mm"),
        Column::figures("Mean", "mm"),
        Column::figures("Least", "mm"),
        Column::figures("Greatest", "mm"),
        Column::figures("Off target", "mm"),
        Column::words("Drilling papers", 16),
    ]);
    for rail in &input.plan.rails {
        let pattern = rail.pattern.as_ref();
        table.row([
            wording::named(rail.id.as_str(), Some(&rail.label)).into(),
            figures::metres(rail.length).into(),
            rail.nominal.map_or_else(|| figures::NONE.to_owned(), |v| figures::at_most(v.get(), 1)).into(),
            rail.luminaires.len().to_string().into(),
            length(rail.target).into(),
            mean(pattern).into(),
            gap(pattern.and_then(|p| p.least_gap)).into(),
            gap(pattern.and_then(|p| p.greatest_gap)).into(),
            gap(pattern.map(|p| p.worst_departure)).into(),
            readiness(rail).into(),
        ]);
    }
    table
}

fn gap(value: Option<Length>) -> String {
    value.map_or_else(|| figures::NONE.to_owned(), figures::tenths_mm)
}

fn mean(pattern: Option<&PatternFigures>) -> String {
    pattern
        .and_then(|p| p.mean_gap_mm)
        .map_or_else(|| figures::NONE.to_owned(), |mean| figures::grouped(&figures::decimals(mean, 1)))
}

/// Whether a rail may be drilled, in two words.
#[must_use]
pub fn readiness(rail: &RailPlan) -> &'static str {
    if !rail.not_ready.is_empty() {
        "NOT READY"
    } else if rail.luminaires.is_empty() {
        "nothing to drill"
    } else {
        "ready"
    }
}

/// The layout that is planned and the others that were worked out.
#[must_use]
pub fn patterns(rail: &RailPlan) -> Table {
    let mut table = Table::new(vec![
        Column::words("Layout", 24),
        Column::figures("Lamps", ""),
        Column::figures("Mean", "mm"),
        Column::figures("Least", "mm"),
        Column::figures("Greatest", "mm"),
        Column::figures("Off target", "mm"),
        Column::figures("there, from datum", "mm"),
    ]);
    let planned = rail.pattern.iter().map(|figures| (figures, "the plan"));
    let others = rail.alternatives.iter().map(|other| (&other.figures, "alternative"));
    for (pattern, standing) in planned.chain(others) {
        table.row([
            format!("{} ({standing})", wording::pattern(pattern.kind)).into(),
            pattern.count.to_string().into(),
            mean(Some(pattern)).into(),
            gap(pattern.least_gap).into(),
            gap(pattern.greatest_gap).into(),
            gap(Some(pattern.worst_departure)).into(),
            length(pattern.worst_at).into(),
        ]);
    }
    table
}

/// What lights how much of a rail of modules, in words.
#[must_use]
pub fn lit_words(lit: &LitFigures) -> String {
    format!(
        "{} modules, {} m lit of {} m clear slotted tube in {} lengths; {} clips",
        lit.pieces,
        figures::metres(lit.lit),
        figures::metres(lit.clear),
        lit.rooms,
        lit.clips
    )
}

/// The modules of a rail by running dimensions from the datum.
#[must_use]
pub fn modules(input: &PaperInput, rail: &RailPlan) -> Table {
    let mut table = Table::new(vec![
        Column::words("Module", 14),
        Column::words("Part", 16),
        Column::figures("From datum", "mm"),
        Column::figures("to", "mm"),
        Column::figures("Length", "mm"),
        Column::words("Circuit", 10),
        Column::figures("Least", "V"),
    ]);
    let volts = least_volts(input, rail);
    let circuit = |id: &str| {
        let mut circuits = input.circuits_of(&rail.id);
        circuits
            .find(|circuit| circuit.loads.iter().any(|load| load.luminaire == id))
            .map(|circuit| circuit.id.as_str())
    };
    for lamp in rail.luminaires.iter().filter(|lamp| lamp.end > lamp.start) {
        let least = volts.get(lamp.id.as_str());
        table.row([
            lamp.id.as_str().into(),
            lamp.part.as_str().into(),
            figures::tenths_mm(lamp.start).into(),
            figures::tenths_mm(lamp.end).into(),
            figures::mm(lamp.end - lamp.start).into(),
            circuit(&lamp.id).unwrap_or(figures::NONE).into(),
            least.map_or_else(|| figures::NONE.to_owned(), |volts| figures::decimals(*volts, 2)).into(),
        ]);
    }
    table
}

/// Bends and features of a surveyed rail by chainage.
#[cfg(feature = "pdf")]
#[must_use]
pub fn features(rail: &Rail) -> Table {
    let mut table = Table::new(vec![
        Column::figures("From datum", "mm"),
        Column::words("What", 18),
        Column::figures("Along rail", "mm"),
        Column::figures("Keep clear", "mm"),
        Column::words("Bore", 14),
        Column::words("Name, note", 20),
    ]);
    let mut rows: Vec<(Length, u8, [String; 6])> = Vec::new();
    for placed in rail.placed_pieces() {
        if let Piece::Bend(bend) = placed.piece {
            rows.push((
                placed.start,
                0,
                [
                    figures::mm(placed.start),
                    format!("bend, {}", wording::bend(bend)),
                    figures::mm(placed.end - placed.start),
                    length(bend.keep_clear),
                    passage(&bend.bore),
                    bend.id.to_string(),
                ],
            ));
        }
    }
    for feature in &rail.features {
        let note = [feature.label.as_str(), feature.note.as_str()];
        let note: Vec<&str> = note.into_iter().filter(|words| !words.is_empty()).collect();
        rows.push((
            feature.chainage.value,
            1,
            [
                figures::mm(feature.chainage.value),
                wording::feature(&feature.kind),
                figures::fine_mm(feature.kind.width()),
                figures::mm(feature.clear_each_side()),
                passage(&feature.bore),
                note.join("; "),
            ],
        ));
    }
    rows.sort();
    for (_, _, cells) in rows {
        table.row(cells.map(Into::into));
    }
    table
}

#[cfg(feature = "pdf")]
fn passage(passage: &Passage) -> String {
    match passage {
        Passage::Unknown => "not looked at".to_owned(),
        Passage::Assumed => "taken for open".to_owned(),
        Passage::Proved { widest, .. } => format!("proved, {} mm", figures::fine_mm(*widest)),
        Passage::Blocked { .. } => "shut".to_owned(),
    }
}

/// Worst-case volts at every luminaire of a rail that a circuit solves; of several channels the least.
#[must_use]
pub fn least_volts<'a>(input: &PaperInput<'a>, rail: &RailPlan) -> BTreeMap<&'a str, f64> {
    let mut least: BTreeMap<&str, f64> = BTreeMap::new();
    for circuit in input.circuits_of(&rail.id) {
        for load in &circuit.loads {
            if let Some(volts) = load.volts {
                let entry = least.entry(load.luminaire.as_str()).or_insert(f64::INFINITY);
                *entry = entry.min(volts.get());
            }
        }
    }
    least
}
