//! Long rails, and sites of them.

use catalogue::{LoadModel, ShortCircuit};
use plan::feeds::*;
use survey::FeedWish;
use units::{Amps, Length, Money, Ohms, SquareMm, Volts, Watts};

use super::rails::id;

/// A rail of points at 300 mm with 5 places, 2 ways in for each, 5 driver parts, 3 leads and 3 runs.
pub fn long(count: i64, load: LoadModel) -> Problem {
    let money = |cents: i64| Money::ten_thousandths(cents * 100);
    let end = count * 300;
    let areas = [(1.0, 0.0216), (1.5, 0.0147), (2.5, 0.0088)];
    Problem {
        nominal: Volts::new(12.0),
        drop_permille: 50,
        luminaires: (0..count)
            .map(|index| Luminaire {
                chainage: Length::mm(150 + index * 300),
                channels: vec![load],
                own_channel: Ohms::new(0.03),
                own_common: Ohms::new(0.03),
                least: Volts::new(10.8),
                greatest: Volts::new(13.2),
            })
            .collect(),
        blocked: vec![Blocked { from: Length::mm(end / 3), to: Length::mm(end / 3) }],
        ways_in: (0..10)
            .map(|index| WayIn { id: id(&format!("w{index}")), chainage: Length::mm(end * index / 9) })
            .collect(),
        places: (0..5)
            .map(|index| Place {
                id: id(&format!("p{index}")),
                mains: Mains::Route { point: id("m"), length: Length::mm(3000 + index * 4000), routes: Vec::new() },
                fits: (0..5).map(|driver| Fit { driver, share: 0.9, enclosure: money(0) }).collect(),
                room: None,
            })
            .collect(),
        paths: (0..10)
            .map(|index| Path {
                place: index / 2,
                way_in: index,
                length: Length::mm(2000 + 700 * index as i64),
                routes: Vec::new(),
                leads: vec![0, 1, 2],
            })
            .collect(),
        drivers: [(20.0, 1, 2900), (40.0, 2, 4100), (60.0, 2, 5200), (100.0, 4, 7900), (150.0, 4, 9900)]
            .into_iter()
            .map(|(rated, outputs, price)| DriverOption {
                part: format!("d{rated}"),
                price: money(price),
                outputs,
                output_limit: Amps::new(5.0),
                rated: Watts::new(rated),
                reserve_percent: 10,
                low: Volts::new(11.88),
                high: Volts::new(12.12),
                short_circuit: ShortCircuit::Limited(Amps::new(if rated < 50.0 { 5.0 } else { 6.0 })),
            })
            .collect(),
        leads: areas
            .iter()
            .enumerate()
            .map(|(index, (area, ohms))| LeadOption {
                part: format!("l{area}"),
                area: SquareMm::new(*area),
                ohms_per_m: *ohms,
                carries: Amps::new(8.0 + 3.0 * index as f64),
                supply: LeadSupply::MadeUp {
                    lengths: [1, 2, 5, 10]
                        .map(|metres| (Length::mm(metres * 1000), money(300 + metres * (120 + 60 * index as i64))))
                        .to_vec(),
                    plug: Ohms::new(0.005),
                    plug_carries: Amps::new(8.0),
                    plug_cost: money(50),
                },
                allowance: Length::mm(300),
                ends: Ohms::new(0.01),
                ends_cost: money(200),
            })
            .collect(),
        runs: areas
            .iter()
            .enumerate()
            .map(|(index, (area, ohms))| RunOption {
                part: format!("r{area}"),
                area: SquareMm::new(*area),
                ohms_per_m: *ohms,
                carries: Amps::new(8.0 + 3.0 * index as f64),
                per_metre: money(30 + 20 * index as i64),
                lengths: 2,
            })
            .collect(),
        loop_per_hole: Length::mm(150),
        costs: Costs {
            mount_driver: money(2250),
            mains_per_metre: money(280),
            mains_ends: money(1500),
            lay_per_metre: money(120),
            thread_per_metre: money(90),
            per_chain: money(300),
            per_arm: money(120),
        },
        wish: FeedWish::Cheapest,
        passing: Passing::Allowed,
        locks: Vec::new(),
    }
}

/// A rail of points with three places, near its start, middle and end, named so that rails can share them.
pub fn between(count: i64, load: LoadModel, names: [&str; 3]) -> Problem {
    let mut rail = long(count, load);
    rail.places.truncate(3);
    for (place, name) in rail.places.iter_mut().zip(names) {
        place.id = id(name);
        place.mains = Mains::Route { point: id("m"), length: Length::mm(6000), routes: Vec::new() };
    }
    let end = count * 300;
    rail.ways_in =
        (0..3).map(|index| WayIn { id: id(&format!("w{index}")), chainage: Length::mm(end * index / 2) }).collect();
    rail.paths = (0..3)
        .map(|index| Path {
            place: index,
            way_in: index,
            length: Length::mm(2000 + 300 * index as i64),
            routes: Vec::new(),
            leads: vec![0, 1, 2],
        })
        .collect();
    rail
}

/// Rails that share a place at each end with the rail before and after.
pub fn in_a_row(rails: i64, load: LoadModel) -> Vec<Problem> {
    let name = |index: i64| format!("between{index}");
    (0..rails)
        .map(|index| between(90 + 7 * (index % 5), load, [&name(index), &format!("own{index}"), &name(index + 1)]))
        .collect()
}

/// Rails of which each two share a place.
pub fn in_pairs(rails: i64, load: LoadModel) -> Vec<Problem> {
    let own = |what: &str, index: i64| format!("{what}{index}");
    (0..rails)
        .map(|index| {
            between(90 + 7 * (index % 5), load, [&own("pair", index / 2), &own("own", index), &own("end", index)])
        })
        .collect()
}

/// Short rails around one place.
pub fn around(rails: i64, load: LoadModel) -> Vec<Problem> {
    (0..rails)
        .map(|index| between(20 + 9 * (index % 5), load, ["centre", &format!("own{index}"), &format!("end{index}")]))
        .collect()
}
