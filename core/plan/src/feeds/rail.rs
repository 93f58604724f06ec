//! A rail as the choice of feeds sees it, of points or of modules: where drivers can stand, the cheapest chain of every
//! stretch of luminaires, what luminaires draw; and the cheapest scheme over them that keeps its locks, with room counted
//! only where the cheapest without would run out of it.

use survey::DriverLock;
use units::Watts;

use super::bound::Known;
use super::choose::{Chosen, Counted, MOST_COUNTED, MOST_LOCKS, choose};
use super::lead::{Fine, money};
use super::missing::{Kinds, LockFloors};
use super::problem::{DriverOption, Place};
use super::scheme::{FedDriver, Scheme};
use super::source::SourceSums;
use super::spans::Spans;
use super::stand::{Stand, usable};
use super::table::{ChainTable, Tables};

/// What a rail has of its own, as plain data.
#[derive(Clone, Copy)]
pub(crate) struct Facts<'a> {
    /// Number of luminaires.
    pub(crate) count: usize,
    pub(crate) places: &'a [Place],
    pub(crate) drivers: &'a [DriverOption],
    pub(crate) locks: &'a [DriverLock],
}

/// A rail with everything that does not depend on the choice worked out.
pub(crate) struct Rail<'a> {
    facts: Facts<'a>,
    pub(super) stands: Vec<Stand>,
    pub(super) tables: Tables,
    sums: Vec<SourceSums>,
    sums_of_table: Vec<usize>,
    pub(super) spans: Spans,
}

impl<'a> Rail<'a> {
    /// With its stands, what luminaires draw from each kind of source and which of those each chain table has; `table`
    /// makes a chain table by its index and where its rows end.
    pub(crate) fn of(
        facts: Facts<'a>,
        stands: Vec<Stand>,
        sums: Vec<SourceSums>,
        sums_of_table: Vec<usize>,
        table: impl Fn(usize, &[u32]) -> ChainTable,
    ) -> Self {
        let spans = Spans::of(facts.count, &stands, |stand| &sums[sums_of_table[stand.table]]);
        let table = |index| table(index, &spans.of_table(facts.count, &stands, index));
        let tables = Tables::of(facts.count, (0..sums_of_table.len()).map(table));
        Self { facts, stands, tables, sums, sums_of_table, spans }
    }

    /// Number of luminaires.
    pub(super) fn count(&self) -> usize {
        self.facts.count
    }

    /// The name of a stand's part.
    pub(super) fn part(&self, stand: &Stand) -> &'a str {
        &self.facts.drivers[stand.driver].part
    }

    /// Power that may be drawn at a stand, watts.
    pub(super) fn usable(&self, stand: &Stand) -> f64 {
        let fits = &self.facts.places[stand.place].fits;
        let share = fits.iter().find(|fit| fit.driver == stand.driver).map_or(0.0, |fit| fit.share);
        usable(&self.facts.drivers[stand.driver], share)
    }

    /// What luminaires draw from each chain table's source.
    pub(super) fn sums(&self) -> Vec<&SourceSums> {
        self.sums_of_table.iter().map(|index| &self.sums[*index]).collect()
    }

    /// What luminaires draw from the source of a stand.
    pub(crate) fn sums_of(&self, stand: usize) -> &SourceSums {
        &self.sums[self.sums_of_table[self.stands[stand].table]]
    }

    /// A stand.
    pub(crate) fn stand(&self, index: usize) -> &Stand {
        &self.stands[index]
    }

    /// The cheapest chains with their cost before rounding.
    pub(crate) fn cheapest(&self) -> Option<(Fine, Vec<Chosen>)> {
        if self.facts.locks.len() > MOST_LOCKS {
            return None;
        }
        let sums = self.sums();
        let mut counted = Counted { rooms: Vec::new(), locks: self.keepers() };
        let known = Known { stands: &self.stands, tables: &self.tables, spans: &self.spans, sums: &sums, charges: &[] };
        let floors = LockFloors::of(self.count(), known, &self.kinds());
        loop {
            let (cost, chosen) = choose(self.count(), known, &floors, &counted)?;
            // The cheapest without a count is the cheapest with it where it breaks nothing.
            let crowded = self.crowded(&chosen, &counted);
            if crowded.is_empty() {
                return Some((cost, chosen));
            }
            if counted.rooms.len() + crowded.len() > MOST_COUNTED {
                return None;
            }
            counted.rooms.extend(crowded);
        }
    }

    /// Places that a choice fills beyond their room.
    fn crowded(&self, chosen: &[Chosen], counted: &Counted) -> Vec<(usize, u32)> {
        let mut crowded = Vec::new();
        for (index, place) in self.facts.places.iter().enumerate() {
            let Some(room) = place.room else { continue };
            let here = chosen.iter().filter(|own| own.starts && self.stands[own.stand].place == index).count();
            if here > room as usize && !counted.rooms.iter().any(|own| own.0 == index) {
                crowded.push((index, room.min(254)));
            }
        }
        crowded
    }

    /// How floors tell its locks apart.
    pub(super) fn kinds(&self) -> Kinds {
        Kinds::of(&self.keepers(), self.tables.cells())
    }

    /// For each lock the stands that keep it. Those of two locks lie within one another or have nothing in common: a lock is of a
    /// place and all its parts, or one.
    pub(super) fn keepers(&self) -> Vec<Vec<usize>> {
        let keeps = |stand: &Stand, lock: &DriverLock| {
            self.facts.places[stand.place].id == lock.place
                && lock.part.as_ref().is_none_or(|part| *part == self.part(stand))
        };
        let by = |lock| (0..self.stands.len()).filter(|index| keeps(&self.stands[*index], lock)).collect();
        self.facts.locks.iter().map(by).collect()
    }

    /// Chains as a scheme, each written by `chain`.
    pub(crate) fn scheme<C>(&self, cost: Fine, chosen: &[Chosen], chain: impl Fn(&Chosen) -> Option<C>) -> Scheme<C> {
        let mut drivers: Vec<FedDriver<C>> = Vec::new();
        let mut starts = 0;
        for own in chosen {
            let stand = &self.stands[own.stand];
            if own.starts {
                starts = own.first;
                drivers.push(FedDriver {
                    place: stand.place,
                    driver: stand.driver,
                    chains: Vec::new(),
                    load: Watts::ZERO,
                    usable: Watts::new(self.usable(stand)),
                    cost: money(stand.cost),
                });
            }
            if let Some(driver) = drivers.last_mut() {
                driver.chains.extend(chain(own));
                driver.load = Watts::new(self.sums_of(own.stand).micro_watts(starts, own.last) as f64 / 1e6);
            }
        }
        Scheme { drivers, cost: money(cost) }
    }
}
