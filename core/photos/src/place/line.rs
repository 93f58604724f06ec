//! The line of a rail as it is drawn in the site frame.

use survey::{Bend, Piece, Plane, Rail};

/// A point of a rail's line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex {
    /// Chainage, metres from the datum.
    pub chainage_m: f64,
    /// Along the frame's x axis, metres.
    pub x_m: f64,
    /// Along the frame's y axis, metres.
    pub y_m: f64,
    /// Height above the frame's zero, metres.
    pub z_m: f64,
}

/// Bends are drawn as chords that turn by 3 degrees each at the most.
const STEP_DEG: f64 = 3.0;

/// The line of a rail, or `None` where it was not sketched. Straights keep their own slope; a bend in plan keeps the
/// slope of the piece before it.
#[must_use]
pub fn drawn_line(rail: &Rail) -> Option<Vec<Vertex>> {
    let sketch = rail.sketch.as_ref()?;
    let start = &sketch.start;
    let first = Vertex { chainage_m: 0.0, x_m: start.x.to_m(), y_m: start.y.to_m(), z_m: start.z.to_m() };
    let mut pen = Pen { at: first, bearing_deg: sketch.bearing.get(), slope_deg: first_slope(rail), line: vec![first] };
    for placed in rail.placed_pieces() {
        let metres = (placed.end - placed.start).to_m();
        match placed.piece {
            Piece::Straight(straight) => {
                pen.slope_deg = straight.slope.get();
                pen.draw(metres);
            }
            Piece::Bend(bend) => pen.bend(bend, metres),
        }
    }
    Some(pen.line)
}

fn first_slope(rail: &Rail) -> f64 {
    rail.pieces.iter().find_map(|p| if let Piece::Straight(s) = p { Some(s.slope.get()) } else { None }).unwrap_or(0.0)
}

struct Pen {
    at: Vertex,
    bearing_deg: f64,
    slope_deg: f64,
    line: Vec<Vertex>,
}

impl Pen {
    fn draw(&mut self, metres: f64) {
        self.chord(metres, metres);
    }

    /// A chord of this length that stands for so much of the tube.
    fn chord(&mut self, tube_m: f64, chord_m: f64) {
        let (bearing, slope) = (self.bearing_deg.to_radians(), self.slope_deg.to_radians());
        let level = chord_m * libm::cos(slope);
        self.at.chainage_m += tube_m;
        self.at.x_m += level * libm::sin(bearing);
        self.at.y_m += level * libm::cos(bearing);
        self.at.z_m += chord_m * libm::sin(slope);
        self.line.push(self.at);
    }

    fn bend(&mut self, bend: &Bend, metres: f64) {
        let angle = bend.angle.get().abs();
        let steps = (angle / STEP_DEG).ceil().clamp(1.0, 400.0);
        let turn = angle / steps;
        // A chord is shorter than its arc by the sine of half the turn over that half.
        let half = (turn / 2.0).to_radians();
        let shorter = if half > 0.0 { libm::sin(half) / half } else { 1.0 };
        for _ in 0..steps as usize {
            self.turn(bend.plane, turn / 2.0);
            self.chord(metres / steps, metres / steps * shorter);
            self.turn(bend.plane, turn / 2.0);
        }
    }

    fn turn(&mut self, plane: Plane, degrees: f64) {
        match plane {
            Plane::Left => self.bearing_deg -= degrees,
            Plane::Right => self.bearing_deg += degrees,
            Plane::Up => self.slope_deg += degrees,
            Plane::Down => self.slope_deg -= degrees,
        }
    }
}
