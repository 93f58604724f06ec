//! The cheapest chain for every stretch of luminaires from one place under one kind of source.

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

/// A row for each first luminaire, as far as one output of any driver that uses the table can feed; rows lie one behind
/// the other.
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
    pub(super) fn packed(self) -> Self {
        let held: usize = self.filled.iter().map(|filled| *filled as usize).sum();
        let (mut costs, mut chosen) = (Vec::with_capacity(held), Vec::with_capacity(held));
        let mut starts = Vec::with_capacity(self.starts.len());
        for first in 0..self.filled.len() {
            starts.push(costs.len());
            costs.extend_from_slice(self.costs(first));
            chosen.extend_from_slice(self.chosen(first));
        }
        starts.push(costs.len());
        Self { starts, costs, chosen, ..self }
    }

    /// Entries of all rows.
    pub(super) fn len(&self) -> usize {
        self.costs.len()
    }

    /// Where the chains from a first luminaire lie among all rows.
    #[inline]
    pub(super) fn row(&self, first: usize) -> std::ops::Range<usize> {
        self.starts[first]..self.starts[first] + self.filled[first] as usize
    }

    /// Costs of chains that start at a luminaire, by last less first.
    #[inline]
    pub(super) fn costs(&self, first: usize) -> &[Fine] {
        &self.costs[self.row(first)]
    }

    /// Feeds of chains that start at a luminaire, by last less first.
    #[inline]
    pub(super) fn chosen(&self, first: usize) -> &[u32] {
        &self.chosen[self.row(first)]
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
