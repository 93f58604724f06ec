//! How many presence sensors a rail needs, and where.
//!
//! A sensor sees a length of walkway to both sides of itself, half to each. The length is the catalogue's at the height
//! stated there. A field of view has a fixed angle, so that nearer the ground it takes in less, in proportion to the
//! height; higher than stated its reach is not known and the stated length stands. Both ways the figure is never more
//! than what the maker states. Lengths are taken along the tube, which is never shorter than the straight line that the
//! sensor looks along. A turn in plan of more than [`LOOKS_ROUND`] ends what is seen (common practice, no source).

use survey::{FeatureKind, Piece, Plane, Rail};
use units::Length;

use crate::build::stretches::on_rail;
use crate::build::supply::ways_in;
use crate::document::SensorReach;

/// A turn in plan beyond which a sensor is not trusted to see, degrees.
const LOOKS_ROUND: f64 = 30.0;

/// Length of walkway that a sensor sees at a height.
pub(crate) fn seen_at(detects: Length, at_height: Length, height: Length) -> Length {
    if height >= at_height || at_height <= Length::ZERO {
        return detects.max(Length::ZERO);
    }
    let share = i128::from(detects.to_um()) * i128::from(height.max(Length::ZERO).to_um());
    Length::um(i64::try_from(share / i128::from(at_height.to_um())).unwrap_or(0).max(0))
}

/// Stretches of a rail along which a sensor sees, by chainage.
pub(crate) fn legs(rail: &Rail) -> Vec<(Length, Length)> {
    let mut legs = Vec::new();
    let mut start = Length::ZERO;
    for placed in rail.placed_pieces() {
        if let Piece::Bend(bend) = placed.piece
            && matches!(bend.plane, Plane::Left | Plane::Right)
            && bend.angle.get().abs() > LOOKS_ROUND
        {
            let middle = placed.start + (placed.end - placed.start).half();
            legs.push((start, middle));
            start = middle;
        }
    }
    legs.push((start, rail.length()));
    legs.retain(|(from, to)| to > from);
    legs
}

/// What a sensor at a chainage sees of its rail, where it sees `seen` at a height: half to each side, within its legs.
///
/// A sensor at a turn stands on the legs to both sides of it and looks along each.
pub(crate) fn reach(rail: &Rail, at: Length, seen: Length, height: Length) -> SensorReach {
    let own = || legs(rail).into_iter().filter(|(from, to)| (*from..=*to).contains(&at));
    let from = own().map(|(from, _)| from).min().unwrap_or(at);
    let to = own().map(|(_, to)| to).max().unwrap_or(at);
    SensorReach { from: (at - seen.half()).max(from), to: (at + seen.half()).min(to), seen, height }
}

/// Chainages where a sensor can be fixed and wired: posts, brackets and ways in.
pub(crate) fn fixings(rail: &Rail) -> Vec<Length> {
    let length = rail.length();
    let posts = rail.features.iter().filter(|feature| matches!(feature.kind, FeatureKind::Post { .. }));
    let mut at: Vec<Length> = posts.map(|post| post.chainage.value).filter(|at| on_rail(*at, length)).collect();
    at.extend(ways_in(rail).into_iter().map(|way_in| way_in.chainage));
    at.sort_unstable();
    at.dedup();
    at
}

/// Whether a rail has posts or brackets for a sensor; where it has none a sensor is clamped to the tube anywhere.
pub(crate) fn has_posts(rail: &Rail) -> bool {
    rail.features.iter().any(|feature| matches!(feature.kind, FeatureKind::Post { .. }))
}

/// Sensors of a stretch and what none of them sees.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Coverage {
    /// Chainages of the sensors.
    pub sensors: Vec<Length>,
    /// Stretches that no sensor sees.
    pub unseen: Vec<(Length, Length)>,
}

/// The fewest sensors at these chainages (in order) that see all of a leg that any of them can see.
///
/// Each time the farthest that still sees the first chainage not yet seen is taken; no choice of fewer is possible, since
/// every choice needs one that sees this chainage and none of those reaches farther.
pub(crate) fn fewest(leg: (Length, Length), fixings: &[Length], seen: Length) -> Coverage {
    let half = seen.half();
    let mut coverage = Coverage::default();
    let mut at = leg.0;
    let here = || fixings.iter().copied().filter(|fixing| *fixing >= leg.0 && *fixing <= leg.1);
    while at < leg.1 {
        let next = here().rfind(|fixing| *fixing - half <= at && *fixing + half > at);
        if let Some(sensor) = next {
            coverage.sensors.push(sensor);
            at = sensor + half;
            continue;
        }
        let farther = here().map(|fixing| fixing - half).find(|from| *from > at && half > Length::ZERO);
        let to = farther.unwrap_or(leg.1).min(leg.1);
        coverage.unseen.push((at, to));
        at = to;
    }
    coverage
}

/// Of all choices of the fewest sensors one that keeps control cable short, which enters the tube at one of `entries`.
///
/// The farthest sensors from one end and those from the other bound where each sensor may stand, and the first of the one
/// with the rest of the other see the whole leg as well. So the first sensor can stand as far in as possible and the last
/// one too, and what lies between them is passed by the cable anyway; a single sensor stands nearest to an entry.
pub(crate) fn nearest(leg: (Length, Length), fixings: &[Length], seen: Length, entries: &[Length]) -> Coverage {
    let forward = fewest(leg, fixings, seen);
    if !forward.unseen.is_empty() || forward.sensors.is_empty() {
        return forward;
    }
    let turned: Vec<Length> = fixings.iter().rev().map(|fixing| -*fixing).collect();
    let mut back = fewest((-leg.1, -leg.0), &turned, seen).sensors;
    back.reverse();
    let back: Vec<Length> = back.into_iter().map(|fixing| -fixing).collect();
    let sensors = match (forward.sensors.as_slice(), back.as_slice()) {
        ([high], [low]) => {
            let from_entry = |at: &Length| entries.iter().map(|entry| (*entry - *at).abs()).min();
            let within = fixings.iter().copied().filter(|at| (*low..=*high).contains(at));
            vec![within.min_by_key(|at| (from_entry(at), *at)).unwrap_or(*high)]
        }
        ([first, ..], [_, rest @ ..]) if forward.sensors.len() == back.len() => {
            std::iter::once(*first).chain(rest.iter().copied()).collect()
        }
        _ => forward.sensors,
    };
    Coverage { sensors, unseen: Vec::new() }
}

/// Evenly spread chainages that see all of a leg, where a sensor can be fixed anywhere: as few as its length asks for.
pub(crate) fn anywhere(leg: (Length, Length), seen: Length) -> Vec<Length> {
    let length = leg.1 - leg.0;
    if seen <= Length::um(1) || length <= Length::ZERO {
        return Vec::new();
    }
    // Halves are rounded to whole micrometres, so one is kept back.
    let count = (length.to_um() - 1) / (seen.to_um() - 1) + 1;
    let count = count.min(MOST_ANYWHERE);
    (0..count)
        .map(|i| {
            leg.0 + Length::um((i128::from(length.to_um()) * i128::from(2 * i + 1) / i128::from(2 * count)) as i64)
        })
        .collect()
}

/// More sensors than this on one leg are no plan; what is left is said to be unseen.
const MOST_ANYWHERE: i64 = 1_000;

#[cfg(test)]
mod tests {
    use super::*;

    fn mm(values: &[i64]) -> Vec<Length> {
        values.iter().map(|value| Length::mm(*value)).collect()
    }

    #[test]
    fn a_lower_sensor_sees_less_and_a_higher_one_no_more() {
        let seen = |height| seen_at(Length::mm(8_000), Length::mm(2_400), Length::mm(height));
        // By similar triangles, worked by hand: 8000 × 1200 / 2400.
        assert_eq!(seen(1_200), Length::mm(4_000));
        assert_eq!(seen(2_400), Length::mm(8_000));
        assert_eq!(seen(5_000), Length::mm(8_000));
        assert_eq!(seen(0), Length::ZERO);
        assert_eq!(seen_at(Length::mm(8_000), Length::ZERO, Length::mm(1)), Length::mm(8_000));
    }

    #[test]
    fn the_fewest_sensors_that_see_a_leg() {
        let leg = (Length::ZERO, Length::mm(10_000));
        let found = fewest(leg, &mm(&[1_000, 2_000, 5_000, 8_000, 9_000]), Length::mm(4_000));
        assert_eq!(found, Coverage { sensors: mm(&[2_000, 5_000, 9_000]), unseen: vec![] });
    }

    #[test]
    fn what_no_sensor_sees_is_named() {
        let leg = (Length::ZERO, Length::mm(10_000));
        let found = fewest(leg, &mm(&[2_000, 9_000]), Length::mm(4_000));
        assert_eq!(found.sensors, mm(&[2_000, 9_000]));
        assert_eq!(found.unseen, [(Length::mm(4_000), Length::mm(7_000))]);
        assert_eq!(fewest(leg, &[], Length::mm(4_000)).unseen, [leg]);
        assert_eq!(fewest(leg, &mm(&[5_000]), Length::ZERO).unseen, [leg]);
    }

    /// Tube that a line from an entry through all sensors lies in.
    fn cable(sensors: &[Length], entry: Length) -> Length {
        let (first, last) = (sensors[0].min(sensors[sensors.len() - 1]), sensors[sensors.len() - 1]);
        let ways = [(entry - first).abs() + (last - first), (entry - last).abs() + (last - first)];
        ways[0].min(ways[1])
    }

    #[test]
    fn greedy_is_the_fewest_by_trying_every_choice() {
        // Every subset of eight fixings, for several lengths seen: none smaller sees as much.
        let at = mm(&[300, 1_100, 1_900, 3_000, 4_200, 4_900, 6_100, 7_000]);
        let leg = (Length::ZERO, Length::mm(7_500));
        for seen in [1_200, 1_700, 2_200, 3_000, 4_100, 7_500, 16_000] {
            let half = Length::mm(seen).half();
            let unseen = |sensors: &[Length]| fewest(leg, sensors, Length::mm(seen)).unseen;
            let found = fewest(leg, &at, Length::mm(seen));
            for subset in 0..1_u32 << at.len() {
                let chosen: Vec<Length> =
                    at.iter().enumerate().filter(|(i, _)| subset & (1 << i) != 0).map(|(_, at)| *at).collect();
                if unseen(&chosen) == found.unseen {
                    assert!(chosen.len() >= found.sensors.len(), "{seen}: {chosen:?} against {:?}", found.sensors);
                    if found.unseen.is_empty() && chosen.len() == found.sensors.len() {
                        // No choice of as few has a shorter cable from an entry before, at or behind them.
                        for entry in [mm(&[0])[0], mm(&[3_000])[0], mm(&[7_500])[0]] {
                            let near = nearest(leg, &at, Length::mm(seen), &[entry]);
                            assert!(unseen(&near.sensors).is_empty() && near.sensors.len() == chosen.len());
                            assert!(cable(&near.sensors, entry) <= cable(&chosen, entry), "{seen} {near:?} {chosen:?}");
                        }
                    }
                }
            }
            assert!(found.sensors.windows(2).all(|pair| pair[0] + half >= pair[1] - half || !found.unseen.is_empty()));
        }
    }

    #[test]
    fn a_sensor_anywhere_leaves_no_gap() {
        for (length, seen) in [(10_000, 3_000), (9_000, 3_000), (1, 50), (6_001, 2_000)] {
            let leg = (Length::mm(500), Length::mm(500 + length));
            let at = anywhere(leg, Length::mm(seen));
            assert!(fewest(leg, &at, Length::mm(seen)).unseen.is_empty(), "{length} {seen} {at:?}");
        }
        assert!(anywhere((Length::ZERO, Length::mm(5)), Length::ZERO).is_empty());
    }
}
