//! Blocks, as points and modules have them alike: a driver with a stretch of lights, shared out over its outputs.

use std::collections::BTreeMap;

use plan::feeds::{Costs, DriverOption, Fit, Mains, Place};
use survey::DriverLock;

use super::{Fine, Program, ROUNDING, fine, metres};

/// A driver with a stretch of lights and a number of chains, the cheapest of its kind.
#[derive(Clone, Debug)]
pub struct Block {
    /// Index of the place.
    pub place: usize,
    /// Index of the driver part.
    pub driver: usize,
    /// First and last light.
    pub stretch: (usize, usize),
    /// Number of chains.
    pub chains: usize,
    /// Cost of the chains.
    pub chains_cost: Fine,
    /// Cost of the driver without them.
    pub driver_cost: Fine,
    /// Worst power of the lights, watts.
    pub watts: f64,
}

/// What blocks are made from and bound by.
pub struct Ground<'a> {
    /// Number of lights.
    pub count: usize,
    /// Places.
    pub places: &'a [Place],
    /// Driver parts.
    pub drivers: &'a [DriverOption],
    /// Prices and labour.
    pub costs: &'a Costs,
    /// Drivers that a person put somewhere.
    pub locks: &'a [DriverLock],
}

impl Ground<'_> {
    /// Cost of a driver without its chains; `None` where it has no mains.
    #[must_use]
    pub fn driver_cost(&self, place: usize, fit: &Fit) -> Option<Fine> {
        let mains = match &self.places[place].mains {
            Mains::Route { length, .. } => metres(self.costs.mains_per_metre, *length) + fine(self.costs.mains_ends),
            Mains::Assumed => 0,
            Mains::Unreached => return None,
        };
        Some(mains + fine(self.drivers[fit.driver].price) + fine(self.costs.mount_driver) + fine(fit.enclosure))
    }

    /// Power that a driver may give, watts.
    #[must_use]
    pub fn usable(&self, fit: &Fit) -> f64 {
        let driver = &self.drivers[fit.driver];
        driver.rated.get() * fit.share * (1.0 - f64::from(driver.reserve_percent) / 100.0)
    }

    /// The program that picks blocks: each light in exactly one, room and locks kept.
    #[must_use]
    pub fn program(&self, blocks: &[Block]) -> Program {
        let mut program = Program::default();
        let each: Vec<usize> = (0..self.count).map(|_| program.row(Some(1.0), Some(1.0))).collect();
        let rooms: Vec<usize> = self.places.iter().map(|place| program.row(None, place.room.map(f64::from))).collect();
        let locks = self.locks(&mut program);
        let mut cheapest: BTreeMap<(usize, usize, (usize, usize)), Fine> = BTreeMap::new();
        for block in blocks {
            let cost = block.driver_cost + block.chains_cost;
            let known = cheapest.entry((block.place, block.driver, block.stretch)).or_insert(cost);
            *known = cost.min(*known);
        }
        for ((place, driver, (first, last)), cost) in cheapest {
            let mut entries: Vec<(usize, f64)> = (first..=last).map(|light| (each[light], 1.0)).collect();
            entries.push((rooms[place], 1.0));
            entries.extend(self.kept(&locks, (place, driver)));
            program.choice(cost, entries);
        }
        program
    }

    /// Entries in rows of locks for a driver part at a place.
    pub(super) fn kept<'r>(
        &'r self,
        locks: &'r [LockRow<'_>],
        (place, driver): (usize, usize),
    ) -> impl Iterator<Item = (usize, f64)> + 'r {
        let part = self.drivers[driver].part.as_str();
        let met = move |lock: &&LockRow<'_>| lock.place == Some(place) && lock.part.is_none_or(|own| own == part);
        locks.iter().filter(met).map(|lock| (lock.row, 1.0))
    }

    /// Rows of locks. A lock asks for a driver of its own: those of a place with the same part are met by as many drivers
    /// of that part, and those without a part by whatever else stands there; so these sums are enough.
    pub(super) fn locks(&self, program: &mut Program) -> Vec<LockRow<'_>> {
        let mut rows: Vec<LockRow<'_>> = Vec::new();
        for lock in self.locks {
            let place = self.places.iter().position(|place| place.id == lock.place);
            for part in [None, lock.part.as_deref()] {
                if !rows.iter().any(|row| (row.place, row.part) == (place, part)) {
                    let alike = |other: &&DriverLock| {
                        other.place == lock.place && (part.is_none() || other.part.as_deref() == part)
                    };
                    let least = self.locks.iter().filter(alike).count() as f64;
                    rows.push(LockRow { place, part, row: program.row(Some(least), None) });
                }
            }
        }
        rows
    }
}

/// At least so many drivers of a place, of one part or of any.
pub(super) struct LockRow<'a> {
    place: Option<usize>,
    part: Option<&'a str>,
    row: usize,
}

/// Every feasible block, by place, part and stretch, with each number of chains that costs less than fewer. `chains` says
/// for a place and a part the worst power of each light, watts, and the cost of a chain from one light to another.
pub fn blocks_of<C>(ground: &Ground<'_>, mut chains: impl FnMut(usize, &DriverOption) -> (Vec<f64>, C)) -> Vec<Block>
where
    C: Fn(usize, usize) -> Option<Fine>,
{
    let mut found = Vec::new();
    for (place, own) in ground.places.iter().enumerate() {
        for fit in &own.fits {
            let Some(driver_cost) = ground.driver_cost(place, fit) else { continue };
            let driver = &ground.drivers[fit.driver];
            let (powers, chain) = chains(place, driver);
            let usable = ground.usable(fit);
            for first in 0..ground.count {
                let mut watts = 0.0;
                // By last light and number of chains, the cheapest split of what lies from `first` up to it.
                let mut least: Vec<Vec<Option<Fine>>> = Vec::new();
                for last in first..ground.count {
                    watts += powers[last];
                    if watts > usable + ROUNDING {
                        break;
                    }
                    least.push(splits(first, last, usize::from(driver.outputs), &least, &chain));
                    let mut best: Option<Fine> = None;
                    for (chains, cost) in least[last - first].iter().enumerate() {
                        if let Some(cost) = cost.filter(|cost| best.is_none_or(|best| *cost < best)) {
                            best = Some(cost);
                            let stretch = (first, last);
                            let driver = fit.driver;
                            found.push(Block { place, driver, stretch, chains, chains_cost: cost, driver_cost, watts });
                        }
                    }
                }
            }
        }
    }
    found
}

/// By number of chains, the least cost of a stretch whose every beginning is known.
fn splits(
    first: usize,
    last: usize,
    outputs: usize,
    known: &[Vec<Option<Fine>>],
    chain: &impl Fn(usize, usize) -> Option<Fine>,
) -> Vec<Option<Fine>> {
    let mut least: Vec<Option<Fine>> = vec![None; outputs + 1];
    for cut in first..=last {
        let Some(own) = chain(cut, last) else { continue };
        for number in 1..=outputs {
            let before = match (cut == first, number) {
                (true, 1) => Some(0),
                (true, _) | (false, 1) => None,
                (false, _) => known[cut - 1 - first][number - 1],
            };
            if let Some(before) = before {
                let whole = before + own;
                least[number] = Some(least[number].map_or(whole, |least| least.min(whole)));
            }
        }
    }
    least
}
