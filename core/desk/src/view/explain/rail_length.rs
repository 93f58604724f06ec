//! The length of a rail, piece by piece.

use survey::geometry::PlacedPiece;
use survey::{Piece, Subject};

use super::{Explanation, Figure, Scheme, Step, StepRole, open_remarks, step};
use crate::view::{features, words};

pub(super) fn explain(scheme: Scheme<'_>, rail: &str) -> Option<Explanation> {
    let rail = scheme.rail_named(rail)?;
    let mut steps: Vec<Step> = rail.placed_pieces().iter().enumerate().map(|(at, placed)| piece(at, placed)).collect();
    if let Some(overall) = &rail.overall {
        steps.push(step(
            StepRole::Given,
            "Measured once more as a whole",
            Figure::mm(overall.value),
            words::measured(overall),
        ));
        steps.push(step(StepRole::Given, "Pieces less the whole", Figure::mm(rail.length() - overall.value), ""));
    }
    steps.push(step(
        StepRole::Result,
        "Length along the centreline",
        Figure::mm(rail.length()),
        format!("start: {}; far end: {}", words::end(rail.start_end), words::end(rail.far_end)),
    ));
    let related = scheme.findings.iter().filter(|finding| finding.subject == Subject::Rail(rail.id.clone()));
    Some(Explanation {
        figure: Some(Figure::metres(rail.length())),
        title: format!("along {}, from its datum: {}, {}.", rail.label, rail.datum.end, rail.datum.mark),
        mark: None,
        steps,
        notes: open_remarks(related),
    })
}

fn piece(at: usize, placed: &PlacedPiece<'_>) -> Step {
    let role = if at == 0 { StepRole::Start } else { StepRole::Change };
    let length = Figure::mm(placed.end - placed.start);
    match placed.piece {
        Piece::Straight(straight) => {
            step(role, format!("Straight from {}", words::mm(placed.start)), length, words::measured(&straight.length))
        }
        Piece::Bend(bend) => {
            let how = bend.taped.as_ref().map_or_else(
                || {
                    format!(
                        "radius {} × {}° as an arc",
                        words::mm(bend.centreline_radius),
                        words::plain(bend.angle.get().abs())
                    )
                },
                |taped| {
                    format!(
                        "{} taped on the {}, taken to the centreline",
                        words::mm(taped.length.value),
                        features::taped_line(taped.line)
                    )
                },
            );
            step(role, format!("Bend from {}", words::mm(placed.start)), length, how)
        }
    }
}
