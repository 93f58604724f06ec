//! Everything tried over several rails, of points or of modules: every cut of every rail into blocks, each with a driver of
//! its own or any driver that rails before have. What a block of one rail costs is worked out by whoever asks. Shares no
//! code with the choice of feeds.
#![allow(clippy::needless_range_loop)]
#![allow(dead_code, reason = "each test file uses its own share")]

use plan::feeds::{Costs, DriverOption, Fit, Mains, Place};
use survey::{DriverLock, Id};
use units::{Length, Money};

/// Ten-thousandths of the currency times micrometres.
pub type Cost = i128;

/// A block that one driver can feed on one rail.
#[derive(Clone)]
pub struct Block {
    pub place: usize,
    pub driver: usize,
    pub chains: usize,
    /// Cost of its chains.
    pub cost: Cost,
    /// Cost of its driver, were it alone.
    pub own: Cost,
    pub load: f64,
    pub usable: f64,
}

/// What of a rail matters to the others.
pub struct Rail<'p> {
    pub count: usize,
    pub places: &'p [Place],
    pub drivers: &'p [DriverOption],
    pub locks: &'p [DriverLock],
    /// By first luminaire and end.
    pub blocks: Vec<Vec<Vec<Block>>>,
}

impl<'p> Rail<'p> {
    /// With every block. `chain` gives the cost of a chain of a driver at a place by its first and last luminaire, `watts`
    /// the worst power of a luminaire at a driver.
    pub fn of(
        (count, costs): (usize, &Costs),
        (places, drivers, locks): (&'p [Place], &'p [DriverOption], &'p [DriverLock]),
        chain: impl Fn(usize, usize, usize, usize) -> Option<Cost>,
        watts: impl Fn(&DriverOption, usize) -> f64,
    ) -> Self {
        let mut blocks = vec![vec![Vec::new(); count + 1]; count];
        for (place, own) in places.iter().enumerate() {
            for fit in &own.fits {
                let option = &drivers[fit.driver];
                let Some(fixed) = standing(own, fit, option, costs) else { continue };
                let usable = option.rated.get() * fit.share * (1.0 - f64::from(option.reserve_percent) / 100.0);
                let chains: Vec<Vec<Option<Cost>>> = (0..count)
                    .map(|first| (first..count).map(|last| chain(place, fit.driver, first, last)).collect())
                    .collect();
                for first in 0..count {
                    for end in first + 1..=count {
                        let load: f64 = (first..end).map(|index| watts(option, index)).sum();
                        for number in 1..=usize::from(option.outputs) {
                            if let Some(cost) = cut(&chains, first, end, number) {
                                let (driver, chains) = (fit.driver, number);
                                blocks[first][end].push(Block {
                                    place,
                                    driver,
                                    chains,
                                    cost,
                                    own: fixed,
                                    load,
                                    usable,
                                });
                            }
                        }
                    }
                }
            }
        }
        Self { count, places, drivers, locks, blocks }
    }
}

/// What a driver costs at a place, `None` where no mains gets there.
fn standing(place: &Place, fit: &Fit, option: &DriverOption, costs: &Costs) -> Option<Cost> {
    let mains = match &place.mains {
        Mains::Route { length, .. } => metres(costs.mains_per_metre, *length) + whole(costs.mains_ends),
        Mains::Assumed => 0,
        Mains::Unreached => return None,
    };
    Some(whole(option.price) + whole(costs.mount_driver) + whole(fit.enclosure) + mains)
}

fn whole(amount: Money) -> Cost {
    Cost::from(amount.to_ten_thousandths()) * 1_000_000
}

fn metres(per_metre: Money, length: Length) -> Cost {
    Cost::from(per_metre.to_ten_thousandths()) * Cost::from(length.to_um())
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
pub fn cheapest(rails: &[Rail<'_>]) -> Option<Money> {
    let mut best = None;
    walk(rails, (0, 0), 0, &mut Vec::new(), &mut Vec::new(), &mut best);
    best.map(|cost: Cost| Money::ten_thousandths(((cost + 500_000).div_euclid(1_000_000)) as i64))
}

fn walk<'p>(
    rails: &[Rail<'p>],
    (rail, at): (usize, usize),
    chains: Cost,
    drivers: &mut Vec<Driver<'p>>,
    kept: &mut Vec<(usize, usize)>,
    best: &mut Option<Cost>,
) {
    let so_far = chains + drivers.iter().map(|driver| driver.cost).sum::<Cost>();
    if best.is_some_and(|best| so_far >= best) || !room_holds(rails, drivers) {
        return;
    }
    if rail == rails.len() {
        *best = Some(so_far);
        return;
    }
    let problem = &rails[rail];
    if at == problem.count {
        if locks_hold(problem, kept) {
            let mut none = Vec::new();
            walk(rails, (rail + 1, 0), chains, drivers, &mut none, best);
        }
        return;
    }
    for end in at + 1..=problem.count {
        for block in &problem.blocks[at][end] {
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
                    walk(rails, (rail, end), chains + block.cost, drivers, kept, best);
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
                    walk(rails, (rail, end), chains + block.cost, drivers, kept, best);
                    drivers.pop();
                }
            }
            kept.pop();
        }
    }
}

fn room_holds(rails: &[Rail<'_>], drivers: &[Driver<'_>]) -> bool {
    rails.iter().flat_map(|rail| rail.places).all(|place| {
        let here = drivers.iter().filter(|driver| *driver.place == place.id).count();
        place.room.is_none_or(|room| here <= room as usize)
    })
}

/// Whether each lock of a rail can have a block of its own there: every order is tried.
fn locks_hold(problem: &Rail<'_>, kept: &[(usize, usize)]) -> bool {
    fn assign(problem: &Rail<'_>, kept: &[(usize, usize)], lock: usize, taken: &mut Vec<usize>) -> bool {
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
