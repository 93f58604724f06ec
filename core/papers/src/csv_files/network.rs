//! Luminaires, drivers, circuits and the nodes of their networks as CSV.

use super::{Sheet, figure, maybe, words};
use crate::{PaperInput, schedules};

pub fn luminaires(input: &PaperInput) -> Sheet {
    let mut sheet = Sheet::new(&["rail", "luminaire", "part", "start_mm", "end_mm", "fixed", "least_volts"]);
    for rail in &input.plan.rails {
        let volts = schedules::least_volts(input, rail);
        for lamp in &rail.luminaires {
            sheet.row([
                words(rail.id.as_str()),
                words(&lamp.id),
                words(&lamp.part),
                figure(lamp.start.to_mm()),
                figure(lamp.end.to_mm()),
                if lamp.fixed { "yes" } else { "no" }.to_owned(),
                maybe(volts.get(lamp.id.as_str()).copied()),
            ]);
        }
    }
    sheet
}

/// One row per output of a driver; a driver without one has one row.
pub fn drivers(input: &PaperInput) -> Sheet {
    let mut sheet = Sheet::new(&[
        "driver",
        "part",
        "place",
        "proposed",
        "mains_point",
        "rails",
        "load_w",
        "usable_w",
        "rated_w",
        "derating",
        "reserve_percent",
        "output",
        "circuits",
        "output_amps",
        "output_limit_amps",
    ]);
    for driver in &input.plan.drivers {
        let mut row = |output: &str, circuits: &str, amps: String, limit: String| {
            sheet.row([
                words(&driver.id),
                words(&driver.part),
                words(driver.place.as_ref().map_or("", survey::Id::as_str)),
                words(driver.proposed.as_deref().unwrap_or_default()),
                words(driver.mains_point.as_ref().map_or("", survey::Id::as_str)),
                words(&driver.rails.iter().map(survey::Id::as_str).collect::<Vec<_>>().join(" ")),
                figure(driver.load.get()),
                figure(driver.usable.get()),
                figure(driver.rated.get()),
                figure(driver.derating),
                driver.reserve_percent.to_string(),
                words(output),
                words(circuits),
                amps,
                limit,
            ]);
        };
        if driver.outputs.is_empty() {
            row("", "", String::new(), String::new());
        }
        for output in &driver.outputs {
            row(&output.id, &output.circuits.join(" "), figure(output.amps.get()), figure(output.limit.get()));
        }
    }
    sheet
}

pub fn circuits(input: &PaperInput) -> Sheet {
    let mut sheet = Sheet::new(&[
        "circuit",
        "driver",
        "output",
        "rail",
        "way_in",
        "solved",
        "reason",
        "source_volts",
        "nominal_volts",
        "amps",
        "amps_high",
        "least_volts",
        "least_at",
        "limit_by_drop_volts",
        "limit_by_luminaire_volts",
        "conductor_celsius",
        "far_end_short_amps",
        "short_cleared",
    ]);
    for circuit in &input.plan.circuits {
        sheet.row([
            words(&circuit.id),
            words(&circuit.driver),
            words(&circuit.output),
            words(circuit.rail.as_str()),
            words(circuit.way_in.as_ref().map_or("", survey::Id::as_str)),
            if circuit.solved { "yes" } else { "no" }.to_owned(),
            words(circuit.reason.as_deref().unwrap_or_default()),
            figure(circuit.source.volts.get()),
            figure(circuit.nominal.get()),
            figure(circuit.amps.get()),
            figure(circuit.amps_high.get()),
            maybe(circuit.least_load_volts.map(|volts| volts.get())),
            words(circuit.least_luminaire.as_deref().unwrap_or_default()),
            figure(circuit.limit_by_drop.get()),
            figure(circuit.limit_by_luminaire.get()),
            figure(circuit.conductor_temperature.get()),
            figure(circuit.short.prospective.get()),
            if circuit.short.cleared { "yes" } else { "no" }.to_owned(),
        ]);
    }
    sheet
}

pub fn nodes(input: &PaperInput) -> Sheet {
    let mut sheet = Sheet::new(&["circuit", "node", "volts", "rail", "chainage_mm"]);
    for circuit in &input.plan.circuits {
        for node in &circuit.nodes {
            sheet.row([
                words(&circuit.id),
                words(&node.id),
                maybe(node.volts.map(|volts| volts.get())),
                words(node.rail.as_ref().map_or("", survey::Id::as_str)),
                maybe(node.chainage.map(|chainage| chainage.to_mm())),
            ]);
        }
    }
    sheet
}
