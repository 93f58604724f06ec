//! The length of a cable, its current and its drop.

use plan::TubeSpan;
use survey::{Piece, Subject};
use units::Length;

use super::{Explanation, Figure, Scheme, StepRole, open_remarks, step, words_only};
use crate::view::{power, words};

pub(super) fn explain(scheme: Scheme<'_>, reference: &str) -> Option<Explanation> {
    let cable = scheme.plan.cables.iter().find(|cable| cable.reference == reference)?;
    let routes: Vec<&str> = cable
        .routes
        .iter()
        .map(|id| scheme.survey.routes.iter().find(|route| &route.id == id).map_or(id.as_str(), |r| r.label.as_str()))
        .collect();
    let way = if routes.is_empty() { "along the rail".to_owned() } else { format!("route {}", routes.join(", then ")) };
    let mut steps = Vec::new();
    if let Some(along) = &cable.along {
        let crossed = crossed(scheme, along);
        let why = if crossed.is_empty() {
            "between two modules".to_owned()
        } else {
            format!("crosses {}", crossed.join(", "))
        };
        steps.push(step(StepRole::Given, "From the end of a module at", Figure::mm(along.from), ""));
        steps.push(step(StepRole::Given, "To the end of the next at", Figure::mm(along.to), why));
    }
    steps.extend([
        step(StepRole::Start, "Along its way", Figure::mm(cable.route), way),
        step(StepRole::Change, "Loops, tails and slack", Figure::mm(cable.allowance), ""),
    ]);
    match cable.made_up {
        Some(made_up) => {
            steps.push(step(StepRole::Given, "Needed", Figure::mm(cable.cut), ""));
            steps.push(step(
                StepRole::Result,
                "Made-up length to order",
                Figure::mm(made_up),
                "the whole of it counts in the drop, coiled or not",
            ));
        }
        None => steps.push(step(StepRole::Result, "Length to cut", Figure::mm(cable.cut), "")),
    }
    if let Some(amps) = cable.amps {
        steps.push(step(StepRole::Given, "Current, worst case", Figure::new(amps.get(), "A", 3), ""));
    }
    if let Some(drop) = cable.drop {
        steps.push(step(StepRole::Given, "Drop along it", Figure::new(drop.get(), "V", 3), "both conductors"));
    }
    if let Some(end) = cable.end_volts {
        steps.push(step(StepRole::Given, "Volts at its far end", Figure::new(end.get(), "V", 3), ""));
    }
    for (what, text) in [("Connectors and seals", &cable.connectors), ("Gland", &cable.gland)] {
        if !text.is_empty() {
            steps.push(words_only(what, text.clone()));
        }
    }
    let related = scheme.findings.iter().filter(|f| f.subject == Subject::Cable(reference.to_owned()));
    let part = cable.part.as_ref().map(|part| format!(", part {part}")).unwrap_or_default();
    Some(Explanation {
        figure: Some(Figure::mm(cable.made_up.unwrap_or(cable.cut))),
        title: format!(
            "of {} {reference}, {} × {}\u{202f}mm²{part}, from {} to {}.",
            power::kind(cable.kind),
            cable.cores,
            words::plain(cable.area.get()),
            cable.from,
            cable.to
        ),
        mark: None,
        steps,
        notes: open_remarks(related),
    })
}

/// What stands in the way of a module along a stretch: bends, joints, posts and the like, in words.
fn crossed(scheme: Scheme<'_>, along: &TubeSpan) -> Vec<String> {
    let Some(rail) = scheme.survey.rail(&along.rail) else { return Vec::new() };
    let placed = rail.placed_pieces();
    let bends = placed
        .iter()
        .filter(|placed| matches!(placed.piece, Piece::Bend(_)) && placed.start < along.to && placed.end > along.from)
        .map(|placed| (placed.start, "a bend"));
    let features = rail
        .features
        .iter()
        .filter(|feature| (along.from..=along.to).contains(&feature.chainage.value))
        .map(|feature| (feature.chainage.value, feature.kind.word()));
    let mut all: Vec<(Length, &str)> = bends.chain(features).collect();
    all.sort_unstable();
    all.into_iter().map(|(at, word)| format!("{word} at {}", words::mm(at))).collect()
}
