//! Feeds of linear modules: every stretch that a driver can feed with its least cost, from the plain data alone.

use catalogue::{LoadModel, ShortCircuit};
use plan::feeds::DriverOption;
use plan::series::{DecoderOption, Feeding, Gap, Problem};
use survey::FeedWish;
use units::Length;

use super::blocks::{Block, Ground, blocks_of};
use super::lead::{Made, made};
use super::together::Rail;
use super::{Fine, Program, ROUNDING, fine, metres};

/// The program that picks blocks: each module in exactly one, room and locks kept.
///
/// # Panics
/// Where the problem has a wish, which this witness does not know.
#[must_use]
pub fn program(problem: &Problem) -> Program {
    ground(problem).program(&blocks(problem))
}

/// A rail among others.
///
/// # Panics
/// Where the problem has a wish, which this witness does not know.
#[must_use]
pub fn rail(problem: &Problem) -> Rail<'_> {
    (ground(problem), blocks(problem))
}

/// Every feasible block, by place, part and stretch, with each number of chains that costs less than fewer.
fn blocks(problem: &Problem) -> Vec<Block> {
    assert_eq!(problem.wish, FeedWish::Cheapest, "this witness knows no wish");
    blocks_of(&ground(problem), |place, driver| {
        let draws: Vec<Draw> = (0..problem.modules.len()).map(|module| Draw::of(problem, driver, module)).collect();
        let powers = draws.iter().map(|draw| draw.watts).collect();
        let chains = Chains { problem, place, driver, draws };
        let count = problem.modules.len();
        let rows: Vec<Vec<Option<Fine>>> = (0..count)
            .map(|first| {
                (first..count).map_while(|last| chains.within(first, last)).map(|(a, b)| chains.cost(a, b)).collect()
            })
            .collect();
        (powers, move |first: usize, last: usize| rows[first].get(last - first).copied().flatten())
    })
}

fn ground(problem: &Problem) -> Ground<'_> {
    Ground {
        count: problem.modules.len(),
        places: &problem.places,
        drivers: &problem.drivers,
        costs: &problem.costs,
        locks: &problem.locks,
    }
}

/// What a module draws at most, as the module `plan::series` defines it.
struct Draw {
    /// Current of one channel, amperes.
    amps: f64,
    /// Power of all channels, watts.
    watts: f64,
    /// Least volts that it may have.
    limit: f64,
    /// Whether it stands the driver's voltage.
    stands: bool,
}

impl Draw {
    fn of(problem: &Problem, driver: &DriverOption, index: usize) -> Self {
        let module = &problem.modules[index];
        let (low, high) = (driver.low.get(), driver.high.get());
        let by_drop = problem.nominal.get() * (1.0 - f64::from(problem.drop_permille) / 1000.0);
        let limit = by_drop.max(module.least.get());
        let (amps, watts) = match module.load {
            LoadModel::Current(amps) => (amps.get(), high * amps.get()),
            LoadModel::Power(watts) => (watts.get() / limit, low * watts.get() / limit),
            LoadModel::Resistance(ohms) => (high / ohms.get(), high * high / ohms.get()),
        };
        Self { amps, watts: watts * f64::from(problem.channels), limit, stands: high <= module.greatest.get() }
    }
}

struct Chains<'a> {
    problem: &'a Problem,
    place: usize,
    driver: &'a DriverOption,
    draws: Vec<Draw>,
}

/// What lies between a driver and the first module of a chain.
#[derive(Clone, Copy)]
struct Way {
    cost: Fine,
    /// Resistance of one conductor before a decoder, or of the extension lead; ohms.
    first: f64,
    /// Resistance of a decoder's channel; ohms.
    decoder: f64,
    /// Resistance of one conductor of the luminaire lead; ohms.
    second: f64,
}

impl Chains<'_> {
    /// The chain, where its sums alone allow it: current, length, the modules' own voltage. A longer one draws more.
    fn within(&self, first: usize, last: usize) -> Option<(usize, usize)> {
        let problem = self.problem;
        let amps: f64 = self.amps(first, last) * f64::from(problem.channels);
        let length: Length = problem.modules[first..=last].iter().map(|module| module.end - module.start).sum();
        let stands = self.draws[first..=last].iter().all(|draw| draw.stands);
        let carried = self.driver.output_limit.get().min(problem.connector_carries.get());
        (amps <= carried + ROUNDING && length <= problem.longest_chain && stands).then_some((first, last))
    }

    /// Current of one channel, amperes.
    fn amps(&self, first: usize, last: usize) -> f64 {
        self.draws[first..=last].iter().map(|draw| draw.amps).sum()
    }

    /// Current that everything must stand at a short, and what a fuse needs to clear one, amperes.
    fn short(&self) -> (f64, Option<f64>) {
        match self.driver.short_circuit {
            ShortCircuit::Limited(at) => (at.get(), None),
            ShortCircuit::Fused { rating, clears_at } => (rating.get(), Some(rating.get() * f64::from(clears_at))),
        }
    }

    fn cost(&self, first: usize, last: usize) -> Option<Fine> {
        let problem = self.problem;
        let gaps = &problem.gaps[first..last];
        if self.problem.connector_carries.get() < self.short().0 || gaps.contains(&Gap::Shut) {
            return None;
        }
        let linked = gaps.iter().any(|gap| matches!(gap, Gap::Linked { .. }));
        let parts: Vec<Option<usize>> = if linked { (0..problem.links.len()).map(Some).collect() } else { vec![None] };
        let rising: Vec<usize> = (first..=last).collect();
        let falling: Vec<usize> = (first..=last).rev().collect();
        let by_part = parts.into_iter().filter_map(|part| {
            let (links, cost, carries) = self.links(part, first, last)?;
            let start = problem.modules[first].start;
            let one_way = self.fed(start, &rising, &links, carries);
            let other_way = self.fed(problem.modules[last].end, &falling, &links, carries);
            Some(one_way.into_iter().chain(other_way).min()? + cost)
        });
        by_part.min()
    }

    /// Resistance of what joins each module to the next, by the lower of the two; cost and carried current of all links.
    fn links(&self, part: Option<usize>, first: usize, last: usize) -> Option<(Vec<f64>, Fine, f64)> {
        let (mut ohms, mut cost, mut carries) = (Vec::new(), 0, f64::INFINITY);
        for gap in &self.problem.gaps[first..last] {
            match gap {
                Gap::Linked { length } => {
                    let makes = made(&self.problem.links[part?], *length);
                    // The cheapest that is long enough; of equals the one with less resistance.
                    let link = makes.into_iter().min_by(|a, b| a.cost.cmp(&b.cost).then(a.ohms.total_cmp(&b.ohms)))?;
                    cost += link.cost + metres(self.problem.costs.thread_per_metre, *length);
                    carries = carries.min(link.carries);
                    ohms.push(link.ohms);
                }
                Gap::Plugged | Gap::Shut => ohms.push(self.problem.contact.get()),
            }
        }
        Some((ohms, cost, carries))
    }

    /// The cheapest way to feed modules from a chainage in this order, links left out.
    fn fed(&self, near: Length, order: &[usize], links: &[f64], link_carries: f64) -> Option<Fine> {
        let mut ways = self.ways(near, order, link_carries);
        // More resistance never gives more volts, so where the least fails everything does.
        let least = |of: fn(&Way) -> f64| ways.iter().map(of).fold(f64::INFINITY, f64::min);
        let best = Way {
            cost: 0,
            first: least(|way| way.first),
            decoder: least(|way| way.decoder),
            second: least(|way| way.second),
        };
        if ways.is_empty() || !self.holds(&best, order, links) {
            return None;
        }
        ways.sort_by_key(|way| way.cost);
        ways.into_iter().find(|way| self.holds(way, order, links)).map(|way| way.cost)
    }

    /// Every way from the driver to a chainage that carries what the modules draw.
    fn ways(&self, near: Length, order: &[usize], link_carries: f64) -> Vec<Way> {
        let problem = self.problem;
        let (low, high) = order.iter().fold((usize::MAX, 0), |(low, high), k| (low.min(*k), high.max(*k)));
        let one = self.amps(low, high);
        let (held, _) = self.short();
        let needed = (one * f64::from(problem.channels)).max(held);
        let decoders: Vec<Option<&DecoderOption>> = match &problem.feeding {
            Feeding::Plain => vec![None],
            Feeding::Decoded { decoders, .. } => decoders.iter().map(Some).collect(),
        };
        let able = |makes: Vec<Made>| -> Vec<Made> {
            makes.into_iter().filter(|own| own.carries.min(link_carries) + ROUNDING >= needed).collect()
        };
        let mut ways = Vec::new();
        for path in problem.paths.iter().filter(|path| path.place == self.place) {
            let way_in = problem.ways_in[path.way_in].chainage;
            let (from, to) = (way_in.min(near), way_in.max(near));
            if problem.blocked.iter().any(|shut| shut.from < to && shut.to > from) {
                continue;
            }
            let behind = problem.modules.iter().any(|module| module.start < to && module.end > from);
            let (one_way, other_way) = match &problem.feeding {
                Feeding::Plain => (path.length, to - from),
                Feeding::Decoded { beside, .. } => (*beside, path.length + (to - from)),
            };
            let laid = metres(problem.costs.lay_per_metre, path.length)
                + metres(problem.costs.thread_per_metre, to - from)
                + fine(problem.costs.per_chain);
            let extensions: Vec<Made> =
                path.extensions.iter().flat_map(|lead| able(made(&problem.extensions[*lead], one_way))).collect();
            let luminaire_leads = path.luminaire_leads.iter().filter(|lead| !behind || problem.passes_behind[**lead]);
            for second in luminaire_leads.flat_map(|lead| able(made(&problem.luminaire_leads[*lead], other_way))) {
                for first in &extensions {
                    for decoder in &decoders {
                        let (cost, ohms) = match decoder {
                            None => (0, 0.0),
                            Some(own) => {
                                let Some(Some(enclosure)) = own.enclosure.get(self.place) else { continue };
                                if own.carries.get() + ROUNDING < one.max(held) {
                                    continue;
                                }
                                (fine(own.cost) + fine(*enclosure), own.ohms.get())
                            }
                        };
                        let cost = laid + first.cost + second.cost + cost;
                        ways.push(Way { cost, first: first.ohms, decoder: ohms, second: second.ohms });
                    }
                }
            }
        }
        ways
    }

    /// Whether every module has its least voltage and a short at the far end is cleared.
    fn holds(&self, way: &Way, order: &[usize], links: &[f64]) -> bool {
        let problem = self.problem;
        let base = order.iter().copied().min().unwrap_or(0);
        let through = |module: usize| problem.modules[module].through.get();
        let joins: Vec<f64> = order.windows(2).map(|two| links[two[0].min(two[1]) - base]).collect();
        if let (_, Some(needed)) = self.short() {
            let both: f64 = order.iter().map(|module| through(*module)).sum::<f64>() + joins.iter().sum::<f64>();
            let sum = 2.0 * (way.first + way.second + both) + way.decoder;
            if self.driver.low.get() < sum * needed {
                return false;
            }
        }
        // All channels are alike. A conductor of one channel and the common, which carries them all, drop as much as one
        // of so many times its resistance; the two cores before a decoder carry all channels both.
        let channels = f64::from(problem.channels);
        let joint = 1.0 + channels;
        let feed = match problem.feeding {
            Feeding::Plain => joint * (way.first + way.second),
            Feeding::Decoded { .. } => 2.0 * channels * way.first + way.decoder + joint * way.second,
        };
        // Up to each load: half of its module's own conductors lie before it and half behind.
        let mut sections = vec![feed + joint * through(order[0]) / 2.0];
        sections.extend(
            order
                .windows(2)
                .zip(&joins)
                .map(|(two, join)| joint * (through(two[0]) / 2.0 + join + through(two[1]) / 2.0)),
        );
        let volts_of = |currents: &[f64]| {
            let (mut volts, mut beyond) = (self.driver.low.get(), currents.iter().sum::<f64>());
            let after = |(section, own): (&f64, &f64)| {
                volts -= section * beyond;
                beyond -= own;
                volts
            };
            sections.iter().zip(currents).map(after).collect::<Vec<f64>>()
        };
        let draw = |volts: &[f64]| -> Vec<f64> {
            let own = |(module, volts): (&usize, &f64)| match problem.modules[*module].load {
                LoadModel::Current(amps) => amps.get(),
                LoadModel::Power(watts) => watts.get() / volts,
                LoadModel::Resistance(ohms) => volts / ohms.get(),
            };
            order.iter().zip(volts).map(own).collect()
        };
        // From the source's own voltage downwards, which ends at the upper solution.
        let mut volts = vec![self.driver.low.get(); order.len()];
        for _ in 0..10_000 {
            let next = volts_of(&draw(&volts));
            if next.iter().any(|own| *own <= 0.0) {
                return false;
            }
            let moved = next.iter().zip(&volts).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            volts = next;
            if moved < 1e-12 {
                return order.iter().zip(&volts).all(|(k, own)| *own >= self.draws[*k].limit - ROUNDING);
            }
        }
        false
    }
}
