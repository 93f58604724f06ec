//! What every module draws at most from a driver part, and what may hang on one of its outputs.

use catalogue::LoadModel;
use units::Length;

use super::cost::{micro_down, micro_up};
use super::problem::{Module, Problem};
use crate::feeds::DriverOption;
use crate::feeds::source::SourceSums;

/// The most modules of a chain; no maker allows so many, and it keeps the tables small.
pub const MOST_IN_CHAIN: usize = 128;

/// Least volts that a module may have: by the drop that is allowed, or its own where that is more.
pub(super) fn limit(problem: &Problem, module: &Module) -> f64 {
    let by_drop = problem.nominal.get() * (1.0 - f64::from(problem.drop_permille) / 1000.0);
    by_drop.max(module.least.get()).max(0.0)
}

/// What every module draws at one driver part, in the sense of the constraints.
pub(super) struct Draws {
    /// Worst current of one channel, microamperes.
    pub(super) channel: Vec<i64>,
    /// Worst current of all channels together, microamperes.
    pub(super) amps: Vec<i64>,
    /// Worst power, microwatts.
    watts: Vec<i64>,
}

impl Draws {
    /// `None` where a module does not stand the driver's voltage.
    pub(super) fn of(problem: &Problem, driver: &DriverOption) -> Option<Self> {
        let (low, high) = (driver.low.get(), driver.high.get());
        let channels = f64::from(problem.channels);
        let mut draws = Self { channel: vec![], amps: vec![], watts: vec![] };
        for module in &problem.modules {
            if high > module.greatest.get() {
                return None;
            }
            let limit = limit(problem, module);
            let (amps, watts) = match module.load {
                LoadModel::Current(amps) => (amps.get(), high * amps.get()),
                LoadModel::Power(watts) => (watts.get() / limit, low * watts.get() / limit),
                LoadModel::Resistance(ohms) => (high / ohms.get(), high * high / ohms.get()),
            };
            if !(amps >= 0.0 && watts >= 0.0 && amps.is_finite() && watts.is_finite()) {
                return None;
            }
            draws.channel.push(micro_up(amps));
            draws.amps.push(micro_up(amps * channels));
            draws.watts.push(micro_up(watts * channels));
        }
        Some(draws)
    }

    /// Worst currents and powers, summed.
    pub(super) fn sums(&self) -> SourceSums {
        SourceSums::of(self.amps.iter().copied(), self.watts.iter().copied())
    }

    /// By first module, one past the last of the longest chain that an output of so many microamperes may feed by
    /// current and by length.
    pub(super) fn ends(&self, problem: &Problem, output_limit: i64) -> Vec<usize> {
        let most = output_limit.min(micro_down(problem.connector_carries.get()));
        let lengths: Vec<Length> = problem.modules.iter().map(|module| module.end - module.start).collect();
        let (mut end, mut amps, mut length) = (0, 0_i64, Length::ZERO);
        (0..lengths.len())
            .map(|first| {
                if end < first {
                    (end, amps, length) = (first, 0, Length::ZERO);
                }
                while end < lengths.len()
                    && end - first < MOST_IN_CHAIN
                    && amps.saturating_add(self.amps[end]) <= most
                    && length + lengths[end] <= problem.longest_chain
                {
                    amps += self.amps[end];
                    length += lengths[end];
                    end += 1;
                }
                let found = end;
                if end > first {
                    amps -= self.amps[first];
                    length -= lengths[first];
                }
                found
            })
            .collect()
    }
}
