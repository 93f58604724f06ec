//! Findings with the reason beside each verdict.

use survey::Verdict;

use crate::table::{Cell, Column, Table};
use crate::{PaperInput, wording};

/// All findings, worst first; passes gathered by rule.
#[must_use]
pub fn findings(input: &PaperInput) -> Table {
    let mut table = Table::new(vec![
        Column::words("Verdict", 17),
        Column::words("About", 22),
        Column::words("What is the matter", 40),
        Column::words("Measured against limit", 20),
        Column::words("Rule and source", 36),
        Column::words("What to do", 34),
    ]);
    let open = input.findings_in_order().into_iter().filter(|finding| finding.verdict != Verdict::Pass);
    for finding in open {
        table.row([
            Cell::Verdict(finding.verdict),
            wording::subject(&finding.subject, input.survey).into(),
            finding.message.as_str().into(),
            wording::reason(finding).into(),
            format!("{}: {}", finding.rule, finding.source).into(),
            finding.advice.as_str().into(),
        ]);
    }
    for pass in super::passes(input) {
        table.row([
            Cell::Verdict(Verdict::Pass),
            pass.about.into(),
            pass.message.into(),
            pass.reason.into(),
            format!("{}: {}", pass.rule, pass.source).into(),
            "".into(),
        ]);
    }
    table
}
