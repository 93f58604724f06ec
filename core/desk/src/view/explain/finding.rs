//! A finding in full.

use survey::Figure as Measured;

use super::{Explanation, Figure, Note, Scheme, Step, StepRole, step, words_only};
use crate::view::{findings, words};

pub(super) fn explain(scheme: Scheme<'_>, index: u32) -> Option<Explanation> {
    let finding = scheme.findings.get(usize::try_from(index).ok()?)?;
    let mut steps = Vec::new();
    for (what, figure) in [("Found", &finding.measured), ("Limit", &finding.limit)] {
        match figure {
            Some(Measured::Number(number)) => steps.push(number_step(what, *number, finding.unit)),
            Some(Measured::Words(words)) => steps.push(words_only(what, words.clone())),
            None => {}
        }
    }
    steps.push(words_only("Source", finding.source));
    steps.push(words_only("Rule", finding.rule));
    let advice = (!finding.advice.is_empty())
        .then(|| Note { mark: words::mark(finding.verdict), text: format!("What to do: {}", finding.advice) });
    let figure = match &finding.measured {
        Some(Measured::Number(number)) => Some(shown(*number, finding.unit)),
        _ => None,
    };
    Some(Explanation {
        figure,
        title: format!("{}: {}", findings::subject(scheme, &finding.subject), finding.message),
        mark: Some(words::mark(finding.verdict)),
        steps,
        notes: advice.into_iter().collect(),
    })
}

fn number_step(what: &str, number: f64, unit: &str) -> Step {
    step(StepRole::Given, what, shown(number, unit), "")
}

/// Whole numbers without decimals, others with as many as tell them apart in practice.
fn shown(number: f64, unit: &str) -> Figure {
    let decimals = if (number - number.round()).abs() < 1e-9 {
        0
    } else if unit == "mm" {
        1
    } else {
        2
    };
    Figure::new(number, unit, decimals)
}
