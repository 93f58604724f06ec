//! A floor under the cost of what is still to be fed, so that partial schemes beyond a ceiling are dropped at once.
//!
//! The floor leaves aside how many outputs a driver has: a block of luminaires costs at least its cheapest chains from one
//! place, however many, and the cheapest driver there with power for the block. Cheapest blocks in a row are a shortest
//! path, walked from the far end, and no scheme is cheaper than it.

use super::chains::ChainTable;
use super::lead::Fine;
use super::source::SourceSums;
use super::stand::Stand;

/// Costs from here on count as impossible.
pub(super) const BEYOND: Fine = Fine::MAX / 4;

/// How far the chains and the power of each stand go.
pub(super) struct Spans {
    /// By stand and first luminaire, one past the last that one output can feed.
    pub(super) output: Vec<Vec<u32>>,
    /// By stand and first luminaire, one past the last that one driver can feed.
    pub(super) power: Vec<Vec<u32>>,
}

impl Spans {
    pub(super) fn of(count: usize, stands: &[Stand], sums: &[&SourceSums]) -> Self {
        let spans = |draw: &dyn Fn(usize, usize) -> i64, limit: i64| {
            let mut end = 0;
            (0..count)
                .map(|first| {
                    end = end.max(first);
                    while end < count && draw(first, end) <= limit {
                        end += 1;
                    }
                    end as u32
                })
                .collect::<Vec<u32>>()
        };
        let each = |what: &dyn Fn(&Stand) -> Vec<u32>| stands.iter().map(what).collect();
        Self {
            output: each(&|stand| spans(&|first, last| sums[stand.table].micro_amps(first, last), stand.output_limit)),
            power: each(&|stand| spans(&|first, last| sums[stand.table].micro_watts(first, last), stand.usable)),
        }
    }
}

/// Floors under the cost of the rest, see the module.
pub(super) struct Floors {
    /// By first luminaire still to feed; [`BEYOND`] where it cannot be done.
    pub(super) rest: Vec<Fine>,
    /// By table: power and cost of its stands.
    prices: Vec<Vec<(i64, Fine)>>,
}

impl Floors {
    pub(super) fn of(
        count: usize,
        stands: &[Stand],
        tables: &[ChainTable],
        sums: &[&SourceSums],
        spans: &Spans,
    ) -> Self {
        let own = |table| (0..stands.len()).filter(move |index| stands[*index].table == table);
        let prices = (0..tables.len())
            .map(|table| own(table).map(|index| (stands[index].usable, stands[index].cost)).collect())
            .collect();
        let mut floors = Self { rest: vec![BEYOND; count + 1], prices };
        floors.rest[count] = 0;
        // By table and first luminaire, one past the last that any stand's output, or power, reaches.
        let farthest = |spans: &[Vec<u32>], table: usize, first: usize| -> usize {
            own(table).map(|index| spans[index][first] as usize).max().unwrap_or(0)
        };
        let each = |spans: &[Vec<u32>]| -> Vec<Vec<usize>> {
            (0..tables.len()).map(|table| (0..count).map(|first| farthest(spans, table, first)).collect()).collect()
        };
        let (outputs, powers) = (each(&spans.output), each(&spans.power));
        // Cheapest chains of one table from a first luminaire up to each end.
        let mut chained = vec![BEYOND; count + 1];
        for first in (0..count).rev() {
            let mut least = BEYOND;
            for (table, chains) in tables.iter().enumerate() {
                let stop = powers[table][first];
                chained[first..=stop.max(first)].fill(BEYOND);
                chained[first] = 0;
                for from in first..stop {
                    let so_far = chained[from];
                    if so_far >= BEYOND {
                        continue;
                    }
                    if from > first {
                        let power = sums[table].micro_watts(first, from - 1);
                        least = least.min(so_far + floors.driver(table, power) + floors.rest[from]);
                        // A driver for a longer block costs no less than one for its latter part, and that part with
                        // its driver is within the floor from here: so nothing that goes on from here costs less.
                        if so_far + floors.rest[from] >= least {
                            continue;
                        }
                    }
                    let reached = outputs[table][from].min(stop).saturating_sub(from);
                    let row = chains.from(from);
                    let reached = reached.min(row.len());
                    for (known, (cost, _)) in chained[from + 1..=from + reached].iter_mut().zip(&row[..reached]) {
                        *known = (*known).min(so_far + cost);
                    }
                }
                if stop > first && chained[stop] < BEYOND {
                    let power = sums[table].micro_watts(first, stop - 1);
                    least = least.min(chained[stop] + floors.driver(table, power) + floors.rest[stop]);
                }
            }
            floors.rest[first] = least.min(BEYOND);
        }
        floors
    }

    /// The least cost of a driver of this table that delivers so much power.
    #[inline]
    pub(super) fn driver(&self, table: usize, power: i64) -> Fine {
        let able = self.prices[table].iter().filter(|own| own.0 >= power);
        able.map(|own| own.1).min().unwrap_or(BEYOND)
    }

    /// Floor under the rest after an open scheme whose last driver still has so much power for it: what that driver
    /// feeds without a further charge, a driver of its table with that power could feed at its own cost.
    #[inline]
    pub(super) fn open(&self, table: usize, power: i64, next: usize) -> Fine {
        (self.rest[next] - self.driver(table, power)).max(0)
    }
}
