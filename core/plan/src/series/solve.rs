//! From a problem to its cheapest scheme; room and locks are counted only where the cheapest would break them.

use units::{Amps, Watts};

use super::chains::{Draws, Entry, Ground, Links, PlaceFeeds, Table};
use super::choose::{Block, Count, Stand, choose};
use super::cost::{Fine, fine, metres, micro_down, money};
use super::feed::Makers;
use super::problem::{Gap, Problem};
use super::scheme::{Chain, FedDriver, Heading, Scheme};
use crate::feeds::Mains;

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
    let prepared = Prepared::of(problem, volts);
    let mut counts: Vec<Count> = Vec::new();
    loop {
        let (cost, chosen) =
            choose(problem.modules.len(), &prepared.stands, &prepared.tables, &prepared.power, &counts)?;
        let more = prepared.broken(&chosen, &counts);
        if more.is_empty() {
            return Some(prepared.scheme(cost, &chosen));
        }
        counts.extend(more);
    }
}

struct Prepared<'a> {
    problem: &'a Problem,
    links: Links,
    /// By place.
    feeds: Vec<PlaceFeeds>,
    stands: Vec<Stand>,
    tables: Vec<Table>,
    draws: Vec<Draws>,
    /// By table, sums of power before each module, microwatts.
    power: Vec<Vec<i64>>,
}

impl<'a> Prepared<'a> {
    fn of(problem: &'a Problem, volts: Volts) -> Self {
        let makers = Makers::of(problem);
        let links = Links::of(problem);
        let count = problem.modules.len();
        let feeds: Vec<PlaceFeeds> = (0..problem.places.len())
            .map(|place| {
                let all = |heading| (0..count).map(|near| makers.feeds(problem, place, near, heading)).collect();
                PlaceFeeds { rising: all(Heading::Rising), falling: all(Heading::Falling) }
            })
            .collect();
        let (mut stands, mut tables, mut all_draws, mut power) = (vec![], vec![], vec![], vec![]);
        for (place, own) in problem.places.iter().enumerate() {
            let Some(mains) = mains_cost(problem, &own.mains) else { continue };
            for fit in &own.fits {
                let driver = &problem.drivers[fit.driver];
                let Some(draws) = Draws::of(problem, driver) else { continue };
                let reserve = (100.0 - f64::from(driver.reserve_percent)) / 100.0;
                stands.push(Stand {
                    place,
                    driver: fit.driver,
                    outputs: usize::from(driver.outputs).min(count),
                    usable: micro_down(driver.rated.get() * fit.share * reserve),
                    cost: mains + fine(driver.price) + fine(problem.costs.mount_driver) + fine(fit.enclosure),
                    table: tables.len(),
                });
                let ground = Ground { problem, feeds: &feeds[place], links: &links, driver, draws: &draws, volts };
                tables.push(ground.table());
                let sums = draws.watts.iter().scan(0_i64, |sum, watts| {
                    *sum = sum.saturating_add(*watts);
                    Some(*sum)
                });
                power.push(std::iter::once(0).chain(sums).collect());
                all_draws.push(draws);
            }
        }
        Self { problem, links, feeds, stands, tables, draws: all_draws, power }
    }

    /// Counts that a choice breaks and that were not counted yet.
    fn broken(&self, chosen: &[Block], counted: &[Count]) -> Vec<Count> {
        let number = |own: &Count| {
            u32::try_from(chosen.iter().filter(|block| own.counts(&self.stands[block.stand])).count())
                .unwrap_or(u32::MAX)
        };
        self.wanted()
            .into_iter()
            .filter(|own| !counted.contains(own))
            .filter(|own| own.most.is_some_and(|most| number(own) > most) || number(own) < own.least)
            .collect()
    }

    /// Room of every place and every lock, as counts.
    fn wanted(&self) -> Vec<Count> {
        let mut counts = Vec::new();
        for (place, own) in self.problem.places.iter().enumerate() {
            let locks: Vec<_> = self.problem.locks.iter().filter(|lock| lock.place == own.id).collect();
            let least = u32::try_from(locks.len()).unwrap_or(u32::MAX);
            if own.room.is_some() || least > 0 {
                counts.push(Count { place, driver: None, most: own.room, least });
            }
            for (driver, option) in self.problem.drivers.iter().enumerate() {
                let named = locks.iter().filter(|lock| lock.part.as_ref() == Some(&option.part)).count();
                if named > 0 {
                    let least = u32::try_from(named).unwrap_or(u32::MAX);
                    counts.push(Count { place, driver: Some(driver), most: None, least });
                }
            }
        }
        counts
    }

    fn scheme(&self, cost: Fine, chosen: &[Block]) -> Scheme {
        let drivers = chosen
            .iter()
            .map(|block| {
                let stand = &self.stands[block.stand];
                let (first, last) = (block.chains.first().map_or(0, |c| c.0), block.chains.last().map_or(0, |c| c.1));
                let load = self.power[stand.table][last + 1] - self.power[stand.table][first];
                FedDriver {
                    place: stand.place,
                    driver: stand.driver,
                    chains: block.chains.iter().filter_map(|(first, last)| self.chain(stand, *first, *last)).collect(),
                    load: Watts::new(load as f64 / 1e6),
                    usable: Watts::new(stand.usable as f64 / 1e6),
                    cost: money(stand.cost),
                }
            })
            .collect();
        Scheme { drivers, cost: money(cost) }
    }

    fn chain(&self, stand: &Stand, first: usize, last: usize) -> Option<Chain> {
        let entry: &Entry = self.tables[stand.table].get(first, last)?;
        let near = match entry.heading {
            Heading::Rising => first,
            Heading::Falling => last,
        };
        let feed = &self.feeds[stand.place].of(near, entry.heading)[entry.feed];
        let links = (first..last)
            .filter(|gap| matches!(self.problem.gaps[*gap], Gap::Linked { .. }))
            .filter_map(|gap| Some((gap, self.links.makes[entry.link?][gap].as_ref()?.pieces.clone())))
            .collect();
        let amps: i64 = self.draws[stand.table].amps[first..=last].iter().sum();
        Some(Chain {
            first,
            last,
            heading: entry.heading,
            path: feed.path,
            way_in: self.problem.paths[feed.path].way_in,
            extension: feed.extension,
            extension_pieces: feed.extension_pieces.clone(),
            decoder: feed.decoder,
            luminaire_lead: feed.luminaire_lead,
            luminaire_pieces: feed.luminaire_pieces.clone(),
            link: entry.link,
            links,
            amps: Amps::new(amps as f64 / 1e6),
            margin: entry.margin.and_then(units::Volts::checked),
            cost: money(entry.cost),
        })
    }
}

/// Cost of the mains lead of one driver; `None` where no mains gets to the place.
fn mains_cost(problem: &Problem, mains: &Mains) -> Option<Fine> {
    match mains {
        Mains::Route { length, .. } => {
            Some(metres(problem.costs.mains_per_metre, *length) + fine(problem.costs.mains_ends))
        }
        Mains::Assumed => Some(0),
        Mains::Unreached => None,
    }
}
