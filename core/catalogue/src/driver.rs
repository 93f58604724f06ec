//! Drivers.

use units::{Amps, Celsius, Length, Volts, Watts};

use crate::{Ingress, Item};

/// A driver with a constant-voltage output.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Driver {
    /// Item.
    pub item: Item,
    /// Nominal output voltage.
    pub output: Volts,
    /// Tolerance of the output voltage, thousandths either way.
    pub tolerance_permille: u16,
    /// Rated output power.
    pub rated: Watts,
    /// Number of outputs.
    pub outputs: u8,
    /// Greatest current of one output.
    pub output_limit: Amps,
    /// Derating with the air temperature around it.
    pub derating: Derating,
    /// Least load, per cent of rated power.
    pub least_load_percent: u8,
    /// Input current at full load.
    pub input: Amps,
    /// Power factor, per cent.
    pub power_factor_percent: u8,
    /// Efficiency, per cent.
    pub efficiency_percent: u8,
    /// Peak inrush current.
    pub inrush: Amps,
    /// Width of the inrush at half height, microseconds.
    pub inrush_us: u32,
    /// What it does when overloaded.
    pub overload: Overload,
    /// What it does at a short circuit.
    pub short_circuit: ShortCircuit,
    /// Whether its output is separated extra-low voltage (SELV).
    pub selv: bool,
    /// Ingress code.
    pub ingress: Ingress,
    /// Width.
    pub width: Length,
    /// Height.
    pub height: Length,
    /// Depth.
    pub depth: Length,
}

/// Full power up to one temperature, then falling in a straight line to a share at another; none beyond.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Derating {
    /// Full power up to here.
    pub full_to: Celsius,
    /// The end of the line.
    pub to: Celsius,
    /// Share of rated power left there, per cent.
    pub to_percent: u8,
}

impl Derating {
    /// Share of rated power at an air temperature, 0 to 1.
    #[must_use]
    pub fn share(&self, ambient: Celsius) -> f64 {
        let (from, to, at) = (self.full_to.get(), self.to.get(), ambient.get());
        let left = f64::from(self.to_percent) / 100.0;
        if at <= from {
            1.0
        } else if at > to {
            0.0
        } else {
            1.0 - (1.0 - left) * (at - from) / (to - from)
        }
    }
}

/// Behaviour when overloaded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Overload {
    /// Holds the current.
    LimitsCurrent,
    /// Shuts down and tries again.
    Hiccup,
    /// Shuts down until switched off.
    ShutsDown,
}

/// Behaviour at a short circuit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ShortCircuit {
    /// Holds the current at this value or less, for any length of time.
    Limited(Amps),
    /// Delivers up to a current for long enough to clear a fuse in the output.
    Fused {
        /// Rating of the fuse.
        rating: Amps,
        /// Multiple of the rating at which it clears in time.
        clears_at: u8,
    },
}
