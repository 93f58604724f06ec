//! Does a taped bend agree with its radius and angle?

use units::Length;

use super::mm;
use crate::geometry::bend_length;
use crate::{Bend, Finding, Piece, Rail, Subject, Verdict};

const SOURCE: &str = "length of a circular arc, s = r·θ; allowance 10 % and at least 15 mm: common practice, no source";

/// A taped length that is far from radius times angle means that another line was taped, or the radius is wrong.
pub(super) fn taped_against_radius(rail: &Rail, found: &mut Vec<Finding>) {
    for piece in &rail.pieces {
        let Piece::Bend(bend) = piece else { continue };
        let Some(taped) = &bend.taped else { continue };
        let od = rail.tube.outside_diameter.value;
        let by_tape = bend_length(bend, od);
        let by_radius = bend_length(&Bend { taped: None, ..bend.clone() }, od);
        let allowed = by_radius.scaled(0.1).max(Length::mm(15)) + taped.length.tolerance();
        let off = (by_tape - by_radius).abs();
        if off > allowed {
            let subject = Subject::Feature { rail: rail.id.clone(), feature: bend.id.clone() };
            found.push(
                Finding::new("bend-length", subject, Verdict::Caution, SOURCE)
                    .compared(off.to_mm(), allowed.to_mm(), "mm")
                    .says(format!(
                        "A bend of rail {} was taped as {} along the centreline, its radius and angle give {}.",
                        rail.label,
                        mm(by_tape),
                        mm(by_radius)
                    ))
                    .advises("Check which line was taped (centreline, top, outside) and the radius."),
            );
        }
    }
}
