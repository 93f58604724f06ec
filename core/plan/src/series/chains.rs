//! The cheapest make of every chain that one driver part at one place can feed.

use catalogue::ShortCircuit;

use super::cost::{Fine, fine, micro_down, micro_up};
use super::draws::Draws;
use super::feed::Feed;
use super::problem::Problem;
use super::scheme::Heading;
use super::solve::Volts;
use super::stretch::{Stretch, Stretches, UNLINKED};
use crate::circuit::Ladder;
use crate::feeds::DriverOption;

/// Slack of a voltage limit, volts: what rounding may leave.
pub(super) const ROUNDING: f64 = 1e-9;

/// The cheapest make of one chain.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Entry {
    pub(super) cost: Fine,
    pub(super) heading: Heading,
    /// Position in the feeds of its near module.
    pub(super) feed: u32,
    /// Index of the link part, or [`UNLINKED`].
    pub(super) link: u32,
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
    pub(super) stretches: &'a Stretches<'a>,
    pub(super) driver: &'a DriverOption,
    pub(super) draws: &'a Draws,
    /// By first module, one past the last of the longest chain that an output may feed.
    pub(super) ends: &'a [usize],
    pub(super) volts: Volts,
}

/// How far down the feeds, cheapest first, chains from one near end have come. A longer chain draws more through the same
/// leads, so a feed that failed a shorter one fails it as well.
struct Reached {
    /// By link part, and last without links, which every chain begins with.
    next: Vec<usize>,
}

impl Reached {
    fn of_part(&mut self, link: u32) -> &mut usize {
        let unlinked = self.next.len() - 1;
        let at = if link == UNLINKED { unlinked } else { link as usize };
        let least = self.next[unlinked];
        let own = &mut self.next[at];
        *own = (*own).max(least);
        own
    }
}

impl Ground<'_> {
    /// The table of every chain.
    pub(super) fn table(&self) -> Table {
        let count = self.problem.modules.len();
        let mut table =
            Table { rows: self.ends.iter().enumerate().map(|(first, end)| Vec::with_capacity(end - first)).collect() };
        if micro_down(self.problem.connector_carries.get()) < self.must_stand() {
            return table;
        }
        let mut ladder = Ladder::default();
        let mut reached = Reached { next: Vec::new() };
        for near in 0..count {
            for heading in [Heading::Rising, Heading::Falling] {
                reached.next.clear();
                reached.next.resize(self.problem.links.len() + 1, 0);
                self.chains_from(near, heading, &mut reached, &mut ladder, &mut table);
            }
        }
        table
    }

    /// Current that everything must stand at a short, microamperes.
    fn must_stand(&self) -> i64 {
        match self.driver.short_circuit {
            ShortCircuit::Limited(at) => micro_up(at.get()),
            ShortCircuit::Fused { rating, .. } => micro_up(rating.get()),
        }
    }

    /// Offers the cheapest make of every chain with a near end at a module.
    fn chains_from(
        &self,
        near: usize,
        heading: Heading,
        reached: &mut Reached,
        ladder: &mut Ladder,
        table: &mut Table,
    ) {
        let feeds = self.feeds.of(near, heading);
        let must_stand = self.must_stand();
        let per_chain = fine(self.problem.costs.per_chain);
        let (mut amps, mut channel) = (0_i64, 0_i64);
        let mut counted = None;
        let mut any = true;
        for stretch in self.stretches.from(near, heading) {
            let far = stretch.far as usize;
            let (first, last) = (near.min(far), near.max(far));
            if counted != Some(far) {
                if last >= self.ends[first] || !any {
                    return;
                }
                amps += self.draws.amps[far];
                channel += self.draws.channel[far];
                (counted, any) = (Some(far), false);
            }
            let (amps, channel) = (amps.max(must_stand), channel.max(must_stand));
            let next = reached.of_part(stretch.link);
            let fits = |feed: &Feed| {
                feed.worth.carries.min(stretch.carries) >= amps
                    && feed.worth.contact >= channel
                    && self.clears(feed.worth.loop_ohms + stretch.loop_ohms)
                    && self.lights(feed, stretch, near, ladder)
            };
            let found = feeds.get(*next..).and_then(|rest| rest.iter().position(fits));
            *next = found.map_or(feeds.len(), |found| *next + found);
            if let Some(feed) = feeds.get(*next) {
                any = true;
                let cost = feed.worth.cost + stretch.cost + per_chain;
                table.offer(first, last, Entry { cost, heading, feed: *next as u32, link: stretch.link });
            }
        }
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

    /// Whether every module has its least volts, where that is asked for.
    fn lights(&self, feed: &Feed, stretch: &Stretch, near: usize, ladder: &mut Ladder) -> bool {
        self.volts == Volts::Ignored
            || self.stretches.lights(stretch, near, feed.worth.weight, self.driver.low.get(), ladder)
    }
}
