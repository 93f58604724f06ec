//! Where the camera was and which way it pointed.

use ::exif::{Exif, Tag};

use super::value::{gps, real, reals, text, whole};

/// A position as the receiver gave it, WGS 84.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Position {
    /// Degrees north.
    pub latitude_deg: f64,
    /// Degrees east.
    pub longitude_deg: f64,
    /// Metres above (below: negative) the level that the camera used, commonly the sea's.
    pub altitude_m: Option<f64>,
    /// Radius within which the receiver believed itself, metres.
    pub accuracy_m: Option<f64>,
}

/// Which way the camera pointed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heading {
    /// Degrees clockwise from north, 0 to 360.
    pub degrees: f64,
    /// Which north.
    pub north: North,
}

/// What a direction is counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum North {
    /// True north.
    True,
    /// Magnetic north, which differs from true north by the declination of the place.
    Magnetic,
    /// The camera does not say.
    NotStated,
}

const POSITIONING_ERROR: Tag = gps(0x1f);

pub(super) fn position(exif: &Exif, notes: &mut Vec<String>) -> Option<Position> {
    let (latitude, longitude) = (reals(exif, Tag::GPSLatitude), reals(exif, Tag::GPSLongitude));
    exif.get_field(Tag::GPSLatitude, ::exif::In::PRIMARY)?;
    let mut refuse = |why: &str| {
        notes.push(format!("the position was left out: {why}"));
        None
    };
    if text(exif, Tag::GPSStatus).is_some_and(|s| s.eq_ignore_ascii_case("V")) {
        return refuse("the receiver had none when the picture was taken");
    }
    let (Some(latitude), Some(longitude)) = (latitude, longitude) else {
        return refuse("a number in it divides by zero or is missing");
    };
    let north = hemisphere(text(exif, Tag::GPSLatitudeRef), 'N', 'S');
    let east = hemisphere(text(exif, Tag::GPSLongitudeRef), 'E', 'W');
    let (Some(north), Some(east)) = (north, east) else {
        return refuse("it does not say which hemisphere it means");
    };
    let (latitude_deg, longitude_deg) = (north * degrees(&latitude), east * degrees(&longitude));
    if latitude_deg.abs() > 90.0 || longitude_deg.abs() > 180.0 {
        return refuse("it is no place on Earth");
    }
    if latitude_deg == 0.0 && longitude_deg == 0.0 {
        return refuse("it is exactly 0, 0, which cameras write when they have none");
    }
    // 0 and 2 lie above the sea or the ellipsoid, 1 and 3 below (EXIF 3.0, table 19; from memory).
    let below = whole(exif, Tag::GPSAltitudeRef).is_some_and(|r| r % 2 == 1);
    let altitude_m = real(exif, Tag::GPSAltitude).map(|m| if below { -m } else { m });
    let accuracy_m = real(exif, POSITIONING_ERROR).filter(|m| *m > 0.0);
    Some(Position { latitude_deg, longitude_deg, altitude_m, accuracy_m })
}

fn hemisphere(letter: Option<String>, plus: char, minus: char) -> Option<f64> {
    match letter?.chars().next()?.to_ascii_uppercase() {
        c if c == plus => Some(1.0),
        c if c == minus => Some(-1.0),
        _ => None,
    }
}

/// Degrees, minutes and seconds as one number; what is left out counts as zero.
fn degrees(parts: &[f64]) -> f64 {
    let part = |n: usize| parts.get(n).copied().unwrap_or(0.0);
    part(0) + part(1) / 60.0 + part(2) / 3600.0
}

pub(super) fn heading(exif: &Exif, notes: &mut Vec<String>) -> Option<Heading> {
    let degrees = real(exif, Tag::GPSImgDirection)?;
    if !(0.0..=360.0).contains(&degrees) {
        notes.push(format!("the direction {degrees} was left out: 0 to 360 degrees have a meaning"));
        return None;
    }
    let north = match text(exif, Tag::GPSImgDirectionRef).and_then(|r| r.chars().next()) {
        Some('T' | 't') => North::True,
        Some('M' | 'm') => North::Magnetic,
        _ => North::NotStated,
    };
    Some(Heading { degrees, north })
}
