//! From pieces to chainages: where each piece starts and ends along the centreline.

use units::Length;

use crate::{Bend, Id, Piece, Plane, Rail, TapedLine};

/// A piece with its chainages.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlacedPiece<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// Chainage of its start.
    pub start: Length,
    /// Chainage of its end.
    pub end: Length,
}

impl Piece {
    /// Its id within the rail.
    #[must_use]
    pub const fn id(&self) -> &Id {
        match self {
            Self::Straight(s) => &s.id,
            Self::Bend(b) => &b.id,
        }
    }
}

/// Length of a bend along the tube's centreline.
///
/// What was taped wins over radius times angle, since a tape was really laid there; a line off the centreline is taken
/// back to it by the angle times the distance between the two lines, which is tens of millimetres on common tube.
///
/// # Units
/// Millimetres; the angle in degrees.
///
/// # Source
/// Length of a circular arc, s = r·θ.
#[must_use]
pub fn bend_length(bend: &Bend, outside_diameter: Length) -> Length {
    let radians = bend.angle.get().abs() * std::f64::consts::PI / 180.0;
    let Some(taped) = &bend.taped else {
        return bend.centreline_radius.scaled(radians);
    };
    let half = outside_diameter.half().scaled(radians);
    let length = match (taped.line, bend.plane) {
        (TapedLine::Centreline, _) => taped.length.value,
        (TapedLine::Outside, _) => taped.length.value - half,
        // The crown is the centreline's plan for a bend in plan, the inside of a bend upwards, the outside downwards.
        (TapedLine::Top, Plane::Left | Plane::Right) => taped.length.value,
        (TapedLine::Top, Plane::Up) => taped.length.value + half,
        (TapedLine::Top, Plane::Down) => taped.length.value - half,
    };
    length.max(Length::ZERO)
}

impl Rail {
    /// Its pieces with their chainages.
    #[must_use]
    pub fn placed_pieces(&self) -> Vec<PlacedPiece<'_>> {
        let mut start = Length::ZERO;
        self.pieces
            .iter()
            .map(|piece| {
                let length = match piece {
                    Piece::Straight(s) => s.length.value,
                    Piece::Bend(b) => bend_length(b, self.tube.outside_diameter.value),
                };
                let placed = PlacedPiece { piece, start, end: start + length };
                start = placed.end;
                placed
            })
            .collect()
    }

    /// Length along the centreline, the sum of its pieces.
    #[must_use]
    pub fn length(&self) -> Length {
        self.placed_pieces().last().map_or(Length::ZERO, |p| p.end)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Measurement, Passage, Taped};
    use units::Degrees;

    fn bend(plane: Plane, taped: Option<(TapedLine, i64)>) -> Bend {
        Bend {
            id: Id::new("b").unwrap(),
            angle: Degrees::new(90.0),
            plane,
            centreline_radius: Length::mm(100),
            taped: taped.map(|(line, mm)| Taped { line, length: Measurement::taped(Length::mm(mm)) }),
            bore: Passage::Unknown,
            keep_clear: None,
        }
    }

    #[test]
    fn a_quarter_circle_is_half_pi_times_its_radius() {
        assert_eq!(bend_length(&bend(Plane::Left, None), Length::mm(48)), Length::um(157_080));
    }

    #[test]
    fn the_line_that_was_taped_shifts_the_length_by_tens_of_millimetres() {
        let od = Length::mm(48);
        let of = |plane, line| bend_length(&bend(plane, Some((line, 200))), od);
        assert_eq!(of(Plane::Left, TapedLine::Centreline), Length::mm(200));
        assert_eq!(of(Plane::Left, TapedLine::Top), Length::mm(200));
        // 24 mm × π/2 = 37.699 mm.
        assert_eq!(of(Plane::Left, TapedLine::Outside), Length::um(162_301));
        assert_eq!(of(Plane::Up, TapedLine::Top), Length::um(237_699));
        assert_eq!(of(Plane::Down, TapedLine::Top), Length::um(162_301));
    }
}
