//! A feature: where it is, what it keeps clear, and whether a cable passes.

use survey::geometry::PlacedPiece;
use survey::{Feature, Passage, Piece, Rail, Subject};
use units::Length;

use super::{Explanation, Figure, Note, Scheme, StepRole, open_remarks, step, words_only};
use crate::view::words;

pub(super) fn explain(scheme: Scheme<'_>, rail: &str, feature: &str) -> Option<Explanation> {
    let rail = scheme.rail_named(rail)?;
    let mut explanation = match rail.features.iter().find(|found| found.id.as_str() == feature) {
        Some(found) => of_feature(found),
        None => {
            let pieces = rail.placed_pieces();
            of_bend(pieces.iter().find(|placed| placed.piece.id().as_str() == feature)?)
        }
    };
    let related = scheme.findings.iter().filter(|finding| is_about(&finding.subject, rail, feature));
    explanation.notes.extend(open_remarks(related));
    Some(explanation)
}

fn is_about(subject: &Subject, rail: &Rail, feature: &str) -> bool {
    matches!(subject, Subject::Feature { rail: on, feature: named } if on == &rail.id && named.as_str() == feature)
}

fn of_feature(feature: &Feature) -> Explanation {
    let at = feature.chainage.value;
    let half = feature.half_width();
    let clear = feature.clear_each_side();
    let clear_note =
        if feature.keep_clear.is_some() { "as surveyed" } else { "usual for its kind (common practice, no source)" };
    Explanation {
        figure: Some(Figure::mm(at)),
        title: format!("from the datum to the middle of: {}.", words::feature(&feature.kind)),
        mark: None,
        steps: vec![
            step(StepRole::Given, "Chainage", Figure::mm(at), words::measured(&feature.chainage)),
            step(StepRole::Given, "Width along the rail", Figure::mm(feature.kind.width()), ""),
            step(StepRole::Given, "Kept clear beyond each edge", Figure::mm(clear), clear_note),
            words_only(
                format!("No hole from {} to {}", words::mm(at - half - clear), words::mm(at + half + clear)),
                "middle less half the width less the clear length, and the same beyond",
            ),
        ],
        notes: vec![bore(&feature.bore)],
    }
}

fn of_bend(placed: &PlacedPiece<'_>) -> Explanation {
    let (passage, clear) = match placed.piece {
        Piece::Bend(bend) => (&bend.bore, bend.keep_clear.unwrap_or(Length::ZERO)),
        Piece::Straight(_) => (&Passage::Unknown, Length::ZERO),
    };
    Explanation {
        figure: Some(Figure::mm(placed.start)),
        title: "from the datum to the start of the bend; nothing is drilled in it.".to_owned(),
        mark: None,
        steps: vec![
            step(StepRole::Start, "Start of the bend", Figure::mm(placed.start), "the pieces before it added up"),
            step(StepRole::Change, "Its length on the centreline", Figure::mm(placed.end - placed.start), ""),
            step(StepRole::Result, "End of the bend", Figure::mm(placed.end), ""),
            step(StepRole::Given, "Kept clear on each straight beside it", Figure::mm(clear), "as surveyed"),
        ],
        notes: vec![bore(passage)],
    }
}

fn bore(passage: &Passage) -> Note {
    let (words, mark) = words::passage(passage);
    Note { mark, text: format!("Passage along the bore: {words}.") }
}
