//! Everything tried: all blocks, places, parts, chains, paths, leads, runs and splits, each chain solved as a network by
//! the circuit solver, which shares no code with the choice of feeds.

use catalogue::{LoadModel, ShortCircuit};
use plan::circuit::{self, CommonSide, Conductor, Network, Wiring};
use plan::feeds::*;
use units::{Length, Money, Ohms};

/// Exact cost: ten-thousandths times micrometres.
pub type Cost = i128;

pub fn whole(amount: Money) -> Cost {
    Cost::from(amount.to_ten_thousandths()) * 1_000_000
}

pub fn metres(per_metre: Money, length: Length) -> Cost {
    Cost::from(per_metre.to_ten_thousandths()) * Cost::from(length.to_um())
}

/// Least cost with drivers and chains counted for ties, or `None` where nothing is feasible.
pub fn cheapest(problem: &Problem) -> Option<(Money, usize, usize)> {
    let count = problem.luminaires.len();
    // Cheapest block for every stretch, place and fit: cost and chains.
    let mut blocks = Vec::new();
    for (place, own) in problem.places.iter().enumerate() {
        for (fit, what) in own.fits.iter().enumerate() {
            let mut table = vec![vec![None; count + 1]; count];
            let chains: Vec<Vec<Option<Cost>>> = (0..count)
                .map(|first| {
                    (0..count)
                        .map(|last| if last < first { None } else { chain(problem, place, what.driver, first, last) })
                        .collect()
                })
                .collect();
            for (first, row) in table.iter_mut().enumerate() {
                for end in first + 1..=count {
                    row[end] = block(problem, place, fit, first, end, &chains);
                }
            }
            blocks.push((place, what.driver, table));
        }
    }
    let mut best = None;
    let mut used: Vec<usize> = Vec::new();
    walk(problem, &blocks, 0, (0, 0), &mut used, &mut best);
    best.map(|(cost, drivers, chains): (Cost, usize, usize)| {
        (Money::ten_thousandths(((cost + 500_000).div_euclid(1_000_000)) as i64), drivers, chains)
    })
}

type Block = (usize, usize, Vec<Vec<Option<(Cost, usize)>>>);

fn walk(
    problem: &Problem,
    blocks: &[Block],
    at: usize,
    so_far: (Cost, usize),
    used: &mut Vec<usize>,
    best: &mut Option<(Cost, usize, usize)>,
) {
    let count = problem.luminaires.len();
    if at == count {
        let here = (so_far.0, used.len(), so_far.1);
        if room_holds(problem, blocks, used) && locks_hold(problem, blocks, used) && best.is_none_or(|best| here < best)
        {
            *best = Some(here);
        }
        return;
    }
    for (index, (.., table)) in blocks.iter().enumerate() {
        for end in at + 1..=count {
            if let Some((cost, chains)) = table[at][end] {
                used.push(index);
                walk(problem, blocks, end, (so_far.0 + cost, so_far.1 + chains), used, best);
                used.pop();
            }
        }
    }
}

fn room_holds(problem: &Problem, blocks: &[Block], used: &[usize]) -> bool {
    problem.places.iter().enumerate().all(|(place, own)| {
        let here = used.iter().filter(|index| blocks[**index].0 == place).count();
        own.room.is_none_or(|room| here <= room as usize)
    })
}

/// Whether some way to hand each lock a driver of its own exists: every order is tried.
fn locks_hold(problem: &Problem, blocks: &[Block], used: &[usize]) -> bool {
    fn assign(problem: &Problem, blocks: &[Block], used: &[usize], lock: usize, taken: &mut Vec<usize>) -> bool {
        let Some(wanted) = problem.locks.get(lock) else { return true };
        for (position, index) in used.iter().enumerate() {
            let (place, driver, _) = &blocks[*index];
            let fits = problem.places[*place].id == wanted.place
                && wanted.part.as_ref().is_none_or(|part| *part == problem.drivers[*driver].part);
            if fits && !taken.contains(&position) {
                taken.push(position);
                if assign(problem, blocks, used, lock + 1, taken) {
                    return true;
                }
                taken.pop();
            }
        }
        false
    }
    assign(problem, blocks, used, 0, &mut Vec::new())
}

/// One driver for luminaires `first … end − 1`, over all ways to cut them into chains.
fn block(
    problem: &Problem,
    place: usize,
    fit: usize,
    first: usize,
    end: usize,
    chains: &[Vec<Option<Cost>>],
) -> Option<(Cost, usize)> {
    let fit = &problem.places[place].fits[fit];
    let driver = &problem.drivers[fit.driver];
    let usable = driver.rated.get() * fit.share * (1.0 - f64::from(driver.reserve_percent) / 100.0);
    let power: f64 = (first..end).map(|index| worst(problem, driver, index).1).sum();
    if power > usable + 1e-9 {
        return None;
    }
    let costs = &problem.costs;
    let fixed = whole(driver.price)
        + whole(costs.mount_driver)
        + whole(fit.enclosure)
        + match &problem.places[place].mains {
            Mains::Route { length, .. } => metres(costs.mains_per_metre, *length) + whole(costs.mains_ends),
            Mains::Assumed => 0,
            Mains::Unreached => return None,
        };
    let mut best: Option<(Cost, usize)> = None;
    // Each bit says whether a cut follows that luminaire.
    for cuts in 0u32..1 << (end - first - 1) {
        let (mut cost, mut number, mut from) = (fixed, 0, first);
        let mut holds = true;
        for last in first..end {
            if last + 1 == end || cuts & (1 << (last - first)) != 0 {
                match chains[from][last] {
                    Some(own) => cost += own,
                    None => holds = false,
                }
                number += 1;
                from = last + 1;
            }
        }
        if holds && number <= usize::from(driver.outputs) && best.is_none_or(|best| (cost, number) < best) {
            best = Some((cost, number));
        }
    }
    best
}

fn limit(problem: &Problem, index: usize) -> f64 {
    let by_drop = problem.nominal.get() * (1.0 - f64::from(problem.drop_permille) / 1000.0);
    by_drop.max(problem.luminaires[index].least.get())
}

/// Worst current and power of a luminaire, as the module says.
pub fn worst(problem: &Problem, driver: &DriverOption, index: usize) -> (f64, f64) {
    let (low, high) = (driver.low.get(), driver.high.get());
    let mut sum = (0.0, 0.0);
    for load in &problem.luminaires[index].channels {
        let (amps, watts) = match load {
            LoadModel::Current(amps) => (amps.get(), high * amps.get()),
            LoadModel::Power(watts) => {
                let amps = watts.get() / limit(problem, index);
                (amps, low * amps)
            }
            LoadModel::Resistance(ohms) => (high / ohms.get(), high * high / ohms.get()),
        };
        sum = (sum.0 + amps, sum.1 + watts);
    }
    sum
}

/// The cheapest chain for luminaires `first … last` from a driver at a place.
pub fn chain(problem: &Problem, place: usize, driver: usize, first: usize, last: usize) -> Option<Cost> {
    let option = &problem.drivers[driver];
    let amps = |from: usize, to: usize| (from..to).map(|index| worst(problem, option, index).0).sum::<f64>();
    if amps(first, last + 1) > option.output_limit.get() + 1e-9 {
        return None;
    }
    if (first..=last).any(|index| option.high.get() > problem.luminaires[index].greatest.get() + 1e-9) {
        return None;
    }
    let (must_carry, fuse_needs) = match option.short_circuit {
        ShortCircuit::Limited(amps) => (amps.get(), None),
        ShortCircuit::Fused { rating, clears_at } => (rating.get(), Some(rating.get() * f64::from(clears_at))),
    };
    let mut best: Option<Cost> = None;
    for path in problem.paths.iter().filter(|path| path.place == place) {
        let way_in = problem.ways_in[path.way_in].chainage;
        for split in first..=last + 1 {
            let at = |index: usize| problem.luminaires[index].chainage;
            if (first..split).any(|index| at(index) > way_in) || (split..=last).any(|index| at(index) < way_in) {
                continue;
            }
            if split > first && !open(problem, at(first), way_in) || split <= last && !open(problem, way_in, at(last)) {
                continue;
            }
            let passes_others =
                (0..problem.luminaires.len()).filter(|index| *index < first || *index > last).any(|index| {
                    let between = |low: Length, high: Length| at(index) > low && at(index) < high;
                    split == last + 1 && between(at(last), way_in) || split == first && between(way_in, at(first))
                });
            // A luminaire of another chain exactly at the way in, or at the chain's end, is passed as well when the
            // order says that it lies between.
            let passes_others = passes_others
                || split == last + 1 && (last + 1..problem.luminaires.len()).any(|index| at(index) < way_in)
                || split == first && (0..first).any(|index| at(index) > way_in);
            if problem.passing == Passing::Forbidden && passes_others {
                continue;
            }
            let loops = |number: usize| problem.loop_per_hole * number as i64;
            let left = if split > first { way_in - at(first) + loops(split - first) } else { Length::ZERO };
            let right = if split <= last { at(last) - way_in + loops(last + 1 - split) } else { Length::ZERO };
            let arms = Cost::from(split > first) + Cost::from(split <= last);
            for run in &problem.runs {
                let carries = run.carries.get();
                if amps(first, split).max(amps(split, last + 1)) > carries + 1e-9 || must_carry > carries + 1e-9 {
                    continue;
                }
                for lead in &path.leads {
                    for (ohms, carries, price) in makes(problem, *lead, path.length) {
                        if amps(first, last + 1) > carries + 1e-9 || must_carry > carries + 1e-9 {
                            continue;
                        }
                        let far = ohms + run.ohms_per_m * left.max(right).to_m();
                        if fuse_needs.is_some_and(|needs| option.low.get() / (2.0 * far) < needs) {
                            continue;
                        }
                        let costs = &problem.costs;
                        let cost = price
                            + metres(costs.lay_per_metre, path.length)
                            + whole(costs.per_chain)
                            + whole(costs.per_arm) * arms
                            + metres(run.per_metre, left + right) * Cost::from(run.lengths)
                            + metres(costs.thread_per_metre, left + right);
                        if best.is_some_and(|best| best <= cost) {
                            continue;
                        }
                        if volts_hold(problem, option, ohms, run.ohms_per_m, way_in, first, split, last) {
                            best = Some(cost);
                        }
                    }
                }
            }
        }
    }
    best
}

fn open(problem: &Problem, from: Length, to: Length) -> bool {
    from == to || !problem.blocked.iter().any(|blocked| blocked.from < to && blocked.to > from)
}

/// Resistance of one conductor, current carried, and price with ends and plugs.
fn makes(problem: &Problem, lead: usize, path: Length) -> Vec<(f64, f64, Cost)> {
    let option = &problem.leads[lead];
    let least = path + option.allowance;
    match &option.supply {
        LeadSupply::Reel { per_metre } => vec![(
            option.ohms_per_m * least.to_m() + option.ends.get(),
            option.carries.get(),
            metres(*per_metre, least) + whole(option.ends_cost),
        )],
        LeadSupply::MadeUp { lengths, plug, plug_carries, plug_cost } => {
            let mut found = Vec::new();
            let count = lengths.len();
            // Ordered triples with "none" as the last choice; doubles do no harm.
            for choice in 0..(count + 1).pow(3) {
                let picks = [choice % (count + 1), choice / (count + 1) % (count + 1), choice / (count + 1).pow(2)];
                let pieces: Vec<_> = picks.iter().filter(|pick| **pick < count).map(|pick| lengths[*pick]).collect();
                if pieces.is_empty() {
                    continue;
                }
                let sum: Length = pieces.iter().map(|piece| piece.0).sum();
                if sum >= least {
                    let joints = pieces.len() as i32 - 1;
                    found.push((
                        option.ohms_per_m * sum.to_m() + option.ends.get() + f64::from(joints) * plug.get(),
                        option.carries.get().min(plug_carries.get()),
                        pieces.iter().map(|piece| whole(piece.1)).sum::<Cost>()
                            + whole(*plug_cost) * Cost::from(joints)
                            + whole(option.ends_cost),
                    ));
                }
            }
            found
        }
    }
}

/// Builds the chain as a network and asks the circuit solver.
#[allow(clippy::too_many_arguments)]
pub fn network(
    problem: &Problem,
    driver: &DriverOption,
    lead: f64,
    ohms_per_m: f64,
    way_in: Length,
    first: usize,
    split: usize,
    last: usize,
) -> Network {
    let channels = problem.luminaires[first].channels.len();
    let wiring = if channels == 1 {
        Wiring::Pair
    } else {
        Wiring::Colour {
            common: CommonSide::Plus,
            channels: (0..channels).map(|channel| format!("c{channel}")).collect(),
        }
    };
    let mut network = Network::new(wiring, driver.low, "source");
    let branches = |channel: f64, common: f64| -> Vec<circuit::Branch> {
        (0..channels)
            .map(Conductor::Channel)
            .chain([Conductor::Common])
            .map(|conductor| circuit::Branch {
                conductor,
                kind: circuit::BranchKind::Run,
                length: Length::ZERO,
                area: None,
                ohms: Ohms::new(if conductor == Conductor::Common { common } else { channel }),
                stands: None,
            })
            .collect()
    };
    let start = network.add_station("w", None, 0, branches(lead, lead));
    let left: Vec<usize> = (first..split).rev().collect();
    let right: Vec<usize> = (split..=last).collect();
    for arm in [left, right] {
        let (mut parent, mut from) = (start, way_in);
        for index in arm {
            let luminaire = &problem.luminaires[index];
            let length = (luminaire.chainage - from).abs() + problem.loop_per_hole;
            let ohms = ohms_per_m * length.to_m();
            parent = network.add_station(format!("s{index}"), None, parent, branches(ohms, ohms));
            from = luminaire.chainage;
            let own = branches(luminaire.own_channel.get(), luminaire.own_common.get());
            let terminals = network.add_station(format!("t{index}"), None, parent, own);
            for (channel, load) in luminaire.channels.iter().enumerate() {
                let model = match load {
                    LoadModel::Current(amps) => circuit::LoadModel::Current(*amps),
                    LoadModel::Power(watts) => circuit::LoadModel::Power(*watts),
                    LoadModel::Resistance(ohms) => circuit::LoadModel::Resistance(*ohms),
                };
                network.add_load(index.to_string(), terminals, channel, model);
            }
        }
    }
    network
}

#[allow(clippy::too_many_arguments)]
fn volts_hold(
    problem: &Problem,
    driver: &DriverOption,
    lead: f64,
    ohms_per_m: f64,
    way_in: Length,
    first: usize,
    split: usize,
    last: usize,
) -> bool {
    let network = network(problem, driver, lead, ohms_per_m, way_in, first, split, last);
    circuit::solve(&network).is_ok_and(|solution| {
        network
            .loads
            .iter()
            .zip(&solution.loads)
            .all(|(load, duty)| duty.volts.get() >= limit(problem, load.luminaire.parse().unwrap()) - 1e-9)
    })
}
