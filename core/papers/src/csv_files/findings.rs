//! Findings as CSV, worst first.

use survey::{Figure, Subject, Verdict};

use super::{Sheet, figure, words};
use crate::{PaperInput, wording};

pub fn findings(input: &PaperInput) -> Sheet {
    let mut sheet =
        Sheet::new(&["verdict", "rule", "about", "rail", "message", "measured", "limit", "unit", "source", "advice"]);
    for finding in input.findings_in_order() {
        let rail = match &finding.subject {
            Subject::Rail(rail) | Subject::Feature { rail, .. } | Subject::Luminaire { rail, .. } => rail.as_str(),
            _ => "",
        };
        sheet.row([
            verdict(finding.verdict).to_owned(),
            words(finding.rule),
            words(&wording::subject(&finding.subject, input.survey)),
            words(rail),
            words(&finding.message),
            either(finding.measured.as_ref()),
            either(finding.limit.as_ref()),
            words(finding.unit),
            words(finding.source),
            words(&finding.advice),
        ]);
    }
    sheet
}

/// The verdict as the plan document writes it.
const fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Stop => "stop",
        Verdict::NotEvaluated => "not_evaluated",
        Verdict::Caution => "caution",
        Verdict::Pass => "pass",
    }
}

fn either(value: Option<&Figure>) -> String {
    match value {
        None => String::new(),
        Some(Figure::Number(number)) => figure(*number),
        Some(Figure::Words(text)) => words(text),
    }
}
