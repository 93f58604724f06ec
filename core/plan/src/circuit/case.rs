//! The cases in which a chain is checked: how high the source stands and how warm the conductors are.
//!
//! Everything is at full output in each of them: dimming by pulses does not lower the current while it is on.
//!
//! - *Worst* for voltage: the source at the low end of its tolerance and the conductors warm. Every voltage is lowest
//!   there: it rises with the source, and it falls when all conductors warm together, which for the loads is the same
//!   as each drawing more through the cold ones. (One resistance that grows alone lowers all that is fed through it, but
//!   lifts resistive loads nearer to the source a little.) Constant-power loads draw most there too.
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

#[cfg(test)]
mod tests {
    use super::super::network::{Branch, BranchKind, Conductor, LoadModel, Wiring};
    use super::*;
    use units::{Length, Ohms, Watts};

    const TEMPERATURES: Temperatures = Temperatures { cold: Celsius::new(-10.0), warm: Celsius::new(60.0) };

    /// One load behind 1 Ω at 20 °C.
    fn both(model: LoadModel) -> CaseSolutions {
        let source = SourceTolerance::new(Volts::new(24.0), 5.0, 5.0).unwrap();
        CaseSolutions::of(source, TEMPERATURES, |conditions| {
            let mut network = Network::new(Wiring::Pair, conditions.source, "source");
            let factor = super::super::conductor::temperature_factor(conditions.conductors).unwrap();
            let core = |conductor| Branch {
                conductor,
                kind: BranchKind::Lead,
                length: Length::mm(1000),
                area: None,
                ohms: Ohms::new(0.5 * factor),
                stands: None,
            };
            let end = network.add_station("end", None, 0, vec![core(Conductor::Channel(0)), core(Conductor::Common)]);
            network.add_load("L1", end, 0, model);
            network
        })
    }

    #[test]
    fn the_tolerance_gives_both_ends() {
        let source = SourceTolerance::new(Volts::new(24.0), 5.0, 10.0).unwrap();
        assert!((source.low().get() - 22.8).abs() < 1e-12 && (source.high().get() - 26.4).abs() < 1e-12);
        for (below, above) in [(f64::NAN, 5.0), (101.0, 5.0), (5.0, -1.0), (5.0, f64::INFINITY)] {
            assert_eq!(SourceTolerance::new(Volts::new(24.0), below, above), None);
        }
    }

    #[test]
    fn resistive_loads_draw_most_in_the_high_case() {
        // By hand: 25.2 V over 23 Ω and 1 Ω at −10 °C, which is 0.8821 Ω.
        let solved = both(LoadModel::Resistance(Ohms::new(23.0)));
        let expected = 25.2 / (23.0 + 0.8821);
        assert!((solved.greatest_branch_amps()[1][0].get() - expected).abs() < 1e-12);
        assert_eq!(solved.greatest_source_amps(), solved.high.as_ref().ok().map(|found| found.source_amps));
        let lowest = solved.worst.unwrap().loads[0].volts;
        assert!(lowest < solved.high.unwrap().loads[0].volts);
    }

    #[test]
    fn constant_power_draws_most_in_the_worst_case() {
        let solved = both(LoadModel::Power(Watts::new(48.0)));
        let worst = solved.worst.as_ref().unwrap().source_amps;
        assert!(worst > solved.high.as_ref().unwrap().source_amps);
        assert_eq!(solved.greatest_branch_amps()[1], vec![worst, worst]);
    }

    #[test]
    fn a_worst_case_without_a_solution_still_has_its_high_case() {
        // By hand: the greatest power is 22.8²/(4·1.1572) = 112.3 W worst and 25.2²/(4·0.8821) = 180.0 W high.
        let solved = both(LoadModel::Power(Watts::new(150.0)));
        assert!(solved.worst.is_err() && solved.high.is_ok());
        assert_eq!(solved.greatest_branch_amps().len(), 2);
        assert!(both(LoadModel::Power(Watts::new(200.0))).greatest_branch_amps().is_empty());
    }
}
