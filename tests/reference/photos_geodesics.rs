//! Distances and bearings against published geodesics.
//!
//! Sources: C. F. F. Karney, GeodTest (lines of the published set, computed with many digits), and GeodSolve of
//! GeographicLib for poles and antimeridian; see `fixtures/reference/README.md`.

use photos::place::{Earth, Frame, way};
use survey::Origin;
use units::{Degrees, Length};

struct Line {
    from: Earth,
    to: Earth,
    bearing_deg: f64,
    metres: f64,
}

fn lines(table: &str) -> Vec<Line> {
    table
        .lines()
        .skip(1)
        .map(|row| {
            let v: Vec<f64> = row.split(',').map(|v| v.parse().expect("a number")).collect();
            Line {
                from: Earth { latitude_deg: v[0], longitude_deg: v[1] },
                to: Earth { latitude_deg: v[3], longitude_deg: v[4] },
                bearing_deg: v[2],
                metres: v[6],
            }
        })
        .collect()
}

const GEODTEST: &str = include_str!("../../fixtures/reference/geodesics_geodtest.csv");
const GEODSOLVE: &str = include_str!("../../fixtures/reference/geodesics_geodsolve.csv");

/// Degrees between two bearings.
fn turn(a: f64, b: f64) -> f64 {
    let d = (a - b).rem_euclid(360.0);
    d.min(360.0 - d)
}

#[test]
fn distances_are_the_published_ones_within_a_millimetre() {
    let mut near = 0;
    for line in lines(GEODTEST).iter().chain(&lines(GEODSOLVE)) {
        let found = way(line.from, line.to);
        assert!((found.metres - line.metres).abs() < 0.001, "{:?}: {} m, not {}", line.from, found.metres, line.metres);
        near += usize::from(line.metres <= 1_000_000.0);
    }
    assert!(near >= 140, "{near} lines up to 1,000 km");
}

#[test]
fn bearings_are_the_published_ones_at_the_poles_and_across_the_antimeridian() {
    let (mut poles, mut crossing) = (0, 0);
    for line in lines(GEODTEST).iter().chain(&lines(GEODSOLVE)) {
        let found = way(line.from, line.to);
        assert!((0.0..360.0).contains(&found.bearing_deg));
        // A place is given to about a nanometre, so a bearing is worth that over the distance, and 1e-9 degrees.
        let worth = (2e-8 / line.metres).to_degrees() + 1e-9;
        // Close to a pole longitudes of the far end lose their weight, and with them the digits of the direction.
        let worth = if line.from.latitude_deg.abs() > 89.99999 { 1e-6 } else { worth };
        assert!(
            turn(found.bearing_deg, line.bearing_deg) < worth,
            "{:?}: {} for {}",
            line.from,
            found.bearing_deg,
            line.bearing_deg
        );
        poles += usize::from(line.from.latitude_deg.abs() >= 89.999);
        crossing += usize::from((line.from.longitude_deg - line.to.longitude_deg).abs() > 180.0);
    }
    assert!(poles >= 30 && crossing >= 10, "{poles} from the poles, {crossing} across the antimeridian");
}

#[test]
fn the_site_frame_reaches_the_far_end_of_published_lines() {
    let mut looked_at = 0;
    for line in lines(GEODTEST).iter().chain(&lines(GEODSOLVE)).filter(|line| line.metres <= 1_000_000.0) {
        let origin = Origin {
            latitude: Degrees::new(line.from.latitude_deg),
            longitude: Degrees::new(line.from.longitude_deg),
            accuracy: Some(Length::mm(1)),
            bearing: Degrees::new(line.bearing_deg),
            level: None,
        };
        let there = Frame::of(&origin).to_earth(0.0, line.metres);
        let off = way(there, line.to).metres;
        assert!(off < 0.001, "{:?}: {off} m off", line.from);
        looked_at += 1;
    }
    assert!(looked_at >= 140, "{looked_at}");
}
