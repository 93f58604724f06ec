//! From a readable problem of points to its cheapest scheme.

use units::{Amps, Length, Volts};

use super::chains::{Ground, all_makes, arm_lengths, table};
use super::choose::Chosen;
use super::lead::{Fine, fine, fine_metres, money};
use super::problem::Problem;
use super::rail::{Facts, Rail};
use super::reach::reaches;
use super::scheme::{Chain, Scheme};
use super::source::{Source, limits};
use super::stand::{Stand, Stands, every, is_locked, short_alike, unbeaten};
use super::tee::{self, Spare, Tee};

/// A problem with everything that does not depend on the choice worked out.
pub(super) struct Prepared<'a> {
    problem: &'a Problem,
    pub(super) limits: Vec<f64>,
    rail: Rail<'a>,
}

impl<'a> Prepared<'a> {
    /// With limits of voltage lowered by `slack` volts where the best effort is sought; with an
    /// infinite slack volts do not matter at all.
    pub(super) fn of(problem: &'a Problem, slack: f64) -> Self {
        let (all, keys) = stands(problem);
        let stands = unbeaten(all, |stand| is_locked(&problem.locks, &problem.drivers, stand));
        Self { problem, limits: limits(problem), rail: ready(problem, slack, (stands, &keys)) }
    }

    /// The cheapest scheme.
    pub(super) fn cheapest(&self) -> Option<Scheme> {
        self.best().map(|found| found.1)
    }

    /// The cheapest scheme with its cost before rounding.
    pub(super) fn best(&self) -> Option<(Fine, Scheme)> {
        let (cost, chosen) = self.rail.cheapest()?;
        let chain = |own: &Chosen| Some(chain(self.problem, &self.limits, &self.rail, own));
        Some((cost, self.rail.scheme(cost, &chosen, chain)))
    }
}

/// Every stand of a rail of points.
pub(super) fn stands(problem: &Problem) -> Stands {
    every(&problem.places, &problem.drivers, &problem.costs, |one, other| {
        (one.low, one.high) == (other.low, other.high) && short_alike(problem, one, other)
    })
}

/// A rail of points with these stands and the (place, part) of each chain table, see [`Prepared::of`].
pub(super) fn ready<'a>(problem: &'a Problem, slack: f64, (stands, keys): (Vec<Stand>, &[(usize, usize)])) -> Rail<'a> {
    let limits = limits(problem);
    let reaches = reaches(problem);
    let (mut sources, mut sums): (Vec<Source>, Vec<_>) = (Vec::new(), Vec::new());
    let mut source_of_table = Vec::new();
    for (_, driver) in keys {
        let option = &problem.drivers[*driver];
        let same = |known: &Source| known.low == option.low.get() && known.high == option.high.get();
        source_of_table.push(sources.iter().position(same).unwrap_or_else(|| {
            let (source, own) = Source::of(problem, option, slack);
            sources.push(source);
            sums.push(own);
            sources.len() - 1
        }));
    }
    let luminaires = problem.luminaires.iter().enumerate();
    let ends: Vec<i64> =
        luminaires.map(|(index, own)| (own.chainage + problem.loop_per_hole * (index as i64 + 1)).to_um()).collect();
    let makes = all_makes(problem, &reaches, keys);
    let ground = Ground { problem, limits: &limits, slack, reach: &reaches, makes: &makes, ends: &ends };
    let own_sums = sums.clone();
    let facts = Facts {
        count: problem.luminaires.len(),
        places: &problem.places,
        drivers: &problem.drivers,
        locks: &problem.locks,
    };
    Rail::of(facts, stands, sums, source_of_table.clone(), |index, ends| {
        let ((place, driver), source) = (keys[index], source_of_table[index]);
        let short = problem.drivers[driver].short_circuit;
        table(&ground, place, (&sources[source], &own_sums[source]), short, ends)
    })
}

/// A chain of a rail of points.
pub(super) fn chain(problem: &Problem, limits: &[f64], rail: &Rail<'_>, own: &Chosen) -> Chain {
    let stand = rail.stand(own.stand);
    let feed = &rail.tables.feeds[stand.table][own.feed];
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
        amps: Amps::new(rail.sums_of(own.stand).micro_amps(own.first, own.last) as f64 / 1e6),
        margin: None,
        cost: money(cost),
    };
    let spare = spare(problem, limits, stand.driver, &chain);
    chain.margin = spare.and_then(|spare| Volts::checked(spare.margin));
    chain
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
