//! The least sum of squared departures among the layouts with the least worst departure.
//!
//! A convex quadratic programme: `min sum times/shares * (sum - centre)^2` over the polytope of [`Problem`] at its least
//! worst departure. Solved by a primal-dual interior-point method with Mehrotra's predictor and corrector, each step by
//! a Cholesky factor in skyline form, so that a rail of `n` different bays costs a multiple of `n`, and a rail of few
//! kinds of bay next to nothing.
//!
//! # Resolution
//! One micrometre: the polytope is widened by half a micrometre of departure, so that it has an inside even where the
//! least worst departure pins every hole, and the method stops far below that. Margins that no gap measures are drawn to
//! their preferred value with a hundred-thousandth of a gap's weight, which moves a gap by less than a micrometre.
//! Only `+ - * / sqrt` on doubles in a fixed order, so that every machine gets the same bits.
//!
//! # References
//! S. Mehrotra, "On the implementation of a primal-dual interior point method", SIAM Journal on Optimization 2(4),
//! 1992 (from memory).

use super::problem::{Problem, Sum};
use super::skyline::Skyline;

/// Weight of a liking against that of a gap.
const LIKING: f64 = 1e-5;
/// Widening of the departure, in millimetres.
const WIDENING_MM: f64 = 0.0005;
/// Least slack to start from, in millimetres.
const START_MM: f64 = 1.0;
/// Slack times price to start from, in square millimetres.
const START_PRODUCT: f64 = 100.0;
/// Slack times price that the method does not aim below, so that it never runs into a side of the polytope while the
/// other conditions are still open.
const LEAST_PRODUCT: f64 = 1e-10;
/// Steps with Mehrotra's corrector.
const QUICK_STEPS: usize = 20;
/// Steps altogether; rails tried by the ten thousand took at most half as many.
const STEPS: usize = 100;

/// `a . x <= most`, at most two unknowns; a second coefficient of zero stands for none.
struct Row {
    first: (usize, f64),
    second: (usize, f64),
    most: f64,
}

impl Row {
    fn new(sum: Sum, sign: f64, most: f64) -> Self {
        let part = |(unknown, coefficient): (usize, i64)| (unknown, sign * coefficient as f64);
        Self { first: part(sum.first), second: part(sum.second), most }
    }

    fn dot(&self, x: &[f64]) -> f64 {
        self.first.1 * x[self.first.0] + self.second.1 * x[self.second.0]
    }

    fn scatter(&self, value: f64, onto: &mut [f64]) {
        onto[self.first.0] += self.first.1 * value;
        onto[self.second.0] += self.second.1 * value;
    }

    fn square(&self, weight: f64, onto: &mut Skyline) {
        let ((i, a), (j, b)) = (self.first, self.second);
        onto.add(i, i, weight * a * a);
        if b != 0.0 {
            onto.add(j, j, weight * b * b);
            onto.add(i, j, weight * a * b);
        }
    }
}

/// The margins with the least squares, in doubled micrometres, each inside its range. `start` is a solution of the
/// system at `worst`, doubled twice.
pub(super) fn least_squares(problem: &Problem, worst: i64, start: &[i64]) -> Vec<i64> {
    let size = problem.ranges.len();
    let mm = |doubled_um: i64| doubled_um as f64 / 2000.0;
    let aims: Vec<(Row, f64)> = aims(problem);
    let rows = rows(problem, worst);
    let pairs = aims.iter().map(|(row, _)| row).chain(&rows).filter(|row| row.second.1 != 0.0);
    let mut matrix = Skyline::holding(size, pairs.map(|row| (row.first.0, row.second.0)));

    let mut x: Vec<f64> = start.iter().map(|value| mm(*value) / 2.0).collect();
    let mut slack: Vec<f64> = rows.iter().map(|row| (row.most - row.dot(&x)).max(START_MM)).collect();
    let mut price: Vec<f64> = slack.iter().map(|s| START_PRODUCT / s).collect();
    let count = rows.len() as f64;
    for taken in 0..STEPS {
        // Residuals of the three groups of conditions: dual, primal, complementary.
        let mut dual = vec![0.0; size];
        for (aim, weight) in &aims {
            aim.scatter(weight * (aim.dot(&x) - aim.most), &mut dual);
        }
        for (row, z) in rows.iter().zip(&price) {
            row.scatter(*z, &mut dual);
        }
        let primal: Vec<f64> = rows.iter().zip(&slack).map(|(row, s)| row.dot(&x) + s - row.most).collect();
        let mean = slack.iter().zip(&price).map(|(s, z)| s * z).sum::<f64>() / count.max(1.0);
        let greatest = |values: &[f64]| values.iter().fold(0.0_f64, |most, value| most.max(value.abs()));
        // Rounding leaves a dual residual in proportion to the prices.
        if mean < 1e-9 && greatest(&dual) < 1e-8 + 1e-10 * greatest(&price) && greatest(&primal) < 1e-8 {
            break;
        }

        matrix.clear();
        for (aim, weight) in &aims {
            aim.square(*weight, &mut matrix);
        }
        for ((row, s), z) in rows.iter().zip(&slack).zip(&price) {
            row.square(z / s, &mut matrix);
        }
        matrix.factor();

        let direction = |complement: &[f64]| {
            let mut dx: Vec<f64> = dual.iter().map(|value| -value).collect();
            for (i, row) in rows.iter().enumerate() {
                row.scatter((complement[i] - price[i] * primal[i]) / slack[i], &mut dx);
            }
            matrix.solve(&mut dx);
            let ds: Vec<f64> = rows.iter().zip(&primal).map(|(row, r)| -r - row.dot(&dx)).collect();
            let dz: Vec<f64> = (0..rows.len()).map(|i| (-complement[i] - price[i] * ds[i]) / slack[i]).collect();
            (dx, ds, dz)
        };
        let plain: Vec<f64> = slack.iter().zip(&price).map(|(s, z)| s * z).collect();
        let (_, ds, dz) = direction(&plain);
        let (step_s, step_z) = (step(&slack, &ds), step(&price, &dz));
        let foreseen = (0..rows.len()).map(|i| (slack[i] + step_s * ds[i]) * (price[i] + step_z * dz[i])).sum::<f64>()
            / count.max(1.0);
        let ratio = foreseen / mean;
        // The corrector is quick and nearly always arrives in a dozen steps; where it runs in circles, plain steps that
        // keep to the middle arrive surely.
        let quick = taken < QUICK_STEPS;
        let centring = if quick { ratio * ratio * ratio * mean } else { 0.3 * mean }.max(LEAST_PRODUCT);
        let second = |i: usize| if quick { ds[i] * dz[i] } else { 0.0 };
        let corrected: Vec<f64> = (0..rows.len()).map(|i| plain[i] + second(i) - centring).collect();
        let (dx, ds, dz) = direction(&corrected);
        // One step length for both keeps the dual residual of a quadratic programme shrinking.
        let length = (0.995 * step(&slack, &ds).min(step(&price, &dz))).min(1.0);
        if !length.is_finite() || !dx.iter().all(|value| value.is_finite()) {
            break;
        }
        add(&mut x, length, &dx);
        add(&mut slack, length, &ds);
        add(&mut price, length, &dz);
    }
    let doubled = |value: f64| (value * 2000.0).round() as i64;
    x.iter().zip(&problem.ranges).map(|(value, (least, most))| doubled(*value).clamp(*least, *most)).collect()
}

/// What the squares are taken of, each with its weight.
fn aims(problem: &Problem) -> Vec<(Row, f64)> {
    let mm = |doubled_um: i64| doubled_um as f64 / 2000.0;
    let gaps = problem.gaps.iter().map(|(gaps, times)| (gaps.sum, gaps.centre, *times as f64 / gaps.shares as f64));
    let liked = problem.liked.iter().map(|((sum, value), times)| (*sum, *value, LIKING * *times as f64));
    let mut aims: Vec<(Row, f64)> = gaps
        .chain(liked)
        .filter(|(sum, _, _)| sum.first.1 != 0)
        .map(|(sum, value, weight)| (Row::new(sum, 1.0, mm(value)), weight))
        .collect();
    // An unknown that nothing else draws rests in the middle of its range.
    for (unknown, (least, most)) in problem.ranges.iter().enumerate() {
        let sum = Sum { first: (unknown, 1), second: (0, 0) };
        aims.push((Row::new(sum, 1.0, mm(least + most) / 2.0), LIKING * 1e-4));
    }
    aims
}

/// The polytope at a worst departure.
fn rows(problem: &Problem, worst: i64) -> Vec<Row> {
    let mm = |doubled_um: i64| doubled_um as f64 / 2000.0;
    let mut rows = Vec::with_capacity(2 * (problem.gaps.len() + problem.ranges.len()) + problem.rooms.len());
    for gaps in problem.gaps.keys().filter(|gaps| gaps.sum.first.1 != 0) {
        let reach = gaps.shares as f64 * (mm(2 * worst) + WIDENING_MM);
        rows.push(Row::new(gaps.sum, 1.0, mm(gaps.centre) + reach));
        rows.push(Row::new(gaps.sum, -1.0, reach - mm(gaps.centre)));
    }
    for (unknown, (least, most)) in problem.ranges.iter().enumerate() {
        let sum = Sum { first: (unknown, 1), second: (0, 0) };
        rows.push(Row::new(sum, 1.0, mm(*most)));
        rows.push(Row::new(sum, -1.0, -mm(*least)));
    }
    rows.extend(problem.rooms.iter().map(|(sum, most)| Row::new(*sum, 1.0, mm(*most) + WIDENING_MM)));
    rows
}

/// The longest step, at most one, that keeps every value above zero.
fn step(values: &[f64], change: &[f64]) -> f64 {
    values.iter().zip(change).filter(|(_, d)| **d < 0.0).fold(1.0_f64, |step, (v, d)| step.min(-v / d))
}

fn add(values: &mut [f64], step: f64, change: &[f64]) {
    for (value, d) in values.iter_mut().zip(change) {
        *value += step * d;
    }
}
