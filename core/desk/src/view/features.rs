//! What is on a rail: its pieces and its features by chainage.

use survey::geometry::PlacedPiece;
use survey::{Bend, Feature, FeatureKind, Piece, Plane, Rail, Straight};
use units::Length;

use super::wire::{FeatureRow, FeatureShape, PieceShape, PieceSpan};
use super::words;

/// Straights and bends in order.
pub(super) fn pieces(rail: &Rail) -> Vec<PieceSpan> {
    rail.placed_pieces()
        .iter()
        .map(|placed| {
            let (shape, name, detail) = match placed.piece {
                Piece::Straight(straight) => (PieceShape::Straight, String::new(), straight_words(straight)),
                Piece::Bend(bend) => (PieceShape::Bend, bend_name(bend), bend_words(bend)),
            };
            PieceSpan {
                id: placed.piece.id().to_string(),
                shape,
                start_mm: placed.start.to_mm(),
                end_mm: placed.end.to_mm(),
                name,
                detail,
            }
        })
        .collect()
}

/// The table of features, bends included, by chainage.
pub(super) fn rows(rail: &Rail) -> Vec<FeatureRow> {
    let bends = rail.placed_pieces();
    let bends = bends.iter().filter_map(|placed| match placed.piece {
        Piece::Bend(bend) => Some(bend_row(placed, bend)),
        Piece::Straight(_) => None,
    });
    let mut rows: Vec<FeatureRow> = rail.features.iter().map(feature_row).chain(bends).collect();
    rows.sort_by(|a, b| a.chainage_mm.total_cmp(&b.chainage_mm).then_with(|| a.id.cmp(&b.id)));
    rows
}

fn feature_row(feature: &Feature) -> FeatureRow {
    let (bore, bore_mark) = words::passage(&feature.bore);
    let width = feature.kind.width();
    FeatureRow {
        id: feature.id.to_string(),
        shape: shape(&feature.kind),
        chainage_mm: feature.chainage.value.to_mm(),
        what: words::feature(&feature.kind),
        name: name(feature),
        width_mm: (width > Length::ZERO).then(|| width.to_mm()),
        keep_clear_mm: Some(feature.clear_each_side().to_mm()),
        bore,
        bore_mark,
        note: [feature.label.as_str(), feature.note.as_str()]
            .into_iter()
            .filter(|text| !text.is_empty())
            .collect::<Vec<_>>()
            .join(": "),
    }
}

fn bend_row(placed: &PlacedPiece<'_>, bend: &Bend) -> FeatureRow {
    let (bore, bore_mark) = words::passage(&bend.bore);
    FeatureRow {
        id: bend.id.to_string(),
        shape: FeatureShape::Bend,
        chainage_mm: placed.start.to_mm(),
        what: format!("Bend, {}", bend_name(bend)),
        name: String::new(),
        width_mm: Some((placed.end - placed.start).to_mm()),
        keep_clear_mm: bend.keep_clear.map(Length::to_mm),
        bore,
        bore_mark,
        note: bend_words(bend),
    }
}

const fn shape(kind: &FeatureKind) -> FeatureShape {
    match kind {
        FeatureKind::Post { .. } => FeatureShape::Post,
        FeatureKind::Joint { .. } => FeatureShape::Joint,
        FeatureKind::MovementJoint { .. } => FeatureShape::MovementJoint,
        FeatureKind::InfillClamp { .. } => FeatureShape::Clamp,
        FeatureKind::ExistingHole { .. } => FeatureShape::Hole,
        FeatureKind::LowPoint => FeatureShape::LowPoint,
        FeatureKind::Damage { .. } => FeatureShape::Damage,
        FeatureKind::WayIn { .. } => FeatureShape::WayIn,
    }
}

/// Posts speak for themselves on the drawing; the rest is named.
fn name(feature: &Feature) -> String {
    match &feature.kind {
        FeatureKind::Post { .. } | FeatureKind::InfillClamp { .. } => String::new(),
        FeatureKind::ExistingHole { .. } => "hole".to_owned(),
        kind => kind.word().to_owned(),
    }
}

fn bend_name(bend: &Bend) -> String {
    let way = match bend.plane {
        Plane::Left => "left",
        Plane::Right => "right",
        Plane::Up => "up",
        Plane::Down => "down",
    };
    format!("{}° {way}", words::plain(bend.angle.get().abs()))
}

fn bend_words(bend: &Bend) -> String {
    let radius = format!("centreline radius {}", words::mm(bend.centreline_radius));
    let Some(taped) = &bend.taped else { return radius };
    format!("{radius}, {} taped on the {}", words::mm(taped.length.value), taped_line(taped.line))
}

pub(super) const fn taped_line(line: survey::TapedLine) -> &'static str {
    match line {
        survey::TapedLine::Centreline => "centreline",
        survey::TapedLine::Top => "top",
        survey::TapedLine::Outside => "outside",
    }
}

fn straight_words(straight: &Straight) -> String {
    let slope = straight.slope.get();
    let slope = if slope == 0.0 { "level".to_owned() } else { format!("slope {}°", words::plain(slope)) };
    let mark = straight.mark.as_ref().map(|mark| format!(", from {mark}")).unwrap_or_default();
    format!("{}, {slope}{mark}", words::measured(&straight.length))
}
