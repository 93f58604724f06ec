//! A mains point: its protective device and what draws on it.

use plan::DriverPlan;
use survey::{Answer, Subject};

use super::{Explanation, Figure, Note, Scheme, Step, StepRole, open_remarks, step, words_only};
use crate::view::wire::Mark;
use crate::view::words;

pub(super) fn explain(scheme: Scheme<'_>, id: &str) -> Option<Explanation> {
    let point = scheme.survey.mains_points.iter().find(|point| point.id.as_str() == id)?;
    let mut steps: Vec<Step> = Vec::new();
    match point.existing_load {
        Some(load) => {
            steps.push(step(StepRole::Start, "Already on it", Figure::new(load.get(), "A", 2), "as surveyed"));
        }
        None => steps.push(words_only("Already on it: unknown", "ask, or measure it")),
    }
    let drivers = scheme.plan.drivers.iter().filter(|driver| driver.mains_point.as_ref() == Some(&point.id));
    let inputs: Vec<(&DriverPlan, units::Amps)> =
        drivers.filter_map(|driver| scheme.catalogue.driver(&driver.part).map(|part| (driver, part.input))).collect();
    for (driver, input) in &inputs {
        let note = format!("input current at full load, part {} (maker's data)", driver.part);
        steps.push(step(StepRole::Change, format!("Driver {}", driver.id), Figure::new(input.get(), "A", 2), note));
    }
    let sum =
        inputs.iter().map(|(_, input)| input.get()).sum::<f64>() + point.existing_load.map_or(0.0, units::Amps::get);
    steps.push(step(StepRole::Result, "All together", Figure::new(sum, "A", 2), "added without regard to phase"));
    let rcd = match point.rcd {
        Answer::Yes => "with residual current device",
        Answer::No => "without residual current device",
        Answer::Unknown => "residual current device: not found out yet",
    };
    let device = point.device.as_ref().map_or_else(|| "device not known".to_owned(), words::device);
    let mut notes = vec![Note {
        mark: Mark::Caution,
        text: "Work on the mains side belongs to a licensed person; isolate and prove dead.".to_owned(),
    }];
    notes.extend(open_remarks(scheme.findings.iter().filter(|f| f.subject == Subject::MainsPoint(point.id.clone()))));
    Some(Explanation {
        figure: point.device.as_ref().map(|device| Figure::new(device.rating.get(), "A", 0)),
        title: format!("at {}: {}, {device}, {rcd}.", point.label, words::mains(point.kind)),
        mark: None,
        steps,
        notes,
    })
}
