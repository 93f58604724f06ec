//! Drivers.

use super::Item;
use crate::wire::mirror::{kinds, record, words};
use crate::wire::scalar::{A, AOrNone, DegC, Ingress, MmAbove, Percent, V, W};

record!(
    /// A driver with a constant-voltage output.
    Driver = catalogue::Driver {
        /// What every part has.
        #[serde(flatten)]
        item: Item = item,
        /// Nominal output voltage.
        output_v: V = output,
        /// Tolerance of the output voltage, either way.
        tolerance_percent: Percent = tolerance_permille,
        /// Rated output power.
        rated_w: W = rated,
        /// Number of outputs.
        #[schemars(range(min = 1, max = 32))]
        outputs: u8 = outputs,
        /// Greatest current of one output.
        output_limit_a: A = output_limit,
        /// Derating with the air temperature around it.
        derating: Derating = derating,
        /// Least load as a share of rated power; 0 where absent.
        #[serde(default)]
        #[schemars(range(max = 100))]
        least_load_percent: u8 = least_load_percent,
        /// Input current at full load.
        input_a: A = input,
        /// Power factor.
        #[schemars(range(min = 1, max = 100))]
        power_factor_percent: u8 = power_factor_percent,
        /// Efficiency.
        #[schemars(range(min = 1, max = 100))]
        efficiency_percent: u8 = efficiency_percent,
        /// Peak inrush current.
        inrush_a: AOrNone = inrush,
        /// Width of the inrush at half height, microseconds.
        #[schemars(range(max = 1_000_000))]
        inrush_us: u32 = inrush_us,
        /// What it does when overloaded.
        overload: Overload = overload,
        /// What it does at a short circuit.
        short_circuit: ShortCircuit = short_circuit,
        /// Whether its output is separated extra-low voltage (SELV).
        selv: bool = selv,
        /// Ingress code.
        ingress: Ingress = ingress,
        /// Width.
        width_mm: MmAbove = width,
        /// Height.
        height_mm: MmAbove = height,
        /// Depth.
        depth_mm: MmAbove = depth,
    }
);

record!(
    /// Full power up to one temperature, then falling in a straight line to a share at another; none beyond.
    Derating = catalogue::Derating {
        /// Full power up to here.
        full_to_c: DegC = full_to,
        /// The end of the line.
        to_c: DegC = to,
        /// Share of rated power left there.
        #[schemars(range(max = 100))]
        to_percent: u8 = to_percent,
    }
);

words!(
    /// Behaviour when overloaded.
    Overload = catalogue::Overload {
        /// Holds the current.
        LimitsCurrent,
        /// Shuts down and tries again.
        Hiccup,
        /// Shuts down until switched off.
        ShutsDown,
    }
);

kinds!(
    /// Behaviour at a short circuit.
    ShortCircuit = catalogue::ShortCircuit {
        /// Holds the current at this value or less, for any length of time.
        Limited {
            /// The value.
            amps: A = 0,
        },
        /// Delivers up to a current for long enough to clear a fuse in the output.
        Fused {
            /// Rating of the fuse.
            rating_a: A = rating,
            /// Multiple of the rating at which it clears in time.
            #[schemars(range(min = 1, max = 100))]
            clears_at: u8 = clears_at,
        },
    }
);
