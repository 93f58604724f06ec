//! One PDF of a whole plan: what to drill, what joins what, what to test and what to beware of.

mod blocks;
mod engine;
mod sheets;
mod typeface;

use typst::foundations::{Array, Datetime, Dict, Str, Value};

use crate::PaperInput;
use crate::cautions::{DISCLAIMER, one_line};

/// Why no PDF could be made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PdfError {
    /// The issue date is not an ISO 8601 calendar date.
    IssuedDate {
        /// The text that was given.
        value: String,
    },
    /// The typesetting engine refused; this is a fault of the program, not of the survey.
    Engine {
        /// What the engine said.
        message: String,
    },
}

impl std::fmt::Display for PdfError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::IssuedDate { value } => {
                write!(f, "issue date {value:?} is not accepted; give year-month-day such as 2030-03-04")
            }
            Self::Engine { message } => write!(f, "the PDF could not be typeset: {message}"),
        }
    }
}

impl std::error::Error for PdfError {}

/// Draws the plan as one tagged PDF (PDF/A-2a, PDF/UA-1). The same input gives the same bytes.
///
/// # Errors
/// When the issue date is no calendar date, or the engine refuses.
pub fn pdf(input: &PaperInput) -> Result<Vec<u8>, PdfError> {
    let issued = day(input.issued)?;
    let site = &input.survey.site;
    let short_plan: String = input.plan.plan_id.chars().take(12).collect();
    let mut values = Dict::new();
    let mut put = |key: &str, value: Value| values.insert(Str::from(key), value);
    put("title", blocks::text(&format!("{}: plan {short_plan}", site.label)));
    put("description", blocks::text("Drilling, cable and parts schedules, findings and cautions"));
    put("site", blocks::text(&site.label));
    put("plan", blocks::text(&short_plan));
    put("issued", blocks::text(input.issued));
    put("invented", input.invented().map_or(Value::None, blocks::text));
    put("cautions", blocks::text(&one_line()));
    put("disclaimer", blocks::text(DISCLAIMER));
    put("families", Value::Array(typeface::FAMILIES.into_iter().map(blocks::text).collect::<Array>()));
    put("blocks", Value::Array(sheets::all(input).into_iter().collect::<Array>()));
    engine::typeset(include_str!("paper.typ"), values, issued, &format!("newel {}", input.plan.plan_id))
}

/// Midnight of the calendar day that an ISO 8601 text begins with.
fn day(text: &str) -> Result<Datetime, PdfError> {
    let fault = || PdfError::IssuedDate { value: text.chars().take(40).collect() };
    let bytes = text.as_bytes();
    let figures = |range: std::ops::Range<usize>| -> Option<i32> {
        let part = text.get(range)?;
        part.bytes().all(|byte| byte.is_ascii_digit()).then(|| part.parse().ok())?
    };
    let separated = bytes.len() >= 10 && bytes[4] == b'-' && bytes[7] == b'-';
    let ended = matches!(bytes.get(10), None | Some(b'T' | b' '));
    if !(separated && ended) {
        return Err(fault());
    }
    let (Some(year), Some(month), Some(day)) = (figures(0..4), figures(5..7), figures(8..10)) else {
        return Err(fault());
    };
    Datetime::from_ymd_hms(year, month as u8, day as u8, 0, 0, 0).ok_or_else(fault)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_calendar_day_is_an_issue_date() {
        assert!(day("2030-03-04").is_ok());
        assert!(day("2030-03-04T12:00:00Z").is_ok());
        for wrong in ["", "2030", "2030-13-01", "2030-02-30", "04.03.2030", "2030-03-04x", "２030-03-04", "2030-+3-04"]
        {
            assert!(matches!(day(wrong), Err(PdfError::IssuedDate { .. })), "{wrong}");
        }
    }
}
