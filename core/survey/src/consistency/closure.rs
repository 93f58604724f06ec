//! Do the pieces add up to the overall measurement?

use units::Length;

use super::mm;
use crate::{Finding, Piece, Rail, Subject, Verdict};

const RULE: &str = "closure";
const SOURCE: &str = "JCGM 100:2008 (GUM) 5.1.2, independent errors combine as the root of their summed squares";

/// Compares the sum of the pieces with the overall check measurement.
///
/// Within the root of the summed squares of all tolerances it passes; beyond it, but within their plain sum, it is a
/// caution; beyond that a stop, since no combination of the instruments' errors explains it.
pub(super) fn closure(rail: &Rail) -> Vec<Finding> {
    let subject = || Subject::Rail(rail.id.clone());
    if rail.pieces.is_empty() {
        return vec![
            Finding::new(RULE, subject(), Verdict::Stop, SOURCE)
                .says(format!("Rail {} has no pieces.", rail.label))
                .advises("Measure its straights and bends in order from the datum."),
        ];
    }
    let Some(overall) = &rail.overall else {
        return vec![
            Finding::new(RULE, subject(), Verdict::NotEvaluated, SOURCE)
                .found("no overall measurement")
                .says(format!("Rail {} has no overall measurement to check its pieces against.", rail.label))
                .advises("Tape the whole rail once along the same line, from the datum to the far end."),
        ];
    };
    let tolerances: Vec<Length> =
        rail.pieces.iter().map(|p| piece_tolerance(p, rail)).chain([overall.tolerance()]).collect();
    let squares: f64 = tolerances.iter().map(|t| t.to_mm() * t.to_mm()).sum();
    let root = Length::from_mm(squares.sqrt()).unwrap_or(Length::GREATEST);
    let plain: Length = tolerances.iter().copied().sum();
    let sum = rail.length();
    let off = (sum - overall.value).abs();
    let verdict = if off <= root {
        Verdict::Pass
    } else if off <= plain {
        Verdict::Caution
    } else {
        Verdict::Stop
    };
    let told = format!(
        "The pieces of rail {} add up to {}, measured overall {}: {} apart, {} expected at most.",
        rail.label,
        mm(sum),
        mm(overall.value),
        mm(off),
        mm(root)
    );
    let finding = Finding::new(RULE, subject(), verdict, SOURCE).compared(off.to_mm(), root.to_mm(), "mm").says(told);
    vec![if verdict == Verdict::Pass {
        finding
    } else {
        finding.advises("Measure again while you are there: a piece is missing, misread, or taped along another line.")
    }]
}

/// Plus or minus of one piece along the centreline. A bend that nobody taped is known from radius and angle only: 3 % of
/// its length and at least 5 mm (common practice, no source).
fn piece_tolerance(piece: &Piece, rail: &Rail) -> Length {
    match piece {
        Piece::Straight(s) => s.length.tolerance(),
        Piece::Bend(b) => match &b.taped {
            Some(taped) => taped.length.tolerance(),
            None => crate::geometry::bend_length(b, rail.tube.outside_diameter.value).scaled(0.03).max(Length::mm(5)),
        },
    }
}
