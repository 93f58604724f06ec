//! The girth offset: how far round the tube from the reference line a hole is marked.

use std::f64::consts::PI;

use units::{Degrees, Length};

/// The distance along the tube's outside, square to its axis, from the reference line to the hole centre:
/// `pi * OD * angle / 360`.
///
/// The reference line is whatever the survey chose (the underside of the tube, the weld seam, a line snapped between
/// two marks); a positive angle turns the way the survey says, and the offset has the sign of the angle. A fitter lays
/// a flexible rule round the tube, so the offset is measured on the outside diameter, not on the chord.
///
/// # Units
/// Diameter and offset in length, angle in degrees; the offset is rounded to the nearest micrometre.
///
/// # References
/// The length of a circular arc.
///
/// # Example
/// ```
/// use plan::layout::girth_offset;
/// use units::{Degrees, Length};
/// // A quarter of the way round a tube of 48.3 mm: 48.3 * pi / 4 = 37.934731 mm.
/// assert_eq!(girth_offset(Length::um(48_300), Degrees::new(90.0)), Length::um(37_935));
/// ```
#[must_use]
pub fn girth_offset(outside_diameter: Length, angle: Degrees) -> Length {
    outside_diameter.scaled(PI * angle.get() / 360.0)
}
