//! Every chain that a place can feed, with its cheapest lead, way in and run.

use units::Length;

use super::lead::{Fine, Make, fine, fine_metres, makes};
use super::problem::{Passing, Problem};
use super::reach::Reach;
use super::source::{SourceSums, VOLT_ROUNDING, micro_down};
use super::tee::{self, Tee};
use catalogue::ShortCircuit;

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

/// The cheapest chain for every stretch of luminaires from one place under one kind of source.
#[derive(Clone, Debug, Default)]
pub(super) struct ChainTable {
    /// Feeds that entries name.
    pub(super) feeds: Vec<Feed>,
    /// For each first luminaire, by last less first: cost and feed.
    rows: Vec<Vec<(Fine, u32)>>,
}

/// No chain.
pub(super) const NONE: (Fine, u32) = (super::bound::BEYOND, u32::MAX);

impl ChainTable {
    /// Chains that start at a luminaire, by last less first.
    pub(super) fn from(&self, first: usize) -> &[(Fine, u32)] {
        &self.rows[first]
    }

    fn offer(&mut self, first: usize, last: usize, cost: Fine, feed: u32) {
        let row = &mut self.rows[first];
        if row.len() <= last - first {
            row.resize(last - first + 1, NONE);
        }
        let entry = &mut row[last - first];
        if cost < entry.0 {
            *entry = (cost, feed);
        }
    }
}

/// Which arms a chain has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Arms {
    Left,
    Right,
    Both,
}

/// What the search for chains goes by.
pub(super) struct Ground<'a> {
    pub(super) problem: &'a Problem,
    pub(super) limits: &'a [f64],
    /// Volts by which limits are lowered.
    pub(super) slack: f64,
    pub(super) reach: &'a [Option<Reach>],
}

/// Builds the table of one place for one kind of source.
pub(super) fn table(ground: &Ground<'_>, place: usize, sums: &SourceSums, short: ShortCircuit) -> ChainTable {
    let problem = ground.problem;
    let mut table = ChainTable { feeds: Vec::new(), rows: vec![Vec::new(); problem.luminaires.len()] };
    let (held, needed) = match short {
        ShortCircuit::Limited(amps) => (micro_down(amps.get()), None),
        ShortCircuit::Fused { rating, clears_at } => {
            (micro_down(rating.get()), Some(rating.get() * f64::from(clears_at)))
        }
    };
    // One conductor's greatest resistance to a far end where a fuse still clears.
    let fuse_ohms = needed.map_or(f64::INFINITY, |needed| sums.low / (2.0 * needed));
    for (way_in, reach) in ground.reach.iter().enumerate() {
        let Some(reach) = reach else { continue };
        let makes: Vec<Make> = makes(problem, place, way_in).into_iter().filter(|make| make.carries >= held).collect();
        for middle in reach.middles.clone() {
            for (run, option) in problem.runs.iter().enumerate() {
                if micro_down(option.carries.get()) < held {
                    continue;
                }
                let search = Search {
                    ground,
                    sums,
                    reach,
                    way_in: problem.ways_in[way_in].chainage,
                    middle,
                    ohms_per_m: option.ohms_per_m,
                    carries: micro_down(option.carries.get()),
                    fuse_ohms,
                };
                for arms in [Arms::Both, Arms::Left, Arms::Right] {
                    search.fill(&mut table, arms, &makes, way_in, run);
                }
            }
        }
    }
    table
}

/// The search for chains of one way in and one run part.
struct Search<'a> {
    ground: &'a Ground<'a>,
    sums: &'a SourceSums,
    reach: &'a Reach,
    way_in: Length,
    middle: usize,
    ohms_per_m: f64,
    carries: i64,
    fuse_ohms: f64,
}

impl Search<'_> {
    fn fill(&self, table: &mut ChainTable, arms: Arms, makes: &[Make], way_in: usize, run: usize) {
        let problem = self.ground.problem;
        let option = &problem.runs[run];
        // For each first luminaire, what a cheaper lead has already reached.
        let mut covered: Vec<usize> = vec![0; problem.luminaires.len()];
        for make in makes {
            let feed = table.feeds.len() as u32;
            let fixed = make.cost
                + fine(problem.costs.per_chain)
                + fine(problem.costs.per_arm) * if arms == Arms::Both { 2 } else { 1 };
            let mut used = false;
            self.each_frontier(arms, make, |first, last| {
                let from = covered[first].max(first).max(if arms == Arms::Both { self.middle } else { 0 });
                // `covered` counts one past the last that is covered.
                for end in from..=last {
                    if problem.passing == Passing::Forbidden && arms == Arms::Left && end + 1 != self.middle {
                        continue;
                    }
                    let (left, right) = self.lengths(first, end);
                    let length = left + right;
                    let cost = fixed
                        + fine_metres(option.per_metre, length) * i64::from(option.lengths)
                        + fine_metres(problem.costs.thread_per_metre, length);
                    table.offer(first, end, cost, feed);
                    used = true;
                }
                covered[first] = covered[first].max(last + 1);
            });
            if used {
                table.feeds.push(Feed { make: make.clone(), way_in, run, middle: self.middle });
            }
        }
    }

    fn lengths(&self, first: usize, last: usize) -> (Length, Length) {
        arm_lengths(self.ground.problem, self.way_in, first, self.middle.clamp(first, last + 1), last)
    }

    /// Calls `visit` with every first luminaire that has a chain and the farthest last one.
    fn each_frontier(&self, arms: Arms, make: &Make, mut visit: impl FnMut(usize, usize)) {
        let Reach { first: lowest, end, .. } = *self.reach;
        let middle = self.middle;
        let uniform = self.sums.most.iter().all(super::source::ChannelSums::is_uniform);
        match arms {
            Arms::Left => {
                let mut last = middle;
                for first in (lowest..middle).rev() {
                    last = last.min(middle - 1).max(first);
                    while last > first && !self.passes(make, first, last) {
                        last -= 1;
                    }
                    if last > first || self.passes(make, first, first) {
                        visit(first, last);
                    } else if uniform {
                        break;
                    }
                }
            }
            Arms::Right => {
                let mut last = middle;
                let alone = self.ground.problem.passing == Passing::Forbidden;
                for first in middle..if alone { end.min(middle + 1) } else { end } {
                    last = last.max(first);
                    while last > first && !self.passes(make, first, last) {
                        last -= 1;
                    }
                    if last == first && !self.passes(make, first, first) {
                        if uniform {
                            break;
                        }
                        continue;
                    }
                    while last + 1 < end && self.passes(make, first, last + 1) {
                        last += 1;
                    }
                    visit(first, last);
                }
            }
            Arms::Both => {
                if lowest >= middle || middle >= end {
                    return;
                }
                let mut last = end - 1;
                for first in (lowest..middle).rev() {
                    while last >= middle && !self.passes(make, first, last) {
                        last -= 1;
                    }
                    if last < middle {
                        break;
                    }
                    visit(first, last);
                }
            }
        }
    }

    /// Whether a chain keeps every limit that does not depend on the driver's outputs.
    fn passes(&self, make: &Make, first: usize, last: usize) -> bool {
        let sums = self.sums;
        let split = self.middle.clamp(first, last + 1);
        if sums.overdrives(first, last) || sums.micro_amps(first, last) > make.carries {
            return false;
        }
        let (left, right) = self.lengths(first, last);
        let short_ohms = make.ohms + self.ohms_per_m * left.max(right).to_m();
        if short_ohms > self.fuse_ohms {
            return false;
        }
        let arm_carries = |from: usize, end: usize| end <= from || sums.micro_amps(from, end - 1) <= self.carries;
        if !arm_carries(first, split) || !arm_carries(split, last + 1) {
            return false;
        }
        if self.ground.slack == f64::INFINITY {
            return true;
        }
        if !self.volts_suffice(&sums.most, make, first, split, last) {
            return match &sums.fewest {
                None => false,
                Some(fewest) => {
                    self.volts_suffice(fewest, make, first, split, last) && self.solves(make, first, split, last)
                }
            };
        }
        true
    }

    /// Closed form for constant currents.
    fn volts_suffice(
        &self,
        channels: &[super::source::ChannelSums],
        make: &Make,
        first: usize,
        split: usize,
        last: usize,
    ) -> bool {
        let way_in = self.way_in.to_m();
        let loop_length = self.ground.problem.loop_per_hole.to_m();
        channels.iter().all(|channel| {
            let here = self.sums.low - make.ohms * channel.between(first, last) + VOLT_ROUNDING;
            (split == first || here >= channel.left_need(first, split - 1, way_in, loop_length, self.ohms_per_m))
                && (split > last || here >= channel.right_need(split, last, way_in, loop_length, self.ohms_per_m))
        })
    }

    fn solves(&self, make: &Make, first: usize, split: usize, last: usize) -> bool {
        let tee = Tee {
            source: self.sums.low,
            lead_ohms: make.ohms,
            ohms_per_m: self.ohms_per_m,
            way_in: self.way_in.to_um(),
            first,
            split,
            last,
        };
        let slack = self.ground.slack;
        tee::solve(self.ground.problem, self.ground.limits, tee, Some(-slack - VOLT_ROUNDING))
            .is_some_and(|spare| spare.margin >= -slack - VOLT_ROUNDING)
    }
}

/// Lengths of the left and the right arm, loops counted.
pub(super) fn arm_lengths(
    problem: &Problem,
    way_in: Length,
    first: usize,
    split: usize,
    last: usize,
) -> (Length, Length) {
    let at = |index: usize| problem.luminaires[index].chainage;
    let loops = |count: usize| problem.loop_per_hole * count as i64;
    let left = if split > first { way_in - at(first) + loops(split - first) } else { Length::ZERO };
    let right = if split <= last { at(last) - way_in + loops(last + 1 - split) } else { Length::ZERO };
    (left, right)
}
