//! Drivers with their load, and circuits with the volts that arrive and both limits.

use super::volts;
use crate::table::{Column, Table};
use crate::{PaperInput, figures, wording};

/// Drivers: where each stands, what feeds it and how much of it is used.
#[must_use]
pub fn drivers(input: &PaperInput) -> Table {
    let mut table = Table::new(vec![
        Column::words("Driver", 8),
        Column::words("Part", 14),
        Column::words("Place", 24),
        Column::words("Mains point", 18),
        Column::words("Rails", 18),
        Column::figures("Load", "W"),
        Column::figures("May give", "W"),
        Column::figures("Rated", "W"),
        Column::words("Outputs: circuits, current of limit", 40),
    ]);
    for driver in &input.plan.drivers {
        let place = match (&driver.place, &driver.proposed) {
            (Some(place), _) => wording::place_name(place, input.survey),
            (None, Some(words)) => format!("PROPOSED, not surveyed: {words}"),
            (None, None) => "PROPOSED, not surveyed".to_owned(),
        };
        let mains = driver
            .mains_point
            .as_ref()
            .map_or_else(|| "none reached".to_owned(), |point| wording::mains_name(point, input.survey));
        let outputs: Vec<String> = driver
            .outputs
            .iter()
            .map(|output| {
                format!(
                    "{}: {}, {} of {} A",
                    output.id,
                    output.circuits.join(" + "),
                    figures::decimals(output.amps.get(), 2),
                    figures::at_most(output.limit.get(), 2)
                )
            })
            .collect();
        table.row([
            driver.id.as_str().into(),
            driver.part.as_str().into(),
            place.into(),
            mains.into(),
            driver.rails.iter().map(|rail| input.label_of(rail)).collect::<Vec<_>>().join(", ").into(),
            figures::decimals(driver.load.get(), 1).into(),
            figures::decimals(driver.usable.get(), 1).into(),
            figures::decimals(driver.rated.get(), 1).into(),
            outputs.join("; ").into(),
        ]);
    }
    table
}

/// Circuits: volts at the far end in the worst case beside both limits.
#[must_use]
pub fn circuits(input: &PaperInput) -> Table {
    let mut table = Table::new(vec![
        Column::words("Circuit", 10),
        Column::words("Rail", 18),
        Column::figures("Lamps", ""),
        Column::figures("Source", "V"),
        Column::figures("Current", "A"),
        Column::figures("Least", "V"),
        Column::words("at lamp", 12),
        Column::figures("Drop rule", "V"),
        Column::figures("Lamp limit", "V"),
        Column::figures("Core temp.", "°C"),
        Column::words("Far-end short; remarks", 30),
    ]);
    for circuit in &input.plan.circuits {
        let mut lamps: Vec<&str> = circuit.loads.iter().map(|load| load.luminaire.as_str()).collect();
        lamps.dedup();
        let short = format!(
            "{} A, {}",
            figures::decimals(circuit.short.prospective.get(), 1),
            if circuit.short.cleared { "limited or cleared" } else { "NOT CLEARED" }
        );
        let remarks = match (&circuit.solved, &circuit.reason) {
            (true, None) => short,
            (true, Some(reason)) => format!("{short}; {reason}"),
            (false, Some(reason)) => format!("NO SOLUTION: {reason}"),
            (false, None) => "NO SOLUTION".to_owned(),
        };
        table.row([
            circuit.id.as_str().into(),
            wording::rail_name(&circuit.rail, input.survey).into(),
            lamps.len().to_string().into(),
            figures::decimals(circuit.source.volts.get(), 2).into(),
            figures::decimals(circuit.amps.get(), 2).into(),
            volts(circuit.least_load_volts).into(),
            circuit.least_luminaire.as_deref().unwrap_or(figures::NONE).into(),
            figures::decimals(circuit.limit_by_drop.get(), 2).into(),
            figures::decimals(circuit.limit_by_luminaire.get(), 2).into(),
            figures::at_most(circuit.conductor_temperature.get(), 1).into(),
            remarks.into(),
        ]);
    }
    table
}
