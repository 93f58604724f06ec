//! The cable schedule and the cut list over reels.

use plan::document::Cable;

use super::{amps, length, volts};
use crate::table::{Cell, Column, Table};
use crate::{PaperInput, figures, wording};

/// The cable schedule: what joins what, how long to cut, and what arrives at its end.
#[must_use]
pub fn cables(input: &PaperInput) -> Table {
    let mut table = Table::new(vec![
        Column::words("Ref", 10),
        Column::words("Kind", 10),
        Column::words("From", 16),
        Column::words("To", 16),
        Column::figures("Cores", "mm²"),
        Column::figures("Way", "mm"),
        Column::figures("Extra", "mm"),
        Column::figures("Cut", "mm"),
        Column::figures("Made up", "mm"),
        Column::figures("Current", "A"),
        Column::figures("Drop", "V"),
        Column::figures("At end", "V"),
        Column::words("Connectors, gland", 20),
    ]);
    for cable in &input.plan.cables {
        table.row([
            cable.reference.as_str().into(),
            kind_and_part(cable).into(),
            cable.from.as_str().into(),
            cable.to.as_str().into(),
            cores(cable).into(),
            figures::mm(cable.route).into(),
            figures::mm(cable.allowance).into(),
            figures::mm(cable.cut).into(),
            length(cable.made_up).into(),
            amps(cable.amps).into(),
            volts(cable.drop).into(),
            volts(cable.end_volts).into(),
            fittings(cable).into(),
        ]);
    }
    table
}

/// Cores and area, for example `2 × 1.5`.
fn cores(cable: &Cable) -> String {
    format!("{}\u{a0}×\u{a0}{}", cable.cores, figures::at_most(cable.area.get(), 2))
}

fn kind_and_part(cable: &Cable) -> String {
    let kind = wording::cable_kind(cable.kind);
    cable.part.as_ref().map_or_else(|| kind.to_owned(), |part| format!("{kind}, {part}"))
}

fn fittings(cable: &Cable) -> String {
    match (cable.connectors.is_empty(), cable.gland.is_empty()) {
        (true, true) => figures::NONE.to_owned(),
        (false, true) => cable.connectors.clone(),
        (true, false) => cable.gland.clone(),
        (false, false) => format!("{}; {}", cable.connectors, cable.gland),
    }
}

/// The cut list over reels, with waste and the fewest reels that any cutting could do with.
#[must_use]
pub fn reels(input: &PaperInput) -> Table {
    let mut table = Table::new(vec![
        Column::words("Part", 16),
        Column::figures("Reel", ""),
        Column::figures("On reel", "m"),
        Column::words("Cuts in order, mm", 56),
        Column::figures("Left over", "m"),
        Column::figures("Fewest reels", ""),
    ]);
    for reel in &input.plan.reels {
        let cuts: Vec<String> =
            reel.cuts.iter().map(|(cable, cut)| format!("{cable}:\u{a0}{}", figures::mm(*cut))).collect();
        table.row([
            Cell::from(reel.part.as_str()),
            reel.number.to_string().into(),
            figures::metres(reel.length).into(),
            cuts.join(", ").into(),
            figures::metres(reel.waste).into(),
            reel.lower_bound.to_string().into(),
        ]);
    }
    table
}
