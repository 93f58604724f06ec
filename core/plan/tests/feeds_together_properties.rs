//! What must hold for rails fed together: nothing costs more for being free to share, and every scheme keeps its limits.
//!
//! The properties are asked for by the trade's sense and stated in the module; the rails are random. Two answers are
//! compared by what is proved, which is the cost itself in all but a few groups.

mod feeds_support;

use catalogue::{LoadModel, ShortCircuit};
use feeds_support::groups;
use feeds_support::rails::id;
use plan::feeds::*;
use proptest::prelude::*;
use survey::FeedWish;
use units::{Amps, Length, Money, Ohms, SquareMm, Volts, Watts};

fn together(group: &[Problem]) -> Together {
    solve_together(&group.iter().collect::<Vec<&Problem>>())
}

fn schemes(found: &Together) -> Option<Vec<&Scheme>> {
    let each = found.outcomes.iter().map(|outcome| match outcome {
        Outcome::Solved(solved) => Some(&solved.scheme),
        Outcome::Infeasible(_) | Outcome::Refused(_) => None,
    });
    each.collect()
}

/// The least that is proved to be needed: the cost itself unless the search ended before its proof.
fn proved(found: &Together) -> Money {
    found.lower_bound.min(found.cost)
}

/// A change that only ever gives more freedom.
fn relaxed(group: &[Problem], kind: u8) -> Vec<Problem> {
    let mut free = group.to_vec();
    for problem in &mut free {
        match kind {
            0 => problem.places.iter_mut().for_each(|place| place.room = place.room.map(|room| room + 1)),
            1 => problem.drivers.iter_mut().for_each(|driver| driver.outputs += 1),
            2 => problem.drivers.iter_mut().for_each(|driver| driver.rated = Watts::new(driver.rated.get() * 1.3)),
            3 => problem.locks.clear(),
            _ => problem.places.iter_mut().flat_map(|place| &mut place.fits).for_each(|fit| fit.share = 1.0),
        }
    }
    free
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn schemes_keep_what_they_share_and_add_up(seed in 10_000u64..1_000_000) {
        let group = groups::random(seed, 8);
        let found = together(&group);
        prop_assert!(found.lower_bound <= found.cost);
        let Some(schemes) = schemes(&found) else { return Ok(()) };
        prop_assert_eq!(schemes.iter().map(|scheme| scheme.cost).sum::<Money>(), found.cost);
        for (scheme, bound) in schemes.iter().zip(&found.lower_bounds) {
            prop_assert!(*bound <= scheme.cost);
            let parts = scheme.drivers.iter().map(|own| own.cost + own.chains.iter().map(|chain| chain.cost).sum());
            let parts: Money = parts.sum();
            prop_assert!((parts - scheme.cost).to_ten_thousandths().abs() <= 20, "{} {}", parts, scheme.cost);
        }
        // The places and parts that stand, each driver counted once.
        let mut standing: Vec<(&survey::Id, u32, Option<u32>)> = Vec::new();
        for (rail, (scheme, problem)) in schemes.iter().zip(&group).enumerate() {
            for (number, driver) in scheme.drivers.iter().enumerate() {
                let sharers = found.shared.iter().find(|shared| shared.parts.contains(&(rail, number)));
                let parts = sharers.map_or(vec![(rail, number)], |shared| shared.parts.clone());
                prop_assert!(parts.is_sorted() && parts.windows(2).all(|two| two[0].0 < two[1].0));
                let own = |part: &(usize, usize)| &schemes[part.0].drivers[part.1];
                let name = |part: &(usize, usize)| {
                    let (problem, driver) = (&group[part.0], own(part));
                    (&problem.places[driver.place].id, &problem.drivers[driver.driver].part)
                };
                prop_assert!(parts.iter().all(|part| name(part) == name(&parts[0])));
                let chains: usize = parts.iter().map(|part| own(part).chains.len()).sum();
                prop_assert!(chains <= usize::from(problem.drivers[driver.driver].outputs));
                let load: f64 = parts.iter().map(|part| own(part).load.get()).sum();
                prop_assert!(load <= driver.usable.get() + 1e-6);
                prop_assert!(parts.iter().all(|part| own(part).usable == driver.usable));
                if parts[0] == (rail, number) {
                    let place = &problem.places[driver.place];
                    let rooms = group.iter().flat_map(|own| &own.places).filter(|other| other.id == place.id);
                    let room = rooms.filter_map(|other| other.room).min();
                    match standing.iter_mut().find(|known| *known.0 == place.id) {
                        Some(known) => known.1 += 1,
                        None => standing.push((&place.id, 1, room)),
                    }
                } else {
                    prop_assert_eq!(driver.cost, Money::ZERO);
                }
            }
        }
        prop_assert!(standing.iter().all(|own| own.2.is_none_or(|room| own.1 <= room)));
    }

    #[test]
    fn sharing_and_freedom_never_cost_more(seed in 10_000u64..1_000_000) {
        let group = groups::random(seed, 6);
        let found = together(&group);
        if schemes(&found).is_none() {
            return Ok(());
        }
        let mut free = group.clone();
        free.iter_mut().flat_map(|problem| &mut problem.places).for_each(|place| place.room = None);
        let alone: Option<Money> = free.iter().map(|problem| match solve(problem) {
            Outcome::Solved(solved) => Some(solved.scheme.cost),
            Outcome::Infeasible(_) | Outcome::Refused(_) => None,
        }).sum();
        let without_room = together(&free);
        prop_assert!(alone.is_some_and(|alone| without_room.cost <= alone));
        prop_assert!(proved(&without_room) <= found.cost);
        for kind in 0..5 {
            let relaxed = together(&relaxed(&group, kind));
            prop_assert!(schemes(&relaxed).is_some(), "freedom {}", kind);
            prop_assert!(proved(&relaxed) <= found.cost, "freedom {}: {} {}", kind, relaxed.cost, found.cost);
        }
    }

    #[test]
    fn names_and_order_change_nothing_and_fewer_rails_cost_no_more(seed in 10_000u64..1_000_000) {
        let group = groups::random(seed, 6);
        let found = together(&group);
        prop_assert_eq!(&found, &together(&group));
        if schemes(&found).is_none() {
            return Ok(());
        }
        let mut turned = group.clone();
        turned.reverse();
        let turned = together(&turned);
        prop_assert!(proved(&turned) <= found.cost && proved(&found) <= turned.cost);
        let mut renamed = group.clone();
        // Names in another order than before.
        let other = |name: &str| id(&format!("{}-{name}", name.bytes().rev().map(char::from).collect::<String>()));
        for problem in &mut renamed {
            problem.places.iter_mut().for_each(|place| place.id = other(&place.id.to_string()));
            problem.locks.iter_mut().for_each(|lock| lock.place = other(&lock.place.to_string()));
            problem.ways_in.iter_mut().for_each(|way_in| way_in.id = other(&way_in.id.to_string()));
        }
        let renamed = together(&renamed);
        prop_assert!(proved(&renamed) <= found.cost && proved(&found) <= renamed.cost);
        for without in 0..group.len() {
            let mut fewer = group.clone();
            fewer.remove(without);
            let fewer = together(&fewer);
            prop_assert!(schemes(&fewer).is_some() && proved(&fewer) <= found.cost);
        }
    }
}

fn money(whole: i64, cents: i64) -> Money {
    Money::ten_thousandths(whole * 10_000 + cents * 100)
}

/// A flight of a stair with two points of 0.2 A; a way in at its foot, 3 m from the landing.
fn flight() -> Problem {
    let point = |at| Luminaire {
        chainage: Length::mm(at),
        channels: vec![LoadModel::Current(Amps::new(0.2))],
        own_channel: Ohms::ZERO,
        own_common: Ohms::ZERO,
        least: Volts::new(11.0),
        greatest: Volts::new(13.0),
    };
    Problem {
        nominal: Volts::new(12.0),
        drop_permille: 100,
        luminaires: vec![point(1000), point(2000)],
        blocked: Vec::new(),
        ways_in: vec![WayIn { id: id("foot"), chainage: Length::ZERO }],
        places: vec![Place {
            id: id("landing"),
            mains: Mains::Route { point: id("m"), length: Length::mm(5000), routes: Vec::new() },
            fits: vec![Fit { driver: 0, share: 1.0, enclosure: Money::ZERO }],
            room: None,
        }],
        paths: vec![Path { place: 0, way_in: 0, length: Length::mm(3000), routes: Vec::new(), leads: vec![0] }],
        drivers: vec![DriverOption {
            part: "d".into(),
            price: money(60, 0),
            outputs: 2,
            output_limit: Amps::new(2.0),
            rated: Watts::new(10.0),
            reserve_percent: 0,
            low: Volts::new(12.0),
            high: Volts::new(12.0),
            short_circuit: ShortCircuit::Limited(Amps::new(1.0)),
        }],
        leads: vec![LeadOption {
            part: "l".into(),
            area: SquareMm::new(1.5),
            ohms_per_m: 0.0145,
            carries: Amps::new(8.0),
            supply: LeadSupply::Reel { per_metre: money(1, 50) },
            allowance: Length::ZERO,
            ends: Ohms::ZERO,
            ends_cost: money(2, 0),
        }],
        runs: vec![RunOption {
            part: "r".into(),
            area: SquareMm::new(1.5),
            ohms_per_m: 0.0145,
            carries: Amps::new(8.0),
            per_metre: money(0, 50),
            lengths: 2,
        }],
        loop_per_hole: Length::ZERO,
        costs: Costs {
            mount_driver: money(15, 0),
            mains_per_metre: money(2, 0),
            mains_ends: money(10, 0),
            lay_per_metre: money(1, 0),
            thread_per_metre: money(0, 75),
            per_chain: money(4, 0),
            per_arm: money(1, 0),
        },
        wish: FeedWish::Cheapest,
        passing: Passing::Allowed,
        locks: Vec::new(),
    }
}

#[test]
fn two_flights_share_the_driver_on_the_landing() {
    // By hand. Driver: 60.00 + mounting 15.00 + 5 m of mains lead at 2.00 + its ends 10.00 = 95.00.
    // Chain: 3 m of lead at 1.50 = 4.50, laid at 1.00 = 3.00, ends 2.00, per chain 4.00, one arm 1.00, 2 m of run at
    // 2 × 0.50 + 0.75 = 3.50; together 18.00. Power: each flight 2 × 0.2 A × 12 V = 4.8 W of the driver's 10 W.
    let group = [flight(), flight()];
    let found = together(&group);
    assert_eq!(found.cost, money(131, 0));
    assert_eq!(found.lower_bound, found.cost);
    assert_eq!(found.shared, vec![Shared { parts: vec![(0, 0), (1, 0)] }]);
    let costs: Vec<Money> = schemes(&found).unwrap().iter().map(|scheme| scheme.cost).collect();
    assert_eq!(costs, vec![money(113, 0), money(18, 0)]);
    // Were the driver free, a flight would still cost its chain.
    assert_eq!(found.lower_bounds, vec![money(18, 0), money(18, 0)]);

    // With 9 W the two flights have no driver in common; nor with one output.
    let mut weaker = group.clone();
    weaker.iter_mut().for_each(|problem| problem.drivers[0].rated = Watts::new(9.0));
    assert_eq!(together(&weaker).cost, money(226, 0));
    let mut single = group.clone();
    single.iter_mut().for_each(|problem| problem.drivers[0].outputs = 1);
    assert_eq!(together(&single).cost, money(226, 0));
    // The stricter share of power counts, and the dearer enclosure once.
    let mut warmer = group.clone();
    warmer[1].places[0].fits[0].share = 0.95;
    assert_eq!(together(&warmer).cost, money(226, 0));
    let mut wetter = group.clone();
    wetter[1].places[0].fits[0].enclosure = money(12, 50);
    assert_eq!(together(&wetter).cost, money(143, 50));
    // One lock of each flight may lie on the same driver, two of one flight may not.
    let lock = survey::DriverLock { place: id("landing"), part: None };
    let mut locked = group.clone();
    locked.iter_mut().for_each(|problem| problem.locks.push(lock.clone()));
    assert_eq!(together(&locked).cost, money(131, 0));
    // Two chains of one point: 4.50 + 3.00 + 2.00 + 4.00 + 1.00 = 14.50 and 1.75 or 3.50 of run, so 34.25 for a flight
    // with its two locks; both its drivers are of use to the other flight.
    locked[0].locks.push(lock.clone());
    assert_eq!(together(&locked).cost, money(2 * 95 + 34 + 18, 25));
    // Room for one driver is room enough.
    let mut narrow = group.clone();
    narrow[1].places[0].room = Some(1);
    assert_eq!(together(&narrow).cost, money(131, 0));
}
