//! Clear lengths of slotted tube that modules can stand in.

use survey::{Feature, FeatureKind, Piece, PostKind, Rail, RailBrief};
use units::Length;

use crate::build::stretches::on_rail;
use crate::layout::modules::Room;

/// Clear length kept on a straight beside a bend where the survey states none (common practice, no source).
const USUAL_CLEAR_AT_BEND: Length = Length::mm(40);

/// The rooms of a rail, by chainage.
///
/// A rigid module never crosses a bend, a joint, a movement joint (with half its range to either side), damage, an infill
/// clamp or a way in, nor a post that blocks the slot. A bracket from the side or wall stands behind the slot and does not
/// block it; a post under the tube does unless the brief says that posts stand clear; one through the tube always does. A
/// hole beside the slot blocks nothing. Straights of one slope that follow each other without a bend are one length of
/// tube. The end margin of the brief counts from the end of every straight.
pub(super) fn rooms_of(rail: &Rail, brief: &RailBrief) -> Vec<Room> {
    let length = rail.length();
    let mut shut: Vec<(Length, Length)> = rail
        .features
        .iter()
        .filter(|feature| on_rail(feature.chainage.value, length))
        .filter_map(|feature| obstruction(feature, brief))
        .collect();
    let margin = brief.end_margin_least.max(Length::ZERO);
    let placed = rail.placed_pieces();
    let mut spans: Vec<(Length, Length)> = Vec::new();
    let mut joins = false;
    for (index, piece) in placed.iter().enumerate() {
        let Piece::Straight(straight) = piece.piece else {
            if let Piece::Bend(bend) = piece.piece {
                let clear = bend.keep_clear.unwrap_or(USUAL_CLEAR_AT_BEND).max(Length::ZERO);
                shut.push((piece.start - clear, piece.end.max(piece.start) + clear));
            }
            joins = false;
            continue;
        };
        let end = piece.end.max(piece.start);
        match spans.last_mut().filter(|_| joins) {
            Some(span) => span.1 = end,
            None => spans.push((piece.start, end)),
        }
        joins = match placed.get(index + 1).map(|next| next.piece) {
            Some(Piece::Straight(next)) => next.slope == straight.slope,
            _ => false,
        };
    }
    shut.sort();
    let mut rooms = Vec::new();
    for (start, end) in spans {
        let (mut from, to) = (start + margin, end - margin);
        for (low, high) in &shut {
            if *low > from && from < to {
                rooms.push(Room { from, to: (*low).min(to) });
            }
            from = from.max(*high);
        }
        if from < to {
            rooms.push(Room { from, to });
        }
    }
    rooms
}

/// The length that a feature takes from the slot, its clear length counted; `None` where it takes none.
fn obstruction(feature: &Feature, brief: &RailBrief) -> Option<(Length, Length)> {
    let extra = match &feature.kind {
        FeatureKind::Post { kind: PostKind::SideBracket, .. } | FeatureKind::ExistingHole { .. } => return None,
        FeatureKind::Post { kind: PostKind::WeldedBelow | PostKind::Saddle | PostKind::Other(_), .. }
            if brief.posts_clear_of_holes =>
        {
            return None;
        }
        FeatureKind::LowPoint if feature.keep_clear.is_none() => return None,
        FeatureKind::MovementJoint { range, .. } => range.half(),
        FeatureKind::Post { .. }
        | FeatureKind::Joint { .. }
        | FeatureKind::InfillClamp { .. }
        | FeatureKind::LowPoint
        | FeatureKind::Damage { .. }
        | FeatureKind::WayIn { .. } => Length::ZERO,
    };
    let half = (feature.half_width() + feature.clear_each_side() + extra).max(Length::ZERO);
    Some((feature.chainage.value - half, feature.chainage.value + half))
}
