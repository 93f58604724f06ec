//! Short ways to write the planning's own findings.

use survey::{Figure, Finding, Subject, Verdict};

/// Common practice without a published source.
pub(crate) const PRACTICE: &str = "common practice, no source";

/// A finding in words.
pub(crate) fn say(
    verdict: Verdict,
    rule: &'static str,
    subject: Subject,
    message: impl Into<String>,
    advice: impl Into<String>,
) -> Finding {
    Finding {
        rule,
        subject,
        verdict,
        measured: None,
        limit: None,
        unit: "",
        source: PRACTICE,
        message: message.into(),
        advice: advice.into(),
    }
}

/// The same finding with the two figures that were compared.
pub(crate) fn with_figures(finding: Finding, measured: f64, limit: f64, unit: &'static str) -> Finding {
    Finding { measured: number(measured), limit: number(limit), unit, ..finding }
}

/// The same finding with its source.
pub(crate) fn from_source(finding: Finding, source: &'static str) -> Finding {
    Finding { source, ..finding }
}

/// A figure, where the number is finite.
fn number(value: f64) -> Option<Figure> {
    value.is_finite().then_some(Figure::Number(value))
}

/// A chainage as people read it on site: millimetres, with a tenth only where there is one.
pub(crate) fn at(chainage: units::Length) -> String {
    chainage.to_tenth_mm().to_string()
}

/// "a", "a and b", "a, b and c".
pub(crate) fn list(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [only] => only.clone(),
        [head @ .., last] => format!("{} and {last}", head.join(", ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_list_reads_like_english() {
        let words = |n: usize| ["a", "b", "c"].iter().take(n).map(|w| (*w).to_owned()).collect::<Vec<_>>();
        assert_eq!(list(&words(1)), "a");
        assert_eq!(list(&words(2)), "a and b");
        assert_eq!(list(&words(3)), "a, b and c");
    }
}
