//! What must hold on every rail: seen from the other end it costs the same, and more freedom never costs more.
//!
//! The properties are asked for by the trade's sense and stated in the module; the rails are random.

mod feeds_support;

use catalogue::{LoadModel, ShortCircuit};
use feeds_support::{Dice, rails};
use plan::feeds::*;
use units::{Amps, Length, Money, Ohms, Watts};

fn cost(problem: &Problem) -> Option<(Money, usize, usize)> {
    match solve(problem) {
        Outcome::Solved(found) => {
            let chains = found.scheme.drivers.iter().map(|driver| driver.chains.len()).sum();
            Some((found.scheme.cost, found.scheme.drivers.len(), chains))
        }
        Outcome::Infeasible(_) => None,
        Outcome::Refused(faults) => panic!("{faults:?}"),
    }
}

#[test]
fn a_mirrored_rail_costs_the_same() {
    let mut solved = 0;
    for seed in 1000..1400 {
        let problem = rails::random(seed, 12);
        let other = rails::mirrored(&problem);
        assert_eq!(cost(&problem), cost(&other), "rail {seed}: {problem:#?}");
        solved += usize::from(cost(&problem).is_some());
    }
    assert!(solved > 100, "{solved}");
}

#[test]
fn a_mirrored_scheme_is_a_scheme_of_the_mirrored_rail() {
    let mut same = 0;
    for seed in 1000..1400 {
        let problem = rails::random(seed, 8);
        let other = rails::mirrored(&problem);
        let (Outcome::Solved(here), Outcome::Solved(there)) = (solve(&problem), solve(&other)) else { continue };
        let count = problem.luminaires.len();
        let stretches = |scheme: &Scheme, turned: bool| {
            let mut all: Vec<(usize, usize, usize, usize)> = (scheme.drivers.iter())
                .flat_map(|driver| {
                    driver.chains.iter().map(|chain| (driver.place, driver.driver, chain.first, chain.last))
                })
                .map(|(place, driver, first, last)| {
                    if turned {
                        (place, driver, count - 1 - last, count - 1 - first)
                    } else {
                        (place, driver, first, last)
                    }
                })
                .collect();
            all.sort_unstable();
            all
        };
        same += usize::from(stretches(&here.scheme, false) == stretches(&there.scheme, true));
        assert_eq!(here.scheme.drivers.len(), there.scheme.drivers.len());
    }
    // Schemes of equal cost may differ; on most random rails there is only one.
    assert!(same > 100, "{same}");
}

/// One constraint relaxed, chosen at random; `None` where this rail has nothing of the kind.
fn relax(problem: &Problem, kind: i64) -> Option<Problem> {
    let mut free = problem.clone();
    let steady = !problem
        .luminaires
        .iter()
        .any(|luminaire| luminaire.channels.iter().any(|load| matches!(load, LoadModel::Power(_))));
    match kind {
        // The worst current of a constant power is reckoned at the limit, so that a lower limit raises it.
        0 if steady => free.drop_permille += 30,
        0 => return None,
        1 => free.drivers.iter_mut().for_each(|driver| driver.rated = Watts::new(driver.rated.get() * 1.5)),
        2 => free.drivers.iter_mut().for_each(|driver| driver.outputs += 1),
        3 => {
            free.drivers.iter_mut().for_each(|driver| driver.output_limit = Amps::new(driver.output_limit.get() + 2.0))
        }
        4 => free.blocked.clear(),
        5 => free.passing = Passing::Allowed,
        6 => free.places.iter_mut().for_each(|place| place.room = None),
        7 => free.locks.clear(),
        8 => free.runs.iter_mut().for_each(|run| run.ohms_per_m /= 2.0),
        9 => free.leads.iter_mut().for_each(|lead| lead.ohms_per_m /= 2.0),
        10 => free.runs.iter_mut().for_each(|run| run.carries = Amps::new(run.carries.get() * 2.0)),
        11 => free.leads.iter_mut().for_each(|lead| lead.carries = Amps::new(lead.carries.get() * 2.0)),
        12 => free.drivers.iter_mut().for_each(|driver| driver.short_circuit = ShortCircuit::Limited(Amps::new(0.1))),
        13 => free.drivers.iter_mut().for_each(|driver| driver.reserve_percent = 0),
        14 => free.luminaires.iter_mut().for_each(|own| (own.own_channel, own.own_common) = (Ohms::ZERO, Ohms::ZERO)),
        15 => free.paths.iter_mut().for_each(|path| path.leads = (0..free.leads.len()).collect()),
        16 => free.loop_per_hole = Length::ZERO,
        // A place more, with a path to every way in.
        17 => {
            let mut place = free.places[0].clone();
            (place.id, place.room) = (rails::id("more"), Some(1));
            free.places.push(place);
            for way_in in 0..free.ways_in.len() {
                free.paths.push(Path {
                    place: free.places.len() - 1,
                    way_in,
                    length: Length::mm(2500),
                    routes: Vec::new(),
                    leads: (0..free.leads.len()).collect(),
                });
            }
        }
        // A way in more.
        18 => {
            let chainage = free.luminaires[0].chainage;
            free.ways_in.push(WayIn { id: rails::id("more"), chainage });
            let way_in = free.ways_in.len() - 1;
            let leads = (0..free.leads.len()).collect();
            free.paths.push(Path { place: 0, way_in, length: Length::mm(2500), routes: Vec::new(), leads });
        }
        _ => return None,
    }
    (free != *problem).then_some(free)
}

#[test]
fn more_freedom_never_costs_more() {
    let mut cheaper = [0; 19];
    for seed in 2000..2250 {
        let problem = rails::random(seed, 10);
        let before = cost(&problem);
        for kind in 0..19 {
            let Some(free) = relax(&problem, kind) else { continue };
            let after = cost(&free);
            match (before, after) {
                (Some(before), Some(after)) => {
                    assert!(after.0 <= before.0, "rail {seed}, freedom {kind}: {before:?} {after:?} {problem:#?}");
                    cheaper[kind as usize] += usize::from(after.0 < before.0);
                }
                (Some(_), None) => panic!("rail {seed}, freedom {kind}: {before:?} but nothing after {problem:#?}"),
                (None, Some(_)) => cheaper[kind as usize] += 1,
                (None, None) => {}
            }
        }
    }
    println!("rails that each freedom makes cheaper: {cheaper:?}");
    assert!(cheaper.iter().filter(|count| **count > 0).count() >= 15, "{cheaper:?}");
}

#[test]
fn the_same_rail_gives_the_same_scheme() {
    for seed in 3000..3040 {
        let problem = rails::random(seed, 10);
        assert_eq!(solve(&problem), solve(&problem.clone()));
    }
}

#[test]
fn a_scheme_is_whole_and_its_costs_add_up() {
    for seed in 4000..4200 {
        let mut dice = Dice::new(seed);
        let problem = rails::random(seed, dice.between(1, 14));
        let Outcome::Solved(found) = solve(&problem) else { continue };
        let mut next = 0;
        let mut sum = Money::ZERO;
        for driver in &found.scheme.drivers {
            assert!(driver.chains.len() <= usize::from(problem.drivers[driver.driver].outputs));
            assert!(driver.load <= driver.usable);
            sum += driver.cost;
            for chain in &driver.chains {
                assert_eq!(chain.first, next);
                next = chain.last + 1;
                sum += chain.cost;
                assert!(chain.margin.unwrap().get() >= -1e-8);
                let path = &problem.paths[chain.path];
                assert_eq!((path.place, path.way_in), (driver.place, chain.way_in));
                assert!(chain.pieces.length() >= path.length);
            }
        }
        assert_eq!(next, problem.luminaires.len());
        // Each part is rounded by itself, the sum once.
        let parts = 2 * problem.luminaires.len() as i64;
        assert!((sum - found.scheme.cost).to_ten_thousandths().abs() <= parts);
    }
}

#[test]
fn degenerate_rails_are_answered() {
    let mut problem = rails::random(1, 6);
    problem.locks.clear();
    let mut none = problem.clone();
    none.luminaires.clear();
    let Outcome::Solved(found) = solve(&none) else { panic!("nothing to feed costs nothing") };
    assert_eq!(found.scheme, Scheme::default());
    for strip in 0..6 {
        let mut bare = problem.clone();
        match strip {
            0 => (bare.places, bare.paths) = (Vec::new(), Vec::new()),
            1 => (bare.ways_in, bare.paths) = (Vec::new(), Vec::new()),
            2 => bare.paths.clear(),
            3 => bare.runs.clear(),
            4 => bare.paths.iter_mut().for_each(|path| path.leads.clear()),
            _ => bare.places.iter_mut().for_each(|place| place.fits.clear()),
        }
        assert!(matches!(solve(&bare), Outcome::Infeasible(_)), "{strip}");
    }
    let mut broken = problem.clone();
    broken.paths.push(Path { place: 99, way_in: 0, length: Length::ZERO, routes: Vec::new(), leads: Vec::new() });
    broken.luminaires.reverse();
    assert!(matches!(solve(&broken), Outcome::Refused(faults) if !faults.is_empty()));
}
