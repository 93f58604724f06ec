//! Feeds of points: every stretch that a driver can feed with its least cost, from the plain data alone.

use catalogue::{LoadModel, ShortCircuit};
use plan::feeds::{DriverOption, Passing, Problem};
use survey::FeedWish;
use units::Length;

use super::blocks::{Block, Ground, blocks_of};
use super::lead::{Made, made};
use super::together::Rail;
use super::{Fine, Program, ROUNDING, fine, metres};

/// The program that picks blocks: each luminaire in exactly one, room and locks kept.
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
    let count = problem.luminaires.len();
    blocks_of(&ground(problem), |place, driver| {
        let draws: Vec<(f64, f64)> = (0..count).map(|index| worst(problem, driver, index)).collect();
        let chains = Chains::of(problem, place, driver, &draws);
        (draws.iter().map(|draw| draw.1).collect(), move |first, last| chains.cost(first, last))
    })
}

fn ground(problem: &Problem) -> Ground<'_> {
    Ground {
        count: problem.luminaires.len(),
        places: &problem.places,
        drivers: &problem.drivers,
        costs: &problem.costs,
        locks: &problem.locks,
    }
}

/// Least volts that a luminaire may have.
fn limit(problem: &Problem, index: usize) -> f64 {
    let by_drop = problem.nominal.get() * (1.0 - f64::from(problem.drop_permille) / 1000.0);
    by_drop.max(problem.luminaires[index].least.get())
}

/// Worst current and power of a luminaire, as the module `plan::feeds` defines them.
fn worst(problem: &Problem, driver: &DriverOption, index: usize) -> (f64, f64) {
    let (low, high) = (driver.low.get(), driver.high.get());
    let draw = |load: &LoadModel| match load {
        LoadModel::Current(amps) => (amps.get(), high * amps.get()),
        LoadModel::Power(watts) => {
            let amps = watts.get() / limit(problem, index);
            (amps, low * amps)
        }
        LoadModel::Resistance(ohms) => (high / ohms.get(), high * high / ohms.get()),
    };
    problem.luminaires[index].channels.iter().map(draw).fold((0.0, 0.0), |sum, own| (sum.0 + own.0, sum.1 + own.1))
}

/// Costs of every chain that a driver can feed from a place; by first luminaire, then by last.
struct Chains(Vec<Vec<Option<Fine>>>);

impl Chains {
    fn of(problem: &Problem, place: usize, driver: &DriverOption, draws: &[(f64, f64)]) -> Self {
        // What is made for a path does not depend on the chain.
        let leads: Vec<(usize, Vec<Made>)> = problem
            .paths
            .iter()
            .enumerate()
            .filter(|(_, path)| path.place == place)
            .map(|(index, path)| {
                let ways = path.leads.iter().flat_map(|lead| made(&problem.leads[*lead], path.length));
                (index, ways.collect())
            })
            .collect();
        let row = |first: usize| {
            let mut amps = 0.0;
            let mut row = Vec::new();
            for last in first..draws.len() {
                amps += draws[last].0;
                let high = driver.high.get() > problem.luminaires[last].greatest.get() + ROUNDING;
                if amps > driver.output_limit.get() + ROUNDING || high {
                    break;
                }
                let costs = leads.iter().filter_map(|(path, ways)| {
                    let way = Way { problem, driver, path: *path, draws };
                    way.cheapest(ways, first, last)
                });
                row.push(costs.min());
            }
            row
        };
        Self((0..draws.len()).map(row).collect())
    }

    fn cost(&self, first: usize, last: usize) -> Option<Fine> {
        *self.0[first].get(last - first)?
    }
}

/// One path from a driver.
struct Way<'a> {
    problem: &'a Problem,
    driver: &'a DriverOption,
    path: usize,
    draws: &'a [(f64, f64)],
}

/// Where a chain hangs.
#[derive(Clone, Copy)]
struct Hung {
    way_in: Length,
    first: usize,
    /// First luminaire of the right arm.
    split: usize,
    last: usize,
}

impl Way<'_> {
    /// The cheapest chain along this path, over every split, run and lead.
    fn cheapest(&self, leads: &[Made], first: usize, last: usize) -> Option<Fine> {
        let problem = self.problem;
        let way_in = problem.ways_in[problem.paths[self.path].way_in].chainage;
        let splits = (first..=last + 1).map(|split| Hung { way_in, first, split, last });
        splits.filter(|hung| self.may_hang(*hung)).filter_map(|hung| self.cheapest_hung(leads, hung)).min()
    }

    fn at(&self, index: usize) -> Length {
        self.problem.luminaires[index].chainage
    }

    /// Whether the arms reach their luminaires the right way round, along an open bore, and pass none that they may not.
    fn may_hang(&self, hung: Hung) -> bool {
        let Hung { way_in, first, split, last } = hung;
        let round = (first..split).all(|k| self.at(k) <= way_in) && (split..=last).all(|k| self.at(k) >= way_in);
        let open = |low: Length, high: Length| {
            low == high || !self.problem.blocked.iter().any(|shut| shut.from < high && shut.to > low)
        };
        let reached = (split == first || open(self.at(first), way_in)) && (split > last || open(way_in, self.at(last)));
        // An arm alone may have luminaires of other chains between the way in and its first.
        let count = self.problem.luminaires.len();
        let passes = split > last && (last + 1..count).any(|k| self.at(k) < way_in)
            || split == first && (0..first).any(|k| self.at(k) > way_in);
        round && reached && (self.problem.passing == Passing::Allowed || !passes)
    }

    fn cheapest_hung(&self, leads: &[Made], hung: Hung) -> Option<Fine> {
        let Hung { way_in, first, split, last } = hung;
        let problem = self.problem;
        let costs = &problem.costs;
        let loops = |number: usize| problem.loop_per_hole * number as i64;
        let left = if split > first { way_in - self.at(first) + loops(split - first) } else { Length::ZERO };
        let right = if split <= last { self.at(last) - way_in + loops(last + 1 - split) } else { Length::ZERO };
        let arms = Fine::from(split > first) + Fine::from(split <= last);
        let fixed = metres(costs.lay_per_metre, problem.paths[self.path].length)
            + fine(costs.per_chain)
            + fine(costs.per_arm) * arms
            + metres(costs.thread_per_metre, left + right);
        let amps = |from: usize, end: usize| self.draws[from..end].iter().map(|draw| draw.0).sum::<f64>();
        let (on_lead, on_run) = (amps(first, last + 1), amps(first, split).max(amps(split, last + 1)));
        let (held, fuse) = match self.driver.short_circuit {
            ShortCircuit::Limited(amps) => (amps.get(), None),
            ShortCircuit::Fused { rating, clears_at } => (rating.get(), Some(rating.get() * f64::from(clears_at))),
        };
        let mut ways: Vec<(Fine, f64, f64)> = Vec::new();
        for run in problem.runs.iter().filter(|run| run.carries.get() + ROUNDING >= on_run.max(held)) {
            let along = metres(run.per_metre, left + right) * Fine::from(run.lengths);
            for lead in leads.iter().filter(|lead| lead.carries + ROUNDING >= on_lead.max(held)) {
                let far = lead.ohms + run.ohms_per_m * left.max(right).to_m();
                if fuse.is_none_or(|needed| self.driver.low.get() / (2.0 * far) >= needed) {
                    ways.push((fixed + along + lead.cost, lead.ohms, run.ohms_per_m));
                }
            }
        }
        let ladder = Ladder::of(problem, self.driver.low.get(), hung);
        // More resistance never gives more volts, so where the least fails everything does.
        let least = |of: fn(&(Fine, f64, f64)) -> f64| ways.iter().map(of).fold(f64::INFINITY, f64::min);
        if ways.is_empty() || !ladder.holds(least(|way| way.1), least(|way| way.2)) {
            return None;
        }
        ways.sort_by_key(|way| way.0);
        ways.into_iter().find(|(_, lead, run)| ladder.holds(*lead, *run)).map(|way| way.0)
    }
}

/// A chain as a ladder of running cores.
struct Ladder<'a> {
    problem: &'a Problem,
    source: f64,
    /// Both arms from the way in outwards: luminaire and length of core from the one before, metres.
    arms: [Vec<(usize, f64)>; 2],
    /// What flows and where where every load draws a constant current.
    steady: Option<Flow>,
}

/// Currents of a ladder as sums: for each channel the current of the lead with the common's, amperes; for each luminaire
/// and channel the same times the metres of core that it flows through, and the luminaire's own currents.
struct Flow {
    on_lead: Vec<f64>,
    along: Vec<(usize, Vec<f64>)>,
}

impl<'a> Ladder<'a> {
    fn of(problem: &'a Problem, source: f64, hung: Hung) -> Self {
        let arm = |order: Vec<usize>| {
            let mut from = hung.way_in;
            let mut section = |index: usize| {
                let length = (problem.luminaires[index].chainage - from).abs() + problem.loop_per_hole;
                from = problem.luminaires[index].chainage;
                (index, length.to_m())
            };
            order.into_iter().map(&mut section).collect::<Vec<_>>()
        };
        let arms = [arm((hung.first..hung.split).rev().collect()), arm((hung.split..=hung.last).collect())];
        let mut ladder = Self { problem, source, arms, steady: None };
        let constant = |index: usize| {
            let loads = &problem.luminaires[index].channels;
            loads.iter().all(|load| matches!(load, LoadModel::Current(_)))
        };
        if (hung.first..=hung.last).all(constant) {
            let currents: Vec<Vec<f64>> = ladder.loads(|_, _| source);
            ladder.steady = Some(ladder.flow(&currents));
        }
        ladder
    }

    fn order(&self) -> impl Iterator<Item = usize> {
        self.arms.iter().flatten().map(|section| section.0)
    }

    /// Currents of each luminaire's channels at some volts, in the order of the arms.
    fn loads(&self, volts: impl Fn(usize, usize) -> f64) -> Vec<Vec<f64>> {
        self.order()
            .enumerate()
            .map(|(position, index)| {
                let draw = |(channel, load): (usize, &LoadModel)| match load {
                    LoadModel::Current(amps) => amps.get(),
                    LoadModel::Power(watts) => watts.get() / volts(position, channel),
                    LoadModel::Resistance(ohms) => volts(position, channel) / ohms.get(),
                };
                self.problem.luminaires[index].channels.iter().enumerate().map(draw).collect()
            })
            .collect()
    }

    fn flow(&self, currents: &[Vec<f64>]) -> Flow {
        let channels = currents.first().map_or(0, Vec::len);
        // A channel's drop is that of its own conductor and that of the common, which carries the sum.
        let joint = |own: &[f64], channel: usize| own[channel] + own.iter().sum::<f64>();
        let on_lead = (0..channels).map(|channel| currents.iter().map(|own| joint(own, channel)).sum()).collect();
        let mut along = Vec::new();
        let mut start = 0;
        for arm in &self.arms {
            let own = &currents[start..start + arm.len()];
            // What flows through a section is what all luminaires from there on draw.
            let mut beyond: Vec<f64> =
                (0..channels).map(|channel| own.iter().map(|currents| joint(currents, channel)).sum()).collect();
            let mut so_far = vec![0.0; channels];
            for ((index, length), currents) in arm.iter().zip(own) {
                for channel in 0..channels {
                    so_far[channel] += length * beyond[channel];
                    beyond[channel] -= joint(currents, channel);
                }
                along.push((*index, so_far.clone()));
            }
            start += arm.len();
        }
        Flow { on_lead, along }
    }

    /// Volts at each luminaire's channels, in the order of the arms.
    fn volts(&self, flow: &Flow, currents: &[Vec<f64>], lead: f64, run: f64) -> Vec<Vec<f64>> {
        let one = |(position, (index, along)): (usize, &(usize, Vec<f64>))| {
            let luminaire = &self.problem.luminaires[*index];
            let sum: f64 = currents[position].iter().sum();
            let at = |channel: usize| {
                let own = luminaire.own_channel.get() * currents[position][channel] + luminaire.own_common.get() * sum;
                self.source - lead * flow.on_lead[channel] - run * along[channel] - own
            };
            (0..along.len()).map(at).collect()
        };
        flow.along.iter().enumerate().map(one).collect()
    }

    /// Whether every luminaire has its least voltage, by the currents of constant loads or, for others, by following
    /// currents and volts in turn from the source's own voltage downwards, which ends at the upper solution.
    fn holds(&self, lead: f64, run: f64) -> bool {
        let kept = |volts: &[Vec<f64>]| {
            let mut each = self.order().zip(volts);
            each.all(|(index, own)| own.iter().all(|volts| *volts >= limit(self.problem, index) - ROUNDING))
        };
        let mut currents = self.loads(|_, _| self.source);
        if let Some(flow) = &self.steady {
            return kept(&self.volts(flow, &currents, lead, run));
        }
        let mut before = f64::INFINITY;
        for _ in 0..10_000 {
            let volts = self.volts(&self.flow(&currents), &currents, lead, run);
            let least = volts.iter().flatten().copied().fold(f64::INFINITY, f64::min);
            if least <= 0.0 {
                return false;
            }
            let sum: f64 = volts.iter().flatten().sum();
            if (sum - before).abs() < 1e-12 {
                return kept(&volts);
            }
            before = sum;
            currents = self.loads(|position, channel| volts[position][channel]);
        }
        false
    }
}
