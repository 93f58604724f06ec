//! A control device: where it stands, what it switches, and how much of its rail a sensor sees.

use catalogue::ControlKind;
use plan::{ControlPlan, SensorReach};
use survey::Subject;
use units::Length;

use super::{Explanation, Figure, Note, Scheme, Step, StepRole, open_remarks, step, words_only};
use crate::view::controls::word;
use crate::view::wire::Mark;
use crate::view::words;

pub(super) fn explain(scheme: Scheme<'_>, reference: &str) -> Option<Explanation> {
    let device = scheme.plan.controls.iter().find(|device| device.device == reference)?;
    let mut steps = vec![words_only(format!("Part {}", device.part), device.place.clone())];
    let mut notes = Vec::new();
    if let Some((sees, (_, at))) = device.sees.zip(device.at_rail.as_ref()) {
        steps.extend(reach_steps(scheme, device, sees, *at));
        notes.extend(cut_short(sees, *at));
    }
    if let Some(load) = device.load {
        steps.push(step(
            StepRole::Given,
            "Busiest contact or channel",
            Figure::new(load.get(), "A", 2),
            device.serves.join(", "),
        ));
    }
    steps.extend(device.settings.iter().map(|(name, value)| words_only(format!("Set up: {name}"), value.clone())));
    if let Some(cable) = &device.cable_ref {
        steps.push(words_only("Cable", cable.clone()));
    }
    let related = scheme.findings.iter().filter(|f| f.subject == Subject::Zone(device.zone.clone()));
    notes.extend(open_remarks(related));
    Some(Explanation {
        figure: device.sees.map(|sees| Figure::metres(sees.to - sees.from)),
        title: match device.sees {
            Some(sees) => {
                format!(
                    "of the rail seen by {} {reference}, from {} to {}.",
                    word(device.kind),
                    words::mm(sees.from),
                    words::mm(sees.to)
                )
            }
            None => format!("{} {reference}, {}.", capital(word(device.kind)), device.place),
        },
        mark: None,
        steps,
        notes,
    })
}

fn reach_steps(scheme: Scheme<'_>, device: &ControlPlan, sees: SensorReach, at: Length) -> Vec<Step> {
    let part = scheme.catalogue.controls.iter().find(|control| control.item.part == device.part);
    let Some(ControlKind::Sensor { detects, at_height }) = part.map(|part| part.kind.clone()) else {
        return Vec::new();
    };
    let formula = if sees.height < at_height {
        format!(
            "{} × {} / {}: the angle is fixed, so that nearer the ground it takes in less (similar triangles)",
            words::mm(detects),
            words::mm(sees.height),
            words::mm(at_height)
        )
    } else {
        "what the maker states; higher up no more is reckoned with".to_owned()
    };
    let height =
        if sees.height == at_height { "or not stated: the catalogue's own" } else { "the zone's, else the rail's" };
    vec![
        step(
            StepRole::Start,
            "Detection length stated",
            Figure::mm(detects),
            format!("the catalogue, at a height of {}", words::mm(at_height)),
        ),
        step(StepRole::Given, "Height above the walkway", Figure::mm(sees.height), height),
        step(StepRole::Given, "Seen at that height", Figure::mm(sees.seen), formula),
        step(StepRole::Given, "Stands at", Figure::mm(at), "half of it to each side"),
        step(
            StepRole::Result,
            "Seen along the rail",
            Figure::mm(sees.to - sees.from),
            "within the rail and up to a turn of more than 30°",
        ),
    ]
}

/// That a turn or an end of the rail takes something of what the sensor could see.
fn cut_short(sees: SensorReach, at: Length) -> Option<Note> {
    let half = sees.seen.half();
    let lost = (sees.from - (at - half)) + ((at + half) - sees.to);
    (lost > Length::um(2)).then(|| Note {
        mark: Mark::Pass,
        text: format!("{} of it lie beyond an end of the rail or a turn, and are not counted.", words::mm(lost)),
    })
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
