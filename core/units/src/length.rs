//! Lengths as whole micrometres.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

use crate::grouped;

/// A length, held as a whole number of micrometres.
///
/// # Units
/// Micrometres inside; millimetres wherever a person or a file sees it.
///
/// # Errors
/// Reading rounds to the nearest micrometre, which is a thousandth of what a tape can tell.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(i64);

/// The longest length that is read: 100 km, far beyond any rail, far inside exact arithmetic.
const GREATEST_UM: f64 = 1e11;

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0);
    /// The greatest length that is read from a file or a keyboard (100 km).
    pub const GREATEST: Self = Self(100_000_000_000);

    /// From whole micrometres.
    #[must_use]
    pub const fn um(micrometres: i64) -> Self {
        Self(micrometres)
    }

    /// From whole millimetres.
    #[must_use]
    pub const fn mm(millimetres: i64) -> Self {
        Self(millimetres * 1000)
    }

    /// From millimetres with decimals, rounded to the nearest micrometre; `None` for NaN, infinities and anything
    /// beyond 100 km either way.
    #[must_use]
    pub fn from_mm(millimetres: f64) -> Option<Self> {
        let micrometres = (millimetres * 1000.0).round();
        // The comparison is false for NaN.
        if micrometres.abs() <= GREATEST_UM { Some(Self(micrometres as i64)) } else { None }
    }

    /// Whole micrometres.
    #[must_use]
    pub const fn to_um(self) -> i64 {
        self.0
    }

    /// Millimetres.
    #[must_use]
    pub const fn to_mm(self) -> f64 {
        self.0 as f64 / 1000.0
    }

    /// Metres.
    #[must_use]
    pub const fn to_m(self) -> f64 {
        self.0 as f64 / 1_000_000.0
    }

    /// To the nearest tenth of a millimetre, which is more than a tape can tell.
    #[must_use]
    pub const fn to_tenth_mm(self) -> Self {
        Self((self.0 + 50).div_euclid(100) * 100)
    }

    /// Without sign.
    #[must_use]
    pub const fn abs(self) -> Self {
        Self(self.0.abs())
    }

    /// Half, rounded down to a micrometre.
    #[must_use]
    pub const fn half(self) -> Self {
        Self(self.0.div_euclid(2))
    }

    /// Scaled by a real factor, rounded to the nearest micrometre; saturates at 100 km.
    #[must_use]
    pub fn scaled(self, factor: f64) -> Self {
        let micrometres = (self.0 as f64 * factor).round();
        Self(micrometres.clamp(-GREATEST_UM, GREATEST_UM) as i64)
    }

    /// Reads what people type: a bare number is millimetres; units are `mm`, `cm`, `m`, `km`, `in`, `"`, `ft`, `'`;
    /// feet and inches combine, inches take fractions.
    ///
    /// # Errors
    /// Names what could not be read and what is accepted.
    ///
    /// # Example
    /// ```
    /// use units::Length;
    /// assert_eq!(Length::parse("2.45 m").unwrap(), Length::mm(2450));
    /// assert_eq!(Length::parse("2,450").unwrap(), Length::mm(2450));
    /// assert_eq!(Length::parse("8' 3 1/2\"").unwrap(), Length::um(2_527_300));
    /// ```
    pub fn parse(text: &str) -> Result<Self, ParseLengthError> {
        read(text).ok_or_else(|| ParseLengthError { text: text.chars().take(40).collect() })
    }
}

/// A text that is no length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ParseLengthError {
    text: String,
}

impl fmt::Display for ParseLengthError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{:?} is no length; accepted: a number in mm, or a number with mm, cm, m, km, in or ft, up to 100 km",
            self.text
        )
    }
}

impl std::error::Error for ParseLengthError {}

fn read(text: &str) -> Option<Length> {
    let text = text.trim().replace(['′', '’'], "'").replace(['″', '”'], "\"").replace('−', "-");
    if text.len() > 60 {
        return None;
    }
    let (negative, mut rest) = match text.strip_prefix('-') {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text.as_str()),
    };
    let mut sum_um = 0.0;
    let mut any = false;
    let mut last_unit_um = f64::INFINITY;
    while !rest.is_empty() {
        let (value, after) = number(rest)?;
        let after = after.trim_start();
        // A bare number is millimetres only when it stands alone.
        let (unit_um, after) = match unit(after) {
            Some(found) => found,
            None if after.is_empty() && !any => (1000.0, after),
            None => return None,
        };
        // "3 in 2 ft" and "2 m 3 m" are slips of the pen, not lengths.
        if unit_um >= last_unit_um {
            return None;
        }
        last_unit_um = unit_um;
        sum_um += value * unit_um;
        any = true;
        rest = after.trim_start();
    }
    if !any {
        return None;
    }
    let length = Length::from_mm(sum_um / 1000.0)?;
    Some(if negative { -length } else { length })
}

/// A decimal with grouped thousands, a fraction ("1/2"), or a whole number and a fraction ("3 1/2").
fn number(text: &str) -> Option<(f64, &str)> {
    let (first, rest) = decimal(text)?;
    if let Some(rest) = rest.strip_prefix('/') {
        let (below, rest) = decimal(rest)?;
        return if below > 0.0 { Some((first / below, rest)) } else { None };
    }
    // A fraction after a blank belongs to the whole number before it.
    let after = rest.trim_start();
    if after.len() < rest.len()
        && let Some((above, tail)) = decimal(after)
        && let Some(tail) = tail.strip_prefix('/')
        && let Some((below, tail)) = decimal(tail)
        && below > 0.0
        && above < below
    {
        return Some((first + above / below, tail));
    }
    Some((first, rest))
}

fn decimal(text: &str) -> Option<(f64, &str)> {
    let end = text
        .char_indices()
        .find(|(_, c)| !(c.is_ascii_digit() || matches!(c, '.' | ',' | '\u{202f}')))
        .map_or(text.len(), |(i, _)| i);
    let (digits, rest) = text.split_at(end);
    let groups: Vec<&str> = digits.split([',', '\u{202f}']).collect();
    let grouped = groups.len() > 1;
    // A comma groups thousands: after it come exactly three digits. Anything else would be a guess.
    if grouped {
        if groups[0].is_empty() || groups[0].len() > 3 {
            return None;
        }
        for (i, group) in groups.iter().enumerate().skip(1) {
            let whole = if i + 1 == groups.len() { group.split('.').next()? } else { group };
            if whole.len() != 3 || !whole.bytes().all(|b| b.is_ascii_digit()) {
                return None;
            }
        }
    }
    let joined: String = groups.concat();
    if !joined.bytes().any(|b| b.is_ascii_digit()) {
        return None;
    }
    joined.parse::<f64>().ok().filter(|v| v.is_finite()).map(|v| (v, rest))
}

/// The unit at the start of a text, in micrometres, and what follows it.
fn unit(text: &str) -> Option<(f64, &str)> {
    const UNITS: [(&str, f64); 8] = [
        ("mm", 1e3),
        ("cm", 1e4),
        ("km", 1e9),
        ("in", 25_400.0),
        ("ft", 304_800.0),
        ("\"", 25_400.0),
        ("'", 304_800.0),
        ("m", 1e6),
    ];
    UNITS.iter().find_map(|(name, um)| text.strip_prefix(name).map(|rest| (*um, rest)))
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}
impl AddAssign for Length {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}
impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}
impl SubAssign for Length {
    fn sub_assign(&mut self, other: Self) {
        self.0 -= other.0;
    }
}
impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self(-self.0)
    }
}
impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, count: i64) -> Self {
        Self(self.0 * count)
    }
}
/// The plain ratio of two lengths.
impl Div for Length {
    type Output = f64;
    fn div(self, other: Self) -> f64 {
        self.0 as f64 / other.0 as f64
    }
}
impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(values: I) -> Self {
        values.fold(Self::ZERO, Add::add)
    }
}

/// Millimetres in shortest form, with the unit: `282.5 mm`.
impl fmt::Display for Length {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match f.precision() {
            Some(places) => write!(f, "{} mm", grouped(&format!("{:.places$}", self.to_mm()))),
            None => write!(f, "{} mm", grouped(&self.to_mm().to_string())),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_people_type_is_read() {
        for (text, um) in [
            ("2450", 2_450_000),
            ("2,450", 2_450_000),
            ("2 450 mm", -1),
            ("2.45 m", 2_450_000),
            ("2.45m", 2_450_000),
            ("245 cm", 2_450_000),
            ("0.5 mm", 500),
            ("8' 3 1/2\"", 2_527_300),
            ("8 ft 3.5 in", 2_527_300),
            ("1/2 in", 12_700),
            ("3/8\"", 9_525),
            ("-12 mm", -12_000),
            ("12,5 m", -1),
            ("", -1),
            ("mm", -1),
            ("NaN", -1),
            ("1e9 m", -1),
            ("3 in 2 ft", -1),
            ("101 km", -1),
            ("1/0 in", -1),
        ] {
            let got = Length::parse(text);
            if um == -1 {
                assert!(got.is_err(), "{text} was read as {got:?}");
            } else {
                assert_eq!(got.unwrap(), Length::um(um), "{text}");
            }
        }
    }

    #[test]
    fn printed_with_thousands_apart_and_no_needless_decimals() {
        assert_eq!(Length::um(282_500).to_string(), "282.5 mm");
        assert_eq!(Length::mm(2450).to_string(), "2,450 mm");
    }
}
