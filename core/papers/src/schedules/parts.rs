//! Parts to order, tests to make, controls to set.

use crate::table::{Column, Table};
use crate::{PaperInput, figures, wording};

/// The parts list with spares and packs.
#[must_use]
pub fn parts(input: &PaperInput) -> Table {
    let mut table = Table::new(vec![
        Column::words("Part", 16),
        Column::words("Description", 44),
        Column::figures("Used", ""),
        Column::figures("Spare", ""),
        Column::words("Unit", 6),
        Column::figures("In a pack", ""),
        Column::figures("Packs", ""),
    ]);
    for line in &input.plan.parts {
        table.row([
            line.part.as_str().into(),
            line.description.as_str().into(),
            wording::quantity(line.quantity).into(),
            wording::quantity(line.spare).into(),
            wording::quantity_unit(line.quantity).into(),
            line.pack.to_string().into(),
            line.packs.to_string().into(),
        ]);
    }
    table
}

/// Tests with the value to expect and room to write the reading down.
#[must_use]
pub fn tests(input: &PaperInput) -> Table {
    let mut table = Table::new(vec![
        Column::words("Subject", 12),
        Column::words("Test", 30),
        Column::figures("Expect", ""),
        Column::figures("±", ""),
        Column::words("Unit", 6),
        Column::words("Reading", 14),
    ]);
    for test in &input.plan.tests {
        let expected = figures::grouped(&figures::at_most(test.expected, 3));
        table.row([
            test.subject.as_str().into(),
            test.kind.into(),
            if test.is_floor { format!("≥ {expected}") } else { expected }.into(),
            if test.is_floor { figures::NONE.to_owned() } else { figures::at_most(test.tolerance, 3) }.into(),
            test.unit.into(),
            "".into(),
        ]);
    }
    table
}

/// Control lines: which devices control cable joins, how much of it, and what the zone's control costs.
#[must_use]
pub fn control_lines(input: &PaperInput) -> Table {
    let mut table = Table::new(vec![
        Column::words("Zone", 24),
        Column::words("Devices in order", 30),
        Column::words("Cables in order", 24),
        Column::figures("Cable", "mm"),
        Column::figures("Allowed", "mm"),
        Column::figures("Cost of zone", ""),
    ]);
    for zone in &input.plan.zones {
        for (place, line) in zone.lines.iter().enumerate() {
            let cost = if place == 0 {
                format!("{}\u{a0}{}", zone.objective.cost.to_hundredths(), input.catalogue.currency)
            } else {
                String::new()
            };
            table.row([
                wording::named(zone.id.as_str(), Some(&zone.label)).into(),
                line.devices.join(" – ").into(),
                if line.cables.is_empty() { figures::NONE.to_owned() } else { line.cables.join(", ") }.into(),
                figures::mm(line.length).into(),
                super::length(line.limit).into(),
                cost.into(),
            ]);
        }
    }
    table
}

/// Control devices with the values to set and record.
#[must_use]
pub fn controls(input: &PaperInput) -> Table {
    let mut table = Table::new(vec![
        Column::words("Zone", 18),
        Column::words("Device", 12),
        Column::words("Part", 16),
        Column::words("Place", 24),
        Column::words("Cable", 10),
        Column::words("Set and record", 40),
    ]);
    for control in &input.plan.controls {
        let zone = input.survey.brief.zones.iter().find(|zone| zone.id == control.zone);
        let settings: Vec<String> = control.settings.iter().map(|(name, value)| format!("{name}: {value}")).collect();
        table.row([
            wording::named(control.zone.as_str(), zone.map(|zone| zone.label.as_str())).into(),
            control.device.as_str().into(),
            control.part.as_str().into(),
            control.place.as_str().into(),
            control.cable_ref.as_deref().unwrap_or(figures::NONE).into(),
            settings.join("; ").into(),
        ]);
    }
    table
}
