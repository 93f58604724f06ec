//! The exact solution of a radial network, or the reason why it has none.
//!
//! # Which solution
//! In port voltages a network reads `v = E − R i(v)` with `R ≥ 0` in every entry: a load's current lowers every
//! voltage or leaves it. Constant power has `i = P / v`, convex and falling, so `f(v) = v − E + R i(v)` is convex and
//! its derivative `1 − R P/v²` has no positive entry off the diagonal. From a point above all solutions, such as the
//! unloaded profile, Newton's iterates then fall monotonically and never pass below the highest solution (the monotone
//! Newton theorem: Ortega and Rheinboldt, *Iterative Solution of Nonlinear Equations in Several Variables*, 13.3; from
//! memory). So the method either arrives at the upper solution, or an iterate reaches zero volts or loses the positive
//! pivot, and each of these proves that no solution exists: one load behind a resistance R has two solutions below
//! `P = V²/4R`, the double one at half the source voltage there, and none beyond. A constant current only shifts E.
//!
//! Resistive loads are absorbed into R, which keeps it non-negative in a chain of two conductors. In a colour chain
//! that mixes resistive with constant-power loads it need not be, so there the power is raised from nothing to its
//! full value in steps along the stable branch.

use units::{Amps, Volts};

use super::network::{CommonSide, Conductor, Fault, LoadModel, MOST_CHANNELS, Network};
use super::sweep::{Ending, Point, Tree, current_and_slope, is_power};

/// The greatest residual of a solution in volts, for sources up to 1000 V; above, 1e-12 of the source.
pub const TOLERANCE_VOLTS: f64 = 1e-9;

/// The place of a trunk's ohms beside those of the channels and the common.
const TRUNK: usize = MOST_CHANNELS + 1;

/// Voltage and current of a load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LoadDuty {
    /// Voltage across the load.
    pub volts: Volts,
    /// Current through it, from plus to minus.
    pub amps: Amps,
}

/// The solution of a network. Every list runs parallel to the network's own.
#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    /// Per station, the potential of each conductor above the source's minus terminal: channels, then the common.
    /// A conductor that does not reach the station has its parent's potential.
    pub potentials: Vec<Vec<Volts>>,
    /// Per station, the current of each of its branches, positive from the source's plus towards its minus.
    pub branch_amps: Vec<Vec<Amps>>,
    /// Per load, its voltage and current.
    pub loads: Vec<LoadDuty>,
    /// Current out of the source's plus terminal.
    pub source_amps: Amps,
    /// The greatest difference in volts left between voltages and what their currents lead to.
    pub residual: f64,
    /// Newton steps taken.
    pub steps: usize,
    /// From 1 (no constant power) down to 0 where the constant-power loads are about to lose their solution.
    pub stability: f64,
}

impl Solution {
    /// The potential of a conductor at a station, `None` where there is no such conductor or station.
    #[must_use]
    pub fn potential(&self, station: usize, conductor: Conductor) -> Option<Volts> {
        let here = self.potentials.get(station)?;
        match conductor {
            Conductor::Channel(index) if index + 1 < here.len() => here.get(index).copied(),
            Conductor::Channel(_) => None,
            // Along a trunk every channel has the trunk's potential.
            Conductor::Trunk => here.first().copied(),
            Conductor::Common => here.last().copied(),
        }
    }
}

/// Why a network has no solution that we can give.
#[derive(Clone, Debug, PartialEq)]
pub enum Reason {
    /// Constant-power loads ask for more than the conductors can carry at any voltage.
    PowerBeyondReach,
    /// A load would need a negative voltage across it to draw its current.
    VoltageReversed {
        /// The voltage that would follow.
        volts: Volts,
    },
    /// The numbers are too far apart for the tolerance.
    TooRough {
        /// What was left, in volts (infinite where numbers overflow).
        residual: f64,
    },
    /// The data is not a radial network.
    Faulty(Fault),
}

/// A network without a solution.
#[derive(Clone, Debug, PartialEq)]
pub struct Unsolved {
    /// Why.
    pub reason: Reason,
    /// The station where it shows first.
    pub at: String,
    /// The luminaire there, if the reason lies in a load.
    pub luminaire: Option<String>,
}

impl std::fmt::Display for Unsolved {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let luminaire = self.luminaire.as_deref().unwrap_or("the loads");
        let at = &self.at;
        match &self.reason {
            Reason::PowerBeyondReach => write!(
                f,
                "{luminaire} at {at} asks for more power than the conductors can carry at any voltage; use thicker or \
                 shorter leads, another feed, or fewer luminaires"
            ),
            Reason::VoltageReversed { volts } => write!(
                f,
                "{luminaire} at {at} would need {volts:.2} to draw its current; use thicker or shorter leads, another \
                 feed, or fewer luminaires"
            ),
            Reason::TooRough { residual } => write!(
                f,
                "the network near {at} cannot be solved closer than {residual} V; check its resistances and loads for \
                 values that are not real"
            ),
            Reason::Faulty(fault) => write!(f, "the network is not a chain: {fault}"),
        }
    }
}

impl std::error::Error for Unsolved {}

/// Solves a network, landing on the upper of two solutions where constant-power loads give it two.
///
/// # Errors
/// [`Unsolved`] where no solution exists or the data is not a radial network; it names the station.
pub fn solve(network: &Network) -> Result<Solution, Unsolved> {
    if let Err(fault) = network.check() {
        return Err(Unsolved { at: fault.at.clone(), reason: Reason::Faulty(fault), luminaire: None });
    }
    match network.wiring.channels() {
        1 => solve_ports::<1, 1>(network),
        2 => solve_ports::<2, 3>(network),
        3 => solve_ports::<3, 4>(network),
        4 => solve_ports::<4, 5>(network),
        _ => solve_ports::<5, 6>(network),
    }
}

/// Ohms of each station's branches: channels, then the common, and the trunk in the last place; zero where a conductor
/// does not run.
fn ohms_by_conductor(network: &Network) -> Vec<[f64; TRUNK + 1]> {
    let channels = network.wiring.channels();
    let mut all = vec![[0.0; TRUNK + 1]; network.stations.len()];
    for (station, ohms) in network.stations.iter().zip(&mut all) {
        for branch in &station.branches {
            let index = match branch.conductor {
                Conductor::Channel(index) => index,
                Conductor::Common => channels,
                Conductor::Trunk => TRUNK,
            };
            ohms[index] = branch.ohms.get();
        }
    }
    all
}

fn solve_ports<const M: usize, const C: usize>(network: &Network) -> Result<Solution, Unsolved> {
    let full = ohms_by_conductor(network);
    let tree = Tree::<M, C> {
        parent: network.stations.iter().map(|station| station.parent.unwrap_or(0)).collect(),
        ohms: full
            .iter()
            .map(|ohms| {
                let mut own = [0.0; C];
                // For the voltage between a channel and the common, a trunk is more of the common.
                if C == 1 {
                    own[0] = ohms[0] + ohms[1] + ohms[TRUNK];
                } else {
                    own.copy_from_slice(&ohms[..C]);
                    own[M] += ohms[TRUNK];
                }
                own
            })
            .collect(),
        source: network.source.get(),
        loads: network.loads.iter().map(|load| (load.station, load.channel, load.model)).collect(),
    };
    let tolerance = TOLERANCE_VOLTS.max(1e-12 * tree.source);
    let named = |load: usize, reason: Reason| {
        let found = network.loads.get(load);
        let station = found.map_or(0, |load| load.station);
        Unsolved {
            reason,
            at: network.stations[station].id.clone(),
            luminaire: found.map(|load| load.luminaire.clone()),
        }
    };
    let point = match operating_point(&tree, tolerance) {
        Ending::Point(point) => point,
        Ending::Collapsed { load } => return Err(named(load, Reason::PowerBeyondReach)),
        Ending::Rough { residual, load } => return Err(named(load, Reason::TooRough { residual })),
    };
    let solution =
        publish(network, &tree, &full, point).ok_or_else(|| named(0, Reason::TooRough { residual: f64::INFINITY }))?;
    let reversed = network
        .loads
        .iter()
        .zip(&solution.loads)
        .enumerate()
        .filter(|(_, (load, duty))| !matches!(load.model, LoadModel::Supply { .. }) && duty.volts.get() < -tolerance)
        .min_by_key(|(index, (_, duty))| (duty.volts, *index));
    match reversed {
        Some((index, (_, duty))) => Err(named(index, Reason::VoltageReversed { volts: duty.volts })),
        None => Ok(solution),
    }
}

/// The stable operating point, by Newton's method from above or, where that proves nothing, along the stable branch.
fn operating_point<const M: usize, const C: usize>(tree: &Tree<M, C>, tolerance: f64) -> Ending<M> {
    let power = tree.loads.iter().any(|load| is_power(load.2));
    let linear = tree.loads.iter().any(|load| matches!(load.2, LoadModel::Resistance(_) | LoadModel::Supply { .. }));
    if M == 1 || !power || !linear {
        return tree.newton(tree.unloaded(), 1.0, tolerance);
    }
    let mut steps = 0;
    let (mut share, mut stride) = (0.0, 0.25);
    let mut reached = match tree.newton(tree.unloaded(), 0.0, tolerance) {
        Ending::Point(point) => point,
        other => return other,
    };
    loop {
        let next = f64::min(share + stride, 1.0);
        match tree.newton(reached.ports.clone(), next, tolerance) {
            Ending::Point(point) => {
                steps += point.steps;
                (share, stride, reached) = (next, stride * 2.0, point);
                if share >= 1.0 {
                    return Ending::Point(Point { steps, ..reached });
                }
            }
            // Halving the stride 24 times settles the greatest share to one part in ten million.
            other if stride < 1e-7 => return other,
            _ => stride *= 0.5,
        }
    }
}

/// Potentials and currents of every conductor from the port voltages. `None` where a number overflows.
fn publish<const M: usize, const C: usize>(
    network: &Network,
    tree: &Tree<M, C>,
    full: &[[f64; TRUNK + 1]],
    point: Point<M>,
) -> Option<Solution> {
    let amps = tree.branch_amps(&point.ports, 1.0);
    let common_is_plus = network.wiring.common_side() == CommonSide::Plus;
    // Along the plus side a current away from the source lowers the potential; along the minus side it raises it.
    let channel_sign = if common_is_plus { 1.0 } else { -1.0 };
    let mut raw = vec![[0.0; MOST_CHANNELS + 1]; network.stations.len()];
    let (channel_end, common_end) = if common_is_plus { (0.0, tree.source) } else { (tree.source, 0.0) };
    raw[0][..M].fill(channel_end);
    raw[0][M] = common_end;
    for station in 1..raw.len() {
        let above = raw[tree.parent[station]];
        let total: f64 = amps[station].iter().sum();
        for channel in 0..M {
            let drop = full[station][channel] * amps[station][channel] + full[station][TRUNK] * total;
            raw[station][channel] = above[channel] + channel_sign * drop;
        }
        raw[station][M] = above[M] - channel_sign * full[station][M] * total;
    }
    let potentials = raw
        .iter()
        .map(|row| row[..=M].iter().map(|volts| Volts::checked(*volts)).collect::<Option<Vec<_>>>())
        .collect::<Option<Vec<_>>>()?;
    let branch_amps = network
        .stations
        .iter()
        .zip(&amps)
        .map(|(station, own)| {
            let current = |conductor| match conductor {
                Conductor::Channel(index) => own[index],
                Conductor::Common | Conductor::Trunk => own.iter().sum(),
            };
            station.branches.iter().map(|branch| Amps::checked(current(branch.conductor))).collect::<Option<Vec<_>>>()
        })
        .collect::<Option<Vec<_>>>()?;
    let loads = network
        .loads
        .iter()
        .map(|load| {
            let here = &raw[load.station];
            let volts = (here[load.channel] - here[M]) * -channel_sign;
            let amps = current_and_slope(load.model, point.ports[load.station][load.channel], 1.0).0;
            Some(LoadDuty { volts: Volts::checked(volts)?, amps: Amps::checked(amps)? })
        })
        .collect::<Option<Vec<_>>>()?;
    Some(Solution {
        potentials,
        branch_amps,
        loads,
        source_amps: Amps::checked(amps[0].iter().sum())?,
        residual: point.residual,
        steps: point.steps,
        stability: point.stability,
    })
}

#[cfg(test)]
mod tests {
    use super::super::network::{Branch, BranchKind, Wiring};
    use super::*;
    use units::{Length, Ohms, Watts};

    fn core(conductor: Conductor, ohms: f64) -> Branch {
        let (kind, length) = (BranchKind::Run, Length::mm(1000));
        Branch { conductor, kind, length, area: None, ohms: Ohms::new(ohms), stands: None }
    }

    fn one_load(source: f64, plus: f64, minus: f64, model: LoadModel) -> Network {
        let mut network = Network::new(Wiring::Pair, Volts::new(source), "source");
        let end = network.add_station(
            "end",
            None,
            0,
            vec![core(Conductor::Channel(0), plus), core(Conductor::Common, minus)],
        );
        network.add_load("L1", end, 0, model);
        network
    }

    #[test]
    fn constant_power_takes_the_upper_root() {
        // By hand: v² − 12 v + 0.5·20 = 0 has the roots 6 ± √26.
        let solution = solve(&one_load(12.0, 0.3, 0.2, LoadModel::Power(Watts::new(20.0)))).unwrap();
        assert!((solution.loads[0].volts.get() - (6.0 + 26.0_f64.sqrt())).abs() < 1e-12);
        let amps = 20.0 / (6.0 + 26.0_f64.sqrt());
        assert!((solution.potential(1, Conductor::Channel(0)).unwrap().get() - (12.0 - 0.3 * amps)).abs() < 1e-12);
        assert!((solution.potential(1, Conductor::Common).unwrap().get() - 0.2 * amps).abs() < 1e-12);
    }

    #[test]
    fn the_nose_is_solved_and_just_beyond_it_is_named() {
        // By hand: V²/4R = 144/(4·0.5) = 72 W, where both roots meet at half the source voltage.
        let at = |watts| solve(&one_load(12.0, 0.25, 0.25, LoadModel::Power(Watts::new(watts))));
        let nose = at(72.0).unwrap();
        assert!((nose.loads[0].volts.get() - 6.0).abs() < 1e-4, "{nose:?}");
        assert!(nose.residual <= 1e-9 && nose.stability < 1e-3);
        let below = at(72.0 * (1.0 - 1e-9)).unwrap();
        assert!((below.loads[0].volts.get() - (6.0 + 6.0 * 1e-9_f64.sqrt())).abs() < 1e-6, "{below:?}");
        for watts in [72.0 * (1.0 + 1e-9), 73.0, 720.0, 1e9] {
            let unsolved = at(watts).unwrap_err();
            assert_eq!(unsolved.reason, Reason::PowerBeyondReach);
            assert_eq!((unsolved.at.as_str(), unsolved.luminaire.as_deref()), ("end", Some("L1")));
        }
    }

    #[test]
    fn a_constant_current_that_would_reverse_its_voltage_is_named() {
        let unsolved = solve(&one_load(12.0, 1.0, 1.0, LoadModel::Current(Amps::new(7.0)))).unwrap_err();
        assert_eq!(unsolved.reason, Reason::VoltageReversed { volts: Volts::new(-2.0) });
        assert_eq!(unsolved.luminaire.as_deref(), Some("L1"));
        let just = solve(&one_load(12.0, 1.0, 1.0, LoadModel::Current(Amps::new(6.0)))).unwrap();
        assert_eq!(just.loads[0].volts, Volts::ZERO);
    }

    #[test]
    fn nothing_drawn_and_nothing_fed_are_solved() {
        let idle = solve(&one_load(12.0, 1.0, 1.0, LoadModel::Power(Watts::ZERO))).unwrap();
        assert_eq!(idle.loads[0], LoadDuty { volts: Volts::new(12.0), amps: Amps::ZERO });
        let dead = solve(&one_load(0.0, 1.0, 1.0, LoadModel::Resistance(Ohms::new(5.0)))).unwrap();
        assert_eq!(dead.loads[0], LoadDuty { volts: Volts::ZERO, amps: Amps::ZERO });
        let hopeless = solve(&one_load(0.0, 1.0, 1.0, LoadModel::Power(Watts::new(1.0)))).unwrap_err();
        assert_eq!(hopeless.reason, Reason::PowerBeyondReach);
    }

    #[test]
    fn branches_without_resistance_are_ordinary() {
        let solution = solve(&one_load(12.0, 0.0, 0.0, LoadModel::Power(Watts::new(24.0)))).unwrap();
        assert_eq!(solution.loads[0], LoadDuty { volts: Volts::new(12.0), amps: Amps::new(2.0) });
        assert_eq!(solution.branch_amps[1], vec![Amps::new(2.0), Amps::new(2.0)]);
    }

    #[test]
    fn either_side_may_be_the_common() {
        // By hand: two channels of 1 A, 0.5 Ω each and 0.25 Ω in the common, which carries 2 A: 12 − 0.5 − 0.5 V.
        for (side, common, channel) in [(CommonSide::Minus, 0.5, 11.5), (CommonSide::Plus, 11.5, 0.5)] {
            let wiring = Wiring::Colour { common: side, channels: vec!["red".into(), "green".into()] };
            let mut network = Network::new(wiring, Volts::new(12.0), "source");
            let branches =
                vec![core(Conductor::Channel(0), 0.5), core(Conductor::Channel(1), 0.5), core(Conductor::Common, 0.25)];
            let end = network.add_station("end", None, 0, branches);
            network.add_load("L1", end, 0, LoadModel::Current(Amps::new(1.0)));
            network.add_load("L1", end, 1, LoadModel::Current(Amps::new(1.0)));
            let solution = solve(&network).unwrap();
            assert!((solution.potential(1, Conductor::Common).unwrap().get() - common).abs() < 1e-12);
            assert!((solution.potential(1, Conductor::Channel(1)).unwrap().get() - channel).abs() < 1e-12);
            assert!((solution.loads[1].volts.get() - 11.0).abs() < 1e-12);
            assert_eq!(solution.branch_amps[1][2], Amps::new(2.0));
            assert_eq!(solution.source_amps, Amps::new(2.0));
        }
    }

    #[test]
    fn ten_thousand_stations_are_solved() {
        let mut network = Network::new(Wiring::Pair, Volts::new(48.0), "source");
        let mut last = 0;
        for index in 0..10_000 {
            let cores = vec![core(Conductor::Channel(0), 1e-6), core(Conductor::Common, 1e-6)];
            last = network.add_station(format!("s{index}"), None, last, cores);
            network.add_load(format!("L{index}"), last, 0, LoadModel::Power(Watts::new(0.05)));
        }
        let solution = solve(&network).unwrap();
        assert!(solution.residual <= 1e-9 && solution.steps < 20);
        let drawn: f64 = solution.loads.iter().map(|duty| duty.volts.get() * duty.amps.get()).sum();
        assert!((drawn - 500.0).abs() < 1e-6);
    }

    #[test]
    fn what_is_no_tree_is_refused_by_name() {
        let mut network = one_load(12.0, 0.1, 0.1, LoadModel::Current(Amps::new(1.0)));
        network.stations[1].parent = Some(1);
        let unsolved = solve(&network).unwrap_err();
        assert!(matches!(unsolved.reason, Reason::Faulty(_)));
        assert_eq!(unsolved.at, "end");
    }
}
