//! From a problem to its cheapest scheme: every chain's cheapest make, then the choice over them (see
//! [`crate::feeds::rail`]).

use units::Amps;

use super::chains::{Draws, Ground, Links, PlaceFeeds, Table};
use super::cost::money;
use super::feed::Makers;
use super::problem::{Gap, Problem};
use super::scheme::{Chain, Heading, Scheme};
use crate::feeds::choose::Chosen;
use crate::feeds::lead::{Fine, in_range};
use crate::feeds::rail::{Facts, Rail};
use crate::feeds::source::SourceSums;
use crate::feeds::stand::{Stand, Stands, every, is_locked, unbeaten};
use crate::feeds::table::ChainTable;

/// Whether the limits of voltage are kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Volts {
    /// They are.
    Kept,
    /// They are left aside, for a best effort.
    Ignored,
}

/// The cheapest scheme, `None` where there is none.
pub(super) fn cheapest(problem: &Problem, volts: Volts) -> Option<Scheme> {
    finely(problem, volts).map(|found| found.1)
}

/// The same with its cost before rounding.
pub(super) fn finely(problem: &Problem, volts: Volts) -> Option<(Fine, Scheme)> {
    let (all, keys) = stands(problem);
    let stands = unbeaten(all, |stand| is_locked(&problem.locks, &problem.drivers, stand));
    let (rail, made) = ready(problem, volts, stands, &keys);
    let (cost, chosen) = rail.cheapest()?;
    Some((cost, rail.scheme(cost, &chosen, |own| made.chain(problem, &rail, own))))
}

/// Every driver that can stand somewhere and whose voltage every module stands.
pub(super) fn stands(problem: &Problem) -> Stands {
    let (mut stands, keys) = every(&problem.places, &problem.drivers, &problem.costs, |one, other| {
        (one.low, one.high, one.output_limit) == (other.low, other.high, other.output_limit)
            && one.short_circuit == other.short_circuit
    });
    stands.retain(|stand| Draws::of(problem, &problem.drivers[stand.driver]).is_some());
    (stands, keys)
}

/// A rail of modules with these stands and the (place, part) of each chain table.
pub(super) fn ready<'a>(
    problem: &'a Problem,
    volts: Volts,
    stands: Vec<Stand>,
    keys: &[(usize, usize)],
) -> (Rail<'a>, Made) {
    let made = Made::of(problem, volts, keys);
    let count = problem.modules.len();
    let facts = Facts { count, places: &problem.places, drivers: &problem.drivers, locks: &problem.locks };
    let rail = Rail::of(facts, stands, made.sums.clone(), (0..keys.len()).collect(), |index, ends| {
        made.tables[index].costs(ends)
    });
    (rail, made)
}

/// What chains are written from.
pub(crate) struct Made {
    links: Links,
    /// By place.
    feeds: Vec<PlaceFeeds>,
    /// By chain table, its chains and what modules draw.
    tables: Vec<Table>,
    sums: Vec<SourceSums>,
}

impl Made {
    fn of(problem: &Problem, volts: Volts, keys: &[(usize, usize)]) -> Self {
        let makers = Makers::of(problem);
        let links = Links::of(problem);
        let count = problem.modules.len();
        let feeds: Vec<PlaceFeeds> = (0..problem.places.len())
            .map(|place| {
                let all = |heading| (0..count).map(|near| makers.feeds(problem, place, near, heading)).collect();
                PlaceFeeds { rising: all(Heading::Rising), falling: all(Heading::Falling) }
            })
            .collect();
        let (mut tables, mut sums) = (vec![], vec![]);
        for (place, driver) in keys {
            let driver = &problem.drivers[*driver];
            let (table, own) = match Draws::of(problem, driver) {
                Some(draws) => {
                    let ground = Ground { problem, feeds: &feeds[*place], links: &links, driver, draws: &draws, volts };
                    (ground.table(), draws.sums())
                }
                // No stand has this table.
                None => (Table::default(), SourceSums::of((0..count).map(|_| 0), (0..count).map(|_| 0))),
            };
            tables.push(table);
            sums.push(own);
        }
        Self { links, feeds, tables, sums }
    }

    /// A chain that was chosen.
    pub(super) fn chain(&self, problem: &Problem, rail: &Rail<'_>, chosen: &Chosen) -> Option<Chain> {
        let (first, last, stand) = (chosen.first, chosen.last, rail.stand(chosen.stand));
        let entry = self.tables[stand.table].get(first, last)?;
        let near = match entry.heading {
            Heading::Rising => first,
            Heading::Falling => last,
        };
        let feed = &self.feeds[stand.place].of(near, entry.heading)[entry.feed];
        let links = (first..last)
            .filter(|gap| matches!(problem.gaps[*gap], Gap::Linked { .. }))
            .filter_map(|gap| Some((gap, self.links.makes[entry.link?][gap].as_ref()?.pieces.clone())))
            .collect();
        Some(Chain {
            first,
            last,
            heading: entry.heading,
            path: feed.path,
            way_in: problem.paths[feed.path].way_in,
            extension: feed.extension,
            extension_pieces: feed.extension_pieces.clone(),
            decoder: feed.decoder,
            luminaire_lead: feed.luminaire_lead,
            luminaire_pieces: feed.luminaire_pieces.clone(),
            link: entry.link,
            links,
            amps: Amps::new(rail.sums_of(chosen.stand).micro_amps(first, last) as f64 / 1e6),
            margin: entry.margin.and_then(units::Volts::checked),
            cost: money(entry.cost),
        })
    }
}

impl Table {
    /// The cost of every chain, as far as rows go.
    fn costs(&self, ends: &[u32]) -> ChainTable {
        let mut costs = ChainTable::new(ends);
        for (first, end) in ends.iter().enumerate() {
            let reached = (*end as usize).min(first + self.reach(first));
            for last in first..reached {
                if let Some(entry) = self.get(first, last) {
                    costs.offer(first, last, std::iter::once(in_range(entry.cost)), 0);
                }
            }
        }
        costs
    }
}
