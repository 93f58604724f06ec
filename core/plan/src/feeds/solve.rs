//! From a readable problem to its cheapest scheme, with room and locks counted only where the cheapest would break them.

use units::{Amps, Length, Volts, Watts};

use super::bound::{Floors, Known};
use super::chains::{Ground, arm_lengths, table};
use super::choose::{Chosen, Counted, MOST_COUNTED, choose};
use super::lead::{Fine, fine, fine_metres, money};
use super::problem::Problem;
use super::reach::reaches;
use super::scheme::{Chain, FedDriver, Scheme};
use super::source::{SourceSums, limits};
use super::spans::Spans;
use super::stand::{Stand, every, unbeaten, usable};
use super::table::ChainTable;
use super::tee::{self, Spare, Tee};

/// A problem with everything that does not depend on the choice worked out.
pub(super) struct Prepared<'a> {
    pub(super) problem: &'a Problem,
    pub(super) limits: Vec<f64>,
    pub(super) stands: Vec<Stand>,
    pub(super) tables: Vec<ChainTable>,
    sums: Vec<SourceSums>,
    sums_of_table: Vec<usize>,
    pub(super) spans: Spans,
}

impl<'a> Prepared<'a> {
    /// With limits of voltage lowered by `slack` volts where the best effort is sought; with an
    /// infinite slack volts do not matter at all.
    pub(super) fn of(problem: &'a Problem, slack: f64) -> Self {
        let (stands, keys) = every(problem);
        Self::with(problem, slack, unbeaten(problem, stands), &keys)
    }

    /// With these stands and the (place, part) of each chain table.
    pub(super) fn with(problem: &'a Problem, slack: f64, stands: Vec<Stand>, keys: &[(usize, usize)]) -> Self {
        let limits = limits(problem);
        let reaches = reaches(problem);
        let mut sums: Vec<SourceSums> = Vec::new();
        let mut sums_of_table = Vec::new();
        for (_, driver) in keys {
            let option = &problem.drivers[*driver];
            let same = |known: &SourceSums| known.low == option.low.get() && known.high == option.high.get();
            sums_of_table.push(sums.iter().position(same).unwrap_or_else(|| {
                sums.push(SourceSums::of(problem, option, slack));
                sums.len() - 1
            }));
        }
        let count = problem.luminaires.len();
        let spans = Spans::of(count, &stands, |stand| &sums[sums_of_table[stand.table]]);
        let luminaires = problem.luminaires.iter().enumerate();
        let ends: Vec<i64> = luminaires
            .map(|(index, own)| (own.chainage + problem.loop_per_hole * (index as i64 + 1)).to_um())
            .collect();
        let ground = Ground { problem, limits: &limits, slack, reach: &reaches, ends: &ends };
        let tables = keys.iter().zip(&sums_of_table).enumerate().map(|(index, ((place, driver), own))| {
            let ends = spans.of_table(count, &stands, index);
            table(&ground, *place, &sums[*own], problem.drivers[*driver].short_circuit, &ends).packed()
        });
        let tables = tables.collect();
        Self { problem, limits, stands, tables, sums, sums_of_table, spans }
    }

    /// What luminaires draw from each chain table's source.
    pub(super) fn sums(&self) -> Vec<&SourceSums> {
        self.sums_of_table.iter().map(|index| &self.sums[*index]).collect()
    }

    /// The cheapest scheme.
    pub(super) fn cheapest(&self) -> Option<Scheme> {
        self.best().map(|found| found.1)
    }

    /// The cheapest scheme with its cost before rounding.
    pub(super) fn best(&self) -> Option<(Fine, Scheme)> {
        let sums = self.sums();
        let mut counted = Counted::default();
        let count = self.problem.luminaires.len();
        let known = Known { stands: &self.stands, tables: &self.tables, spans: &self.spans, sums: &sums, charges: &[] };
        let floors = Floors::of(count, known);
        loop {
            let (cost, chosen) = choose(count, known, &floors, &counted)?;
            // The cheapest without a count is the cheapest with it where it breaks nothing.
            let crowded = self.crowded(&chosen, &counted);
            let unlocked = counted.locks.len() < self.problem.locks.len() && !self.keeps_locks(&chosen);
            if crowded.is_empty() && !unlocked {
                return Some((cost, self.scheme(cost, &chosen)));
            }
            counted.rooms.extend(crowded);
            if unlocked {
                counted.locks = self.keepers();
            }
        }
    }

    /// Places that a choice fills beyond their room.
    fn crowded(&self, chosen: &[Chosen], counted: &Counted) -> Vec<(usize, u32)> {
        let mut crowded = Vec::new();
        for (index, place) in self.problem.places.iter().enumerate() {
            let Some(room) = place.room else { continue };
            let here = chosen.iter().filter(|own| own.starts && self.stands[own.stand].place == index).count();
            let known = counted.rooms.iter().any(|own| own.0 == index);
            if here > room as usize && !known && counted.rooms.len() + crowded.len() < MOST_COUNTED {
                crowded.push((index, room.min(254)));
            }
        }
        crowded
    }

    /// For each lock the stands that keep it.
    pub(super) fn keepers(&self) -> Vec<Vec<usize>> {
        let keeps = |stand: &Stand, lock: &survey::DriverLock| {
            self.problem.places[stand.place].id == lock.place
                && lock.part.as_ref().is_none_or(|part| *part == self.problem.drivers[stand.driver].part)
        };
        let by = |lock| (0..self.stands.len()).filter(|index| keeps(&self.stands[*index], lock)).collect();
        self.problem.locks.iter().map(by).collect()
    }

    /// Whether each lock has a driver of its own: locks with a part first, since any driver does for the others.
    pub(super) fn keeps_locks(&self, chosen: &[Chosen]) -> bool {
        let mut free: Vec<usize> = chosen.iter().filter(|own| own.starts).map(|own| own.stand).collect();
        let mut order: Vec<(bool, Vec<usize>)> =
            self.problem.locks.iter().map(|lock| lock.part.is_none()).zip(self.keepers()).collect();
        order.sort_by_key(|own| own.0);
        order.iter().all(|(_, keepers)| {
            let found = free.iter().position(|stand| keepers.contains(stand));
            found.map(|index| free.remove(index)).is_some()
        })
    }

    pub(super) fn scheme(&self, cost: Fine, chosen: &[Chosen]) -> Scheme {
        let mut drivers: Vec<FedDriver> = Vec::new();
        let mut starts = 0;
        for own in chosen {
            let stand = &self.stands[own.stand];
            let sums = &self.sums[self.sums_of_table[stand.table]];
            if own.starts {
                starts = own.first;
                let fits = &self.problem.places[stand.place].fits;
                let share = fits.iter().find(|fit| fit.driver == stand.driver).map_or(0.0, |fit| fit.share);
                drivers.push(FedDriver {
                    place: stand.place,
                    driver: stand.driver,
                    chains: Vec::new(),
                    load: Watts::ZERO,
                    usable: Watts::new(usable(self.problem, stand.driver, share)),
                    cost: money(stand.cost),
                });
            }
            let chain = self.chain(own, stand, sums);
            if let Some(driver) = drivers.last_mut() {
                driver.chains.push(chain);
                driver.load = Watts::new(sums.micro_watts(starts, own.last) as f64 / 1e6);
            }
        }
        Scheme { drivers, cost: money(cost) }
    }

    fn chain(&self, own: &Chosen, stand: &Stand, sums: &SourceSums) -> Chain {
        let problem = self.problem;
        let feed = &self.tables[stand.table].feeds[own.feed];
        let way_in = problem.ways_in[feed.way_in].chainage;
        let split = feed.middle.clamp(own.first, own.last + 1);
        let (left, right) = arm_lengths(problem, way_in, own.first, split, own.last);
        let run = &problem.runs[feed.run];
        let arms = i64::from(left > Length::ZERO || split > own.first) + i64::from(split <= own.last);
        let cost = feed.make.cost
            + fine(problem.costs.per_chain)
            + fine(problem.costs.per_arm) * arms
            + fine_metres(run.per_metre, left + right) * i64::from(run.lengths)
            + fine_metres(problem.costs.thread_per_metre, left + right);
        let mut chain = Chain {
            first: own.first,
            last: own.last,
            split,
            path: feed.make.path,
            way_in: feed.way_in,
            lead: feed.make.lead,
            pieces: feed.make.pieces.clone(),
            run: feed.run,
            left,
            right,
            amps: Amps::new(sums.micro_amps(own.first, own.last) as f64 / 1e6),
            margin: None,
            cost: money(cost),
        };
        let spare = spare(problem, &self.limits, stand.driver, &chain);
        chain.margin = spare.and_then(|spare| Volts::checked(spare.margin));
        chain
    }
}

/// Resistance of one conductor of a chain's lead, plugs and ends counted, in ohms.
pub(super) fn lead_ohms(problem: &Problem, chain: &Chain) -> f64 {
    use super::problem::LeadSupply;
    use super::scheme::LeadPieces;
    let option = &problem.leads[chain.lead];
    let plugs = match (&option.supply, &chain.pieces) {
        (LeadSupply::MadeUp { plug, .. }, LeadPieces::MadeUp(pieces)) => plug.get() * (pieces.len() as f64 - 1.0),
        _ => 0.0,
    };
    option.ohms_per_m * chain.pieces.length().to_m() + option.ends.get() + plugs
}

/// The luminaire of a chain that has least to spare in the worst case, `None` where the network has no solution.
pub(super) fn spare(problem: &Problem, limits: &[f64], driver: usize, chain: &Chain) -> Option<Spare> {
    let tee = Tee {
        source: problem.drivers[driver].low.get(),
        lead_ohms: lead_ohms(problem, chain),
        ohms_per_m: problem.runs[chain.run].ohms_per_m,
        way_in: problem.ways_in[chain.way_in].chainage.to_um(),
        first: chain.first,
        split: chain.split,
        last: chain.last,
    };
    tee::solve(problem, limits, tee, None)
}
