//! Drivers as they can stand: a part at a place with mains, what it costs there and what it may deliver.

use super::lead::{Fine, amount, in_range, metres};
use super::problem::{Costs, DriverOption, LeadSupply, Mains, Place, Problem};
use super::source::micro_down;
use super::table::BEYOND;
use catalogue::ShortCircuit;
use survey::DriverLock;

/// A driver part at a place.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Stand {
    /// Index of the place.
    pub(crate) place: usize,
    /// Index of the driver part.
    pub(crate) driver: usize,
    /// Cost without chains.
    pub(super) cost: Fine,
    /// Outputs.
    pub(super) outputs: u8,
    /// Limit of an output, microamperes.
    pub(super) output_limit: i64,
    /// Power after derating and reserve, microwatts.
    pub(super) usable: i64,
    /// Index of its chain table.
    pub(crate) table: usize,
}

/// Power that a part may deliver at a place after derating and reserve, watts.
pub(super) fn usable(option: &DriverOption, share: f64) -> f64 {
    option.rated.get() * share * (100.0 - f64::from(option.reserve_percent)) / 100.0
}

/// Cost of a driver at a place without its chains; `None` where no mains gets there or it is more than is added up.
fn cost(place: &Place, fit: usize, drivers: &[DriverOption], costs: &Costs) -> Option<Fine> {
    let fit = &place.fits[fit];
    let mains = match &place.mains {
        Mains::Route { length, .. } => metres(costs.mains_per_metre, *length) + amount(costs.mains_ends),
        Mains::Assumed => 0,
        Mains::Unreached => return None,
    };
    let cost = in_range(mains + amount(drivers[fit.driver].price) + amount(costs.mount_driver) + amount(fit.enclosure));
    (cost < BEYOND).then_some(cost)
}

/// Whether two parts ask the same of conductors at a short: the same ones carry what they hold it to.
pub(super) fn short_alike(problem: &Problem, one: &DriverOption, two: &DriverOption) -> bool {
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

/// Every stand of a rail, and the (place, part) whose chain table each can use.
pub(crate) type Stands = (Vec<Stand>, Vec<(usize, usize)>);

/// Places in an order that their names have no part in as long as they differ: nearest mains first, then least room. Of
/// schemes that cost the same the first found stays, so names would else decide which place feeds what.
pub(super) fn in_order(places: &[Place]) -> Vec<usize> {
    let mains = |place: &Place| match &place.mains {
        Mains::Route { length, .. } => Some(*length),
        Mains::Assumed | Mains::Unreached => None,
    };
    let mut order: Vec<usize> = (0..places.len()).collect();
    order.sort_by_key(|index| (mains(&places[*index]), places[*index].room));
    order
}

/// Every driver that can stand somewhere, by place and part, and the (place, part) whose chain table each can use.
///
/// `alike` says whether chains of two parts are the same.
pub(crate) fn every(
    places: &[Place],
    drivers: &[DriverOption],
    costs: &Costs,
    alike: impl Fn(&DriverOption, &DriverOption) -> bool,
) -> Stands {
    let mut tables: Vec<(usize, usize)> = Vec::new();
    let mut stands: Vec<Stand> = Vec::new();
    for place in in_order(places) {
        let own = &places[place];
        for (index, fit) in own.fits.iter().enumerate() {
            let Some(cost) = cost(own, index, drivers, costs) else { continue };
            let option = &drivers[fit.driver];
            let same = |known: &(usize, usize)| known.0 == place && alike(&drivers[known.1], option);
            let table = tables.iter().position(same).unwrap_or_else(|| {
                tables.push((place, fit.driver));
                tables.len() - 1
            });
            stands.push(Stand {
                place,
                driver: fit.driver,
                cost,
                outputs: option.outputs,
                output_limit: micro_down(option.output_limit.get()),
                usable: micro_down(usable(option, fit.share)),
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
pub(crate) fn unbeaten(stands: Vec<Stand>, is_locked: impl Fn(&Stand) -> bool) -> Vec<Stand> {
    let beats = |(one, stand): (usize, &Stand), (two, other): (usize, &Stand)| {
        stand.as_good_as(other) && (one < two || !other.as_good_as(stand))
    };
    let kept = stands.iter().enumerate().filter(|other| {
        is_locked(other.1) || !stands.iter().enumerate().any(|stand| stand.0 != other.0 && beats(stand, *other))
    });
    kept.map(|(_, stand)| stand.clone()).collect()
}

/// Whether a lock names the part of a stand.
pub(crate) fn is_locked(locks: &[DriverLock], drivers: &[DriverOption], stand: &Stand) -> bool {
    let named = |part: &String| *part == drivers[stand.driver].part;
    locks.iter().any(|lock| lock.part.as_ref().is_some_and(named))
}
