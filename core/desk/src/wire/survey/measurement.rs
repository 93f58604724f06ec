//! A measured value with the instrument behind it.

use crate::wire::mirror::{Mirror, record, words};
use crate::wire::scalar::Mm;
use crate::wire::shape;

record!(
    /// A measured length: a bare length (taken with a class II tape), or its value with the instrument.
    #[schemars(transform = shape::bare_value)]
    Measurement = survey::Measurement {
        /// The value.
        value_mm: Mm = value,
        /// What it was measured with; a class II tape where absent.
        #[serde(default)]
        instrument: Instrument = instrument,
        /// Tolerance stated by the surveyor; the instrument's own where absent.
        #[serde(default)]
        tolerance_mm: Option<Mm> = stated_tolerance,
    }
);

words!(
    /// Accuracy class of a tape.
    TapeClass = survey::TapeClass {
        /// Class I.
        #[serde(rename = "I")]
        I,
        /// Class II, the usual pocket tape.
        #[serde(rename = "II")]
        II,
        /// Class III.
        #[serde(rename = "III")]
        III,
    }
);

/// What a value was measured with.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema, ts_rs::TS)]
#[serde(tag = "kind", rename_all = "snake_case")]
#[schemars(transform = shape::bare_word)]
pub enum Instrument {
    /// A tape; its tolerance grows with length.
    Tape {
        /// Its accuracy class; II where absent.
        #[serde(default = "usual_class")]
        class: TapeClass,
    },
    /// A laser distance meter.
    Laser {},
    /// A calliper.
    Calliper {},
    /// An ultrasonic thickness gauge.
    ThicknessGauge {},
    /// A measuring wheel.
    Wheel {},
    /// Taken from a drawing.
    Drawing {},
    /// Judged by eye.
    Estimate {},
    /// Something else, in words.
    Other {
        /// The words.
        words: String,
    },
}

fn usual_class() -> TapeClass {
    TapeClass::II
}

impl Default for Instrument {
    fn default() -> Self {
        Self::Tape { class: usual_class() }
    }
}

impl Mirror for Instrument {
    type Plain = survey::Instrument;
    fn from_plain(plain: &Self::Plain) -> Self {
        use survey::Instrument as Plain;
        match plain {
            Plain::Tape(class) => Self::Tape { class: Mirror::from_plain(class) },
            Plain::Laser => Self::Laser {},
            Plain::Calliper => Self::Calliper {},
            Plain::ThicknessGauge => Self::ThicknessGauge {},
            Plain::Wheel => Self::Wheel {},
            Plain::Drawing => Self::Drawing {},
            Plain::Estimate => Self::Estimate {},
            Plain::Other(words) => Self::Other { words: words.clone() },
        }
    }
    fn into_plain(self) -> Self::Plain {
        use survey::Instrument as Plain;
        match self {
            Self::Tape { class } => Plain::Tape(class.into_plain()),
            Self::Laser {} => Plain::Laser,
            Self::Calliper {} => Plain::Calliper,
            Self::ThicknessGauge {} => Plain::ThicknessGauge,
            Self::Wheel {} => Plain::Wheel,
            Self::Drawing {} => Plain::Drawing,
            Self::Estimate {} => Plain::Estimate,
            Self::Other { words } => Plain::Other(words),
        }
    }
}
