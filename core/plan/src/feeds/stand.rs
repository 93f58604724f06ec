//! Drivers as they can stand: a part at a place with mains, what it costs there and what it may deliver.

use super::lead::{Fine, fine, fine_metres};
use super::problem::{DriverOption, LeadSupply, Mains, Problem};
use super::source::micro_down;
use catalogue::ShortCircuit;

/// A driver part at a place.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Stand {
    /// Index of the place.
    pub(super) place: usize,
    /// Index of the driver part.
    pub(super) driver: usize,
    /// Cost without chains.
    pub(super) cost: Fine,
    /// Outputs.
    pub(super) outputs: u8,
    /// Limit of an output, microamperes.
    pub(super) output_limit: i64,
    /// Power after derating and reserve, microwatts.
    pub(super) usable: i64,
    /// Index of its chain table.
    pub(super) table: usize,
}

/// Power that a part may deliver at a place after derating and reserve, watts.
pub(super) fn usable(problem: &Problem, driver: usize, share: f64) -> f64 {
    let option = &problem.drivers[driver];
    option.rated.get() * share * (100.0 - f64::from(option.reserve_percent)) / 100.0
}

/// Cost of a driver at a place without its chains; `None` where no mains gets there.
pub(super) fn cost(problem: &Problem, place: usize, fit: usize) -> Option<Fine> {
    let (place, costs) = (&problem.places[place], &problem.costs);
    let fit = &place.fits[fit];
    let mains = match &place.mains {
        Mains::Route { length, .. } => fine_metres(costs.mains_per_metre, *length) + fine(costs.mains_ends),
        Mains::Assumed => 0,
        Mains::Unreached => return None,
    };
    Some(mains + fine(problem.drivers[fit.driver].price) + fine(costs.mount_driver) + fine(fit.enclosure))
}

/// Whether two parts ask the same of conductors at a short: the same ones carry what they hold it to.
fn short_alike(problem: &Problem, one: &DriverOption, two: &DriverOption) -> bool {
    let (ShortCircuit::Limited(a), ShortCircuit::Limited(b)) = (one.short_circuit, two.short_circuit) else {
        return one.short_circuit == two.short_circuit;
    };
    let (low, high) = (micro_down(a.min(b).get()), micro_down(a.max(b).get()));
    let plugs = problem.leads.iter().filter_map(|lead| match &lead.supply {
        LeadSupply::MadeUp { plug_carries, .. } => Some(*plug_carries),
        LeadSupply::Reel { .. } => None,
    });
    let carried = problem.leads.iter().map(|lead| lead.carries).chain(problem.runs.iter().map(|run| run.carries));
    carried.chain(plugs).map(|amps| micro_down(amps.get())).all(|amps| amps >= high || amps < low)
}

/// Every driver that can stand somewhere, by place and part, and the (place, part) whose chain table each can use.
pub(super) fn every(problem: &Problem) -> (Vec<Stand>, Vec<(usize, usize)>) {
    let mut tables: Vec<(usize, usize)> = Vec::new();
    let mut stands: Vec<Stand> = Vec::new();
    for (place, own) in problem.places.iter().enumerate() {
        for (index, fit) in own.fits.iter().enumerate() {
            let Some(cost) = cost(problem, place, index) else { continue };
            let option = &problem.drivers[fit.driver];
            let same = |other: usize| {
                let other = &problem.drivers[other];
                (other.low, other.high) == (option.low, option.high) && short_alike(problem, other, option)
            };
            let table = tables.iter().position(|known| known.0 == place && same(known.1)).unwrap_or_else(|| {
                tables.push((place, fit.driver));
                tables.len() - 1
            });
            stands.push(Stand {
                place,
                driver: fit.driver,
                cost,
                outputs: option.outputs,
                output_limit: micro_down(option.output_limit.get()),
                usable: micro_down(usable(problem, fit.driver, fit.share)),
                table,
            });
        }
    }
    (stands, tables)
}

impl Stand {
    /// Whether this one does all that another one does, for no more.
    pub(super) fn as_good_as(&self, other: &Self) -> bool {
        self.table == other.table
            && self.cost <= other.cost
            && self.outputs >= other.outputs
            && self.output_limit >= other.output_limit
            && self.usable >= other.usable
    }
}

/// Stands without those that another one beats at the same place in cost and in everything else, unless a lock names
/// the part; of equals the first stays.
pub(super) fn unbeaten(problem: &Problem, stands: Vec<Stand>) -> Vec<Stand> {
    let beats = |(one, stand): (usize, &Stand), (two, other): (usize, &Stand)| {
        stand.as_good_as(other) && (one < two || !other.as_good_as(stand))
    };
    let kept = stands.iter().enumerate().filter(|other| {
        is_locked(problem, other.1)
            || !stands.iter().enumerate().any(|stand| stand.0 != other.0 && beats(stand, *other))
    });
    kept.map(|(_, stand)| stand.clone()).collect()
}

/// Whether a lock names the part of a stand.
pub(super) fn is_locked(problem: &Problem, stand: &Stand) -> bool {
    let named = |part: &String| *part == problem.drivers[stand.driver].part;
    problem.locks.iter().any(|lock| lock.part.as_ref().is_some_and(named))
}
