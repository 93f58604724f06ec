//! What must hold for any chain, and the tree solver against a slow dense one that shares no formula with it.

mod circuit_support;

use circuit_support::{Slow, core, pair, slow};
use plan::circuit::{
    CommonSide, Conductor, ConstantCurrentChain, Ladder, LoadModel, Network, Reason, Rung, Wiring, report, solve,
};
use proptest::prelude::*;
use units::{Amps, Ohms, Volts, Watts};

/// Which load models a random network holds.
#[derive(Clone, Copy, PartialEq)]
enum Models {
    CurrentAndPower,
    All,
}

fn model(models: Models) -> BoxedStrategy<LoadModel> {
    let current = (0.0..0.6).prop_map(|amps| LoadModel::Current(Amps::new(amps)));
    let power = (0.0..12.0).prop_map(|watts| LoadModel::Power(Watts::new(watts)));
    let resistance = (10.0..500.0).prop_map(|ohms| LoadModel::Resistance(Ohms::new(ohms)));
    match models {
        Models::CurrentAndPower => prop_oneof![current, power].boxed(),
        Models::All => prop_oneof![current, power, resistance].boxed(),
    }
}

/// A random tree with up to eight stations after the source; a colour chain may begin with a trunk.
fn network(channels: std::ops::RangeInclusive<usize>, models: Models) -> impl Strategy<Value = Network> {
    let station = (any::<u16>(), prop::collection::vec(0.001..0.5_f64, 7));
    let load = (any::<u16>(), any::<u8>(), model(models));
    let stations = prop::collection::vec(station, 1..=8);
    let loads = prop::collection::vec(load, 1..=8);
    (channels, any::<bool>(), any::<bool>(), 10.0..30.0_f64, stations, loads).prop_map(
        |(channels, common_plus, trunk, source, stations, loads)| {
            let wiring = if channels == 1 {
                Wiring::Pair
            } else {
                let names = ["red", "green", "blue", "white", "amber"];
                Wiring::Colour {
                    common: if common_plus { CommonSide::Plus } else { CommonSide::Minus },
                    channels: names[..channels].iter().map(|name| (*name).to_owned()).collect(),
                }
            };
            let mut network = Network::new(wiring, Volts::new(source), "source");
            for (index, (parent, ohms)) in stations.into_iter().enumerate() {
                let parent = usize::from(parent) % network.stations.len();
                let branches = if trunk && index == 0 && channels > 1 {
                    vec![core(Conductor::Trunk, ohms[0]), core(Conductor::Common, ohms[1])]
                } else {
                    network
                        .conductors()
                        .into_iter()
                        .enumerate()
                        .map(|(place, conductor)| core(conductor, ohms[place]))
                        .collect()
                };
                network.add_station(format!("s{index}"), None, parent, branches);
            }
            for (index, (station, channel, model)) in loads.into_iter().enumerate() {
                let station = usize::from(station) % network.stations.len();
                network.add_load(format!("L{index}"), station, usize::from(channel) % channels, model);
            }
            network
        },
    )
}

/// The slow answer and ours agree at every node and load, or agree that there is none.
fn agree(network: &Network, tolerance: f64) -> Result<(), TestCaseError> {
    match (slow(network, 20_000), solve(network)) {
        (Slow::Undecided, _) => Err(TestCaseError::reject("too near the limit for the slow solver")),
        (Slow::Solved(volts, nodes), Ok(found)) => {
            for (duty, expected) in found.loads.iter().zip(&volts) {
                prop_assert!((duty.volts.get() - expected).abs() < tolerance, "{} against {expected}", duty.volts);
            }
            for (own, expected) in found.potentials.iter().zip(&nodes) {
                for (volts, expected) in own.iter().zip(expected).filter(|(_, expected)| !expected.is_nan()) {
                    prop_assert!((volts.get() - expected).abs() < tolerance, "{volts} against {expected}");
                }
            }
            prop_assert!(found.residual <= 1e-9);
            Ok(())
        }
        (Slow::Solved(volts, _), Err(unsolved)) => {
            // The slow solver lets a constant current turn its voltage round; ours must say so.
            let reversed = volts.iter().any(|volts| *volts < 1e-9);
            prop_assert!(reversed && matches!(unsolved.reason, Reason::VoltageReversed { .. }), "{unsolved}");
            Ok(())
        }
        (Slow::None, Ok(found)) => Err(TestCaseError::fail(format!("solved what has no solution: {found:?}"))),
        (Slow::None, Err(unsolved)) => {
            prop_assert_eq!(unsolved.reason, Reason::PowerBeyondReach);
            Ok(())
        }
    }
}

/// Multiplies the power of every constant-power load.
fn scaled(network: &Network, factor: f64) -> Network {
    let mut scaled = network.clone();
    for load in &mut scaled.loads {
        if let LoadModel::Power(watts) = load.model {
            load.model = LoadModel::Power(watts * factor);
        }
    }
    scaled
}

/// No load of `after` at the stations asked for stands higher than the same load of `before`; a chain without a
/// solution does not gain one.
fn none_rises(before: &Network, after: &Network, asked: impl Fn(usize) -> bool) -> Result<(), TestCaseError> {
    match (solve(before), solve(after)) {
        (Ok(was), Ok(is)) => {
            for ((was, is), load) in was.loads.iter().zip(&is.loads).zip(&before.loads) {
                let rose = is.volts.get() > was.volts.get() + 2e-9;
                prop_assert!(!rose || !asked(load.station), "{} rose to {}", was.volts, is.volts);
            }
        }
        (Err(unsolved), Ok(_)) => prop_assert!(false, "{unsolved}, yet solved with more in the way"),
        (_, Err(_)) => {}
    }
    Ok(())
}

/// The network with one branch of one station made longer, and that station.
fn lengthened(network: &Network, station: u16, which: u8, factor: f64) -> (Network, usize) {
    let mut longer = network.clone();
    let station = 1 + usize::from(station) % (network.stations.len() - 1);
    let branches = &mut longer.stations[station].branches;
    let which = usize::from(which) % branches.len();
    branches[which].ohms = branches[which].ohms * factor;
    (longer, station)
}

fn rungs() -> impl Strategy<Value = Vec<Rung>> {
    let rung = (0.0..0.08_f64, prop_oneof![Just(0.0), 0.0..0.2_f64], model(Models::All), 8.0..11.0_f64);
    prop::collection::vec(rung, 0..=12).prop_map(|rungs| {
        rungs
            .into_iter()
            .map(|(section_ohms, tap_ohms, load, least_volts)| Rung { section_ohms, tap_ohms, load, least_volts })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, max_global_rejects: 4096, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_pair_equals_the_dense_solution(network in network(1..=1, Models::All)) {
        agree(&network, 1e-8)?;
    }

    #[test]
    fn a_colour_chain_equals_the_dense_solution(network in network(2..=5, Models::All)) {
        agree(&network, 1e-8)?;
    }

    /// The slow solver finds by halving how much power a chain can bear; ours must solve just below and refuse just
    /// above, and below it must stand on the upper solution.
    #[test]
    fn the_limit_of_power_is_where_the_dense_solver_finds_it(network in network(1..=3, Models::CurrentAndPower)) {
        prop_assume!(network.loads.iter().any(|load| matches!(load.model, LoadModel::Power(watts) if watts.get() > 0.5)));
        prop_assume!(network.loads.iter().all(|load| load.station > 0));
        prop_assume!(matches!(slow(&scaled(&network, 0.0), 50), Slow::Solved(volts, _) if volts.iter().all(|v| *v > 1.0)));
        let (mut bears, mut fails) = (0.0, 1e5);
        while fails / f64::max(bears, 1e-3) > 1.002 {
            let middle = if bears == 0.0 { fails / 2.0 } else { (bears + fails) / 2.0 };
            match slow(&scaled(&network, middle), 3_000) {
                Slow::Solved(..) => bears = middle,
                Slow::None => fails = middle,
                Slow::Undecided => break,
            }
            prop_assume!(fails > 1e-2);
        }
        prop_assert!(solve(&scaled(&network, fails)).is_err());
        agree(&scaled(&network, bears), 1e-6)?;
    }

    /// Among loads whose current does not fall with their voltage, whichever conductor grows.
    #[test]
    fn a_longer_lead_raises_no_voltage(
        network in network(1..=5, Models::CurrentAndPower), station in any::<u16>(), which in any::<u8>(),
        factor in 1.0..20.0_f64,
    ) {
        let (longer, _) = lengthened(&network, station, which, factor);
        none_rises(&network, &longer, |_| true)?;
    }

    /// With resistive loads, those fed through the lead: nearer ones rise a little as the far ones draw less.
    #[test]
    fn a_longer_lead_raises_no_voltage_beyond_it(
        network in network(1..=1, Models::All), station in any::<u16>(), which in any::<u8>(), factor in 1.0..20.0_f64,
    ) {
        let (longer, grown) = lengthened(&network, station, which, factor);
        let beyond = |station: usize| {
            let mut here = Some(station);
            while let Some(index) = here.filter(|index| *index != grown) {
                here = network.stations[index].parent;
            }
            here.is_some()
        };
        none_rises(&network, &longer, beyond)?;
    }

    #[test]
    fn one_more_load_raises_no_voltage(
        network in network(1..=5, Models::CurrentAndPower), station in any::<u16>(), channel in any::<u8>(),
        more in model(Models::All),
    ) {
        let mut fuller = network.clone();
        let channel = usize::from(channel) % network.wiring.channels();
        // A resistance beside constant power in a colour chain may lift another channel, so it stays out of this one.
        prop_assume!(network.wiring == Wiring::Pair || !matches!(more, LoadModel::Resistance(_)));
        fuller.add_load("more", usize::from(station) % network.stations.len(), channel, more);
        none_rises(&network, &fuller, |_| true)?;
    }

    #[test]
    fn a_joint_without_resistance_is_the_limit_of_a_small_one(
        network in network(1..=4, Models::All), station in any::<u16>(),
    ) {
        let station = 1 + usize::from(station) % (network.stations.len() - 1);
        let with = |ohms: f64| {
            let mut changed = network.clone();
            changed.stations[station].branches.iter_mut().for_each(|branch| branch.ohms = Ohms::new(ohms));
            changed
        };
        if let (Ok(none), Ok(small)) = (solve(&with(0.0)), solve(&with(1e-10))) {
            prop_assume!(none.stability > 0.05);
            for (a, b) in none.loads.iter().zip(&small.loads) {
                prop_assert!((a.volts.get() - b.volts.get()).abs() < 1e-6);
            }
        }
    }

    #[test]
    fn arrays_and_network_agree(rungs in rungs(), source in 11.0..25.0_f64) {
        let mut network = Network::new(Wiring::Pair, Volts::new(source), "source");
        let mut last = 0;
        for (index, rung) in rungs.iter().enumerate() {
            // Ohms fall on plus and minus unequally: only their sum may matter.
            let halves = |ohms: f64| pair(ohms * 0.3, ohms * 0.7);
            last = network.add_station(format!("run{index}"), None, last, halves(rung.section_ohms));
            let tap = network.add_station(format!("tap{index}"), None, last, halves(rung.tap_ohms));
            network.add_load(format!("L{index}"), tap, 0, rung.load);
        }
        match (Ladder::default().solve(source, &rungs), solve(&network)) {
            (Some(fast), Ok(full)) => {
                let margins = full.loads.iter().zip(&rungs).map(|(duty, rung)| duty.volts.get() - rung.least_volts);
                let least = margins.fold(f64::INFINITY, f64::min);
                prop_assert!(rungs.is_empty() || (fast.least_margin - least).abs() < 1e-9);
                prop_assert!((fast.source_amps - full.source_amps.get()).abs() < 1e-9);
            }
            (None, Err(_)) => {}
            (fast, full) => prop_assert!(false, "{fast:?} against {full:?}"),
        }
    }

    #[test]
    fn a_growing_chain_agrees_with_solving_it_anew(
        steps in prop::collection::vec((0.0..0.1_f64, 0..3_usize, 0..3_usize), 1..40), lead in 0.0..0.3_f64,
    ) {
        let mut chain = ConstantCurrentChain::new(24.0, lead);
        let mut rungs = Vec::new();
        for (section, kind, amps) in steps {
            let (tap_ohms, least_volts) = [(0.0, 20.0), (0.05, 21.0), (0.1, 19.5)][kind];
            let amps = [0.05, 0.1, 0.3][amps];
            chain.append(section, tap_ohms, amps, least_volts);
            rungs.push(Rung {
                section_ohms: if rungs.is_empty() { section + lead } else { section },
                tap_ohms,
                load: LoadModel::Current(Amps::new(amps)),
                least_volts,
            });
            match Ladder::default().solve(24.0, &rungs) {
                Some(anew) => {
                    prop_assert!((chain.least_margin() - anew.least_margin).abs() < 1e-9);
                    prop_assert!((chain.source_amps() - anew.source_amps).abs() < 1e-9);
                }
                None => prop_assert!(chain.least_margin() < 0.0),
            }
        }
    }

    /// Nothing that the types can hold makes it panic, and what it calls solved is finite and within the tolerance.
    #[test]
    fn no_input_breaks_it(
        source in extreme(), channels in 0..8_usize, common_plus in any::<bool>(),
        stations in prop::collection::vec((0..6_usize, prop::collection::vec((0..8_usize, extreme()), 0..5)), 0..6),
        loads in prop::collection::vec((0..7_usize, 0..7_usize, 0..4_u8, extreme(), extreme()), 0..6),
    ) {
        let wiring = if channels == 1 { Wiring::Pair } else {
            let common = if common_plus { CommonSide::Plus } else { CommonSide::Minus };
            Wiring::Colour { common, channels: (0..channels).map(|index| format!("c{index}")).collect() }
        };
        let mut network = Network::new(wiring, Volts::new(source), "source");
        for (index, (parent, branches)) in stations.into_iter().enumerate() {
            let conductor = |which| match which {
                0 | 1 => Conductor::Common,
                2 => Conductor::Trunk,
                other => Conductor::Channel(other - 3),
            };
            let branches = branches.into_iter().map(|(which, ohms)| core(conductor(which), ohms)).collect();
            network.add_station(format!("s{index}"), None, parent, branches);
        }
        for (station, channel, kind, value, other) in loads {
            let model = match kind {
                0 => LoadModel::Current(Amps::new(value)),
                1 => LoadModel::Power(Watts::new(value)),
                2 => LoadModel::Resistance(Ohms::new(value)),
                _ => LoadModel::Supply { emf: Volts::new(value), ohms: Ohms::new(other) },
            };
            network.add_load("L", station, channel, model);
        }
        let outcome = solve(&network);
        if let Ok(found) = &outcome {
            prop_assert!(found.residual <= f64::max(1e-9, 1e-12 * source));
        }
        let _ = report(&network, &outcome);
    }
}

fn extreme() -> impl Strategy<Value = f64> {
    prop_oneof![
        Just(0.0),
        Just(1e-300),
        Just(f64::MIN_POSITIVE / 4.0),
        Just(1e-9),
        0.0..30.0_f64,
        Just(1e9),
        Just(1e300),
        Just(-1.0),
    ]
}

#[test]
fn ten_thousand_stations_take_milliseconds() {
    let mut network = Network::new(Wiring::Pair, Volts::new(48.0), "source");
    let mut last = 0;
    for index in 0..10_000 {
        last = network.add_station(format!("s{index}"), None, last, pair(1e-6, 1e-6));
        network.add_load(format!("L{index}"), last, 0, LoadModel::Power(Watts::new(0.05)));
    }
    let begun = std::time::Instant::now();
    let solution = solve(&network).unwrap();
    let taken = begun.elapsed();
    println!("10,000 stations: {taken:?}, {} steps, residual {} V", solution.steps, solution.residual);
    // A quarter of a second leaves room for a machine that is busy; it takes about a hundredth of one.
    assert!(taken.as_millis() < 250, "{taken:?}");
}
