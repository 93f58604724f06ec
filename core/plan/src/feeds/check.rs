//! Whether a problem can be read at all: indexes that point somewhere, orders that hold, numbers in range.

use catalogue::{LoadModel, ShortCircuit};
use units::{Length, Money};

use super::choose::{MOST_COUNTED, MOST_LOCKS};
use super::problem::{LeadSupply, Mains, Problem};

/// The greatest price or labour cost that is added up: a hundred million.
const GREATEST_COST: Money = Money::ten_thousandths(1_000_000_000_000);
/// The most luminaires of one rail.
const MOST_LUMINAIRES: usize = 20_000;

/// What is wrong with a problem and what is accepted, one line each; empty where it can be read.
pub(super) fn faults(problem: &Problem) -> Vec<String> {
    let mut faults = Faults(Vec::new());
    luminaires(problem, &mut faults);
    places_and_paths(problem, &mut faults);
    parts(problem, &mut faults);
    faults.expect(problem.nominal.get() > 0.0, || "nominal voltage: accepted above 0 V".into());
    faults.expect(problem.drop_permille <= 1000, || "allowed drop: accepted 0 to 1000 thousandths".into());
    faults
        .expect(problem.locks.len() <= MOST_LOCKS, || format!("driver locks: accepted up to {MOST_LOCKS} for a rail"));
    faults.length(problem.loop_per_hole, || "loop per hole".into());
    let costs = &problem.costs;
    let named = [
        (costs.mount_driver, "mounting a driver"),
        (costs.mains_per_metre, "a metre of mains lead"),
        (costs.mains_ends, "ends of a mains lead"),
        (costs.lay_per_metre, "laying a metre of lead"),
        (costs.thread_per_metre, "threading a metre of run"),
        (costs.per_chain, "extras of a chain"),
        (costs.per_arm, "extras of an arm"),
    ];
    for (amount, name) in named {
        faults.cost(amount, || name.into());
    }
    if faults.0.is_empty() && !sums_fit(problem) {
        faults.0.push("prices and lengths: together beyond what is added up; accepted up to about 100 million".into());
    }
    faults.0
}

struct Faults(Vec<String>);

impl Faults {
    fn expect(&mut self, holds: bool, what: impl FnOnce() -> String) {
        if !holds {
            self.0.push(what());
        }
    }

    fn cost(&mut self, amount: Money, name: impl FnOnce() -> String) {
        let holds = amount >= Money::ZERO && amount <= GREATEST_COST;
        self.expect(holds, || format!("cost of {}: {amount}; accepted 0 to {GREATEST_COST}", name()));
    }

    fn length(&mut self, length: Length, name: impl FnOnce() -> String) {
        let holds = length >= Length::ZERO && length <= Length::GREATEST;
        self.expect(holds, || format!("{}: {length}; accepted 0 to {}", name(), Length::GREATEST));
    }
}

fn luminaires(problem: &Problem, faults: &mut Faults) {
    faults.expect(problem.luminaires.len() <= MOST_LUMINAIRES, || {
        format!("luminaires: {}; accepted up to {MOST_LUMINAIRES} for a rail", problem.luminaires.len())
    });
    let channels = problem.luminaires.first().map_or(1, |luminaire| luminaire.channels.len());
    faults.expect((1..=5).contains(&channels), || "channels of a luminaire: accepted 1 to 5".into());
    for (index, luminaire) in problem.luminaires.iter().enumerate() {
        let number = index + 1;
        let sound = luminaire.channels.iter().all(|load| match load {
            LoadModel::Current(amps) => (0.0..=1e6).contains(&amps.get()),
            LoadModel::Power(watts) => (0.0..=1e6).contains(&watts.get()),
            LoadModel::Resistance(ohms) => (1e-6..=1e12).contains(&ohms.get()),
        });
        faults.expect(sound, || format!("load of luminaire {number}: accepted 0 to 1e6 A or W, or 1e-6 to 1e12 ohms"));
        faults.expect(luminaire.channels.len() == channels, || {
            format!("channels of luminaire {number}: accepted as many as the first has, {channels}")
        });
        let own = luminaire.own_channel.get() >= 0.0 && luminaire.own_common.get() >= 0.0;
        faults.expect(own, || format!("own branch of luminaire {number}: accepted 0 ohms or more"));
        faults
            .expect(luminaire.least.get() >= 0.0, || format!("least volts of luminaire {number}: accepted 0 or more"));
        let far = luminaire.chainage.abs() <= Length::GREATEST;
        faults.expect(far, || format!("chainage of luminaire {number}: accepted up to {}", Length::GREATEST));
        let after = index == 0 || problem.luminaires[index - 1].chainage <= luminaire.chainage;
        faults.expect(after, || format!("luminaire {number}: accepted in order of chainage"));
    }
    let limits = super::source::limits(problem);
    faults.expect(limits.iter().all(|limit| *limit > 0.0), || "least volts in force: accepted above 0 V".into());
    for blocked in &problem.blocked {
        faults.expect(blocked.from <= blocked.to, || {
            format!("blocked stretch from {}: accepted with its end not before its start", blocked.from)
        });
    }
    for way in &problem.ways_in {
        let far = way.chainage.abs() <= Length::GREATEST;
        faults.expect(far, || format!("way in {}: accepted up to {}", way.id, Length::GREATEST));
    }
}

fn places_and_paths(problem: &Problem, faults: &mut Faults) {
    let scarce = |room: &Option<u32>| room.is_some_and(|room| (room as usize) < problem.luminaires.len());
    faults.expect(problem.places.iter().filter(|place| scarce(&place.room)).count() <= MOST_COUNTED, || {
        format!("places with little room: accepted up to {MOST_COUNTED} for a rail")
    });
    for place in &problem.places {
        if let Mains::Route { length, .. } = &place.mains {
            faults.length(*length, || format!("mains route to place {}", place.id));
        }
        for fit in &place.fits {
            faults.expect(fit.driver < problem.drivers.len(), || format!("place {}: names no driver part", place.id));
            let share = (0.0..=1.0).contains(&fit.share);
            faults.expect(share, || format!("place {}: share {}; accepted 0 to 1", place.id, fit.share));
            faults.cost(fit.enclosure, || format!("the enclosure at place {}", place.id));
        }
    }
    for (index, path) in problem.paths.iter().enumerate() {
        let known = path.place < problem.places.len() && path.way_in < problem.ways_in.len();
        faults.expect(known, || format!("path {index}: names no place or way in"));
        faults.expect(path.leads.iter().all(|lead| *lead < problem.leads.len()), || {
            format!("path {index}: names no lead")
        });
        faults.length(path.length, || format!("path {index}"));
    }
}

fn parts(problem: &Problem, faults: &mut Faults) {
    for driver in &problem.drivers {
        let part = &driver.part;
        faults.cost(driver.price, || format!("driver {part}"));
        faults.expect(driver.low.get() > 0.0 && driver.low <= driver.high && driver.high.get() <= 1e6, || {
            format!(
                "driver {part}: {} to {}; accepted above 0 V, the low end not above the high",
                driver.low, driver.high
            )
        });
        let rated = (0.0..=1e9).contains(&driver.rated.get()) && (0.0..=1e9).contains(&driver.output_limit.get());
        faults.expect(rated, || format!("driver {part}: rated power and limit of an output accepted 0 to 1e9"));
        faults.expect(driver.reserve_percent <= 100, || format!("driver {part}: reserve accepted 0 to 100 per cent"));
        let short = match driver.short_circuit {
            ShortCircuit::Limited(amps) => (0.0..=1e9).contains(&amps.get()),
            ShortCircuit::Fused { rating, clears_at } => rating.get() > 0.0 && rating.get() <= 1e9 && clears_at > 0,
        };
        faults.expect(short, || format!("driver {part}: short-circuit current or fuse accepted above 0 A"));
    }
    for lead in &problem.leads {
        let part = &lead.part;
        conductor(part, lead.ohms_per_m, lead.carries.get(), faults);
        faults.length(lead.allowance, || format!("allowance of lead {part}"));
        faults.expect(lead.ends.get() >= 0.0, || format!("ends of lead {part}: accepted 0 ohms or more"));
        faults.cost(lead.ends_cost, || format!("ends of lead {part}"));
        match &lead.supply {
            LeadSupply::Reel { per_metre } => faults.cost(*per_metre, || format!("a metre of lead {part}")),
            LeadSupply::MadeUp { lengths, plug, plug_carries, plug_cost } => {
                faults.cost(*plug_cost, || format!("a plug of lead {part}"));
                let sound = plug.get() >= 0.0 && (0.0..=1e9).contains(&plug_carries.get());
                faults.expect(sound, || format!("plug of lead {part}: accepted 0 ohms and 0 A or more"));
                faults.expect(lengths.len() <= 60, || format!("lead {part}: accepted up to 60 made-up lengths"));
                for (length, price) in lengths {
                    faults.length(*length, || format!("made-up length of lead {part}"));
                    faults.cost(*price, || format!("a made-up length of lead {part}"));
                }
            }
        }
    }
    for run in &problem.runs {
        conductor(&run.part, run.ohms_per_m, run.carries.get(), faults);
        faults.cost(run.per_metre, || format!("a metre of run {}", run.part));
    }
}

fn conductor(part: &str, ohms_per_m: f64, carries: f64, faults: &mut Faults) {
    let sound = (0.0..=1e6).contains(&ohms_per_m) && (0.0..=1e9).contains(&carries);
    faults.expect(sound, || format!("lead {part}: ohms for a metre accepted 0 to 1e6, current 0 to 1e9 A"));
}

/// Whether the dearest scheme there could be still fits the arithmetic.
fn sums_fit(problem: &Problem) -> bool {
    let most = |amounts: &mut dyn Iterator<Item = Money>| {
        i128::from(amounts.map(Money::to_ten_thousandths).max().unwrap_or(0)) * 1_000_000
    };
    let metres = |per_metre: i128, length: Length| per_metre / 1_000_000 * i128::from(length.to_um());
    let costs = &problem.costs;
    let one = |amount: Money| i128::from(amount.to_ten_thousandths()) * 1_000_000;
    let mains = problem.places.iter().map(|place| match &place.mains {
        Mains::Route { length, .. } => *length,
        _ => Length::ZERO,
    });
    let mains = mains.max().unwrap_or(Length::ZERO);
    let driver = most(&mut problem.drivers.iter().map(|driver| driver.price))
        + most(&mut problem.places.iter().flat_map(|place| place.fits.iter().map(|fit| fit.enclosure)))
        + one(costs.mount_driver)
        + one(costs.mains_ends)
        + metres(one(costs.mains_per_metre), mains);
    let path = problem.paths.iter().map(|path| path.length).max().unwrap_or(Length::ZERO)
        + problem.leads.iter().map(|lead| lead.allowance).max().unwrap_or(Length::ZERO);
    let lead = problem.leads.iter().map(|lead| match &lead.supply {
        LeadSupply::Reel { per_metre } => metres(one(*per_metre), path) + one(lead.ends_cost),
        LeadSupply::MadeUp { lengths, plug_cost, .. } => {
            (most(&mut lengths.iter().map(|own| own.1)) + one(*plug_cost)) * 3 + one(lead.ends_cost)
        }
    });
    let ends = problem
        .luminaires
        .iter()
        .map(|luminaire| luminaire.chainage)
        .chain(problem.ways_in.iter().map(|way| way.chainage));
    let (low, high) = ends.fold((Length::ZERO, Length::ZERO), |(low, high), at| (low.min(at), high.max(at)));
    let span = (high - low) * 2 + problem.loop_per_hole * problem.luminaires.len() as i64;
    let run = problem.runs.iter().map(|run| metres(one(run.per_metre), span) * i128::from(run.lengths)).max();
    let chain = lead.max().unwrap_or(0)
        + metres(one(costs.lay_per_metre), path)
        + one(costs.per_chain)
        + one(costs.per_arm) * 2
        + run.unwrap_or(0)
        + metres(one(costs.thread_per_metre), span);
    let count = problem.luminaires.len() as i128 + 1;
    (driver + chain) * count < i128::from(super::table::BEYOND)
}
