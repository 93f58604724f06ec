//! The cases in which a chain is checked: how high the source stands and how warm the conductors are.
//!
//! Everything is at full output in each of them: dimming by pulses does not lower the current while it is on.
//!
//! - *Worst* for voltage: the source at the low end of its tolerance and the conductors warm. Every voltage is lowest
//!   there, because each rises with the source and falls with each resistance. Constant-power loads draw most there too.
//! - *High* for current: the source at the high end and the conductors cold. Resistive loads see the most volts there
//!   and so draw most; the power of the whole chain peaks there as well.
//!
//! A constant current is the same in both. Where loads of several models share a chain the greatest current of a
//! branch is the greater of the two cases.

use units::{Amps, Celsius, Volts};

use super::network::Network;
use super::solve::{Solution, Unsolved, solve};

/// The output voltage of a driver and how far it may stand off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SourceTolerance {
    low: Volts,
    high: Volts,
}

impl SourceTolerance {
    /// From the nominal voltage and how far the output may stand below and above it, in per cent.
    ///
    /// `None` unless the nominal is 0 or more, `below_percent` from 0 to 100 and `above_percent` from 0 to 1000.
    #[must_use]
    pub fn new(nominal: Volts, below_percent: f64, above_percent: f64) -> Option<Self> {
        let sound =
            nominal >= Volts::ZERO && (0.0..=100.0).contains(&below_percent) && (0.0..=1000.0).contains(&above_percent);
        if !sound {
            return None;
        }
        let low = Volts::checked(nominal.get() * (1.0 - below_percent / 100.0))?;
        let high = Volts::checked(nominal.get() * (1.0 + above_percent / 100.0))?;
        Some(Self { low, high })
    }

    /// The low end.
    #[must_use]
    pub const fn low(&self) -> Volts {
        self.low
    }

    /// The high end.
    #[must_use]
    pub const fn high(&self) -> Volts {
        self.high
    }
}

/// The temperatures that the conductors of a chain may have.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Temperatures {
    /// On the coldest night.
    pub cold: Celsius,
    /// At full load in a rail warmed by the sun.
    pub warm: Celsius,
}

/// A case.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Case {
    /// Lowest voltages: source low, conductors warm.
    Worst,
    /// Highest voltages: source high, conductors cold.
    High,
}

/// What a network is built for.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conditions {
    /// The case.
    pub case: Case,
    /// Source voltage.
    pub source: Volts,
    /// Temperature of the conductors.
    pub conductors: Celsius,
}

impl Case {
    /// The conditions of this case.
    #[must_use]
    pub fn conditions(self, source: SourceTolerance, temperatures: Temperatures) -> Conditions {
        match self {
            Self::Worst => Conditions { case: self, source: source.low(), conductors: temperatures.warm },
            Self::High => Conditions { case: self, source: source.high(), conductors: temperatures.cold },
        }
    }
}

/// A chain solved in both cases.
#[derive(Clone, Debug, PartialEq)]
pub struct CaseSolutions {
    /// The network in the worst case.
    pub worst_network: Network,
    /// Its solution.
    pub worst: Result<Solution, Unsolved>,
    /// The network in the high case.
    pub high_network: Network,
    /// Its solution.
    pub high: Result<Solution, Unsolved>,
}

impl CaseSolutions {
    /// Builds and solves a chain in both cases.
    pub fn of(
        source: SourceTolerance,
        temperatures: Temperatures,
        mut build: impl FnMut(Conditions) -> Network,
    ) -> Self {
        let worst_network = build(Case::Worst.conditions(source, temperatures));
        let high_network = build(Case::High.conditions(source, temperatures));
        Self { worst: solve(&worst_network), worst_network, high: solve(&high_network), high_network }
    }

    /// The greatest size of each branch's current over the cases that have a solution, station by station and branch
    /// by branch; empty where neither has.
    #[must_use]
    pub fn greatest_branch_amps(&self) -> Vec<Vec<Amps>> {
        let size = |amps: &Amps| (*amps).max(-*amps);
        let mut greatest: Vec<Vec<Amps>> = Vec::new();
        for solution in [&self.worst, &self.high].into_iter().flatten() {
            if greatest.is_empty() {
                greatest = solution.branch_amps.iter().map(|own| own.iter().map(size).collect()).collect();
                continue;
            }
            for (known, own) in greatest.iter_mut().zip(&solution.branch_amps) {
                for (known, amps) in known.iter_mut().zip(own) {
                    *known = (*known).max(size(amps));
                }
            }
        }
        greatest
    }

    /// The greatest current out of the source over the cases that have a solution.
    #[must_use]
    pub fn greatest_source_amps(&self) -> Option<Amps> {
        [&self.worst, &self.high].into_iter().flatten().map(|solution| solution.source_amps).max()
    }
}
