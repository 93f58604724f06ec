//! Where a hole or a module is.

use plan::{Hole, LuminairePlan, RailPlan};
use survey::{Piece, Rail, Target};
use units::Length;

use super::{Explanation, Figure, Note, Scheme, Step, StepRole, open_remarks, step, words_only};
use crate::view::wire::Mark;
use crate::view::{findings, rail, words};

pub(super) fn explain(scheme: Scheme<'_>, reference: &str) -> Option<Explanation> {
    let (planned, luminaire) = scheme.luminaire(reference)?;
    let surveyed = scheme.survey.rail(&planned.id)?;
    let hole = scheme.plan.drilling.iter().find(|hole| hole.hole == reference);
    let mut steps = neighbours(planned, luminaire);
    steps.extend(wish(scheme, planned));
    if let Some(hole) = hole {
        steps.extend(hole_steps(surveyed, hole));
    } else {
        steps.push(step(
            StepRole::Result,
            "Its length along the rail",
            Figure::mm(luminaire.end - luminaire.start),
            "",
        ));
    }
    let kept = luminaire.fixed.then(|| Note {
        mark: Mark::Pass,
        text: "This hole is kept: it is there already, or a person fixed it.".to_owned(),
    });
    let what = if hole.is_some() { "centre of hole" } else { "start of module" };
    Some(Explanation {
        figure: Some(Figure::mm(luminaire.start)),
        title: format!("from the datum to the {what} {reference}, along the centreline."),
        mark: None,
        steps,
        notes: kept
            .into_iter()
            .chain(open_remarks(findings::of_rail(scheme, &planned.id).filter(|finding| {
                matches!(&finding.subject, survey::Subject::Luminaire { luminaire, .. } if luminaire == reference)
            })))
            .collect(),
    })
}

fn neighbours(planned: &RailPlan, luminaire: &LuminairePlan) -> Vec<Step> {
    let at = planned.luminaires.iter().position(|other| other.id == luminaire.id).unwrap_or_default();
    let before = at.checked_sub(1).and_then(|index| planned.luminaires.get(index));
    let after = planned.luminaires.get(at + 1);
    let gap = |other: &LuminairePlan, length: Length| {
        step(StepRole::Given, format!("Gap to {}", other.id), Figure::mm(length), "")
    };
    before
        .map(|other| gap(other, luminaire.start - other.end))
        .into_iter()
        .chain(after.map(|other| gap(other, other.start - luminaire.end)))
        .collect()
}

fn wish(scheme: Scheme<'_>, planned: &RailPlan) -> Vec<Step> {
    let mut steps = Vec::new();
    let brief = scheme.survey.brief.rails.iter().find(|brief| brief.rail == planned.id);
    if let Some(Target::Spacing(spacing)) = brief.map(|brief| &brief.target) {
        steps.push(step(StepRole::Given, "Spacing asked for", Figure::mm(*spacing), "the brief for this rail"));
    }
    if let Some(pattern) = &planned.pattern {
        let worst =
            format!("{} points; worst departure from the target {}", pattern.count, words::mm(pattern.worst_departure));
        steps.push(words_only(format!("Pattern: {}", rail::pattern_words(pattern)), worst));
    }
    steps
}

fn hole_steps(surveyed: &Rail, hole: &Hole) -> Vec<Step> {
    let pieces = surveyed.placed_pieces();
    let Some(placed) = pieces.iter().find(|placed| placed.piece.id() == &hole.straight) else { return Vec::new() };
    let mark = match placed.piece {
        Piece::Straight(straight) => straight.mark.clone(),
        Piece::Bend(_) => None,
    };
    vec![
        step(
            StepRole::Start,
            format!("Start of straight {}", hole.straight),
            Figure::mm(placed.start),
            mark.map(|mark| format!("marked on the tube: {mark}")).unwrap_or_default(),
        ),
        step(StepRole::Change, "From that mark to the hole", Figure::mm(hole.from_mark), ""),
        step(
            StepRole::Result,
            "Running dimension from the datum",
            Figure::mm(hole.chainage),
            format!(
                "hole ø {}, {} round the tube from underneath towards the walked side",
                words::mm(hole.diameter),
                words::mm(hole.girth)
            ),
        ),
    ]
}
