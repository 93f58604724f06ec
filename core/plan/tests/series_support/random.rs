//! Small feed problems of modules, and groups of them that share places and parts, drawn at random.

use catalogue::{LoadModel, ShortCircuit};
use plan::feeds::{Fit, Mains, Place, WayIn};
use plan::series::{Feeding, Gap, Path, Problem};
use proptest::prelude::*;
use survey::DriverLock;
use units::{Amps, Money, Ohms, Watts};

use super::{colour, driver, id, lead, made_up, mm, price, reel, row, shut};

/// What of a small problem is drawn at random.
#[derive(Clone, Debug)]
pub struct Draw {
    pub count: usize,
    pub is_colour: bool,
    pub load: u8,
    pub links: Vec<u8>,
    pub longest: i64,
    pub ways: (i64, i64),
    pub paths: (i64, i64),
    pub watts: (i64, i64),
    pub limit: i64,
    pub short: u8,
    pub shut: Option<i64>,
    pub room: Option<u32>,
    pub lock: u8,
    pub through: i64,
    pub thick: bool,
}

pub fn draws() -> impl Strategy<Value = Draw> {
    let one = (2_usize..6, any::<bool>(), 0_u8..3, prop::collection::vec(0_u8..5, 5), 900_i64..3_000);
    let two = ((0_i64..3_500, 0_i64..3_500), (500_i64..14_000, 500_i64..14_000), (30_i64..120, 30_i64..120));
    let three =
        (15_i64..60, 0_u8..3, prop::option::weighted(0.3, 200_i64..3_000), prop::option::weighted(0.3, 1_u32..3));
    let four = (0_u8..6, 5_i64..250, any::<bool>());
    (one, two, three, four).prop_map(|(one, two, three, four)| Draw {
        count: one.0,
        is_colour: one.1,
        load: one.2,
        links: one.3,
        longest: one.4,
        ways: two.0,
        paths: two.1,
        watts: two.2,
        limit: three.0,
        short: three.1,
        shut: three.2,
        room: three.3,
        lock: four.0,
        through: four.1,
        thick: four.2,
    })
}

pub fn problem(draw: &Draw) -> Problem {
    let amps = if draw.is_colour { 0.22 } else { 0.6 };
    let mut problem = if draw.is_colour { colour(draw.count, amps) } else { row(draw.count, amps) };
    for module in &mut problem.modules {
        module.through = Ohms::new(draw.through as f64 / 1000.0);
        module.load = match draw.load {
            0 => LoadModel::Current(Amps::new(amps)),
            1 => LoadModel::Power(Watts::new(amps * 22.0)),
            _ => LoadModel::Resistance(Ohms::new(24.0 / amps)),
        };
    }
    let mut shift = 0;
    for gap in 0..problem.gaps.len() {
        match draw.links[gap] {
            0 | 1 => {
                shift += 180 + 300 * i64::from(draw.links[gap]);
                problem.gaps[gap] = Gap::Linked { length: mm(184 + 300 * i64::from(draw.links[gap])) };
            }
            2 if draw.lock == 5 => problem.gaps[gap] = Gap::Shut,
            _ => {}
        }
        problem.modules[gap + 1].start += mm(shift);
        problem.modules[gap + 1].end += mm(shift);
    }
    problem.longest_chain = mm(draw.longest);
    problem.ways_in =
        vec![WayIn { id: id("w0"), chainage: mm(draw.ways.0) }, WayIn { id: id("w1"), chainage: mm(draw.ways.1) }];
    let short = match draw.short {
        0 => ShortCircuit::Limited(Amps::new(5.0)),
        1 => ShortCircuit::Limited(Amps::new(6.5)),
        _ => ShortCircuit::Fused { rating: Amps::new(4.0), clears_at: 5 },
    };
    let outputs = if draw.thick { 4 } else { 2 };
    problem.drivers = vec![
        driver("D1", 6_000, draw.watts.0 as f64, 1, draw.limit as f64 / 10.0, short),
        driver(
            "D2",
            9_000,
            draw.watts.1 as f64,
            outputs,
            draw.limit as f64 / 10.0,
            ShortCircuit::Limited(Amps::new(4.0)),
        ),
    ];
    let mains = |length| Mains::Route { point: id("m"), length: mm(length), routes: vec![] };
    let fits = |enclosure| (0..2).map(|d| Fit { driver: d, share: 0.9, enclosure: price(enclosure) }).collect();
    problem.places = vec![
        Place { id: id("p0"), mains: mains(3_000), fits: fits(0), room: draw.room },
        Place { id: id("p1"), mains: mains(9_000), fits: fits(700), room: None },
    ];
    let path = |place: usize, way_in: usize, length: i64| Path {
        place,
        way_in,
        length: mm(length),
        routes: vec![],
        extensions: vec![0, 1],
        luminaire_leads: vec![0, 1],
    };
    problem.paths = vec![path(0, 0, draw.paths.0), path(0, 1, draw.paths.1), path(1, 1, draw.paths.0 / 2)];
    problem.extensions.push(lead("E2", reel(if draw.thick { 310 } else { 90 }), 8.0, 12.0));
    problem.links.push(lead("K2", made_up(&[(500, 450), (1_000, 700)], 7.0), 45.0, 9.0));
    if let Feeding::Decoded { decoders, .. } = &mut problem.feeding {
        decoders[0].enclosure = vec![Some(Money::ZERO), Some(price(4_600))];
        let mut weaker = decoders[0].clone();
        weaker.cost = price(5_500);
        weaker.carries = Amps::new(0.7);
        decoders.push(weaker);
    }
    // A thicker lead that has no room behind modules, and costs less.
    problem.luminaire_leads.push(lead("L2", reel(120), 12.0, 9.0));
    problem.passes_behind = vec![true, false];
    if let Some(at) = draw.shut {
        problem.blocked = vec![shut(at, at + 40)];
    }
    problem.locks = match draw.lock {
        0 => vec![DriverLock { place: id("p1"), part: None }],
        1 => vec![DriverLock { place: id("p0"), part: Some("D1".into()) }],
        _ => vec![],
    };
    problem
}

/// What of a small group is drawn at random.
#[derive(Clone, Debug)]
pub struct GroupDraw {
    pub rails: Vec<Draw>,
    /// By rail, what its place's exposure asks for and whether it has the nearer place at all.
    pub own: Vec<(u8, bool)>,
    /// Outputs of the drivers.
    pub outputs: (u8, u8),
}

/// Two or three rails of up to three modules.
pub fn groups() -> impl Strategy<Value = GroupDraw> {
    let rail = draws().prop_map(|draw| Draw { count: 1 + draw.count % 3, ..draw });
    let own = prop::collection::vec((0_u8..5, prop::bool::weighted(0.8)), 3);
    (prop::collection::vec(rail, 2..4), own, (1_u8..3, 2_u8..5)).prop_map(|(rails, own, outputs)| GroupDraw {
        rails,
        own,
        outputs,
    })
}

/// Rails that have the parts and the places of the first. Lengths are whole millimetres and prices of a metre whole tenths,
/// so that every cost is a whole number of ten-thousandths and sums are exact.
pub fn group(draw: &GroupDraw) -> Vec<Problem> {
    let first = problem(&draw.rails[0]);
    draw.rails
        .iter()
        .zip(&draw.own)
        .map(|(rail, (exposure, near))| {
            let mut own = problem(rail);
            (own.drivers, own.places, own.costs) = (first.drivers.clone(), first.places.clone(), first.costs);
            (own.drivers[0].outputs, own.drivers[1].outputs) = draw.outputs;
            for fit in own.places.iter_mut().flat_map(|place| &mut place.fits) {
                match exposure {
                    0 => fit.share = 0.75,
                    1 => fit.enclosure += price(1_300),
                    _ => {}
                }
            }
            if !near {
                own.paths.retain(|path| path.place != 0);
            }
            own
        })
        .collect()
}
