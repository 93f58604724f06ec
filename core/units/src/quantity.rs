//! Electrical and other real-valued quantities.

use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, Neg, Sub, SubAssign};

macro_rules! quantity {
    ($(#[$doc:meta])* $name:ident, $unit:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, Default, PartialEq)]
        pub struct $name(f64);

        impl $name {
            /// Zero of this quantity.
            pub const ZERO: Self = Self(0.0);
            /// The unit printed after a value.
            pub const UNIT: &'static str = $unit;

            /// Wraps a value.
            ///
            /// # Panics
            /// Only on NaN or an infinity, which no reader of ours lets through; use [`Self::checked`] for raw input.
            #[must_use]
            #[track_caller]
            pub const fn new(value: f64) -> Self {
                assert!(value.is_finite(), "a quantity is a finite number");
                // Minus zero would print and hash differently from zero.
                if value == 0.0 { Self(0.0) } else { Self(value) }
            }

            /// Wraps a value, or `None` for NaN and infinities.
            #[must_use]
            pub const fn checked(value: f64) -> Option<Self> {
                if value.is_finite() { Some(Self::new(value)) } else { None }
            }

            /// The number in the unit of this type.
            #[must_use]
            pub const fn get(self) -> f64 {
                self.0
            }

            /// The greater of two.
            #[must_use]
            pub fn max(self, other: Self) -> Self {
                if other > self { other } else { self }
            }

            /// The smaller of two.
            #[must_use]
            pub fn min(self, other: Self) -> Self {
                if other < self { other } else { self }
            }
        }

        impl Eq for $name {}
        impl PartialOrd for $name {
            fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
                Some(self.cmp(other))
            }
        }
        impl Ord for $name {
            fn cmp(&self, other: &Self) -> Ordering {
                self.0.total_cmp(&other.0)
            }
        }
        impl Hash for $name {
            fn hash<H: Hasher>(&self, state: &mut H) {
                self.0.to_bits().hash(state);
            }
        }
        impl Add for $name {
            type Output = Self;
            fn add(self, other: Self) -> Self {
                Self::new(self.0 + other.0)
            }
        }
        impl AddAssign for $name {
            fn add_assign(&mut self, other: Self) {
                *self = *self + other;
            }
        }
        impl Sub for $name {
            type Output = Self;
            fn sub(self, other: Self) -> Self {
                Self::new(self.0 - other.0)
            }
        }
        impl SubAssign for $name {
            fn sub_assign(&mut self, other: Self) {
                *self = *self - other;
            }
        }
        impl Neg for $name {
            type Output = Self;
            fn neg(self) -> Self {
                Self::new(-self.0)
            }
        }
        impl Mul<f64> for $name {
            type Output = Self;
            fn mul(self, factor: f64) -> Self {
                Self::new(self.0 * factor)
            }
        }
        impl Div<f64> for $name {
            type Output = Self;
            fn div(self, divisor: f64) -> Self {
                Self::new(self.0 / divisor)
            }
        }
        /// The plain ratio of two.
        impl Div for $name {
            type Output = f64;
            fn div(self, divisor: Self) -> f64 {
                self.0 / divisor.0
            }
        }
        impl Sum for $name {
            fn sum<I: Iterator<Item = Self>>(values: I) -> Self {
                values.fold(Self::ZERO, Add::add)
            }
        }
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                match f.precision() {
                    Some(places) => write!(f, "{:.places$} {}", self.0, $unit),
                    None => write!(f, "{} {}", self.0, $unit),
                }
            }
        }
    };
}

quantity!(
    /// Electric potential difference in volts.
    Volts, "V"
);
quantity!(
    /// Electric current in amperes.
    Amps, "A"
);
quantity!(
    /// Electric resistance in ohms.
    Ohms, "Ω"
);
quantity!(
    /// Power in watts.
    Watts, "W"
);
quantity!(
    /// Temperature in degrees Celsius.
    Celsius, "°C"
);
quantity!(
    /// Cross-section of one conductor in square millimetres.
    SquareMm, "mm²"
);
quantity!(
    /// A plane angle in degrees.
    Degrees, "°"
);

impl Mul<Ohms> for Amps {
    type Output = Volts;
    fn mul(self, resistance: Ohms) -> Volts {
        Volts::new(self.get() * resistance.get())
    }
}

impl Mul<Amps> for Volts {
    type Output = Watts;
    fn mul(self, current: Amps) -> Watts {
        Watts::new(self.get() * current.get())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ohms_law_gives_volts_and_watts() {
        assert_eq!(Amps::new(2.0) * Ohms::new(0.5), Volts::new(1.0));
        assert_eq!(Volts::new(12.0) * Amps::new(0.5), Watts::new(6.0));
    }

    #[test]
    fn not_a_number_is_never_a_quantity() {
        assert_eq!(Volts::checked(f64::NAN), None);
        assert_eq!(Volts::checked(f64::INFINITY), None);
        assert_eq!(Volts::new(-0.0), Volts::ZERO);
    }
}
