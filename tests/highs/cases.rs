//! Rails of medium size for the witness; every part and price is invented.

use catalogue::{LoadModel, ShortCircuit};
use plan::feeds::{
    self, Blocked, Costs, DriverOption, Fit, LeadOption, LeadSupply, Luminaire, Mains, Passing, Place, RunOption, WayIn,
};
use plan::series::{self, DecoderOption, Feeding, Gap, Module};
use survey::{DriverLock, FeedWish, Id};
use units::{Amps, Length, Money, Ohms, SquareMm, Volts, Watts};

fn id(text: &str) -> Id {
    Id::new(text).expect("a word is an id")
}

fn cents(cents: i64) -> Money {
    Money::ten_thousandths(cents * 100)
}

const COSTS: Costs = Costs {
    mount_driver: Money::ten_thousandths(223_400),
    mains_per_metre: Money::ten_thousandths(28_900),
    mains_ends: Money::ten_thousandths(151_000),
    lay_per_metre: Money::ten_thousandths(12_300),
    thread_per_metre: Money::ten_thousandths(8_700),
    per_chain: Money::ten_thousandths(31_000),
    per_arm: Money::ten_thousandths(12_100),
};

fn driver(part: &str, volts: f64, (rated, outputs, limit): (f64, u8, f64), price: i64, held: f64) -> DriverOption {
    DriverOption {
        part: part.into(),
        price: cents(price),
        outputs,
        output_limit: Amps::new(limit),
        rated: Watts::new(rated),
        reserve_percent: 20,
        low: Volts::new(volts * 0.98),
        high: Volts::new(volts * 1.02),
        short_circuit: ShortCircuit::Limited(Amps::new(held)),
    }
}

/// Made-up leads of three areas; a lead of less resistance costs more.
fn leads(carries: f64) -> Vec<LeadOption> {
    [(1.0, 0.0224), (1.5, 0.0153), (2.5, 0.0092)]
        .into_iter()
        .enumerate()
        .map(|(step, (area, ohms_per_m))| LeadOption {
            part: format!("L{step}"),
            area: SquareMm::new(area),
            ohms_per_m,
            carries: Amps::new(carries + 3.0 * step as f64),
            supply: LeadSupply::MadeUp {
                lengths: [1, 3, 5, 10]
                    .map(|m| (Length::mm(m * 1000), cents(290 + m * (113 + 61 * step as i64))))
                    .to_vec(),
                plug: Ohms::new(0.006),
                plug_carries: Amps::new(carries),
                plug_cost: cents(47),
            },
            allowance: Length::mm(200),
            ends: Ohms::new(0.012),
            ends_cost: cents(187),
        })
        .collect()
}

/// Places a third, a half and the whole way along, with room for so many drivers each, all parts, and mains at some
/// distance.
fn places(count: usize, parts: usize, room: Option<u32>, name: &str) -> Vec<Place> {
    (0..count)
        .map(|index| Place {
            id: id(&format!("{name}{index}")),
            mains: Mains::Route {
                point: id("m"),
                length: Length::mm(3_170 + index as i64 * 4_210),
                routes: Vec::new(),
            },
            fits: (0..parts)
                .map(|driver| Fit { driver, share: [1.0, 0.9][index % 2], enclosure: cents(130 * (index as i64 % 2)) })
                .collect(),
            room,
        })
        .collect()
}

/// A rail of points at 290 mm or so, with places along it that a way in lies beside on either hand.
///
/// `room` holds for every place; a lock asks for a driver of the weakest part at the second.
#[must_use]
pub fn points(
    count: usize,
    load: LoadModel,
    number_of_places: usize,
    room: Option<u32>,
    locked: bool,
) -> feeds::Problem {
    let at = |index: i64| Length::mm(210 + index * 290 + index % 7 * 3);
    let end = 290 * count as i64 + 400;
    let ways = number_of_places as i64 * 2;
    feeds::Problem {
        nominal: Volts::new(12.0),
        drop_permille: 50,
        luminaires: (0..count as i64)
            .map(|index| Luminaire {
                chainage: at(index),
                channels: vec![load],
                own_channel: Ohms::new(0.021),
                own_common: Ohms::new(0.021),
                least: Volts::new(10.8),
                greatest: Volts::new(13.2),
            })
            .collect(),
        blocked: vec![Blocked { from: Length::mm(end * 2 / 5 + 77), to: Length::mm(end * 2 / 5 + 77) }],
        ways_in: (0..ways)
            .map(|index| WayIn {
                id: id(&format!("w{index}")),
                chainage: Length::mm(end * (2 * index + 1) / (2 * ways)),
            })
            .collect(),
        places: places(number_of_places, 4, room, "p"),
        paths: (0..ways)
            .map(|index| feeds::Path {
                place: index as usize / 2,
                way_in: index as usize,
                length: Length::mm(1_930 + 710 * (index % 3)),
                routes: Vec::new(),
                leads: vec![0, 1, 2],
            })
            .collect(),
        drivers: vec![
            driver("D20", 12.0, (20.0, 1, 2.0), 2_890, 5.0),
            driver("D40", 12.0, (40.0, 2, 2.5), 4_130, 5.0),
            driver("D60", 12.0, (60.0, 2, 4.0), 5_270, 6.0),
            driver("D100", 12.0, (100.0, 4, 4.0), 7_910, 6.0),
        ],
        leads: leads(8.0),
        runs: [(1.0, 0.0224, 30), (1.5, 0.0153, 51), (2.5, 0.0092, 83)]
            .into_iter()
            .map(|(area, ohms_per_m, price)| RunOption {
                part: format!("R{area}"),
                area: SquareMm::new(area),
                ohms_per_m,
                carries: Amps::new(8.0 + area),
                per_metre: cents(price),
                lengths: 2,
            })
            .collect(),
        loop_per_hole: Length::mm(110),
        costs: COSTS,
        wish: FeedWish::Cheapest,
        passing: Passing::Allowed,
        locks: if locked { vec![DriverLock { place: id("p1"), part: Some("D20".into()) }] } else { Vec::new() },
    }
}

/// Rails side by side, as on both sides of a stair or ramp, of which each has the same places within reach along ways of
/// its own; `counts` says how many points each has.
#[must_use]
pub fn neighbours(counts: &[usize], load: LoadModel, number_of_places: usize, room: u32) -> Vec<feeds::Problem> {
    let rail = |(index, count): (usize, &usize)| {
        let mut problem = points(*count, load, number_of_places, Some(room), false);
        for path in &mut problem.paths {
            path.length += Length::mm(1_310 * index as i64);
        }
        // A wider rail lies apart from its neighbour by some centimetres at every hole.
        for luminaire in &mut problem.luminaires {
            luminaire.chainage += Length::mm(13 * index as i64);
        }
        problem
    };
    counts.iter().enumerate().map(rail).collect()
}

/// Such rails with drivers that a person put somewhere, by rail: places and parts, any where none is named.
#[must_use]
pub fn locked_neighbours(
    counts: &[usize],
    load: LoadModel,
    number_of_places: usize,
    room: u32,
    locks: &[&[(&str, Option<&str>)]],
) -> Vec<feeds::Problem> {
    let mut rails = neighbours(counts, load, number_of_places, room);
    for (rail, locks) in rails.iter_mut().zip(locks) {
        let lock = |own: &(&str, Option<&str>)| DriverLock { place: id(own.0), part: own.1.map(str::to_owned) };
        rail.locks = locks.iter().map(lock).collect();
    }
    rails
}

/// Rails of modules side by side that have the same places, along ways of their own; `bays` says how many each has.
#[must_use]
pub fn module_neighbours(bays: &[usize], load: LoadModel, room: u32, colour: bool) -> Vec<series::Problem> {
    let rail = |(index, bays): (usize, &usize)| {
        let mut problem = modules(*bays, load, Some(room), colour);
        for path in &mut problem.paths {
            path.length += Length::mm(1_310 * index as i64);
        }
        problem
    };
    bays.iter().enumerate().map(rail).collect()
}

/// A rail of linear modules, long and short in turn, in bays between posts that link leads cross; three channels behind
/// decoders where `colour` is set.
#[must_use]
pub fn modules(bays: usize, load: LoadModel, room: Option<u32>, colour: bool) -> series::Problem {
    let mut modules = Vec::new();
    let mut gaps = Vec::new();
    let mut at = 120;
    for bay in 0..bays {
        let lengths: &[i64] = if bay % 3 == 0 { &[1_000, 500] } else { &[1_000, 300, 300] };
        for (index, length) in lengths.iter().enumerate() {
            if !modules.is_empty() {
                gaps.push(match (index, bay % 11) {
                    (0, 10) => Gap::Shut,
                    (0, _) => Gap::Linked { length: Length::mm(96) },
                    _ => Gap::Plugged,
                });
            }
            modules.push(Module {
                start: Length::mm(at),
                end: Length::mm(at + length),
                load: scaled(load, *length as f64 / 1000.0),
                through: Ohms::new(*length as f64 * 13e-6),
                least: Volts::new(21.6),
                greatest: Volts::new(26.4),
            });
            at += length + 4;
        }
        at += 92;
    }
    let number_of_places = 3;
    let ways = 8;
    let channels = if colour { 3 } else { 1 };
    let decoder = DecoderOption {
        part: "DC".into(),
        cost: cents(4_130),
        ohms: Ohms::new(0.02),
        carries: Amps::new(5.0),
        enclosure: vec![Some(Money::ZERO), Some(cents(900)), Some(Money::ZERO)],
    };
    series::Problem {
        nominal: Volts::new(24.0),
        drop_permille: 50,
        channels,
        modules,
        gaps,
        contact: Ohms::new(0.005),
        connector_carries: Amps::new(6.0),
        longest_chain: Length::mm(9_000),
        blocked: vec![Blocked { from: Length::mm(at / 2), to: Length::mm(at / 2 + 30) }],
        ways_in: (0..ways)
            .map(|index| WayIn {
                id: id(&format!("w{index}")),
                chainage: Length::mm(at * (2 * index + 1) / (2 * ways)),
            })
            .collect(),
        places: places(number_of_places, 3, room, "p"),
        paths: (0..ways as usize)
            .map(|index| series::Path {
                place: index % number_of_places,
                way_in: index,
                length: Length::mm(2_210 + 830 * (index as i64 % 4)),
                routes: Vec::new(),
                extensions: vec![0, 1],
                luminaire_leads: vec![0],
            })
            .collect(),
        drivers: vec![
            driver("D40", 24.0, (40.0, 1, 1.7), 3_890, 4.0),
            driver("D75", 24.0, (75.0, 2, 2.5), 5_930, 5.0),
            driver("D150", 24.0, (150.0, 4, 4.0), 9_470, 5.5),
        ],
        feeding: if colour {
            Feeding::Decoded { beside: Length::mm(300), decoders: vec![decoder] }
        } else {
            Feeding::Plain
        },
        extensions: leads(8.0).into_iter().take(2).collect(),
        luminaire_leads: vec![LeadOption {
            part: "LL".into(),
            supply: LeadSupply::MadeUp {
                lengths: [1, 5, 10, 20].map(|m| (Length::mm(m * 1000), cents(510 + 230 * m))).to_vec(),
                plug: Ohms::new(0.005),
                plug_carries: Amps::new(6.0),
                plug_cost: Money::ZERO,
            },
            ..leads(8.0).swap_remove(0)
        }],
        passes_behind: vec![true],
        links: [(0, 0.0302, 0), (1, 0.0205, 170)]
            .into_iter()
            .map(|(number, ohms_per_m, more)| LeadOption {
                part: format!("K{number}"),
                ohms_per_m,
                supply: LeadSupply::MadeUp {
                    lengths: [300, 600, 2_000].map(|mm| (Length::mm(mm), cents(410 + mm / 2 + more))).to_vec(),
                    plug: Ohms::new(0.005),
                    plug_carries: Amps::new(6.0),
                    plug_cost: Money::ZERO,
                },
                ends_cost: Money::ZERO,
                ..leads(8.0).swap_remove(0)
            })
            .collect(),
        costs: COSTS,
        wish: FeedWish::Cheapest,
        locks: vec![DriverLock { place: id("p1"), part: None }],
    }
}

/// A load so many times as strong.
fn scaled(load: LoadModel, times: f64) -> LoadModel {
    match load {
        LoadModel::Current(amps) => LoadModel::Current(amps * times),
        LoadModel::Power(watts) => LoadModel::Power(watts * times),
        LoadModel::Resistance(ohms) => LoadModel::Resistance(Ohms::new(ohms.get() / times)),
    }
}

/// The rails of points that ours and the witness are compared on, with their names.
#[must_use]
pub fn all_points() -> Vec<(&'static str, feeds::Problem)> {
    let current = |amps| LoadModel::Current(Amps::new(amps));
    vec![
        ("points of 0.25 A, three places", points(120, current(0.25), 3, None, false)),
        ("points of 0.15 A, four places with little room", points(160, current(0.15), 4, Some(2), false)),
        ("points of 0.30 A, four places, a driver locked", points(160, current(0.30), 4, None, true)),
        (
            "points of 3.0 W, three places with little room",
            points(120, LoadModel::Power(Watts::new(3.0)), 3, Some(3), false),
        ),
        ("points of 45 Ω, three places", points(120, LoadModel::Resistance(Ohms::new(45.0)), 3, None, false)),
        ("points of 0.30 A, too little room", points(120, current(0.30), 2, Some(1), false)),
    ]
}

/// The rails of modules that ours and the witness are compared on, with their names.
#[must_use]
pub fn all_modules() -> Vec<(&'static str, series::Problem)> {
    vec![
        ("modules of 0.45 A/m", modules(40, LoadModel::Current(Amps::new(0.45)), None, false)),
        ("modules of 10 W/m, little room", modules(40, LoadModel::Power(Watts::new(10.0)), Some(6), false)),
        ("modules of three channels behind decoders", modules(24, LoadModel::Current(Amps::new(0.17)), None, true)),
    ]
}

/// The rails that share places which ours and the witness are compared on, with their names.
#[must_use]
pub fn all_neighbours() -> Vec<(&'static str, Vec<feeds::Problem>)> {
    let current = |amps| LoadModel::Current(Amps::new(amps));
    vec![
        ("two rails, two places", neighbours(&[14, 14], current(0.10), 2, 2)),
        ("two rails of unlike length, one place", neighbours(&[18, 9], current(0.25), 1, 3)),
        ("three rails, two places", neighbours(&[10, 10, 8], current(0.20), 2, 2)),
        ("four rails, one place", neighbours(&[7, 7, 6, 6], current(0.15), 1, 3)),
        ("two sides of a bridge, three places", neighbours(&[14, 13], current(0.30), 3, 3)),
        ("two sides of a bridge, four places", neighbours(&[12, 12], current(0.35), 4, 2)),
        (
            "three rails of resistive loads, one place",
            neighbours(&[9, 8, 7], LoadModel::Resistance(Ohms::new(60.0)), 1, 3),
        ),
        (
            "two rails, three locks at one place on one of them",
            locked_neighbours(&[12, 10], current(0.10), 2, 4, &[&[("p0", None), ("p0", None), ("p0", None)]]),
        ),
        (
            "two rails with unlike locks",
            locked_neighbours(
                &[11, 11],
                current(0.15),
                2,
                4,
                &[
                    &[("p0", None), ("p0", Some("D20")), ("p1", Some("D60"))],
                    &[("p0", Some("D60")), ("p0", Some("D100"))],
                ],
            ),
        ),
        (
            "three rails with a lock each, one place",
            locked_neighbours(
                &[7, 7, 6],
                current(0.25),
                1,
                3,
                &[&[("p0", Some("D40"))], &[("p0", Some("D100"))], &[("p0", None), ("p0", None)]],
            ),
        ),
    ]
}

/// The rails of modules that share places which ours and the witness are compared on, with their names.
#[must_use]
pub fn all_module_neighbours() -> Vec<(&'static str, Vec<series::Problem>)> {
    let current = |amps| LoadModel::Current(Amps::new(amps));
    vec![
        ("two rails of modules", module_neighbours(&[4, 3], current(0.45), 2, false)),
        (
            "three rails of modules of constant power",
            module_neighbours(&[2, 2, 3], LoadModel::Power(Watts::new(8.0)), 2, false),
        ),
        ("two rails of modules behind decoders", module_neighbours(&[3, 2], current(0.17), 2, true)),
    ]
}
