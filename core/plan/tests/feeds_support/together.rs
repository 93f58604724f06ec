//! Everything tried over several rails: every cut of every rail into blocks, each with a driver of its own or any driver
//! that rails before have, every number of chains. Shares no code with the choice of feeds.

use plan::feeds::*;
use survey::Id;
use units::Money;

use super::brute::{Cost, chain, metres, whole, worst};

/// A block that one driver can feed on one rail.
#[derive(Clone)]
struct Block {
    place: usize,
    driver: usize,
    chains: usize,
    /// Cost of its chains.
    cost: Cost,
    /// Cost of its driver, were it alone.
    own: Cost,
    load: f64,
    usable: f64,
}

/// A driver with the blocks that it feeds.
#[derive(Clone)]
struct Driver<'p> {
    place: &'p Id,
    part: &'p str,
    outputs: usize,
    load: f64,
    usable: f64,
    cost: Cost,
    last_rail: usize,
}

/// Least cost of all rails together, `None` where they cannot all be fed.
pub fn cheapest(problems: &[&Problem]) -> Option<Money> {
    let blocks: Vec<Vec<Vec<Vec<Block>>>> = problems.iter().map(|problem| blocks_of(problem)).collect();
    let mut best = None;
    let mut kept = Vec::new();
    walk(problems, &blocks, (0, 0), 0, &mut Vec::new(), &mut kept, &mut best);
    best.map(|cost: Cost| Money::ten_thousandths(((cost + 500_000).div_euclid(1_000_000)) as i64))
}

/// By first luminaire and end.
fn blocks_of(problem: &Problem) -> Vec<Vec<Vec<Block>>> {
    let count = problem.luminaires.len();
    let mut all = vec![vec![Vec::new(); count + 1]; count];
    for (place, own) in problem.places.iter().enumerate() {
        for fit in &own.fits {
            let driver = &problem.drivers[fit.driver];
            let costs = &problem.costs;
            let mains = match &own.mains {
                Mains::Route { length, .. } => metres(costs.mains_per_metre, *length) + whole(costs.mains_ends),
                Mains::Assumed => 0,
                Mains::Unreached => continue,
            };
            let fixed = whole(driver.price) + whole(costs.mount_driver) + whole(fit.enclosure) + mains;
            let usable = driver.rated.get() * fit.share * (1.0 - f64::from(driver.reserve_percent) / 100.0);
            let chains: Vec<Vec<Option<Cost>>> = (0..count)
                .map(|first| (first..count).map(|last| chain(problem, place, fit.driver, first, last)).collect())
                .collect();
            for first in 0..count {
                for end in first + 1..=count {
                    let load: f64 = (first..end).map(|index| worst(problem, driver, index).1).sum();
                    for number in 1..=usize::from(driver.outputs) {
                        if let Some(cost) = cut(&chains, first, end, number) {
                            let (driver, chains) = (fit.driver, number);
                            all[first][end].push(Block { place, driver, chains, cost, own: fixed, load, usable });
                        }
                    }
                }
            }
        }
    }
    all
}

/// The cheapest way to cut a stretch into so many chains.
fn cut(chains: &[Vec<Option<Cost>>], first: usize, end: usize, number: usize) -> Option<Cost> {
    if number == 1 {
        return chains[first][end - 1 - first];
    }
    (first + 1..end)
        .filter_map(|middle| Some(chains[first][middle - 1 - first]? + cut(chains, middle, end, number - 1)?))
        .min()
}

#[allow(clippy::too_many_arguments)]
fn walk<'p>(
    problems: &[&'p Problem],
    blocks: &[Vec<Vec<Vec<Block>>>],
    (rail, at): (usize, usize),
    chains: Cost,
    drivers: &mut Vec<Driver<'p>>,
    kept: &mut Vec<(usize, usize)>,
    best: &mut Option<Cost>,
) {
    let so_far = chains + drivers.iter().map(|driver| driver.cost).sum::<Cost>();
    if best.is_some_and(|best| so_far >= best) || !room_holds(problems, drivers) {
        return;
    }
    if rail == problems.len() {
        *best = Some(so_far);
        return;
    }
    let problem = problems[rail];
    if at == problem.luminaires.len() {
        if locks_hold(problem, kept) {
            let mut none = Vec::new();
            walk(problems, blocks, (rail + 1, 0), chains, drivers, &mut none, best);
        }
        return;
    }
    for end in at + 1..=problem.luminaires.len() {
        for block in &blocks[rail][at][end] {
            kept.push((block.place, block.driver));
            let (place, part) = (&problem.places[block.place].id, problem.drivers[block.driver].part.as_str());
            let outputs = usize::from(problem.drivers[block.driver].outputs);
            for index in 0..=drivers.len() {
                if let Some(known) = drivers.get(index) {
                    let fits = known.place == place
                        && known.part == part
                        && known.last_rail != rail
                        && known.outputs + block.chains <= outputs
                        && known.load + block.load <= known.usable.min(block.usable) + 1e-9;
                    if !fits {
                        continue;
                    }
                    let before = known.clone();
                    let known = &mut drivers[index];
                    known.outputs += block.chains;
                    known.load += block.load;
                    known.usable = known.usable.min(block.usable);
                    known.cost = known.cost.max(block.own);
                    known.last_rail = rail;
                    walk(problems, blocks, (rail, end), chains + block.cost, drivers, kept, best);
                    drivers[index] = before;
                } else if block.load <= block.usable + 1e-9 {
                    drivers.push(Driver {
                        place,
                        part,
                        outputs: block.chains,
                        load: block.load,
                        usable: block.usable,
                        cost: block.own,
                        last_rail: rail,
                    });
                    walk(problems, blocks, (rail, end), chains + block.cost, drivers, kept, best);
                    drivers.pop();
                }
            }
            kept.pop();
        }
    }
}

fn room_holds(problems: &[&Problem], drivers: &[Driver<'_>]) -> bool {
    problems.iter().flat_map(|problem| &problem.places).all(|place| {
        let here = drivers.iter().filter(|driver| *driver.place == place.id).count();
        place.room.is_none_or(|room| here <= room as usize)
    })
}

/// Whether each lock of a rail can have a block of its own there: every order is tried.
fn locks_hold(problem: &Problem, kept: &[(usize, usize)]) -> bool {
    fn assign(problem: &Problem, kept: &[(usize, usize)], lock: usize, taken: &mut Vec<usize>) -> bool {
        let Some(wanted) = problem.locks.get(lock) else { return true };
        for (position, (place, driver)) in kept.iter().enumerate() {
            let fits = problem.places[*place].id == wanted.place
                && wanted.part.as_ref().is_none_or(|part| *part == problem.drivers[*driver].part);
            if fits && !taken.contains(&position) {
                taken.push(position);
                if assign(problem, kept, lock + 1, taken) {
                    return true;
                }
                taken.pop();
            }
        }
        false
    }
    assign(problem, kept, 0, &mut Vec::new())
}
