//! From a surveyed rail to the straight stretches that the layout of points takes.

use catalogue::PointLuminaire;
use survey::geometry::PlacedPiece;
use survey::{Feature, FeatureKind, HoleUse, Id, Piece, Rail, RailBrief};
use units::{Degrees, Length};

use crate::layout::{Across, EndKind, FixedHole, FixedReason, KeepClear, Stretch, Why};

/// Clear length kept on a straight beside a bend where the survey states none (common practice, no source).
const USUAL_CLEAR_AT_BEND: Length = Length::mm(40);

/// A rail as the layout sees it, and what the numbers in it stand for.
pub(crate) struct RailStretches {
    /// Its straights.
    pub stretches: Vec<Stretch>,
    /// The straight's id, by the position of the stretch.
    pub straights: Vec<Id>,
    /// The feature or bend behind the tag of a keep-clear length.
    pub kept_clear: Vec<Id>,
    /// The hole behind the tag of a fixed hole.
    pub fixed: Vec<FixedSource>,
    /// Fixed holes that lie on no straight.
    pub off_straight: Vec<FixedSource>,
}

/// Where a fixed hole comes from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct FixedSource {
    /// Its chainage.
    pub at: Length,
    /// The feature, where it is drilled already; `None` for a place that a person locked.
    pub drilled: Option<DrilledHole>,
}

/// A hole that is there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct DrilledHole {
    /// The feature.
    pub feature: Id,
    /// Its diameter.
    pub diameter: Length,
    /// Angle around the tube from the top, where it was surveyed.
    pub angle: Option<Degrees>,
}

/// Whether a chainage lies on the rail.
pub(crate) fn on_rail(chainage: Length, length: Length) -> bool {
    (Length::ZERO..=length).contains(&chainage)
}

/// The stretches of a rail. `first_id` is the id of its first stretch; ids count up from there.
///
/// A feature with a negative chainage or one beyond the rail's end is left out: the survey's own findings name it.
pub(crate) fn stretches_of(rail: &Rail, brief: &RailBrief, point: &PointLuminaire, first_id: usize) -> RailStretches {
    let placed: Vec<PlacedPiece<'_>> = rail.placed_pieces();
    let length = rail.length();
    let mut out = RailStretches {
        stretches: vec![],
        straights: vec![],
        kept_clear: vec![],
        fixed: fixed_holes(rail, brief, length),
        off_straight: vec![],
    };
    let mut clears = Vec::new();
    for feature in rail.features.iter().filter(|feature| on_rail(feature.chainage.value, length)) {
        clears.extend(clear_of_feature(feature, brief, point, &mut out.kept_clear));
    }
    for (index, piece) in placed.iter().enumerate() {
        let Piece::Straight(straight) = piece.piece else {
            clears.extend(clear_of_bend(piece, point, &mut out.kept_clear));
            continue;
        };
        if piece.end <= piece.start {
            continue;
        }
        let neighbour = |piece: Option<&PlacedPiece<'_>>| match piece.map(|piece| piece.piece) {
            None => EndKind::Free,
            Some(Piece::Bend(_)) => EndKind::Bend,
            Some(Piece::Straight(_)) => EndKind::Continues,
        };
        out.straights.push(straight.id.clone());
        out.stretches.push(Stretch {
            id: first_id + out.stretches.len(),
            start: piece.start,
            end: piece.end,
            // A straight without a mark of its own is measured from where it starts.
            mark: piece.start,
            start_kind: neighbour(index.checked_sub(1).and_then(|before| placed.get(before))),
            end_kind: neighbour(placed.get(index + 1)),
            keep_clears: vec![],
            fixed: vec![],
        });
    }
    for stretch in &mut out.stretches {
        // A length that only reaches in from a neighbouring piece counts here as well.
        stretch.keep_clears = clears
            .iter()
            .filter(|clear: &&KeepClear| clear.to >= stretch.start && clear.from <= stretch.end)
            .copied()
            .collect();
        stretch.keep_clears.sort_by_key(|clear| (clear.from, clear.to, clear.why, clear.tag));
    }
    for (tag, hole) in out.fixed.iter().enumerate() {
        let reason = if hole.drilled.is_some() { FixedReason::Drilled } else { FixedReason::Locked };
        match out.stretches.iter_mut().find(|stretch| (stretch.start..=stretch.end).contains(&hole.at)) {
            Some(stretch) => stretch.fixed.push(FixedHole { at: hole.at, tag, reason }),
            None => out.off_straight.push(hole.clone()),
        }
    }
    out
}

/// Holes drilled for luminaires and places that a person locked, by chainage; a lock on a drilled hole is that hole.
fn fixed_holes(rail: &Rail, brief: &RailBrief, length: Length) -> Vec<FixedSource> {
    let mut holes: Vec<FixedSource> = rail
        .features
        .iter()
        .filter(|feature| on_rail(feature.chainage.value, length))
        .filter_map(|feature| match &feature.kind {
            FeatureKind::ExistingHole { diameter, angle, used_for: HoleUse::Luminaire } => Some(FixedSource {
                at: feature.chainage.value,
                drilled: Some(DrilledHole { feature: feature.id.clone(), diameter: *diameter, angle: *angle }),
            }),
            _ => None,
        })
        .collect();
    let drilled: Vec<Length> = holes.iter().map(|hole| hole.at).collect();
    let same_place = Length::mm(1);
    for lock in &brief.locks.holes {
        if !drilled.iter().any(|at| (*at - *lock).abs() <= same_place) {
            holes.push(FixedSource { at: *lock, drilled: None });
        }
    }
    holes.sort_by_key(|hole| (hole.at, hole.drilled.is_none()));
    holes
}

/// The length that hole centres keep clear of a feature: half its width, the surveyed clear length and the hole's
/// radius; half the range as well at a movement joint.
fn clear_of_feature(
    feature: &Feature,
    brief: &RailBrief,
    point: &PointLuminaire,
    names: &mut Vec<Id>,
) -> Option<KeepClear> {
    let (why, extra) = match &feature.kind {
        FeatureKind::Post { .. } if brief.posts_clear_of_holes => return None,
        FeatureKind::ExistingHole { used_for: HoleUse::Luminaire, .. } => return None,
        FeatureKind::LowPoint if feature.keep_clear.is_none() => return None,
        FeatureKind::Post { .. } => (Why::Post, Length::ZERO),
        FeatureKind::Joint { .. } => (Why::Joint, Length::ZERO),
        FeatureKind::MovementJoint { range, .. } => (Why::MovementJoint, range.half()),
        FeatureKind::ExistingHole { .. } => (Why::Hole, Length::ZERO),
        FeatureKind::InfillClamp { .. }
        | FeatureKind::LowPoint
        | FeatureKind::Damage { .. }
        | FeatureKind::WayIn { .. } => (Why::Other, Length::ZERO),
    };
    let half = feature.half_width() + feature.clear_each_side() + extra + point.hole.half();
    let half = half.max(Length::ZERO);
    let at = feature.chainage.value;
    // People see on across posts, joints and the like; damage longer than a spacing leaves a gap that no row bridges.
    let target = super::points::spacing(brief).unwrap_or(Length::GREATEST);
    let across = match why {
        Why::Other if half * 2 > target => Across::Breaks,
        _ => Across::Counts,
    };
    names.push(feature.id.clone());
    Some(KeepClear { from: at - half, to: at + half, why, tag: names.len() - 1, across })
}

/// A bend and the clear length on the straights beside it.
fn clear_of_bend(piece: &PlacedPiece<'_>, point: &PointLuminaire, names: &mut Vec<Id>) -> Option<KeepClear> {
    let Piece::Bend(bend) = piece.piece else { return None };
    let clear = bend.keep_clear.unwrap_or(USUAL_CLEAR_AT_BEND) + point.hole.half();
    let clear = clear.max(Length::ZERO);
    names.push(bend.id.clone());
    let (from, to) = (piece.start - clear, piece.end.max(piece.start) + clear);
    Some(KeepClear { from, to, why: Why::Bend, tag: names.len() - 1, across: Across::Breaks })
}
