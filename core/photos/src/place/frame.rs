//! The site frame on the Earth: WGS 84 geodesics by Karney's method, through `geo`.

use geo::{Bearing, Destination, Distance, Geodesic, Point};
use survey::{Origin, PhotoPosition};

/// A place on the Earth, WGS 84.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Earth {
    /// Degrees north, -90 to 90.
    pub latitude_deg: f64,
    /// Degrees east, -180 to 180.
    pub longitude_deg: f64,
}

impl From<&PhotoPosition> for Earth {
    fn from(position: &PhotoPosition) -> Self {
        Self { latitude_deg: position.latitude.get(), longitude_deg: position.longitude.get() }
    }
}

/// The shortest way from one place to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    /// Its length on the ellipsoid, metres.
    pub metres: f64,
    /// The direction in which it sets off, degrees clockwise from true north, 0 to 360; zero where the places are one.
    pub bearing_deg: f64,
}

/// The shortest way from one place to another.
///
/// # Units
/// Metres and degrees.
///
/// # Source
/// C. F. F. Karney, "Algorithms for geodesics", J. Geodesy 87 (2013), the inverse problem; WGS 84: a = 6,378,137 m,
/// f = 1 / 298.257223563.
#[must_use]
pub fn way(from: Earth, to: Earth) -> Way {
    let (from, to) = (point(from), point(to));
    let metres = Geodesic.distance(from, to);
    let bearing_deg = if metres == 0.0 { 0.0 } else { Geodesic.bearing(from, to).rem_euclid(360.0) };
    Way { metres, bearing_deg }
}

fn point(place: Earth) -> Point {
    Point::new(place.longitude_deg, place.latitude_deg)
}

/// The frame of a site with a position: x to the right of its bearing, y along it, metres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    origin: Earth,
    bearing_deg: f64,
    /// Radius within which the origin is believed, metres.
    pub accuracy_m: Option<f64>,
}

impl Frame {
    /// The frame of this origin.
    #[must_use]
    pub fn of(origin: &Origin) -> Self {
        Self {
            origin: Earth { latitude_deg: origin.latitude.get(), longitude_deg: origin.longitude.get() },
            bearing_deg: origin.bearing.get(),
            accuracy_m: origin.accuracy.map(units::Length::to_m),
        }
    }

    /// The origin itself.
    #[must_use]
    pub const fn origin(&self) -> Earth {
        self.origin
    }

    /// A point of the frame on the Earth: so far along the geodesic that leaves the origin in its direction.
    #[must_use]
    pub fn to_earth(&self, x_m: f64, y_m: f64) -> Earth {
        let metres = libm::hypot(x_m, y_m);
        if metres == 0.0 {
            return self.origin;
        }
        let bearing = libm::atan2(x_m, y_m).to_degrees() + self.bearing_deg;
        let there = Geodesic.destination(point(self.origin), bearing, metres);
        Earth { latitude_deg: there.y(), longitude_deg: wrapped(there.x()) }
    }

    /// A place on the Earth in the frame; the way back of [`Frame::to_earth`].
    #[must_use]
    pub fn to_site(&self, place: Earth) -> (f64, f64) {
        let way = way(self.origin, place);
        let turn = (way.bearing_deg - self.bearing_deg).to_radians();
        (way.metres * libm::sin(turn), way.metres * libm::cos(turn))
    }
}

/// Longitude in -180 to 180.
fn wrapped(degrees: f64) -> f64 {
    if (-180.0..=180.0).contains(&degrees) { degrees } else { (degrees + 180.0).rem_euclid(360.0) - 180.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use units::{Degrees, Length};

    proptest! {
        #[test]
        fn the_frame_leads_there_and_back(
            latitude in -90.0..90.0f64, longitude in -180.0..180.0f64, bearing in 0.0..360.0f64,
            x in -5000.0..5000.0f64, y in -5000.0..5000.0f64,
        ) {
            let origin = Origin {
                latitude: Degrees::new(latitude), longitude: Degrees::new(longitude), bearing: Degrees::new(bearing),
                accuracy: Some(Length::mm(3000)), level: None,
            };
            let frame = Frame::of(&origin);
            let there = frame.to_earth(x, y);
            prop_assert!((-180.0..=180.0).contains(&there.longitude_deg));
            let (back_x, back_y) = frame.to_site(there);
            prop_assert!((back_x - x).abs() < 1e-6 && (back_y - y).abs() < 1e-6, "{x} {y} came back as {back_x} {back_y}");
        }
    }
}
