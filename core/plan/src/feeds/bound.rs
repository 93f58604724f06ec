//! A floor under the cost of what is still to be fed, so that partial schemes beyond a ceiling are dropped at once.
//!
//! Walked from the far end: the least cost from luminaire `s` on is that of a driver that starts there, its chains and
//! the least cost from where it ends on. With one output its one chain ends where it likes as far as power lasts; with
//! two the second chain does, after each choice of the first. Running least values of each row make that a matter of
//! looking up, so that the whole takes luminaires × reach of a chain, and these floors are exact: no scheme does better
//! and, where nothing is kept count of (room, locks), one does as well.
//!
//! Drivers with more outputs are taken to have outputs without end: a block of luminaires costs at least its cheapest
//! chains, however many, and the cheapest such driver with power for the block. That is a floor, not always exact.
//!
//! Where other rails may share a driver, a block pays only its part of it (see [`super::charge`]).

use super::charge::Charge;
use super::lead::Fine;
use super::source::SourceSums;
use super::spans::Spans;
use super::stand::Stand;
pub(super) use super::table::BEYOND;
use super::table::Tables;

/// What floors are worked out from.
#[derive(Clone, Copy)]
pub(super) struct Known<'a> {
    pub(super) stands: &'a [Stand],
    pub(super) tables: &'a Tables,
    pub(super) spans: &'a Spans,
    /// By table, what luminaires draw.
    pub(super) sums: &'a [&'a SourceSums],
    /// By stand, what a block pays of a driver that other rails may share; empty where no rail shares any.
    pub(super) charges: &'a [Option<Charge>],
}

impl<'a> Known<'a> {
    fn charge(&self, stand: usize) -> Option<&'a Charge> {
        self.charges.get(stand)?.as_ref()
    }
}

/// Floors under the cost of the rest, see the module.
pub(super) struct Floors {
    /// By first luminaire still to feed; [`BEYOND`] where it cannot be done.
    pub(super) rest: Vec<Fine>,
    /// Rows as in the tables: the least cost of one more chain, that ends there or earlier, with the rest after it.
    one_more: Vec<Fine>,
    /// By table.
    tables: Vec<TableFloors>,
}

/// Floors of schemes whose last driver uses one table.
struct TableFloors {
    /// Stands with one or two outputs, cheapest first.
    few: Vec<usize>,
    /// Stands with more outputs.
    many: Vec<usize>,
    /// By first luminaire, the least cost of at least one more chain, with however many outputs and power without end.
    more: Vec<Fine>,
    /// The same of at least two.
    two_more: Vec<Fine>,
}

/// A block on the way of a floor.
#[derive(Clone, Copy, Debug)]
pub(super) struct Block {
    /// Index of its stand.
    pub(super) stand: usize,
    /// Its chains.
    pub(super) chains: u8,
    /// Its first luminaire.
    pub(super) first: usize,
    /// One past its last luminaire.
    pub(super) end: usize,
}

/// What the last driver of an open scheme still has.
#[derive(Clone, Copy)]
pub(super) struct Left {
    /// Index of its stand.
    pub(super) stand: usize,
    /// Outputs without a chain.
    pub(super) outputs: u8,
    /// One past the last luminaire that its power lasts for.
    pub(super) power_to: usize,
}

impl Floors {
    /// Room for floors.
    pub(super) fn unknown(count: usize, known: Known<'_>) -> Self {
        Self {
            rest: vec![BEYOND; count + 1],
            // Every row is written before it is read.
            one_more: vec![0; known.tables.cells()],
            tables: (0..known.tables.len()).map(|table| TableFloors::empty(count, table, known)).collect(),
        }
    }

    /// Floors in the place of these, with what the end of the rail costs: nothing, or [`BEYOND`] where locks are missing.
    /// Of each lock that a block may keep, `kept` has the stands that do and the floors behind such a block.
    pub(super) fn again(self, known: Known<'_>, end: Fine, kept: &[(&[usize], &Self)]) -> Self {
        let mut floors = self;
        let count = floors.rest.len() - 1;
        floors.rest[count] = end;
        // Cheapest chains of one table from a first luminaire up to each end.
        let mut chained = vec![BEYOND; count + 1];
        let drivers: Vec<Fine> = floors.tables.iter().map(|own| own.least_driver(known)).collect();
        // The table that gave the least is asked first for the luminaire before: the others are soon found to be dearer.
        let mut order: Vec<usize> = (0..known.tables.len()).collect();
        for first in (0..count).rev() {
            let (mut least, mut by) = (BEYOND, 0);
            for (position, table) in order.iter().enumerate() {
                floors.add_row(known, *table, first);
                let before = least;
                let without = Start { known, table: *table, first, among: None, here: &floors.rest, behind: &floors };
                let kept = kept.iter().map(|(by, behind)| Start { among: Some(by), behind, ..without });
                for start in std::iter::once(without).chain(kept) {
                    // No block costs less than any driver of the table, its chains and what follows.
                    if drivers[*table] + start.floors().more[first] < least {
                        least = start.least(least, &mut chained);
                    }
                }
                if least < before {
                    by = position;
                }
            }
            floors.rest[first] = least;
            if !order.is_empty() {
                order[..=by].rotate_right(1);
            }
        }
        floors
    }

    /// Works out what one table has from a first luminaire on; everything behind it is known.
    fn add_row(&mut self, known: Known<'_>, table: usize, first: usize) {
        let own = &mut self.tables[table];
        let (mut one, mut two) = (BEYOND, BEYOND);
        let behind = self.rest[first + 1..].iter().zip(&own.more[first + 1..]);
        let row = known.tables.row(table, first);
        let row = known.tables.costs(table, first).iter().zip(&mut self.one_more[row]);
        for ((cost, least), (rest, further)) in row.zip(behind) {
            one = one.min(cost + rest);
            two = two.min(cost + further);
            *least = one;
        }
        (own.more[first], own.two_more[first]) = (one.min(two), two);
    }

    /// The first block of a way that costs no more than the floor from a luminaire on, with the floors behind it and the
    /// stands that it may have; all of them where none are named. `None` at the end of the rail.
    pub(super) fn block(
        &self,
        known: Known<'_>,
        first: usize,
        behind: &Self,
        among: Option<&[usize]>,
    ) -> Option<Block> {
        let wanted = self.rest[first];
        if first + 1 == self.rest.len() || wanted >= BEYOND {
            return None;
        }
        (0..known.tables.len()).find_map(|table| {
            let start = Start { known, table, first, among, here: &self.rest, behind };
            start.few_way(wanted).or_else(|| start.many_way(wanted))
        })
    }

    /// The least cost of exactly one more chain from here and the rest after it.
    #[inline]
    fn one_more(&self, known: Known<'_>, table: usize, left: Left, at: usize) -> Fine {
        if at >= left.power_to {
            return BEYOND;
        }
        let row = &self.one_more[known.tables.row(table, at)];
        match reached(known.spans, left, at).min(row.len()) {
            0 => BEYOND,
            stop => row[stop - 1],
        }
    }

    /// The least cost of at least one more chain of a table from a luminaire on and the rest after it; no open scheme
    /// whose driver uses that table has a lower floor there.
    #[inline]
    pub(super) fn more(&self, table: usize, at: usize) -> Fine {
        self.tables[table].more[at]
    }

    /// Floor under the rest after an open scheme: its last driver takes at least one chain more.
    #[inline]
    pub(super) fn open(&self, known: Known<'_>, left: Left, at: usize) -> Fine {
        let table = known.stands[left.stand].table;
        if left.outputs == 1 {
            return self.one_more(known, table, left, at);
        }
        let own = &self.tables[table];
        // What that driver feeds without a further charge, a driver of its table with that power could feed at its own
        // cost.
        let power = known.sums[table].micro_watts(at, left.power_to - 1);
        let price = cheapest(known.stands, own.few.iter().chain(&own.many), power);
        own.more[at].max(self.rest[at] - price).max(0)
    }
}

/// A driver of one table that starts at a luminaire.
#[derive(Clone, Copy)]
struct Start<'k, 'f> {
    known: Known<'k>,
    table: usize,
    first: usize,
    /// Stands that it may have; all of them where none are named.
    among: Option<&'f [usize]>,
    /// Floors from each luminaire behind the first on, where this driver has not stood.
    here: &'f [Fine],
    /// Floors behind its block.
    behind: &'f Floors,
}

impl Start<'_, '_> {
    fn may(&self, stand: usize) -> bool {
        self.among.is_none_or(|among| among.contains(&stand))
    }

    fn floors(&self) -> &TableFloors {
        &self.behind.tables[self.table]
    }

    /// A floor under the cost with a driver that starts here, where that is less than `least`.
    fn least(&self, least: Fine, chained: &mut [Fine]) -> Fine {
        let least = self.few_outputs(least);
        let least = self.many_outputs(least, chained);
        self.shared_outputs(least, chained)
    }

    /// The least cost with a driver of one or two outputs that starts here, where that is less than `least`.
    fn few_outputs(&self, mut least: Fine) -> Fine {
        let (Self { known, table, first, behind, .. }, own) = (*self, self.floors());
        let costs = known.tables.costs(table, first);
        for index in own.few.iter().filter(|index| self.may(**index)) {
            let stand = &known.stands[*index];
            let charge = known.charge(*index);
            if charge.map_or(stand.cost, Charge::least) + own.more[first] >= least {
                continue;
            }
            let power_to = known.spans.power[*index][first] as usize;
            let left = Left { stand: *index, outputs: 1, power_to };
            if let Some(charge) = charge {
                let stop = reached(known.spans, left, first).min(costs.len());
                // Power costs something besides; only where this is less is it worth a look.
                let stop = if behind.one_more(known, table, left, first) + charge.least() < least { stop } else { 0 };
                for (offset, (cost, rest)) in costs[..stop].iter().zip(&behind.rest[first + 1..]).enumerate() {
                    let power = known.sums[table].micro_watts(first, first + offset);
                    least = least.min(cost + rest + charge.block(1, first, first + offset + 1, power));
                }
            }
            least = least.min(stand.cost + behind.one_more(known, table, left, first));
            if stand.outputs < 2 || stand.cost + own.two_more[first] >= least {
                continue;
            }
            let stop = reached(known.spans, left, first).min(costs.len());
            for (offset, cost) in costs[..stop].iter().enumerate() {
                let (next, so_far) = (first + offset + 1, stand.cost + cost);
                if so_far + own.more[next] < least {
                    least = least.min(so_far + behind.one_more(known, table, left, next));
                }
            }
        }
        least
    }

    /// A floor under the cost with a driver of more outputs that starts here, where that is less than `least`.
    fn many_outputs(&self, mut least: Fine, chained: &mut [Fine]) -> Fine {
        let (Self { known, table, first, behind, here, .. }, own) = (*self, self.floors());
        let many = || own.many.iter().filter(|index| self.may(**index));
        let Some(stop) = many().map(|index| known.spans.power[*index][first] as usize).max() else {
            return least;
        };
        let sums = known.sums[table];
        chained[first..=stop.max(first)].fill(BEYOND);
        chained[first] = 0;
        for from in first..=stop {
            let so_far = chained[from];
            if so_far >= BEYOND {
                continue;
            }
            if from > first {
                let power = sums.micro_watts(first, from - 1);
                least = least.min(so_far + cheapest(known.stands, many(), power) + behind.rest[from]);
                // A driver for a longer block costs no less than one for its latter part, and that part with its driver
                // is within the floor from here: so nothing that goes on from here costs less.
                if so_far + here[from] >= least {
                    continue;
                }
            }
            if from < stop {
                let row = known.tables.costs(table, from);
                let reached = row.len().min(stop - from);
                for (known, cost) in chained[from + 1..=from + reached].iter_mut().zip(row) {
                    *known = (*known).min(so_far + cost);
                }
            }
        }
        least
    }

    /// The same with drivers of more outputs that other rails may share.
    fn shared_outputs(&self, mut least: Fine, chained: &mut [Fine]) -> Fine {
        let Self { known, table, first, behind, here, .. } = *self;
        let sums = known.sums[table];
        for index in self.floors().many.iter().filter(|index| self.may(**index)) {
            let Some(charge) = known.charge(*index) else { continue };
            let stop = known.spans.power[*index][first] as usize;
            chained[first..=stop.max(first)].fill(BEYOND);
            chained[first] = 0;
            for from in first..=stop {
                let so_far = chained[from];
                if so_far >= BEYOND {
                    continue;
                }
                if from > first {
                    if sums.micro_watts(first, from - 1) > charge.alone_above {
                        break;
                    }
                    least = least.min(so_far + charge.without_chains(first, from) + behind.rest[from]);
                    // As above: the latter part of a longer block pays no more than the whole.
                    if so_far + here[from] >= least {
                        continue;
                    }
                }
                if from < stop {
                    let row = known.tables.costs(table, from);
                    let reached = row.len().min(stop - from);
                    for (known, cost) in chained[from + 1..=from + reached].iter_mut().zip(row) {
                        *known = (*known).min(so_far + cost + charge.per_chain);
                    }
                }
            }
        }
        least
    }

    /// The first block of a way that costs so much, where its driver has one or two outputs.
    fn few_way(&self, wanted: Fine) -> Option<Block> {
        let (Self { known, table, first, behind, .. }, own) = (*self, self.floors());
        let costs = known.tables.costs(table, first);
        for index in own.few.iter().filter(|index| self.may(**index)) {
            let stand = &known.stands[*index];
            let left = Left { stand: *index, outputs: 1, power_to: known.spans.power[*index][first] as usize };
            let stop = reached(known.spans, left, first).min(costs.len());
            for (offset, cost) in costs[..stop].iter().enumerate() {
                let (end, so_far) = (first + offset + 1, stand.cost + cost);
                let block = |chains, end| Some(Block { stand: *index, chains, first, end });
                if so_far + behind.rest[end] == wanted {
                    return block(1, end);
                }
                let power = known.sums[table].micro_watts(first, end - 1);
                let part = known.charge(*index).map(|charge| charge.block(1, first, end, power));
                if part.is_some_and(|part| cost + part + behind.rest[end] == wanted) {
                    return block(1, end);
                }
                if stand.outputs > 1
                    && end < left.power_to
                    && so_far + behind.one_more(known, table, left, end) == wanted
                {
                    let second = known.tables.costs(table, end);
                    let stop = reached(known.spans, left, end).min(second.len());
                    let last = (0..stop).find(|last| so_far + second[*last] + behind.rest[end + last + 1] == wanted)?;
                    return block(2, end + last + 1);
                }
            }
        }
        None
    }

    /// The same where its driver has more outputs.
    fn many_way(&self, wanted: Fine) -> Option<Block> {
        let Self { known, table, first, behind, .. } = *self;
        let sums = known.sums[table];
        for index in self.floors().many.iter().filter(|index| self.may(**index)) {
            let charge = known.charge(*index);
            let per_chain = charge.map_or(0, |charge| charge.per_chain);
            let stop = known.spans.power[*index][first] as usize;
            // The cheapest chains up to each luminaire, with the part of each, and how many.
            let mut chained = vec![(BEYOND, BEYOND, 0_u8); stop - first + 1];
            chained[0] = (0, 0, 0);
            for from in first..=stop {
                let (shared, alone, count) = chained[from - first];
                if from > first && alone < BEYOND {
                    let power = sums.micro_watts(first, from - 1);
                    let part = charge.filter(|charge| power <= charge.alone_above);
                    if alone + known.stands[*index].cost + behind.rest[from] == wanted
                        || part
                            .is_some_and(|part| shared + part.without_chains(first, from) + behind.rest[from] == wanted)
                    {
                        return Some(Block { stand: *index, chains: count, first, end: from });
                    }
                }
                if from < stop && alone < BEYOND {
                    for (next, cost) in chained[from - first + 1..].iter_mut().zip(known.tables.costs(table, from)) {
                        if shared + cost + per_chain < next.0 {
                            next.2 = count.saturating_add(1);
                        }
                        *next = (next.0.min(shared + cost + per_chain), next.1.min(alone + cost), next.2);
                    }
                }
            }
        }
        None
    }
}

impl TableFloors {
    fn empty(count: usize, table: usize, known: Known<'_>) -> Self {
        let of = |outputs: std::ops::RangeInclusive<u8>| {
            let own = |index: &usize| {
                let stand: &Stand = &known.stands[*index];
                stand.table == table && outputs.contains(&stand.outputs)
            };
            let mut found: Vec<usize> = (0..known.stands.len()).filter(own).collect();
            found.sort_by_key(|index| known.stands[*index].cost);
            found
        };
        Self { few: of(1..=2), many: of(3..=u8::MAX), more: vec![BEYOND; count + 1], two_more: vec![BEYOND; count + 1] }
    }

    /// What a block pays at least of any driver of the table.
    fn least_driver(&self, known: Known<'_>) -> Fine {
        let least = |index: &usize| known.charge(*index).map_or(known.stands[*index].cost, Charge::least);
        self.few.iter().chain(&self.many).map(least).min().unwrap_or(BEYOND)
    }
}

/// The least cost of one of these stands that delivers so much power.
#[inline]
fn cheapest<'a>(stands: &[Stand], of: impl Iterator<Item = &'a usize>, power: i64) -> Fine {
    of.filter(|index| stands[**index].usable >= power).map(|index| stands[*index].cost).min().unwrap_or(BEYOND)
}

/// How many luminaires one more chain of a driver can have from here.
#[inline]
fn reached(spans: &Spans, left: Left, at: usize) -> usize {
    (spans.output[left.stand][at] as usize).min(left.power_to).saturating_sub(at)
}
