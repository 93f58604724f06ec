//! The cheapest make of every chain that one driver part at one place can feed.

use catalogue::{LoadModel as Catalogued, ShortCircuit};
use units::{Length, Ohms};

use super::cost::{Fine, fine, metres, micro_down, micro_up};
use super::feed::Feed;
use super::leads::Maker;
use super::problem::{Gap, Problem};
use super::scheme::Heading;
use super::solve::Volts;
use crate::circuit::{Ladder, LoadModel, Rung};
use crate::feeds::source::SourceSums;
use crate::feeds::{DriverOption, LeadPieces};

/// The most modules of a chain; no maker allows so many, and it keeps the tables small.
pub const MOST_IN_CHAIN: usize = 128;

/// Slack of a voltage limit, volts: what rounding may leave.
const ROUNDING: f64 = 1e-9;

/// The make of a link across one gap by one part.
pub(super) struct LinkMake {
    pub(super) pieces: LeadPieces,
    ohms: f64,
    cost: Fine,
}

/// Links of every part across every gap; `None` where the gap needs none or the part makes none.
pub(super) struct Links {
    /// By part, then by gap.
    pub(super) makes: Vec<Vec<Option<LinkMake>>>,
    carries: Vec<i64>,
}

impl Links {
    pub(super) fn of(problem: &Problem) -> Self {
        let makers: Vec<Maker<'_>> = problem.links.iter().map(Maker::of).collect();
        let make = |maker: &Maker<'_>, gap: &Gap| match gap {
            Gap::Plugged | Gap::Shut => None,
            Gap::Linked { length } => maker.makes(*length).into_iter().next().map(|make| LinkMake {
                cost: make.cost + metres(problem.costs.thread_per_metre, *length),
                pieces: make.pieces,
                ohms: make.ohms,
            }),
        };
        Self {
            makes: makers.iter().map(|maker| problem.gaps.iter().map(|gap| make(maker, gap)).collect()).collect(),
            carries: makers.iter().map(|maker| maker.carries).collect(),
        }
    }
}

/// What every module draws at one driver part, in the sense of the constraints.
pub(super) struct Draws {
    /// Current of one channel where it is the same at any voltage, amperes.
    constant: Vec<Option<f64>>,
    /// Worst current of one channel, microamperes.
    channel: Vec<i64>,
    /// Worst current of all channels together, microamperes.
    amps: Vec<i64>,
    /// Worst power, microwatts.
    watts: Vec<i64>,
    /// Limit of voltage, volts.
    limit: Vec<f64>,
    /// Whether it is the same for all, as in modules of one make.
    one_limit: bool,
}

impl Draws {
    /// `None` where a module does not stand the driver's voltage.
    pub(super) fn of(problem: &Problem, driver: &DriverOption) -> Option<Self> {
        let (low, high) = (driver.low.get(), driver.high.get());
        let channels = f64::from(problem.channels);
        let by_drop = problem.nominal.get() * (1.0 - f64::from(problem.drop_permille) / 1000.0);
        let mut draws =
            Self { constant: vec![], channel: vec![], amps: vec![], watts: vec![], limit: vec![], one_limit: true };
        for module in &problem.modules {
            if high > module.greatest.get() {
                return None;
            }
            let limit = by_drop.max(module.least.get()).max(0.0);
            let (amps, watts) = match module.load {
                Catalogued::Current(amps) => (amps.get(), high * amps.get()),
                Catalogued::Power(watts) => (watts.get() / limit, low * watts.get() / limit),
                Catalogued::Resistance(ohms) => (high / ohms.get(), high * high / ohms.get()),
            };
            if !(amps >= 0.0 && watts >= 0.0 && amps.is_finite() && watts.is_finite()) {
                return None;
            }
            draws.constant.push(match module.load {
                Catalogued::Current(amps) => Some(amps.get()),
                Catalogued::Power(_) | Catalogued::Resistance(_) => None,
            });
            draws.channel.push(micro_up(amps));
            draws.amps.push(micro_up(amps * channels));
            draws.watts.push(micro_up(watts * channels));
            draws.limit.push(limit);
        }
        draws.one_limit = draws.limit.windows(2).all(|two| two[0] == two[1]);
        Some(draws)
    }

    /// Worst currents and powers, summed.
    pub(super) fn sums(&self) -> SourceSums {
        SourceSums::of(self.amps.iter().copied(), self.watts.iter().copied())
    }
}

/// The cheapest make of one chain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Entry {
    pub(super) cost: Fine,
    pub(super) heading: Heading,
    /// Position in the feeds of its near module.
    pub(super) feed: usize,
    pub(super) link: Option<usize>,
    /// Volts above the limit where they are least; `None` where the network has no solution.
    pub(super) margin: Option<f64>,
}

/// The entries of all chains, by first module and length less one.
#[derive(Default)]
pub(super) struct Table {
    rows: Vec<Vec<Option<Entry>>>,
}

impl Table {
    /// The chain from one module to another.
    pub(super) fn get(&self, first: usize, last: usize) -> Option<&Entry> {
        self.rows.get(first)?.get(last.checked_sub(first)?)?.as_ref()
    }

    /// How many chains that start here are kept, those that cannot be made counted.
    pub(super) fn reach(&self, first: usize) -> usize {
        self.rows.get(first).map_or(0, Vec::len)
    }

    fn offer(&mut self, first: usize, last: usize, entry: Entry) {
        let row = &mut self.rows[first];
        if row.len() <= last - first {
            row.resize(last - first + 1, None);
        }
        let known = &mut row[last - first];
        if known.is_none_or(|known| entry.cost < known.cost) {
            *known = Some(entry);
        }
    }
}

/// Feeds of every module from one place, by heading.
pub(super) struct PlaceFeeds {
    pub(super) rising: Vec<Vec<Feed>>,
    pub(super) falling: Vec<Vec<Feed>>,
}

impl PlaceFeeds {
    pub(super) fn of(&self, near: usize, heading: Heading) -> &[Feed] {
        match heading {
            Heading::Rising => &self.rising[near],
            Heading::Falling => &self.falling[near],
        }
    }
}

/// Everything that a table is made from.
pub(super) struct Ground<'a> {
    pub(super) problem: &'a Problem,
    pub(super) feeds: &'a PlaceFeeds,
    pub(super) links: &'a Links,
    pub(super) driver: &'a DriverOption,
    pub(super) draws: &'a Draws,
    pub(super) volts: Volts,
}

/// A chain while it grows by one module at a time.
struct Growing {
    link: Option<usize>,
    /// Drop at the last load without the feed's, for constant currents, volts.
    drop: f64,
    /// Weight from the feed's end to the last load, ohms.
    weight: f64,
    /// Current of one channel, amperes, for constant currents.
    current: f64,
    loop_ohms: f64,
    cost: Fine,
    carries: i64,
    rungs: Vec<Rung>,
}

impl Ground<'_> {
    /// The table of every chain.
    pub(super) fn table(&self) -> Table {
        let count = self.problem.modules.len();
        let mut table = Table { rows: vec![Vec::new(); count] };
        let mut ladder = Ladder::default();
        for near in 0..count {
            for heading in [Heading::Rising, Heading::Falling] {
                if !self.feeds.of(near, heading).is_empty() {
                    self.grow(near, heading, &mut ladder, &mut table);
                }
            }
        }
        table
    }

    fn grow(&self, near: usize, heading: Heading, ladder: &mut Ladder, table: &mut Table) {
        let problem = self.problem;
        let connector = micro_down(problem.connector_carries.get());
        let output = micro_down(self.driver.output_limit.get());
        let must_stand = match self.driver.short_circuit {
            ShortCircuit::Limited(at) => micro_up(at.get()),
            ShortCircuit::Fused { rating, .. } => micro_up(rating.get()),
        };
        if connector < must_stand {
            return;
        }
        // Without a gap to link the part of the links is no matter, so growth starts with one and parts later.
        let mut growing = vec![self.start(near)];
        let (mut amps, mut channel, mut length) = (0_i64, 0_i64, Length::ZERO);
        let mut here = near;
        loop {
            let module = &problem.modules[here];
            amps += self.draws.amps[here];
            channel += self.draws.channel[here];
            length += module.end - module.start;
            let long = length > problem.longest_chain || near.abs_diff(here) >= MOST_IN_CHAIN;
            if amps > output.min(connector) || long || growing.is_empty() {
                return;
            }
            let (first, last) = (near.min(here), near.max(here));
            let mut any = false;
            for own in &growing {
                let feeds = self.feeds.of(near, heading);
                let fits = feeds.iter().enumerate().find_map(|(index, feed)| {
                    let able = feed.carries.min(own.carries) >= amps.max(must_stand)
                        && feed.contact >= channel.max(must_stand);
                    // The far end lies half a module behind the last load, in both conductors.
                    let far_end = feed.loop_ohms + own.loop_ohms + module.through.get();
                    if !able || !self.clears(far_end) {
                        return None;
                    }
                    let margin = self.margin(feed, own, here, ladder);
                    let enough = self.volts == Volts::Ignored || margin.is_some_and(|margin| margin >= -ROUNDING);
                    enough.then_some((index, margin))
                });
                if let Some((feed, margin)) = fits {
                    any = true;
                    let cost = feeds[feed].cost + own.cost + fine(problem.costs.per_chain);
                    table.offer(first, last, Entry { cost, heading, feed, link: own.link, margin });
                }
            }
            // A longer chain draws more through the same leads, so what failed here fails beyond.
            let next = match heading {
                Heading::Rising => here + 1,
                Heading::Falling if here > 0 => here - 1,
                Heading::Falling => return,
            };
            if !any || next >= problem.modules.len() {
                return;
            }
            growing = self.onwards(growing, here, next);
            here = next;
        }
    }

    fn start(&self, near: usize) -> Growing {
        let half = self.problem.modules[near].through.get() / 2.0;
        let mut own = Growing {
            link: None,
            drop: 0.0,
            weight: 0.0,
            current: 0.0,
            loop_ohms: half * 2.0,
            cost: 0,
            carries: i64::MAX,
            rungs: vec![],
        };
        self.add(&mut own, near, half);
        own
    }

    /// Adds a module behind so many ohms of each conductor.
    fn add(&self, own: &mut Growing, module: usize, ohms: f64) {
        let weight = (1.0 + f64::from(self.problem.channels)) * ohms;
        own.weight += weight;
        match self.draws.constant[module] {
            // The new load's current goes all the way; it adds nothing to what the others lose on their own ways.
            Some(amps) => {
                own.drop += amps * own.weight;
                own.current += amps;
            }
            None => own.drop = f64::NAN,
        }
        own.rungs.push(Rung {
            section_ohms: weight,
            tap_ohms: 0.0,
            load: load_model(self.problem.modules[module].load),
            least_volts: self.draws.limit[module],
        });
    }

    /// Every growing chain with the next module on it.
    fn onwards(&self, growing: Vec<Growing>, here: usize, next: usize) -> Vec<Growing> {
        let gap = here.min(next);
        let halves = (self.problem.modules[here].through.get() + self.problem.modules[next].through.get()) / 2.0;
        let mut out = Vec::new();
        match self.problem.gaps[gap] {
            Gap::Shut => {}
            Gap::Plugged => {
                for mut own in growing {
                    let ohms = halves + self.problem.contact.get();
                    own.loop_ohms += 2.0 * ohms;
                    self.add(&mut own, next, ohms);
                    out.push(own);
                }
            }
            Gap::Linked { .. } => {
                for own in growing {
                    for (part, makes) in self.links.makes.iter().enumerate() {
                        let Some(make) = makes[gap].as_ref().filter(|_| own.link.is_none_or(|known| known == part))
                        else {
                            continue;
                        };
                        let ohms = halves + make.ohms;
                        let mut grown = Growing { link: Some(part), rungs: own.rungs.clone(), ..own };
                        grown.loop_ohms += 2.0 * ohms;
                        grown.cost += make.cost;
                        grown.carries = grown.carries.min(self.links.carries[part]);
                        self.add(&mut grown, next, ohms);
                        out.push(grown);
                    }
                }
            }
        }
        out
    }

    /// Whether a far-end short behind so much loop resistance is limited or cleared.
    fn clears(&self, loop_ohms: f64) -> bool {
        match self.driver.short_circuit {
            ShortCircuit::Limited(_) => true,
            ShortCircuit::Fused { rating, clears_at } => {
                self.driver.low.get() >= loop_ohms * rating.get() * f64::from(clears_at)
            }
        }
    }

    /// Least volts above the limit; `None` where there is no solution.
    fn margin(&self, feed: &Feed, own: &Growing, last: usize, ladder: &mut Ladder) -> Option<f64> {
        let low = self.driver.low.get();
        if own.drop.is_finite() && self.draws.one_limit {
            // With constant currents the last module has the lowest volts.
            let volts = low - feed.weight * own.current - own.drop;
            return (volts >= 0.0).then_some(volts - self.draws.limit[last]);
        }
        let mut rungs = own.rungs.clone();
        rungs[0].section_ohms += feed.weight;
        ladder.solve(low, &rungs).map(|found| found.least_margin)
    }
}

fn load_model(load: Catalogued) -> LoadModel {
    match load {
        Catalogued::Current(amps) => LoadModel::Current(amps),
        Catalogued::Power(watts) => LoadModel::Power(watts),
        Catalogued::Resistance(ohms) => LoadModel::Resistance(ohms.max(Ohms::new(1e-9))),
    }
}
