//! The cheapest chain for every stretch of luminaires from one place under one kind of source, and all that a rail has of
//! such tables.

use super::lead::{Fine, Make};

/// Costs from here on count as impossible. Four of them still add up.
pub(crate) const BEYOND: Fine = Fine::MAX / 8;

/// How a chain is fed, apart from which luminaires it has.
#[derive(Clone, Debug)]
pub(super) struct Feed {
    /// Its lead.
    pub(super) make: Make,
    /// Index of the way in.
    pub(super) way_in: usize,
    /// Index of the run part.
    pub(super) run: usize,
    /// First luminaire that hangs to the right of the way in.
    pub(super) middle: usize,
}

/// A table that is filled: a row for each first luminaire, as far as one output of any driver that uses the table can
/// feed; rows lie one behind the other.
#[derive(Clone, Debug, Default)]
pub(crate) struct ChainTable {
    /// Feeds that entries name.
    pub(super) feeds: Vec<Feed>,
    /// Where each row starts, and where the last one ends.
    starts: Vec<usize>,
    /// How much of each row holds chains; nothing behind that does.
    filled: Vec<u32>,
    costs: Vec<Fine>,
    chosen: Vec<u32>,
}

impl ChainTable {
    /// An empty table; `ends` holds, by first luminaire, one past the last of its row.
    pub(crate) fn new(ends: &[u32]) -> Self {
        let mut starts = Vec::with_capacity(ends.len() + 1);
        let mut sum = 0;
        for (first, end) in ends.iter().enumerate() {
            starts.push(sum);
            sum += (*end as usize).saturating_sub(first);
        }
        starts.push(sum);
        Self { feeds: Vec::new(), starts, filled: vec![0; ends.len()], costs: vec![BEYOND; sum], chosen: vec![0; sum] }
    }

    /// One past the last luminaire that the row from a first one has room for.
    #[inline]
    pub(crate) fn end(&self, first: usize) -> usize {
        first + self.starts[first + 1] - self.starts[first]
    }

    /// Without the room behind what each row holds; nothing can be offered any more.
    fn packed(self) -> Self {
        let held: usize = self.filled.iter().map(|filled| *filled as usize).sum();
        let (mut costs, mut chosen) = (Vec::with_capacity(held), Vec::with_capacity(held));
        let mut starts = Vec::with_capacity(self.starts.len());
        for first in 0..self.filled.len() {
            starts.push(costs.len());
            costs.extend_from_slice(&self.costs[self.row(first)]);
            chosen.extend_from_slice(&self.chosen[self.row(first)]);
        }
        starts.push(costs.len());
        Self { starts, costs, chosen, ..self }
    }

    /// Where the chains from a first luminaire lie among all rows.
    fn row(&self, first: usize) -> std::ops::Range<usize> {
        self.starts[first]..self.starts[first] + self.filled[first] as usize
    }

    /// Offers chains from `first` up to `from`, `from + 1` … with these costs; the cheaper is kept, of equals the earlier.
    #[inline]
    pub(crate) fn offer(&mut self, first: usize, from: usize, costs: impl Iterator<Item = Fine>, feed: u32) {
        let at = self.starts[first] + from - first;
        let end = self.starts[first + 1];
        let mut filled = (from - first) as u32;
        for ((known, chosen), cost) in self.costs[at..end].iter_mut().zip(&mut self.chosen[at..end]).zip(costs) {
            filled += 1;
            if cost < *known {
                *known = cost;
                *chosen = feed;
            }
        }
        self.filled[first] = self.filled[first].max(filled);
    }
}

/// The chain tables of a rail, full. Whoever looks at a luminaire asks all tables about it before going to the next, so
/// the rows of all tables from one first luminaire on lie together.
#[derive(Clone, Debug)]
pub(super) struct Tables {
    /// By table, feeds that entries name.
    pub(super) feeds: Vec<Vec<Feed>>,
    /// By first luminaire, then by table, where its row starts; and where the last one ends.
    starts: Vec<usize>,
    costs: Vec<Fine>,
    chosen: Vec<u32>,
}

impl Tables {
    /// Of full tables of so many luminaires.
    pub(super) fn of(count: usize, full: impl Iterator<Item = ChainTable>) -> Self {
        let mut full: Vec<ChainTable> = full.map(ChainTable::packed).collect();
        let held = full.iter().map(|table| table.costs.len()).sum();
        let mut tables = Self {
            feeds: full.iter_mut().map(|table| std::mem::take(&mut table.feeds)).collect(),
            starts: Vec::with_capacity(full.len() * count + 1),
            costs: Vec::with_capacity(held),
            chosen: Vec::with_capacity(held),
        };
        for first in 0..count {
            for table in &full {
                tables.starts.push(tables.costs.len());
                tables.costs.extend_from_slice(&table.costs[table.row(first)]);
                tables.chosen.extend_from_slice(&table.chosen[table.row(first)]);
            }
        }
        tables.starts.push(tables.costs.len());
        tables
    }

    /// How many tables there are.
    #[inline]
    pub(super) fn len(&self) -> usize {
        self.feeds.len()
    }

    /// Entries of all rows.
    pub(super) fn cells(&self) -> usize {
        self.costs.len()
    }

    /// Where the chains of a table from a first luminaire lie among all rows.
    #[inline]
    pub(super) fn row(&self, table: usize, first: usize) -> std::ops::Range<usize> {
        let at = first * self.feeds.len() + table;
        self.starts[at]..self.starts[at + 1]
    }

    /// Costs of the chains of a table that start at a luminaire, by last less first.
    #[inline]
    pub(super) fn costs(&self, table: usize, first: usize) -> &[Fine] {
        &self.costs[self.row(table, first)]
    }

    /// Feeds of the chains of a table that start at a luminaire, by last less first.
    #[inline]
    pub(super) fn chosen(&self, table: usize, first: usize) -> &[u32] {
        &self.chosen[self.row(table, first)]
    }
}
