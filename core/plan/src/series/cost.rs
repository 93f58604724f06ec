//! Exact costs: ten-thousandths of the currency times micrometres, so that metres are charged exactly.

use units::Money;

pub(super) use crate::feeds::lead::{amount as fine, metres};

/// A fine cost. Wide enough that no sum of catalogue prices passes it.
pub(super) type Fine = i128;

/// A fine cost as money, rounded to the nearest ten-thousandth; far beyond any real sum it stays at the greatest.
pub(super) fn money(cost: Fine) -> Money {
    let whole = (cost + 500_000).div_euclid(1_000_000);
    Money::ten_thousandths(i64::try_from(whole).unwrap_or(i64::MAX / 4).clamp(-i64::MAX / 4, i64::MAX / 4))
}

/// Micro-units of a value, rounded up, for sums against a limit.
pub(super) fn micro_up(value: f64) -> i64 {
    // A saturating cast: what is beyond any limit stays beyond it.
    ((value * 1e6).ceil() as i64).clamp(0, i64::MAX / 1_000_000)
}

/// Micro-units of a limit, rounded down.
pub(super) fn micro_down(value: f64) -> i64 {
    ((value * 1e6).floor() as i64).clamp(0, i64::MAX / 1_000_000)
}
