//! Small feed problems of modules for tests; every figure is invented.
#![allow(dead_code, reason = "each test file uses its own share")]

pub mod brute;
pub mod random;
pub mod together;

use catalogue::{LoadModel, ShortCircuit};
use plan::feeds::{Blocked, Costs, DriverOption, Fit, LeadOption, LeadSupply, Mains, Place, WayIn};
use plan::series::{DecoderOption, Feeding, Gap, Module, Path, Problem};
use survey::{FeedWish, Id};
use units::{Amps, Length, Money, Ohms, SquareMm, Volts, Watts};

pub fn id(text: &str) -> Id {
    Id::new(text).unwrap()
}

pub fn mm(millimetres: i64) -> Length {
    Length::mm(millimetres)
}

pub fn price(hundredths: i64) -> Money {
    Money::ten_thousandths(hundredths * 100)
}

pub fn lead(part: &str, supply: LeadSupply, milliohms_per_m: f64, carries: f64) -> LeadOption {
    LeadOption {
        part: part.into(),
        area: SquareMm::new(1.0),
        ohms_per_m: milliohms_per_m / 1000.0,
        carries: Amps::new(carries),
        supply,
        allowance: mm(200),
        ends: Ohms::new(0.01),
        ends_cost: price(300),
    }
}

pub fn made_up(lengths: &[(i64, i64)], plug_carries: f64) -> LeadSupply {
    LeadSupply::MadeUp {
        lengths: lengths.iter().map(|(length, cents)| (mm(*length), price(*cents))).collect(),
        plug: Ohms::new(0.005),
        plug_carries: Amps::new(plug_carries),
        plug_cost: Money::ZERO,
    }
}

pub fn reel(cents_per_metre: i64) -> LeadSupply {
    LeadSupply::Reel { per_metre: price(cents_per_metre) }
}

pub fn driver(part: &str, cents: i64, watts: f64, outputs: u8, limit: f64, short: ShortCircuit) -> DriverOption {
    DriverOption {
        part: part.into(),
        price: price(cents),
        outputs,
        output_limit: Amps::new(limit),
        rated: Watts::new(watts),
        reserve_percent: 20,
        low: Volts::new(23.76),
        high: Volts::new(24.24),
        short_circuit: short,
    }
}

/// Modules of 500 mm in a row with a joint of 4 mm, a way in before the first, a place with one driver part.
pub fn row(count: usize, amps: f64) -> Problem {
    let modules: Vec<Module> = (0..count as i64)
        .map(|k| Module {
            start: mm(100 + 504 * k),
            end: mm(600 + 504 * k),
            load: LoadModel::Current(Amps::new(amps)),
            through: Ohms::new(0.012),
            least: Volts::new(21.6),
            greatest: Volts::new(26.4),
        })
        .collect();
    Problem {
        nominal: Volts::new(24.0),
        drop_permille: 50,
        channels: 1,
        gaps: vec![Gap::Plugged; count.saturating_sub(1)],
        modules,
        contact: Ohms::new(0.005),
        connector_carries: Amps::new(6.0),
        longest_chain: mm(8_000),
        blocked: vec![],
        ways_in: vec![WayIn { id: id("w0"), chainage: mm(50) }],
        places: vec![Place {
            id: id("p0"),
            mains: Mains::Route { point: id("m"), length: mm(4_000), routes: vec![] },
            fits: vec![Fit { driver: 0, share: 1.0, enclosure: Money::ZERO }],
            room: None,
        }],
        paths: vec![Path {
            place: 0,
            way_in: 0,
            length: mm(2_000),
            routes: vec![],
            extensions: vec![0],
            luminaire_leads: vec![0],
        }],
        drivers: vec![driver("D", 9_000, 95.0, 2, 4.0, ShortCircuit::Limited(Amps::new(5.0)))],
        feeding: Feeding::Plain,
        extensions: vec![lead("E", made_up(&[(1_000, 300), (3_000, 600), (5_000, 900)], 8.0), 13.6, 10.0)],
        luminaire_leads: vec![lead("L", made_up(&[(500, 250), (1_000, 300), (5_000, 800)], 6.0), 20.0, 8.0)],
        passes_behind: vec![true],
        links: vec![lead("K", made_up(&[(300, 500), (600, 600), (2_000, 1_000)], 6.0), 20.0, 8.0)],
        costs: Costs {
            mount_driver: price(5_800),
            mains_per_metre: price(400),
            mains_ends: price(1_000),
            lay_per_metre: price(240),
            thread_per_metre: price(190),
            per_chain: price(450),
            per_arm: Money::ZERO,
        },
        wish: FeedWish::Cheapest,
        locks: vec![],
    }
}

/// The same for three channels behind a decoder.
pub fn colour(count: usize, amps: f64) -> Problem {
    let problem = row(count, amps);
    Problem {
        channels: 3,
        feeding: Feeding::Decoded {
            beside: mm(300),
            decoders: vec![DecoderOption {
                part: "DC".into(),
                cost: price(8_000),
                ohms: Ohms::new(0.015),
                carries: Amps::new(5.0),
                enclosure: vec![Some(Money::ZERO)],
            }],
        },
        luminaire_leads: vec![lead("L", made_up(&[(5_000, 1_700), (10_000, 2_900), (20_000, 5_400)], 6.0), 20.0, 8.0)],
        ..problem
    }
}

pub fn shut(from: i64, to: i64) -> Blocked {
    Blocked { from: mm(from), to: mm(to) }
}
