//! A floor under the cost of what is still to be fed, so that partial schemes beyond a ceiling are dropped at once.
//!
//! A driver of cost `f` with usable power `P` and `k` outputs costs at least `f · p / P` for each chain of power `p`, and
//! at least `f / k` for each chain; so does any mixture of the two. Charging chains in that way instead of whole drivers
//! leaves a shortest path over chains alone, which is never dearer than a scheme.

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

/// Shares of a driver's cost that are charged by power; the rest is charged by chain.
const MIXTURES: [f64; 3] = [1.0, 0.5, 0.0];

/// Floors under the cost of the rest, see the module.
pub(super) struct Floors {
    /// By mixture and first luminaire still to feed; [`BEYOND`] where it cannot be done.
    each: Vec<[Fine; 3]>,
    /// The greatest over mixtures.
    pub(super) greatest: Vec<Fine>,
    /// By table: least charge for a microwatt and for a chain.
    charges: Vec<Option<(f64, f64)>>,
}

impl Floors {
    pub(super) fn of(
        count: usize,
        stands: &[Stand],
        tables: &[ChainTable],
        sums: &[&SourceSums],
        spans: &Spans,
    ) -> Self {
        // A billionth less keeps rounding on the safe side.
        let safe = 1.0 - 1e-9;
        let able = |table| stands.iter().filter(move |own| own.table == table && own.outputs > 0 && own.usable > 0);
        let charges: Vec<Option<(f64, f64)>> = (0..tables.len())
            .map(|table| {
                let charge = |stand: &Stand| {
                    let cost = stand.cost as f64 * safe;
                    (cost / stand.usable as f64, cost / f64::from(stand.outputs))
                };
                able(table).map(charge).reduce(|a, b| (a.0.min(b.0), a.1.min(b.1)))
            })
            .collect();
        let mut each = vec![[BEYOND; 3]; count + 1];
        each[count] = [0; 3];
        for first in (0..count).rev() {
            let mut here = [BEYOND; 3];
            for (table, chains) in tables.iter().enumerate() {
                let Some(charge) = charges[table] else { continue };
                let own = stands.iter().enumerate().filter(|own| own.1.table == table);
                let end = own.map(|(index, _)| spans.output[index][first].min(spans.power[index][first])).max();
                let stop = (end.unwrap_or(0) as usize).saturating_sub(first);
                for (offset, (cost, _)) in chains.from(first).iter().take(stop).enumerate() {
                    if *cost >= BEYOND {
                        continue;
                    }
                    let last = first + offset;
                    let charged = charged(charge, sums[table].micro_watts(first, last), 1);
                    for ((here, charged), after) in here.iter_mut().zip(charged).zip(each[last + 1]) {
                        *here = (*here).min(cost + charged + after);
                    }
                }
            }
            each[first] = here.map(|cost| cost.min(BEYOND));
        }
        let greatest = each.iter().map(|own| own.iter().copied().fold(0, Fine::max)).collect();
        Self { each, greatest, charges }
    }

    /// Floor under the rest after an open scheme: its last driver may still take chains of so much power and so many
    /// outputs without a charge.
    #[inline]
    pub(super) fn open(&self, table: usize, power: i64, outputs: u8, next: usize) -> Fine {
        let Some(charge) = self.charges[table] else { return 0 };
        let free = charged(charge, power, i64::from(outputs));
        let rest = free.into_iter().zip(self.each[next]).map(|(free, floor)| floor - free);
        rest.fold(0, Fine::max)
    }
}

#[inline]
fn charged(charge: (f64, f64), power: i64, chains: i64) -> [Fine; 3] {
    let (by_power, by_chain) = (power as f64 * charge.0, chains as f64 * charge.1);
    MIXTURES.map(|share| (share * by_power + (1.0 - share) * by_chain) as Fine)
}
