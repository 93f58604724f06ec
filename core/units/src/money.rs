//! Amounts of money without floats.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};

/// An amount, held as a whole number of ten-thousandths of the currency unit.
///
/// # Errors
/// Reading refuses more than four decimals rather than rounding a price.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Money(i64);

impl Money {
    /// Nothing.
    pub const ZERO: Self = Self(0);
    /// The greatest amount that is read: a milliard.
    pub const GREATEST: Self = Self(10_000_000_000_000);

    /// From ten-thousandths of the currency unit.
    #[must_use]
    pub const fn ten_thousandths(amount: i64) -> Self {
        Self(amount)
    }

    /// Ten-thousandths of the currency unit.
    #[must_use]
    pub const fn to_ten_thousandths(self) -> i64 {
        self.0
    }

    /// Reads a plain decimal such as `12.50`.
    ///
    /// # Errors
    /// Anything but digits with at most four decimals, up to a milliard.
    pub fn parse(text: &str) -> Result<Self, ParseMoneyError> {
        let fail = || ParseMoneyError { text: text.chars().take(40).collect() };
        let (whole, part) = text.trim().split_once('.').unwrap_or((text.trim(), ""));
        let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
        if whole.is_empty() || whole.len() > 10 || part.len() > 4 || !digits(whole) || !digits(part) {
            return Err(fail());
        }
        let amount = format!("{whole}{part:0<4}").parse().map(Self).map_err(|_| fail())?;
        if amount > Self::GREATEST { Err(fail()) } else { Ok(amount) }
    }

    /// The price of a length at a price per metre, rounded to the nearest ten-thousandth.
    #[must_use]
    pub fn per_metre(self, length: crate::Length) -> Self {
        let product = i128::from(self.0) * i128::from(length.to_um());
        Self(((product + 500_000).div_euclid(1_000_000)) as i64)
    }
}

/// A text that is no amount of money.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ParseMoneyError {
    text: String,
}

impl fmt::Display for ParseMoneyError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:?} is no amount; accepted: digits with at most four decimals, such as 12.50", self.text)
    }
}

impl std::error::Error for ParseMoneyError {}

impl Add for Money {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl AddAssign for Money {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}
impl Sub for Money {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl Mul<i64> for Money {
    type Output = Self;
    fn mul(self, count: i64) -> Self {
        Self(self.0 * count)
    }
}
impl Sum for Money {
    fn sum<I: Iterator<Item = Self>>(values: I) -> Self {
        values.fold(Self::ZERO, Add::add)
    }
}

impl Money {
    /// As people read it: thousands set apart and two decimals, rounded to the nearest hundredth.
    ///
    /// # Example
    /// ```
    /// use units::Money;
    /// assert_eq!(Money::parse("5076.0358").unwrap().to_hundredths(), "5,076.04");
    /// ```
    #[must_use]
    pub fn to_hundredths(self) -> String {
        let hundredths = (self.0 + 50).div_euclid(100);
        let sign = if hundredths < 0 { "-" } else { "" };
        let (whole, part) = (hundredths.abs() / 100, hundredths.abs() % 100);
        crate::grouped(&format!("{sign}{whole}.{part:02}"))
    }
}

/// At least two decimals, more only where they are not zero.
impl fmt::Display for Money {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (whole, part) = (self.0.abs() / 10_000, self.0.abs() % 10_000);
        let sign = if self.0 < 0 { "-" } else { "" };
        let decimals = format!("{part:04}");
        let kept = decimals.trim_end_matches('0').len().max(2);
        write!(f, "{sign}{whole}.{}", &decimals[..kept])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn prices_are_read_exactly_or_refused() {
        assert_eq!(Money::parse("12.50").unwrap().to_ten_thousandths(), 125_000);
        assert_eq!(Money::parse("0.0125").unwrap().to_string(), "0.0125");
        assert_eq!(Money::parse("3").unwrap().to_string(), "3.00");
        for bad in ["", "-1", "1.23456", "1,5", "1e3", "99999999999"] {
            assert!(Money::parse(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn a_length_is_priced_by_the_metre() {
        assert_eq!(Money::parse("0.90").unwrap().per_metre(crate::Length::mm(2500)), Money::parse("2.25").unwrap());
    }
}
