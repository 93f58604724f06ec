//! A measured value with the instrument behind it.

use units::Length;

/// Accuracy class of a tape measure.
///
/// # Source
/// Directive 2014/32/EU annex X (material measures of length): the greatest error is a + b·L with L in metres rounded
/// up to a whole metre; class I a = 0.1 mm, b = 0.1; class II a = 0.3 mm, b = 0.2; class III a = 0.6 mm, b = 0.4
/// (values from memory).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum TapeClass {
    /// Class I.
    I,
    /// Class II, the usual pocket tape.
    II,
    /// Class III.
    III,
}

/// What a value was measured with.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Instrument {
    /// A tape of a class; its tolerance grows with length.
    Tape(TapeClass),
    /// A laser distance meter.
    Laser,
    /// A calliper.
    Calliper,
    /// An ultrasonic thickness gauge.
    ThicknessGauge,
    /// A measuring wheel.
    Wheel,
    /// Taken from a drawing.
    Drawing,
    /// Judged by eye.
    Estimate,
    /// Something else, in words.
    Other(String),
}

/// A value with its instrument and tolerance.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Measurement {
    /// The value.
    pub value: Length,
    /// What it was measured with.
    pub instrument: Instrument,
    /// Tolerance stated by the surveyor; where it is absent the instrument's own holds.
    pub stated_tolerance: Option<Length>,
}

impl Measurement {
    /// A value taken with a class II tape, the usual case.
    #[must_use]
    pub const fn taped(value: Length) -> Self {
        Self { value, instrument: Instrument::Tape(TapeClass::II), stated_tolerance: None }
    }

    /// Plus or minus this much: the stated tolerance, else the instrument's.
    ///
    /// # Valid for
    /// The tape classes as sourced at [`TapeClass`], read to the nearest millimetre by hand, so half a millimetre at each
    /// end is added; laser 2 mm, calliper 0.1 mm, thickness gauge 0.1 mm, wheel 0.5 % and at least 50 mm, drawing 1 % and
    /// at least 10 mm, estimate 10 % and at least 20 mm (common practice, no source).
    #[must_use]
    pub fn tolerance(&self) -> Length {
        if let Some(stated) = self.stated_tolerance {
            return stated;
        }
        let whole_metres = (self.value.abs().to_um() + 999_999) / 1_000_000;
        let tape = |a_um: i64, b_um: i64| Length::um(a_um + b_um * whole_metres + 1_000);
        let share = |parts_per_thousand: i64, least_mm: i64| {
            Length::um(self.value.abs().to_um() * parts_per_thousand / 1000).max(Length::mm(least_mm))
        };
        match &self.instrument {
            Instrument::Tape(TapeClass::I) => tape(100, 100),
            Instrument::Tape(TapeClass::II) => tape(300, 200),
            Instrument::Tape(TapeClass::III) => tape(600, 400),
            Instrument::Laser => Length::mm(2),
            Instrument::Calliper | Instrument::ThicknessGauge => Length::um(100),
            Instrument::Wheel => share(5, 50),
            Instrument::Drawing => share(10, 10),
            Instrument::Estimate | Instrument::Other(_) => share(100, 20),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_class_two_tape_is_good_for_two_and_a_bit_millimetres_at_ten_metres() {
        // 2014/32/EU annex X, class II at 10 m: 0.3 + 0.2 × 10 = 2.3 mm (from memory); reading adds 1 mm.
        assert_eq!(Measurement::taped(Length::mm(10_000)).tolerance(), Length::um(3_300));
    }
}
