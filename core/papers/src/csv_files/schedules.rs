//! Drilling, cables, reels, controls, parts and tests as CSV.

use plan::document::Quantity;

use super::{Sheet, figure, maybe, words};
use crate::{PaperInput, wording};

pub fn drilling(input: &PaperInput) -> Sheet {
    let mut sheet = Sheet::new(&[
        "rail",
        "hole",
        "chainage_mm",
        "straight",
        "from_mark_mm",
        "spacing_mm",
        "diameter_mm",
        "girth_mm",
        "existing",
        "drilling_ready",
    ]);
    for hole in &input.plan.drilling {
        let ready = input.plan.rails.iter().any(|rail| rail.id == hole.rail && rail.not_ready.is_empty());
        sheet.row([
            words(hole.rail.as_str()),
            words(&hole.hole),
            figure(hole.chainage.to_mm()),
            words(hole.straight.as_str()),
            figure(hole.from_mark.to_mm()),
            maybe(hole.spacing.map(|spacing| spacing.to_mm())),
            figure(hole.diameter.to_mm()),
            figure(hole.girth.to_mm()),
            yes_no(hole.existing),
            yes_no(ready),
        ]);
    }
    sheet
}

pub fn cables(input: &PaperInput) -> Sheet {
    let mut sheet = Sheet::new(&[
        "ref",
        "kind",
        "part",
        "circuit",
        "from",
        "to",
        "cores",
        "area_mm2",
        "route_mm",
        "allowance_mm",
        "cut_mm",
        "made_up_mm",
        "amps",
        "drop_volts",
        "end_volts",
        "connectors",
        "gland",
        "routes",
    ]);
    for cable in &input.plan.cables {
        let routes: Vec<&str> = cable.routes.iter().map(survey::Id::as_str).collect();
        sheet.row([
            words(&cable.reference),
            words(wording::cable_kind(cable.kind)),
            words(cable.part.as_deref().unwrap_or_default()),
            words(cable.circuit.as_deref().unwrap_or_default()),
            words(&cable.from),
            words(&cable.to),
            cable.cores.to_string(),
            figure(cable.area.get()),
            figure(cable.route.to_mm()),
            figure(cable.allowance.to_mm()),
            figure(cable.cut.to_mm()),
            maybe(cable.made_up.map(|length| length.to_mm())),
            maybe(cable.amps.map(|amps| amps.get())),
            maybe(cable.drop.map(|volts| volts.get())),
            maybe(cable.end_volts.map(|volts| volts.get())),
            words(&cable.connectors),
            words(&cable.gland),
            words(&routes.join(" ")),
        ]);
    }
    sheet
}

/// One row per cut, so that a cut list can be sorted and ticked off; a reel without cuts has one row.
pub fn reels(input: &PaperInput) -> Sheet {
    let mut sheet =
        Sheet::new(&["part", "reel", "length_mm", "cut_number", "cable", "cut_mm", "waste_mm", "fewest_reels"]);
    for reel in &input.plan.reels {
        let mut row = |number: String, cable: &str, cut: String| {
            sheet.row([
                words(&reel.part),
                reel.number.to_string(),
                figure(reel.length.to_mm()),
                number,
                words(cable),
                cut,
                figure(reel.waste.to_mm()),
                reel.lower_bound.to_string(),
            ]);
        };
        if reel.cuts.is_empty() {
            row(String::new(), "", String::new());
        }
        for (place, (cable, cut)) in reel.cuts.iter().enumerate() {
            row((place + 1).to_string(), cable, figure(cut.to_mm()));
        }
    }
    sheet
}

/// One row per setting, so that the value set can be written beside it.
pub fn controls(input: &PaperInput) -> Sheet {
    let mut sheet = Sheet::new(&["zone", "device", "part", "place", "cable", "setting", "value"]);
    for control in &input.plan.controls {
        let mut row = |setting: &str, value: &str| {
            sheet.row([
                words(control.zone.as_str()),
                words(&control.device),
                words(&control.part),
                words(&control.place),
                words(control.cable_ref.as_deref().unwrap_or_default()),
                words(setting),
                words(value),
            ]);
        };
        if control.settings.is_empty() {
            row("", "");
        }
        for (setting, value) in &control.settings {
            row(setting, value);
        }
    }
    sheet
}

pub fn parts(input: &PaperInput) -> Sheet {
    let mut sheet = Sheet::new(&["part", "description", "quantity", "spare", "unit", "pack", "packs"]);
    let amount = |quantity| match quantity {
        Quantity::Pieces(pieces) => u32::to_string(&pieces),
        Quantity::Length(length) => figure(units::Length::to_m(length)),
    };
    for line in &input.plan.parts {
        sheet.row([
            words(&line.part),
            words(&line.description),
            amount(line.quantity),
            amount(line.spare),
            wording::quantity_unit(line.quantity).to_owned(),
            line.pack.to_string(),
            line.packs.to_string(),
        ]);
    }
    sheet
}

pub fn tests(input: &PaperInput) -> Sheet {
    let mut sheet = Sheet::new(&["subject", "kind", "expected", "tolerance", "unit", "least_that_passes"]);
    for test in &input.plan.tests {
        sheet.row([
            words(&test.subject),
            words(test.kind),
            figure(test.expected),
            figure(test.tolerance),
            words(test.unit),
            yes_no(test.is_floor),
        ]);
    }
    sheet
}

fn yes_no(yes: bool) -> String {
    if yes { "yes" } else { "no" }.to_owned()
}
