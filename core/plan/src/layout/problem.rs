//! The margins of a layout as a system of sums of two unknowns, and the least worst departure it allows.
//!
//! Every unknown is the distance from a side of a bay to its nearest hole. Given the margins `a` and `b` of a bay of
//! free length `L` with `k + 1` holes, uniform gaps inside it are best: the gaps have a fixed sum `L - a - b`, and both
//! the greatest departure and the sum of squared departures are convex and symmetric in them, so equal gaps are least
//! in both. (A pattern mirrored about the middle of its bay stays mirrored with uniform gaps.) What remains are
//! conditions on sums of two margins:
//!
//! - a gap inside a bay departs by at most `d`: `|a + b - (L - k T)| <= k d`;
//! - a gap across a keep-clear length of width `W` departs by at most `d`: `|b + a' - (T - W)| <= d`;
//! - each margin lies in its own range.
//!
//! Such a system (at most two unknowns a condition, with coefficients of one) has a solution in real numbers exactly
//! when the doubled graph of its conditions has no negative cycle, which the Bellman-Ford method decides: bounds are
//! passed from unknown to unknown; when they come to rest with every lower bound at or below its upper bound, the
//! middles of the bounds are a solution, since `upper(x) + lower(y) <= c` and `lower(x) + upper(y) <= c` add up to the
//! condition; when they have not come to rest after as many rounds as the graph has nodes, there is a negative cycle.
//! The least `d` is found by halving over whole micrometres.
//!
//! Numbers are doubled micrometres throughout, so that the middle of a bay is a whole number.

use std::collections::BTreeMap;

/// A margin: a constant, an unknown, or a constant less an unknown. Doubled micrometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Margin {
    pub unknown: Option<usize>,
    /// 1 or -1.
    pub sign: i64,
    pub constant: i64,
}

impl Margin {
    pub const fn constant(constant: i64) -> Self {
        Self { unknown: None, sign: 1, constant }
    }

    pub const fn unknown(unknown: usize) -> Self {
        Self { unknown: Some(unknown), sign: 1, constant: 0 }
    }

    /// `total` less this margin.
    pub const fn rest_of(self, total: i64) -> Self {
        Self { unknown: self.unknown, sign: -self.sign, constant: total - self.constant }
    }

    pub fn plus(self, constant: i64) -> Self {
        Self { constant: self.constant + constant, ..self }
    }
}

/// One or two unknowns with their coefficients, in order of the unknowns; a coefficient of zero means none.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Sum {
    pub first: (usize, i64),
    pub second: (usize, i64),
}

impl Sum {
    /// The sum of two margins, and the constant that is left over.
    fn of(a: Margin, b: Margin) -> (Self, i64) {
        let constant = a.constant + b.constant;
        let mut parts: Vec<(usize, i64)> =
            [a, b].iter().filter_map(|margin| margin.unknown.map(|unknown| (unknown, margin.sign))).collect();
        parts.sort_unstable();
        if let [one, other] = parts[..]
            && one.0 == other.0
        {
            parts = vec![(one.0, one.1 + other.1)];
        }
        parts.retain(|(_, coefficient)| *coefficient != 0);
        let none = (0, 0);
        let first = parts.first().copied().unwrap_or(none);
        (Self { first, second: parts.get(1).copied().unwrap_or(none) }, constant)
    }
}

/// A run of equal gaps whose departure is `|sum - centre| / (2 shares)`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Gaps {
    pub sum: Sum,
    pub centre: i64,
    pub shares: i64,
}

/// The whole system.
#[derive(Clone, Debug, Default)]
pub(super) struct Problem {
    /// Least and greatest value of each unknown.
    pub ranges: Vec<(i64, i64)>,
    /// The gaps, with how often each occurs. Rails with few kinds of bay have few of them, however long they are.
    pub gaps: BTreeMap<Gaps, i64>,
    /// Sums that may not exceed a value, so that holes keep their order and their least spacing.
    pub rooms: Vec<(Sum, i64)>,
    /// Margins that no gap measures, with the value that is liked best and how often each occurs.
    pub liked: BTreeMap<(Sum, i64), i64>,
}

impl Problem {
    /// A margin between two values.
    pub fn margin(&mut self, least: i64, most: i64) -> Margin {
        if most <= least {
            return Margin::constant(least);
        }
        self.ranges.push((least, most));
        Margin::unknown(self.ranges.len() - 1)
    }

    /// Gaps whose departure is `|a + b - centre| / (2 shares)`.
    pub fn add_gaps(&mut self, a: Margin, b: Margin, centre: i64, shares: i64) {
        let (sum, constant) = Sum::of(a, b);
        *self.gaps.entry(Gaps { sum, centre: centre - constant, shares }).or_insert(0) += 1;
    }

    /// `a + b` may not exceed `most`.
    pub fn add_room(&mut self, a: Margin, b: Margin, most: i64) {
        let (sum, constant) = Sum::of(a, b);
        if sum.first.1 != 0 {
            self.rooms.push((sum, most - constant));
        }
    }

    /// Among equally good layouts, one with this margin near `value` is liked better.
    pub fn add_liking(&mut self, margin: Margin, value: i64) {
        let (sum, constant) = Sum::of(margin, Margin::constant(0));
        if sum.first.1 != 0 {
            *self.liked.entry((sum, value - constant)).or_insert(0) += 1;
        }
    }

    /// The least worst departure in whole micrometres, rounded up, and a solution that keeps to it (doubled twice, so
    /// that the middle of two bounds is whole).
    pub fn least_worst(&self) -> (i64, Vec<i64>) {
        let mut low = 0;
        let mut high = 0;
        for gaps in self.gaps.keys() {
            let (least, most) = self.reach(gaps.sum);
            let farthest = (least - gaps.centre).abs().max((most - gaps.centre).abs());
            high = high.max(up(farthest, 2 * gaps.shares));
            // No layout does better than a gap can on its own.
            let nearest = (least - gaps.centre).max(gaps.centre - most).max(0);
            low = low.max(up(nearest, 2 * gaps.shares));
        }
        let mut best = self.middles(low);
        if best.is_none() {
            while high - low > 1 {
                let middle = low + (high - low) / 2;
                match self.middles(middle) {
                    Some(found) => (high, best) = (middle, Some(found)),
                    None => low = middle,
                }
            }
            low = high;
            best = best.or_else(|| self.middles(high));
        }
        // Where even the widest departure has no solution the ranges contradict each other; their middles are then the
        // best that can be said, and placing keeps every hole in its bay.
        let solution = best.unwrap_or_else(|| self.ranges.iter().map(|(least, most)| least + most).collect());
        (low, solution)
    }

    /// Least and greatest value of a sum when each unknown keeps its own range.
    fn reach(&self, sum: Sum) -> (i64, i64) {
        [sum.first, sum.second].iter().fold((0, 0), |(least, most), &(unknown, coefficient)| match coefficient {
            0 => (least, most),
            c if c > 0 => (least + c * self.ranges[unknown].0, most + c * self.ranges[unknown].1),
            c => (least + c * self.ranges[unknown].1, most + c * self.ranges[unknown].0),
        })
    }

    /// Passes bounds on until they rest: the middles of the bounds, doubled, or nothing where there is no solution.
    fn middles(&self, worst: i64) -> Option<Vec<i64>> {
        let conditions: Vec<(Sum, i64, i64)> = self
            .gaps
            .keys()
            .map(|gaps| {
                let reach = 2 * gaps.shares * worst;
                (gaps.sum, gaps.centre - reach, gaps.centre + reach)
            })
            .chain(self.rooms.iter().map(|(sum, most)| (*sum, i64::MIN / 4, *most)))
            .collect();
        if conditions.iter().any(|(sum, least, most)| sum.first.1 == 0 && (*least > 0 || *most < 0)) {
            return None;
        }
        let mut bounds = self.ranges.clone();
        // One round forwards and one back carries a bound along a whole rail.
        for _ in 0..=bounds.len() + 1 {
            let mut changed = false;
            for condition in conditions.iter().chain(conditions.iter().rev()) {
                changed |= tighten(&mut bounds, condition)?;
            }
            if !changed {
                return Some(bounds.iter().map(|(least, most)| least + most).collect());
            }
        }
        None
    }
}

/// Divides and rounds up.
fn up(value: i64, by: i64) -> i64 {
    -(-value).div_euclid(by)
}

/// Tightens the bounds of the unknowns of one condition; nothing where a lower bound passes an upper one.
fn tighten(bounds: &mut [(i64, i64)], condition: &(Sum, i64, i64)) -> Option<bool> {
    let (sum, least, most) = *condition;
    let mut changed = false;
    for (this, other) in [(sum.first, sum.second), (sum.second, sum.first)] {
        if this.1 == 0 {
            continue;
        }
        let (other_least, other_most) = match other.1 {
            0 => (0, 0),
            c if c > 0 => bounds[other.0],
            _ => (-bounds[other.0].1, -bounds[other.0].0),
        };
        // The coefficient is 1 or 2 either way; values with coefficient 2 are even, so nothing is lost by rounding.
        let (least, most) = (least - other_most, most - other_least);
        let (least, most) = if this.1 > 0 { (least, most) } else { (-most, -least) };
        let size = this.1.abs();
        let bound = &mut bounds[this.0];
        let tightened = (bound.0.max(up(least, size)), bound.1.min(most.div_euclid(size)));
        if tightened.0 > tightened.1 {
            return None;
        }
        changed |= tightened != *bound;
        *bound = tightened;
    }
    Some(changed)
}
