//! Every chain that a place can feed, with its cheapest lead, way in and run.
//!
//! For one way in, lead and run the chains that pass form, for each first luminaire, one stretch of last ones up to a
//! farthest, since a luminaire more only ever asks for more. That farthest one moves one way while the first does, so
//! all of them are found in one sweep. Leads and runs are tried cheapest first, and one that is dearer in both is only
//! asked for what no cheaper pair has reached.

use catalogue::ShortCircuit;
use units::Length;

use super::lead::{Fine, Make, fine, makes};
use super::problem::{Passing, Problem};
use super::reach::Reach;
use super::source::{Source, SourceSums, VOLT_ROUNDING, micro_down};
use super::table::{ChainTable, Feed};
use super::tee::{self, Tee};

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
    /// By place and way in, the leads between them; none from places that no table is asked for, or to ways in that reach
    /// nothing.
    pub(super) makes: &'a [Vec<Vec<Make>>],
    /// For each luminaire its chainage and a loop for it and each before it, micrometres.
    pub(super) ends: &'a [i64],
}

/// By place and way in, the leads from places of these (place, part) to ways in that reach something.
pub(super) fn all_makes(problem: &Problem, reach: &[Option<Reach>], keys: &[(usize, usize)]) -> Vec<Vec<Vec<Make>>> {
    let of = |place: usize| {
        let is_asked = keys.iter().any(|key| key.0 == place);
        let to = |(way_in, reach): (usize, &Option<Reach>)| match reach {
            Some(_) if is_asked => makes(problem, place, way_in),
            _ => Vec::new(),
        };
        reach.iter().enumerate().map(to).collect()
    };
    (0..problem.places.len()).map(of).collect()
}

/// Builds the table of one place for one kind of source; `ends` says how far its rows go.
pub(super) fn table(
    ground: &Ground<'_>,
    place: usize,
    (source, sums): (&Source, &SourceSums),
    short: ShortCircuit,
    ends: &[u32],
) -> ChainTable {
    let problem = ground.problem;
    let mut table = ChainTable::new(ends);
    let (held, needed) = match short {
        ShortCircuit::Limited(amps) => (micro_down(amps.get()), None),
        ShortCircuit::Fused { rating, clears_at } => {
            (micro_down(rating.get()), Some(rating.get() * f64::from(clears_at)))
        }
    };
    // One conductor's greatest resistance to a far end where a fuse still clears.
    let fuse_ohms = needed.map_or(f64::INFINITY, |needed| source.low / (2.0 * needed));
    let runs = runs_by_rate(problem, held);
    let mut covered: Vec<u32> = Vec::new();
    for (way_in, reach) in ground.reach.iter().enumerate() {
        let Some(reach) = reach else { continue };
        let makes: Vec<&Make> = ground.makes[place][way_in].iter().filter(|make| make.carries >= held).collect();
        for middle in reach.middles.clone() {
            for arms in [Arms::Both, Arms::Left, Arms::Right] {
                // By lead and first luminaire, one past the last that it or a cheaper one has reached so far.
                covered.clear();
                covered.resize(problem.luminaires.len() * makes.len(), 0);
                for (run, rate) in &runs {
                    let option = &problem.runs[*run];
                    let search = Search {
                        ground,
                        source,
                        sums,
                        reach,
                        way_in: problem.ways_in[way_in].chainage.to_um(),
                        middle,
                        ohms_per_m: option.ohms_per_m,
                        carries: micro_down(option.carries.get()),
                        fuse_ohms,
                        rate: *rate,
                    };
                    search.fill(&mut table, arms, &makes, (way_in, *run), &mut covered);
                }
            }
        }
    }
    table
}

/// Runs that stand a short, with the price of a micrometre, cheapest first; of equals the one of lower index.
fn runs_by_rate(problem: &Problem, held: i64) -> Vec<(usize, Fine)> {
    let rate = |option: &super::problem::RunOption| {
        option.per_metre.to_ten_thousandths() * i64::from(option.lengths)
            + problem.costs.thread_per_metre.to_ten_thousandths()
    };
    let options = problem.runs.iter().enumerate();
    let able = options.filter(|(_, option)| micro_down(option.carries.get()) >= held);
    let mut runs: Vec<(usize, Fine)> = able.map(|(index, option)| (index, rate(option))).collect();
    runs.sort_by_key(|run| run.1);
    runs
}

/// The search for chains of one way in and one run part.
struct Search<'a> {
    ground: &'a Ground<'a>,
    source: &'a Source,
    sums: &'a SourceSums,
    reach: &'a Reach,
    /// Micrometres.
    way_in: i64,
    middle: usize,
    ohms_per_m: f64,
    carries: i64,
    fuse_ohms: f64,
    /// Fine cost of a micrometre of run.
    rate: Fine,
}

impl Search<'_> {
    fn fill(
        &self,
        table: &mut ChainTable,
        arms: Arms,
        makes: &[&Make],
        (way_in, run): (usize, usize),
        covered: &mut [u32],
    ) {
        let problem = self.ground.problem;
        for (index, make) in makes.iter().enumerate() {
            // What a cheaper lead has reached with this run or a cheaper one.
            let (before, own) = covered.split_at_mut(index * problem.luminaires.len());
            let covered = &mut own[..problem.luminaires.len()];
            if let Some(cheaper) = before.len().checked_sub(covered.len()) {
                covered.iter_mut().zip(&before[cheaper..]).for_each(|(own, cheaper)| *own = (*own).max(*cheaper));
            }
            let feed = table.feeds.len() as u32;
            let fixed = make.cost
                + fine(problem.costs.per_chain)
                + fine(problem.costs.per_arm) * if arms == Arms::Both { 2 } else { 1 };
            let mut used = false;
            self.each_frontier(arms, make, table, covered, |table, first, from, last| {
                let from = match (problem.passing, arms) {
                    (Passing::Forbidden, Arms::Left) if last + 1 != self.middle => return,
                    (Passing::Forbidden, Arms::Left) => last,
                    _ => from,
                };
                // A luminaire more at the far end is its own distance more; one more at the near end of a left arm is a
                // loop more.
                let base = fixed + self.rate * self.length(first, from);
                if arms == Arms::Left {
                    let step = self.rate * problem.loop_per_hole.to_um();
                    table.offer(first, from, (0..=(last - from) as i64).map(|more| base + step * more), feed);
                } else {
                    let start = self.ground.ends[from];
                    let ends = self.ground.ends[from..=last].iter();
                    table.offer(first, from, ends.map(|end| base + self.rate * (end - start)), feed);
                }
                used = true;
            });
            if used {
                table.feeds.push(Feed { make: (*make).clone(), way_in, run, middle: self.middle });
            }
        }
    }

    fn at(&self, index: usize) -> i64 {
        self.ground.problem.luminaires[index].chainage.to_um()
    }

    /// Length of both arms, loops counted, micrometres.
    #[inline]
    fn length(&self, first: usize, last: usize) -> i64 {
        let (left, right) = self.lengths(first, last);
        left + right
    }

    /// Lengths of the left and the right arm as [`arm_lengths`] has them, micrometres.
    #[inline]
    fn lengths(&self, first: usize, last: usize) -> (i64, i64) {
        let split = self.middle.clamp(first, last + 1);
        let loops = self.ground.problem.loop_per_hole.to_um();
        let left = if split > first { self.way_in - self.at(first) + loops * (split - first) as i64 } else { 0 };
        let right = if split <= last { self.at(last) - self.way_in + loops * (last + 1 - split) as i64 } else { 0 };
        (left, right)
    }

    /// Calls `visit` with every first luminaire that has a chain beyond what is covered, with the first last luminaire
    /// that is not covered and the farthest last one; marks them covered.
    fn each_frontier(
        &self,
        arms: Arms,
        make: &Make,
        table: &mut ChainTable,
        covered: &mut [u32],
        mut visit: impl FnMut(&mut ChainTable, usize, usize, usize),
    ) {
        let Reach { first: lowest, end, .. } = *self.reach;
        let middle = self.middle;
        match arms {
            Arms::Right => {
                let alone = self.ground.problem.passing == Passing::Forbidden;
                // One past the last that is known to pass.
                let mut passed = middle;
                let stop = if alone { end.min(middle + 1) } else { end };
                for (first, covered) in covered.iter_mut().enumerate().take(stop).skip(middle) {
                    let from = first.max(*covered as usize);
                    passed = passed.max(first);
                    let stop = end.min(table.end(first));
                    // What lies beyond a covered stretch passes only where all before it does.
                    let mut beyond = passed.max(from);
                    while beyond < stop && self.passes(make, first, beyond) {
                        beyond += 1;
                        passed = beyond;
                    }
                    if passed == first && from == first && self.source.uniform {
                        break;
                    }
                    let reached = passed.min(stop);
                    if reached > from {
                        visit(table, first, from, reached - 1);
                        *covered = reached as u32;
                    }
                }
            }
            Arms::Left | Arms::Both => {
                if arms == Arms::Both && (lowest >= middle || middle >= end) {
                    return;
                }
                // One past the last that may pass.
                let mut reached = if arms == Arms::Left { middle } else { end };
                for first in (lowest..middle).rev() {
                    let (least, alone) = if arms == Arms::Left { (first, first + 1) } else { (middle, middle) };
                    let from = least.max(covered[first] as usize);
                    reached = reached.max(alone).min(table.end(first));
                    while reached > from && !self.passes(make, first, reached - 1) {
                        reached -= 1;
                    }
                    if reached > from {
                        visit(table, first, from, reached - 1);
                        covered[first] = reached as u32;
                    } else if reached <= least && (arms == Arms::Both || self.source.uniform) {
                        break;
                    }
                }
            }
        }
    }

    /// Whether a chain keeps every limit that does not depend on the driver's outputs.
    fn passes(&self, make: &Make, first: usize, last: usize) -> bool {
        let (source, sums) = (self.source, self.sums);
        let split = self.middle.clamp(first, last + 1);
        if source.overdrives(first, last) || sums.micro_amps(first, last) > make.carries {
            return false;
        }
        if self.fuse_ohms < f64::INFINITY {
            let (left, right) = self.lengths(first, last);
            let short_ohms = make.ohms + self.ohms_per_m * Length::um(left.max(right)).to_m();
            if short_ohms > self.fuse_ohms {
                return false;
            }
        }
        let arm_carries = |from: usize, end: usize| end <= from || sums.micro_amps(from, end - 1) <= self.carries;
        if !arm_carries(first, split) || !arm_carries(split, last + 1) {
            return false;
        }
        if self.ground.slack == f64::INFINITY {
            return true;
        }
        if !self.volts_suffice(&source.most, make, first, split, last) {
            return match &source.fewest {
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
        let way_in = Length::um(self.way_in).to_m();
        let loop_length = self.ground.problem.loop_per_hole.to_m();
        channels.iter().all(|channel| {
            let here = self.source.low - make.ohms * channel.between(first, last) + VOLT_ROUNDING;
            (split == first || here >= channel.left_need(first, split - 1, way_in, loop_length, self.ohms_per_m))
                && (split > last || here >= channel.right_need(split, last, way_in, loop_length, self.ohms_per_m))
        })
    }

    fn solves(&self, make: &Make, first: usize, split: usize, last: usize) -> bool {
        let tee = Tee {
            source: self.source.low,
            lead_ohms: make.ohms,
            ohms_per_m: self.ohms_per_m,
            way_in: self.way_in,
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
