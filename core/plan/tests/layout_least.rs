//! The least worst departure and the least squares against trying everything on small rails.
//!
//! The oracle is told nothing but the rail and the counts. For the even pattern it tries every margin in steps of half a
//! micrometre (a system of sums of two unknowns with whole bounds has a solution in halves if it has one at all); for
//! even spacing it tries every position of every hole on a grid by dynamic programming, without assuming that gaps inside
//! a bay are equal. Least squares are checked by looking for a change that lessens them.

mod layout_cases;

use std::collections::BTreeMap;

use layout_cases::{counts, laid, post, straight};
use plan::layout::{Laid, SpacingRule, Stretch, StretchLayout};
use proptest::prelude::*;
use units::Length;

/// Bays, each with whether it is turned round.
type Members = Vec<(usize, bool)>;

/// A change of margins: bays with what happens to their two margins.
type Way = Vec<(usize, f64, f64)>;

/// Micrometres.
fn rule(target: i64, margins: (i64, i64)) -> SpacingRule {
    SpacingRule {
        target: Length::um(target),
        least_margin: Length::um(margins.0),
        greatest_margin: Length::um(margins.1),
        least_spacing: Length::ZERO,
        grid: Length::um(1),
    }
}

/// Bays and posts in turn, starting and ending with a bay, times `unit` micrometres.
fn rail(bays: &[i64], posts: &[i64], unit: i64) -> Stretch {
    let mut at = 0;
    let mut clears = Vec::new();
    for (i, bay) in bays.iter().enumerate() {
        at += bay * unit;
        if let Some(width) = posts.get(i).filter(|_| i + 1 < bays.len()) {
            clears.push(post(Length::um(at), Length::um(at + width * unit)));
            at += width * unit;
        }
    }
    let mut stretch = straight(Length::ZERO, Length::um(at));
    stretch.keep_clears = clears;
    stretch
}

/// Worst departure and sum of squared departures of given margins with equal gaps inside each bay.
fn judged(bays: &[i64], posts: &[i64], counts: &[usize], margins: &[(f64, f64)], target: i64) -> (f64, f64) {
    let (mut worst, mut squares) = (0.0_f64, 0.0);
    // The way back to the last hole.
    let mut open: Option<f64> = None;
    let mut judge = |sum: f64, gaps: usize| {
        let off = sum / gaps as f64 - target as f64;
        worst = worst.max(off.abs());
        squares += gaps as f64 * off * off;
    };
    for (i, length) in bays.iter().enumerate() {
        if i > 0 {
            open = open.map(|way| way + posts[i - 1] as f64);
        }
        let (a, b) = margins[i];
        if counts[i] == 0 {
            open = open.map(|way| way + *length as f64);
            continue;
        }
        if let Some(way) = open {
            judge(way + a, 1);
        }
        if counts[i] > 1 {
            judge(*length as f64 - a - b, counts[i] - 1);
        }
        open = Some(b);
    }
    (worst, squares)
}

/// Which bays share a pattern, told from lengths and the posts beside: a name, and whether the bay is turned round.
fn likeness(bays: &[i64], posts: &[i64], i: usize) -> (Vec<i64>, bool) {
    let last = bays.len() - 1;
    if last == 0 {
        (vec![-2, bays[i]], false)
    } else if i == 0 {
        (vec![-1, bays[i], posts[0]], false)
    } else if i == last {
        (vec![-1, bays[i], posts[last - 1]], true)
    } else {
        let (left, right) = (posts[i - 1], posts[i]);
        (vec![bays[i], left.min(right), left.max(right)], left > right)
    }
}

/// The least worst departure of an even pattern, by trying all of them.
fn even_pattern_by_trying(bays: &[i64], posts: &[i64], counts: &[usize], target: i64, range: (i64, i64)) -> f64 {
    let last = bays.len() - 1;
    // The bays that share margins, told from lengths and the posts beside; both margins of an inner bay are one.
    let mut free: Vec<(Members, Vec<(i32, i32)>)> = Vec::new();
    let mut known: BTreeMap<Vec<i64>, usize> = BTreeMap::new();
    let alone = bays.len() == 1;
    for (i, length) in bays.iter().enumerate() {
        let count = i64::try_from(counts[i]).unwrap();
        let inner = 4 * (count - 1).max(0);
        let (name, turned) = likeness(bays, posts, i);
        if let Some(class) = known.get(&name) {
            free[*class].0.push((i, turned));
            continue;
        }
        let total = 2 * length;
        let mut choices: Vec<(i64, i64)> = Vec::new();
        if count == 0 {
            choices.push((0, 0));
        } else if count == 1 && (alone || (i != 0 && i != last)) {
            choices.push((*length, *length));
        } else if alone {
            let fits = |m: &i64| 2 * m + inner <= total;
            choices.extend((2 * range.0..=2 * range.1).filter(fits).map(|m| (m, m)));
        } else if i == 0 || i == last {
            for a in (2 * range.0..=2 * range.1).filter(|a| *a <= total) {
                let rest = total - a - inner;
                if count == 1 {
                    choices.push((a, total - a));
                } else {
                    choices.extend((0..=rest).map(|b| (a, b)));
                }
            }
        } else {
            choices.extend((0..=(total - inner) / 2).map(|m| (m, m)));
        }
        known.insert(name, free.len());
        let small = |value: i64| i32::try_from(value).unwrap();
        free.push((vec![(i, turned)], choices.iter().map(|(a, b)| (small(*a), small(*b))).collect()));
    }
    let mut best = f64::INFINITY;
    let mut at = vec![0; free.len()];
    let mut margins = vec![(0.0, 0.0); bays.len()];
    loop {
        for ((members, choices), at) in free.iter().zip(&at) {
            for (i, turned) in members {
                let (a, b) = choices[*at];
                let (a, b) = if *turned { (b, a) } else { (a, b) };
                margins[*i] = (f64::from(a) / 2.0, f64::from(b) / 2.0);
            }
        }
        best = best.min(judged(bays, posts, counts, &margins, target).0);
        let Some(next) = (0..at.len()).find(|i| at[*i] + 1 < free[*i].1.len()) else { return best };
        at[..next].fill(0);
        at[next] += 1;
    }
}

/// The least worst departure of any layout with its holes on a grid of `step`.
fn even_spacing_by_trying(
    spans: &[(i64, i64)],
    counts: &[usize],
    target: i64,
    ends: ((i64, i64), (i64, i64)),
    step: usize,
) -> i64 {
    let slots: Vec<(i64, i64)> =
        spans.iter().zip(counts).flat_map(|(span, count)| std::iter::repeat_n(*span, *count)).collect();
    let places = |i: usize| -> Vec<i64> {
        let (low, high) = slots[i];
        (low..=high)
            .step_by(step)
            .filter(|at| i != 0 || (ends.0.0..=ends.0.1).contains(at))
            .filter(|at| i + 1 != slots.len() || (ends.1.0..=ends.1.1).contains(at))
            .collect()
    };
    let mut reached: Vec<(i64, i64)> = places(0).into_iter().map(|at| (at, 0)).collect();
    for i in 1..slots.len() {
        let next = places(i).into_iter().map(|at| {
            let before = reached.iter().filter(|(before, _)| *before < at);
            (at, before.map(|(before, worst)| (at - before - target).abs().max(*worst)).min().unwrap_or(i64::MAX))
        });
        reached = next.collect();
    }
    reached.iter().map(|(_, worst)| *worst).min().unwrap_or(i64::MAX)
}

/// Looks for a small change of margins that keeps the worst departure and has less squares. `ways` are the changes that
/// are free, each a list of bays with what happens to their two margins. All their combinations with factors -1, 0 and 1
/// are tried: where the conditions are sums of two unknowns, the edges of what is allowed run in such directions, and a
/// convex sum of squares that no edge lessens is least. Returns the squares gained.
fn gain_by_changing(case: &Case<'_>, ways: &[Way], allowed: f64) -> f64 {
    let start = case.squares(&case.margins);
    let mut gain = 0.0_f64;
    for size in [5.0, 40.0, 300.0] {
        for mut code in 1..3_usize.pow(u32::try_from(ways.len()).unwrap()) {
            let mut margins = case.margins.clone();
            for way in ways {
                let factor = size * [0.0, 1.0, -1.0][code % 3];
                code /= 3;
                for (bay, a, b) in way {
                    margins[*bay].0 += factor * a;
                    margins[*bay].1 += factor * b;
                }
            }
            if case.allows(&margins, allowed) {
                gain = gain.max(start - case.squares(&margins));
            }
        }
    }
    gain
}

/// A rail with its layout, in micrometres.
struct Case<'a> {
    bays: &'a [i64],
    posts: &'a [i64],
    counts: &'a [usize],
    target: i64,
    range: (i64, i64),
    margins: Vec<(f64, f64)>,
}

impl Case<'_> {
    /// The margins of a layout: how far its first and last holes stand from the sides of each bay.
    fn margins_of(layout: &StretchLayout, laid: &Laid) -> Vec<(f64, f64)> {
        let holes: Vec<Length> = laid.holes.iter().map(|hole| hole.chainage).collect();
        let mut next = 0;
        layout
            .bays
            .iter()
            .map(|bay| {
                let own = &holes[next..next + bay.count];
                next += bay.count;
                let (Some(first), Some(last)) = (own.first(), own.last()) else { return (0.0, 0.0) };
                ((*first - bay.from).to_um() as f64, (bay.to - *last).to_um() as f64)
            })
            .collect()
    }

    fn squares(&self, margins: &[(f64, f64)]) -> f64 {
        judged(self.bays, self.posts, self.counts, margins, self.target).1
    }

    fn allows(&self, margins: &[(f64, f64)], worst: f64) -> bool {
        let last = self.bays.len() - 1;
        let range = self.range.0 as f64..=self.range.1 as f64;
        let inside = margins.iter().zip(self.bays).zip(self.counts).all(|(((a, b), length), count)| {
            let room = 2.0 * count.saturating_sub(1) as f64;
            *count == 0 || (*a >= 0.0 && *b >= 0.0 && a + b + room <= *length as f64)
        });
        inside
            && range.contains(&margins[0].0)
            && range.contains(&margins[last].1)
            && judged(self.bays, self.posts, self.counts, margins, self.target).0 <= worst
    }
}

/// Rounding a margin to a micrometre changes a gap by up to one, and the layout may have used the widening by half a
/// micrometre: a gain that such a change explains is none.
fn check_least(case: &Case<'_>, ways: &[Way], laid: &Laid) -> Result<(), TestCaseError> {
    let Some(gaps) = laid.figures.gaps else { return Ok(()) };
    let gain = gain_by_changing(case, ways, laid.least_worst.to_um() as f64);
    let noise = 4.0 * (gaps.count as f64) * (gaps.worst_departure.to_um() as f64 + 1.0);
    prop_assert!(gain <= noise, "gains {gain} of {}", gaps.sum_of_squares_um2);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_even_pattern_departs_less(
        bays in prop::collection::vec(3_i64..14, 1..5),
        posts in prop::collection::vec(1_i64..4, 4),
        twin in any::<bool>(),
        target in 5_i64..9,
        least in 0_i64..3,
        more in 0_i64..4,
    ) {
        let mut bays = bays;
        let last = bays.len() - 1;
        if twin {
            // Both ends alike, and all the posts.
            bays[last] = bays[0];
        }
        let posts = if twin { vec![posts[0]; 4] } else { posts };
        let margins = (least, least + more);
        // A rail whose end bays are long enough for their margins; others are remarked on and tried elsewhere.
        prop_assume!(bays[0] > margins.1 && bays[last] > margins.1 && (bays.len() > 1 || bays[0] > 2 * margins.1));
        let layout = laid(&rail(&bays, &posts, 1), &rule(target, margins));
        let counts = counts(&layout);
        prop_assume!(counts[0] > 0 && counts[last] > 0);
        let found = layout.pattern.least_worst.to_um();
        let worst = even_pattern_by_trying(&bays, &posts, &counts, target, margins);
        prop_assert_eq!(found as f64, (worst - 1e-9).ceil(), "bays {:?} posts {:?} counts {:?}", bays, posts, counts);
    }

    #[test]
    fn no_change_of_the_patterns_lessens_the_squares(
        bays in prop::collection::vec(4_i64..14, 1..6),
        posts in prop::collection::vec(1_i64..4, 5),
        twin in any::<bool>(),
        target in 5_i64..9,
        more in 1_i64..4,
    ) {
        let um = |units: &[i64]| -> Vec<i64> { units.iter().map(|unit| 1000 * unit).collect() };
        let (mut bays, posts) = (um(&bays), um(&if twin { vec![posts[0]; 5] } else { posts }));
        let last = bays.len() - 1;
        if twin {
            bays[last] = bays[0];
        }
        let range = (0, 1000 * more);
        prop_assume!(bays[0] > range.1 && bays[last] > range.1 && (bays.len() > 1 || bays[0] > 2 * range.1));
        let layout = laid(&rail(&bays, &posts, 1), &rule(1000 * target, range));
        let counts = counts(&layout);
        prop_assume!(counts[0] > 0 && counts[last] > 0);
        // What is free: both margins together of each kind of inner bay, each margin of each kind of end bay.
        let mut ways: BTreeMap<(Vec<i64>, usize), Way> = BTreeMap::new();
        for (i, count) in counts.iter().enumerate() {
            let (name, turned) = likeness(&bays, &posts, i);
            let (a, b) = if turned { ((0.0, 1.0), (1.0, 0.0)) } else { ((1.0, 0.0), (0.0, 1.0)) };
            let end = bays.len() > 1 && (i == 0 || i == last);
            let mut way = |which, change: (f64, f64)| {
                ways.entry((name.clone(), which)).or_default().push((i, change.0, change.1));
            };
            match (*count, end) {
                (0, _) | (1, false) => {}
                (1, true) => way(0, (a.0 - b.0, a.1 - b.1)),
                (_, false) => way(0, (1.0, 1.0)),
                (_, true) => {
                    way(0, a);
                    way(1, b);
                }
            }
        }
        let ways: Vec<_> = ways.into_values().collect();
        let margins = Case::margins_of(&layout, &layout.pattern);
        let case = Case { bays: &bays, posts: &posts, counts: &counts, target: 1000 * target, range, margins };
        check_least(&case, &ways, &layout.pattern)?;
    }

    #[test]
    fn no_change_of_the_even_spacing_lessens_the_squares(
        bays in prop::collection::vec(4_i64..14, 1..5),
        posts in prop::collection::vec(1_i64..4, 4),
        target in 5_i64..9,
        more in 1_i64..4,
    ) {
        let um = |units: &[i64]| -> Vec<i64> { units.iter().map(|unit| 1000 * unit).collect() };
        let (bays, posts) = (um(&bays), um(&posts));
        let last = bays.len() - 1;
        let range = (0, 1000 * more);
        prop_assume!(bays[0] > range.1 && bays[last] > range.1 && (bays.len() > 1 || bays[0] > 2 * range.1));
        let layout = laid(&rail(&bays, &posts, 1), &rule(1000 * target, range));
        let counts = counts(&layout);
        prop_assume!(counts[0] > 0 && counts[last] > 0);
        let Some(alternative) = &layout.alternative else { return Ok(()) };
        let mut ways = Vec::new();
        for (i, count) in counts.iter().enumerate() {
            match count {
                0 => {}
                1 => ways.push(vec![(i, 1.0, -1.0)]),
                _ => ways.extend([vec![(i, 1.0, 0.0)], vec![(i, 0.0, 1.0)]]),
            }
        }
        let margins = Case::margins_of(&layout, alternative);
        let case = Case { bays: &bays, posts: &posts, counts: &counts, target: 1000 * target, range, margins };
        check_least(&case, &ways, alternative)?;
    }

    #[test]
    fn no_even_spacing_departs_less(
        bays in prop::collection::vec(4_i64..30, 1..5),
        posts in prop::collection::vec(1_i64..6, 4),
        target in 8_i64..14,
        least in 0_i64..3,
        more in 0_i64..5,
    ) {
        let (unit, step) = (100, 20);
        let last = bays.len() - 1;
        let margins = (least, least + more);
        prop_assume!(bays[0] > margins.1 && bays[last] > margins.1 && (bays.len() > 1 || bays[0] > 2 * margins.1));
        let stretch = rail(&bays, &posts, unit);
        let layout = laid(&stretch, &rule(unit * target, (unit * margins.0, unit * margins.1)));
        let counts = counts(&layout);
        prop_assume!(counts[0] > 0 && counts[last] > 0);
        let Some(alternative) = layout.alternative else { return Ok(()) };
        let spans: Vec<(i64, i64)> = layout.bays.iter().map(|bay| (bay.from.to_um(), bay.to.to_um())).collect();
        let end = stretch.end.to_um();
        let ends = (
            (unit * margins.0, unit * margins.1),
            (end - unit * margins.1, end - unit * margins.0),
        );
        let found = alternative.least_worst.to_um();
        let worst = even_spacing_by_trying(&spans, &counts, unit * target, ends, step);
        // The oracle's grid may cost it up to one step, never less than nothing (and a micrometre of rounding up).
        let step = i64::try_from(step).unwrap();
        prop_assert!(found <= worst && worst <= found + step, "{found} against {worst}");
    }
}
