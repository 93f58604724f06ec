//! From a problem to its cheapest scheme: every chain's cheapest make, then the choice over them (see
//! [`crate::feeds::rail`]).

use catalogue::ShortCircuit;
use units::Amps;

use super::chains::{Ground, PlaceFeeds, Table};
use super::cost::{micro_down, micro_up, money};
use super::draws::Draws;
use super::feed::Makers;
use super::problem::{Feeding, Gap, Problem};
use super::scheme::{Chain, Heading, Scheme};
use super::stretch::{Stretches, UNLINKED};
use crate::circuit::Ladder;
use crate::feeds::choose::Chosen;
use crate::feeds::lead::{Fine, in_range};
use crate::feeds::rail::{Facts, Rail};
use crate::feeds::source::SourceSums;
use crate::feeds::stand::{Stand, Stands, every, is_locked, unbeaten};
use crate::feeds::table::ChainTable;
use crate::feeds::{DriverOption, LeadSupply};

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
        (one.low, one.high) == (other.low, other.high) && short_alike(problem, one, other)
    });
    stands.retain(|stand| Draws::of(problem, &problem.drivers[stand.driver]).is_some());
    (stands, keys)
}

/// Whether two parts ask the same of conductors at a short: the same ones carry what they hold it to.
fn short_alike(problem: &Problem, one: &DriverOption, other: &DriverOption) -> bool {
    let (ShortCircuit::Limited(a), ShortCircuit::Limited(b)) = (one.short_circuit, other.short_circuit) else {
        return one.short_circuit == other.short_circuit;
    };
    let (least, most) = (micro_up(a.min(b).get()), micro_up(a.max(b).get()));
    let leads = || problem.extensions.iter().chain(&problem.luminaire_leads).chain(&problem.links);
    let plugs = leads().filter_map(|lead| match &lead.supply {
        LeadSupply::MadeUp { plug_carries, .. } => Some(*plug_carries),
        LeadSupply::Reel { .. } => None,
    });
    let decoders = match &problem.feeding {
        Feeding::Plain => &[][..],
        Feeding::Decoded { decoders, .. } => decoders,
    };
    let others = decoders.iter().map(|decoder| decoder.carries).chain([problem.connector_carries]);
    let carried = leads().map(|lead| lead.carries).chain(plugs).chain(others).map(|amps| micro_down(amps.get()));
    carried.into_iter().all(|carries| carries >= most || carries < least)
}

/// A rail of modules with these stands and the (place, part) of each chain table.
pub(super) fn ready<'a>(
    problem: &'a Problem,
    volts: Volts,
    stands: Vec<Stand>,
    keys: &[(usize, usize)],
) -> (Rail<'a>, Made<'a>) {
    let made = Made::of(problem, volts, &stands, keys);
    let count = problem.modules.len();
    let facts = Facts { count, places: &problem.places, drivers: &problem.drivers, locks: &problem.locks };
    let rail = Rail::of(facts, stands, made.sums.clone(), (0..keys.len()).collect(), |index, ends| {
        made.tables[index].costs(ends)
    });
    (rail, made)
}

/// What chains are written from.
pub(crate) struct Made<'a> {
    makers: Makers<'a>,
    stretches: Stretches<'a>,
    /// By place.
    feeds: Vec<PlaceFeeds>,
    /// By chain table, its chains and what modules draw.
    tables: Vec<Table>,
    sums: Vec<SourceSums>,
}

impl<'a> Made<'a> {
    fn of(problem: &'a Problem, volts: Volts, stands: &[Stand], keys: &[(usize, usize)]) -> Self {
        let makers = Makers::of(problem);
        let count = problem.modules.len();
        // Of a chain table that no stand has, nothing is made.
        let draws: Vec<Option<(Draws, Vec<usize>)>> = keys
            .iter()
            .enumerate()
            .map(|(index, (_, driver))| {
                let limit = |stand: &Stand| micro_down(problem.drivers[stand.driver].output_limit.get());
                let most = stands.iter().filter(|stand| stand.table == index).map(limit).max()?;
                let draws = Draws::of(problem, &problem.drivers[*driver])?;
                let ends = draws.ends(problem, most);
                Some((draws, ends))
            })
            .collect();
        let farthest = |first: usize| draws.iter().flatten().map(|(_, ends)| ends[first]).max().unwrap_or(first);
        let stretches = Stretches::of(problem, &(0..count).map(farthest).collect::<Vec<usize>>());
        let feeds: Vec<PlaceFeeds> = (0..problem.places.len())
            .map(|place| {
                let nears = if stands.iter().any(|stand| stand.place == place) { count } else { 0 };
                let all = |heading| (0..nears).map(|near| makers.feeds(place, near, heading)).collect();
                PlaceFeeds { rising: all(Heading::Rising), falling: all(Heading::Falling) }
            })
            .collect();
        let made = keys.iter().zip(&draws).map(|((place, driver), drawn)| match drawn {
            Some((draws, ends)) => {
                let (driver, feeds) = (&problem.drivers[*driver], &feeds[*place]);
                let ground = Ground { problem, feeds, stretches: &stretches, driver, draws, ends, volts };
                (ground.table(), draws.sums())
            }
            None => (Table::default(), SourceSums::of((0..count).map(|_| 0), (0..count).map(|_| 0))),
        });
        let (tables, sums) = made.unzip();
        Self { makers, stretches, feeds, tables, sums }
    }

    /// A chain that was chosen.
    pub(super) fn chain(&self, problem: &Problem, rail: &Rail<'_>, chosen: &Chosen) -> Option<Chain> {
        let (first, last, stand) = (chosen.first, chosen.last, rail.stand(chosen.stand));
        let entry = self.tables[stand.table].get(first, last)?;
        let (near, far) = match entry.heading {
            Heading::Rising => (first, last),
            Heading::Falling => (last, first),
        };
        let feed = &self.feeds[stand.place].of(near, entry.heading)[entry.feed as usize];
        let path = feed.path as usize;
        let link = (entry.link != UNLINKED).then_some(entry.link as usize);
        let links = (first..last)
            .filter(|gap| matches!(problem.gaps[*gap], Gap::Linked { .. }))
            .filter_map(|gap| Some((gap, self.stretches.links.makes[link?][gap].as_ref()?.pieces.clone())))
            .collect();
        let (weight, low) = (feed.worth.weight, problem.drivers[stand.driver].low.get());
        let margin = self.stretches.margin(near, far, entry.link, weight, low, &mut Ladder::default());
        Some(Chain {
            first,
            last,
            heading: entry.heading,
            path,
            way_in: problem.paths[path].way_in,
            extension: feed.extension as usize,
            extension_pieces: self.makers.extension_pieces(feed),
            decoder: feed.decoder(),
            luminaire_lead: feed.luminaire_lead as usize,
            luminaire_pieces: self.makers.luminaire_pieces(feed, near, entry.heading),
            link,
            links,
            amps: Amps::new(rail.sums_of(chosen.stand).micro_amps(first, last) as f64 / 1e6),
            margin: margin.and_then(units::Volts::checked),
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
