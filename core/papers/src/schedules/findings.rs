//! Findings with the reason beside each verdict.

use crate::table::{Cell, Column, Table};
use crate::{PaperInput, wording};

/// All findings, worst first.
#[must_use]
pub fn findings(input: &PaperInput) -> Table {
    let mut table = Table::new(vec![
        Column::words("Verdict", 15),
        Column::words("About", 22),
        Column::words("What is the matter", 44),
        Column::words("Measured against limit", 24),
        Column::words("Rule and source", 28),
        Column::words("What to do", 40),
    ]);
    for finding in input.findings_in_order() {
        table.row([
            Cell::Verdict(finding.verdict),
            wording::subject(&finding.subject, input.survey).into(),
            finding.message.as_str().into(),
            wording::reason(finding).into(),
            format!("{}: {}", finding.rule, finding.source).into(),
            finding.advice.as_str().into(),
        ]);
    }
    table
}
