//! Figures as they are printed: fixed decimals, thousands set apart, no locale.

use units::Length;
pub use units::grouped;

/// Shown where a figure does not exist.
pub const NONE: &str = "–";

/// A number with a fixed number of decimals. What is not a number is shown as [`NONE`]; minus zero loses its sign.
#[must_use]
pub fn decimals(value: f64, places: usize) -> String {
    if !value.is_finite() {
        return NONE.to_owned();
    }
    let text = format!("{value:.places$}");
    let is_zero = text.bytes().all(|byte| matches!(byte, b'-' | b'0' | b'.'));
    if is_zero { text.trim_start_matches('-').to_owned() } else { text }
}

/// A number with as many decimals as it needs, at most `places`.
#[must_use]
pub fn at_most(value: f64, places: usize) -> String {
    let text = decimals(value, places);
    if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
}

/// A length in whole millimetres, grouped: what a tape can tell.
#[must_use]
pub fn mm(length: Length) -> String {
    grouped(&decimals(length.to_mm(), 0))
}

/// A length in millimetres to the tenth where it is not whole: gaps and departures.
#[must_use]
pub fn tenths_mm(length: Length) -> String {
    grouped(&at_most(length.to_mm(), 1))
}

/// A length in millimetres with the decimals that it has, at most two: diameters, walls.
#[must_use]
pub fn fine_mm(length: Length) -> String {
    grouped(&at_most(length.to_mm(), 2))
}

/// A length in metres to the centimetre.
#[must_use]
pub fn metres(length: Length) -> String {
    grouped(&decimals(length.to_m(), 2))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn thousands_are_set_apart() {
        assert_eq!(mm(Length::mm(100_000)), "100,000");
    }

    #[test]
    fn what_is_no_number_is_a_dash_and_zero_has_no_sign() {
        assert_eq!(decimals(f64::NAN, 2), NONE);
        assert_eq!(decimals(f64::INFINITY, 2), NONE);
        assert_eq!(decimals(-0.001, 2), "0.00");
        assert_eq!(decimals(-0.011, 2), "-0.01");
    }

    #[test]
    fn a_diameter_keeps_the_decimals_that_it_has() {
        assert_eq!(fine_mm(Length::um(48_300)), "48.3");
        assert_eq!(fine_mm(Length::mm(24)), "24");
        assert_eq!(at_most(100.0, 0), "100");
    }
}
