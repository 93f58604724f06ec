//! What it costs to keep a hole or a driver where a person put it.

use plan::LockEffect;

use super::{Explanation, Figure, Note, Scheme, Step, StepRole, step, words_only};
use crate::view::locks::name;
use crate::view::wire::Mark;

pub(super) fn explain(scheme: Scheme<'_>, rail: &str, index: u32) -> Option<Explanation> {
    let planned = scheme.plan.rails.iter().find(|planned| planned.id.as_str() == rail)?;
    let index = usize::try_from(index).ok()?;
    let (what, effect) = match planned.locks.get(index) {
        Some(lock) => (name(scheme, &lock.lock), lock.effect),
        None if index == planned.locks.len() => ("All locks of this rail".to_owned(), planned.locks_together?),
        None => return None,
    };
    Some(Explanation {
        figure: effect.cost.map(|cost| money(scheme, cost)),
        title: match effect.cost {
            Some(_) => format!("more for the feeds than without it. {what}."),
            None => {
                format!("{what}. Its cost is not known, since no scheme feeds the rail within every limit both ways.")
            }
        },
        mark: None,
        steps: steps(scheme, planned, &effect),
        notes: notes(&effect),
    })
}

fn money(scheme: Scheme<'_>, amount: units::Money) -> Figure {
    Figure::new(amount.to_ten_thousandths() as f64 / 1e4, &scheme.catalogue.currency, 2)
}

fn steps(scheme: Scheme<'_>, planned: &plan::RailPlan, effect: &LockEffect) -> Vec<Step> {
    let mut steps = Vec::new();
    if let Some(cost) = effect.cost {
        let whole = scheme.plan.objective.cost;
        let note = "the same survey, catalogue and other locks, laid out and fed anew";
        steps.push(step(StepRole::Start, "All feeds without it", money(scheme, whole - cost), note));
        steps.push(step(StepRole::Change, "What it costs", money(scheme, cost), ""));
        steps.push(step(StepRole::Result, "All feeds in this plan", money(scheme, whole), ""));
    }
    if let Some(spacing) = effect.spacing {
        let target = planned.target.map(|target| format!("of gaps from {} mm", crate::view::words::bare_mm(target)));
        let target = target.unwrap_or_default();
        steps.push(step(StepRole::Given, "Worst departure without it", Figure::mm(spacing.departure_without), &target));
        steps.push(step(StepRole::Given, "Worst departure with it", Figure::mm(spacing.departure), target));
        if spacing.luminaires != spacing.luminaires_without {
            let words = format!("{} luminaires, {} without it", spacing.luminaires, spacing.luminaires_without);
            steps.push(words_only(words, "the price of luminaires is no part of the cost of feeds"));
        }
    }
    steps
}

fn notes(effect: &LockEffect) -> Vec<Note> {
    let mut notes = Vec::new();
    if !effect.weighed {
        let text = "Locks of a rail are weighed one by one up to 24, and those of a site up to 250.";
        return vec![Note { mark: Mark::NotEvaluated, text: text.to_owned() }];
    }
    let mut note = |mark, text: &str| notes.push(Note { mark, text: text.to_owned() });
    match effect.cost {
        Some(cost) if cost < units::Money::ZERO => note(
            Mark::Pass,
            "Holes are set out for their spacing and not for the cost of feeds, so a lock can save some of that cost.",
        ),
        Some(cost) if cost == units::Money::ZERO => note(Mark::Pass, "This lock costs nothing."),
        Some(_) | None => {}
    }
    if effect.cost.is_some() && !effect.exact {
        note(Mark::Caution, "One of the two costs is not proved to be the least, so the difference may be off.");
    }
    notes
}
