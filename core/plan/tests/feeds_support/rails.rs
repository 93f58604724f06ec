//! Random small rails and their mirror images.

use catalogue::{LoadModel, ShortCircuit};
use plan::feeds::*;
use survey::{DriverLock, FeedWish, Id};
use units::{Amps, Length, Money, Ohms, SquareMm, Volts, Watts};

use super::Dice;

pub fn id(text: &str) -> Id {
    Id::new(text).unwrap()
}

fn money(dice: &mut Dice, low: i64, high: i64) -> Money {
    Money::ten_thousandths(dice.between(low * 100, high * 100) * 100)
}

/// A rail of up to `most` luminaires and 3 places, with limits tight enough that they matter.
pub fn random(seed: u64, most: i64) -> Problem {
    let mut dice = Dice::new(seed);
    let dice = &mut dice;
    let count = dice.between(1, most) as usize;
    let channels = if dice.chance(15) { 3 } else { 1 };
    let kind = dice.between(0, 9);
    let mut at = dice.between(0, 3000);
    let spacing = dice.pick(&[300, 1500, 6000]);
    let least = dice.pick(&[9.0, 10.8, 11.1]);
    let luminaires: Vec<Luminaire> = (0..count)
        .map(|_| {
            at += dice.between(1, spacing);
            let load = |dice: &mut Dice| {
                let amps = dice.between(5, 60) as f64 / 100.0;
                match kind {
                    0..=3 => LoadModel::Current(Amps::new(amps)),
                    4 | 5 => LoadModel::Power(Watts::new(amps * 12.0)),
                    6 | 7 => LoadModel::Resistance(Ohms::new(12.0 / amps)),
                    _ => match dice.between(0, 2) {
                        0 => LoadModel::Current(Amps::new(amps)),
                        1 => LoadModel::Power(Watts::new(amps * 12.0)),
                        _ => LoadModel::Resistance(Ohms::new(12.0 / amps)),
                    },
                }
            };
            Luminaire {
                chainage: Length::mm(at),
                channels: (0..channels).map(|_| load(dice)).collect(),
                own_channel: Ohms::new(dice.between(0, 30) as f64 / 1000.0),
                own_common: Ohms::new(dice.between(0, 30) as f64 / 1000.0),
                least: Volts::new(if dice.chance(20) { 10.0 } else { least }),
                greatest: Volts::new(if dice.chance(4) { 12.3 } else { 13.0 }),
            }
        })
        .collect();
    let end = at + dice.between(0, 3000);
    let mut blocked = Vec::new();
    if dice.chance(30) {
        let from = dice.between(0, end);
        let width = dice.pick(&[0, 0, 400]);
        blocked.push(Blocked { from: Length::mm(from), to: Length::mm(from + width) });
    }
    let ways_in: Vec<WayIn> = (0..dice.between(1, 3))
        .map(|index| {
            let on_luminaire = dice.chance(15);
            let chainage = if on_luminaire {
                luminaires[dice.between(0, count as i64 - 1) as usize].chainage
            } else {
                Length::mm(dice.between(0, end))
            };
            WayIn { id: id(&format!("w{index}")), chainage }
        })
        .collect();
    let drivers: Vec<DriverOption> = (0..dice.between(1, 3))
        .map(|index| {
            let spread = dice.pick(&[0.0, 0.1, 0.3]);
            DriverOption {
                part: format!("d{index}"),
                price: money(dice, 20, 90),
                outputs: dice.between(1, 3) as u8,
                output_limit: Amps::new(dice.between(8, 40) as f64 / 10.0),
                rated: Watts::new(dice.between(12, 80) as f64),
                reserve_percent: dice.pick(&[0, 20]),
                low: Volts::new(12.0 - spread),
                high: Volts::new(12.0 + spread),
                short_circuit: if dice.chance(25) {
                    ShortCircuit::Fused { rating: Amps::new(dice.between(1, 5) as f64), clears_at: 4 }
                } else {
                    ShortCircuit::Limited(Amps::new(dice.between(2, 6) as f64))
                },
            }
        })
        .collect();
    let area = |dice: &mut Dice| dice.pick(&[(0.5, 0.0425), (0.75, 0.0283), (1.5, 0.0145), (2.5, 0.0087)]);
    let leads: Vec<LeadOption> = (0..dice.between(1, 3))
        .map(|index| {
            let (area, ohms_per_m) = area(dice);
            let supply = if dice.chance(50) {
                LeadSupply::Reel { per_metre: money(dice, 0, 4) }
            } else {
                LeadSupply::MadeUp {
                    lengths: (0..dice.between(1, 3))
                        .map(|_| (Length::mm(dice.between(1, 12) * 1000), money(dice, 2, 30)))
                        .collect(),
                    plug: Ohms::new(dice.between(0, 20) as f64 / 1000.0),
                    plug_carries: Amps::new(dice.between(4, 10) as f64),
                    plug_cost: money(dice, 0, 3),
                }
            };
            LeadOption {
                part: format!("l{index}"),
                area: SquareMm::new(area),
                ohms_per_m,
                carries: Amps::new(dice.between(4, 12) as f64),
                supply,
                allowance: Length::mm(dice.pick(&[0, 300])),
                ends: Ohms::new(dice.between(0, 10) as f64 / 1000.0),
                ends_cost: money(dice, 0, 5),
            }
        })
        .collect();
    let runs: Vec<RunOption> = (0..dice.between(1, 3))
        .map(|index| {
            let (area, ohms_per_m) = area(dice);
            RunOption {
                part: format!("r{index}"),
                area: SquareMm::new(area),
                ohms_per_m,
                carries: Amps::new(dice.between(4, 12) as f64),
                per_metre: money(dice, 0, 3),
                lengths: dice.pick(&[1, 2]),
            }
        })
        .collect();
    let places: Vec<Place> = (0..dice.between(1, 3))
        .map(|index| {
            let mains = match dice.between(0, 9) {
                0 => Mains::Unreached,
                1 => Mains::Assumed,
                _ => Mains::Route { point: id("m"), length: Length::mm(dice.between(0, 20_000)), routes: Vec::new() },
            };
            let fits = (0..drivers.len())
                .filter(|_| dice.chance(80))
                .collect::<Vec<_>>()
                .into_iter()
                .map(|driver| Fit { driver, share: dice.pick(&[1.0, 0.75, 0.5]), enclosure: money(dice, 0, 10) })
                .collect();
            let room = if dice.chance(35) { Some(dice.pick(&[0, 1, 1, 1, 2])) } else { None };
            Place { id: id(&format!("p{index}")), mains, fits, room }
        })
        .collect();
    let mut paths = Vec::new();
    for place in 0..places.len() {
        for way_in in 0..ways_in.len() {
            for _ in 0..dice.pick(&[0, 1, 1, 1, 1, 2]) {
                let allowed = (0..leads.len()).filter(|_| dice.chance(85)).collect();
                let length = Length::mm(dice.between(0, 15_000));
                paths.push(Path { place, way_in, length, routes: Vec::new(), leads: allowed });
            }
        }
    }
    let locks = (0..dice.pick(&[0, 0, 0, 1, 2]))
        .map(|_| DriverLock {
            place: places[dice.between(0, places.len() as i64 - 1) as usize].id.clone(),
            part: dice.chance(40).then(|| drivers[dice.between(0, drivers.len() as i64 - 1) as usize].part.clone()),
        })
        .collect();
    Problem {
        nominal: Volts::new(12.0),
        drop_permille: dice.pick(&[50, 50, 100, 200]),
        luminaires,
        blocked,
        ways_in,
        places,
        paths,
        drivers,
        leads,
        runs,
        loop_per_hole: Length::mm(dice.pick(&[0, 150, 400])),
        costs: Costs {
            mount_driver: money(dice, 0, 30),
            mains_per_metre: money(dice, 0, 4),
            mains_ends: money(dice, 0, 12),
            lay_per_metre: money(dice, 0, 3),
            thread_per_metre: money(dice, 0, 2),
            per_chain: money(dice, 0, 6),
            per_arm: money(dice, 0, 3),
        },
        wish: FeedWish::Cheapest,
        passing: if dice.chance(25) { Passing::Forbidden } else { Passing::Allowed },
        locks,
    }
}

/// The rail seen from its other end, of a length that is not the rail's own so that nothing falls on round numbers.
pub fn mirrored(problem: &Problem) -> Problem {
    let turn = |at: Length| Length::um(98_765_432) - at;
    let mut other = problem.clone();
    other.luminaires.reverse();
    for luminaire in &mut other.luminaires {
        luminaire.chainage = turn(luminaire.chainage);
    }
    for way in &mut other.ways_in {
        way.chainage = turn(way.chainage);
    }
    for blocked in &mut other.blocked {
        *blocked = Blocked { from: turn(blocked.to), to: turn(blocked.from) };
    }
    other
}
