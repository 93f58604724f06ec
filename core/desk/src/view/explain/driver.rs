//! What a driver carries and may carry.

use plan::{DriverPlan, OutputPlan};
use survey::Subject;

use super::{Explanation, Figure, Scheme, Step, StepRole, open_remarks, step};
use crate::view::wire::Mark;
use crate::view::words;

/// The rail of an output, where the driver serves several.
fn on_rail(scheme: Scheme<'_>, driver: &DriverPlan, output: &OutputPlan) -> String {
    let rail = scheme.plan.circuits.iter().find(|circuit| circuit.output == output.id).map(|circuit| &circuit.rail);
    rail.filter(|_| driver.rails.len() > 1).map(|id| format!(", {}", scheme.rail_label(id))).unwrap_or_default()
}

pub(super) fn explain(scheme: Scheme<'_>, id: &str) -> Option<Explanation> {
    let driver = scheme.plan.drivers.iter().find(|driver| driver.id == id)?;
    let place = driver.place.as_ref().and_then(|id| scheme.survey.driver_places.iter().find(|place| &place.id == id));
    let mut steps: Vec<Step> = driver
        .outputs
        .iter()
        .map(|output| {
            step(
                StepRole::Given,
                format!("Output {}", output.id),
                Figure::new(output.amps.get(), "A", 2),
                format!(
                    "limit {}\u{202f}A; circuits {}{}",
                    words::plain(output.limit.get()),
                    output.circuits.join(", "),
                    on_rail(scheme, driver, output)
                ),
            )
        })
        .collect();
    steps.push(step(
        StepRole::Result,
        "Drawn from it, worst case",
        Figure::new(driver.load.get(), "W", 1),
        "everything lit at full output, losses in the leads included",
    ));
    let rated = driver.rated.get();
    let derated = rated * driver.derating;
    steps.push(step(StepRole::Start, "Rated power", Figure::new(rated, "W", 1), format!("part {}", driver.part)));
    steps.push(step(
        StepRole::Change,
        "Lost to heat",
        Figure::new(derated - rated, "W", 1),
        place.map_or_else(String::new, |place| {
            format!(
                "{}\u{202f}°C at {}: {:.0}\u{202f}% left by the maker's derating",
                words::plain(place.ambient.get()),
                place.label,
                driver.derating * 100.0
            )
        }),
    ));
    steps.push(step(
        StepRole::Change,
        "Kept in reserve",
        Figure::new(driver.usable.get() - derated, "W", 1),
        format!("{}\u{202f}% by the brief", driver.reserve_percent),
    ));
    steps.push(step(StepRole::Result, "May be drawn", Figure::new(driver.usable.get(), "W", 1), ""));
    let stands = place.map_or_else(
        || driver.proposed.clone().unwrap_or_else(|| "no surveyed place".to_owned()),
        |place| place.label.clone(),
    );
    let fed =
        driver.mains_point.as_ref().map(|id| format!(", fed from {}", scheme.mains_label(id))).unwrap_or_default();
    let related = scheme.findings.iter().filter(|finding| match &finding.subject {
        Subject::Driver(named) => named == id,
        Subject::DriverPlace(named) => driver.place.as_ref() == Some(named),
        _ => false,
    });
    Some(Explanation {
        figure: Some(Figure::new(driver.load.get(), "W", 1)),
        title: format!(
            "drawn from driver {id}, of {:.1}\u{202f}W that may be. It stands at: {stands}{fed}.",
            driver.usable.get()
        ),
        mark: Some(if driver.load <= driver.usable { Mark::Pass } else { Mark::Stop }),
        steps,
        notes: open_remarks(related),
    })
}
