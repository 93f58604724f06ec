//! In which order the luminaires of a group are fed: rail after rail, or several rails side by side.
//!
//! Whoever walks along the rails must know every driver that is still open, so few should be open at a time. Where rails
//! share one or two places with the next, they are walked one after another. Where they share many, as two sides of a
//! bridge do, they are walked side by side: each luminaire has a time, by the places near it, and the rail whose next
//! luminaire comes first goes on. The order is a matter of effort alone; the answer does not depend on it.

use std::collections::{BTreeMap, BTreeSet};

use super::group::{Class, Readied};
use crate::feeds::bound::BEYOND;

/// From one place to the next.
pub(super) const PLACE: u32 = 1 << 12;
/// Where more places than this are shared between rails before and rails behind, rails are walked side by side.
const MOST_BETWEEN: usize = 4;

/// When each luminaire's turn comes.
pub(super) struct Order {
    /// Whether rails are walked one after another.
    pub(super) by_rail: bool,
    /// By rail and luminaire, never falling along a rail: the place nearest, in their common order.
    times: Vec<Vec<u32>>,
    /// How many places there are.
    places: u32,
}

impl Order {
    pub(super) fn of(group: &Readied<'_>) -> Self {
        let counts = group.rails.iter().map(|prepared| prepared.count());
        let centres: Vec<Vec<(usize, usize)>> = (0..group.rails.len()).map(|rail| centres(group, rail)).collect();
        let ranks = ranks(&centres);
        Self {
            by_rail: between(&group.classes, group.rails.len()) <= MOST_BETWEEN,
            times: centres.iter().zip(counts).map(|(own, count)| times(own, &ranks, count)).collect(),
            places: ranks.len() as u32,
        }
    }

    /// How many places there are; the times of luminaires lie between nothing and this many of [`PLACE`] and one.
    pub(super) fn places(&self) -> u32 {
        self.places
    }

    /// When each luminaire of a rail has its turn where rails are walked side by side.
    pub(super) fn place_times(&self, rail: usize) -> &[u32] {
        &self.times[rail]
    }

    /// The rail that goes on where each has been fed so far, and is to be fed up to an end; `None` where all are.
    pub(super) fn next(&self, at: &[u32], ends: &[u32]) -> Option<usize> {
        let rails = self.times.iter().zip(at.iter().zip(ends)).enumerate().filter(|own| own.1.1.0 < own.1.1.1);
        let time = |times: &[u32], at: u32| if self.by_rail { 0 } else { times[at as usize] };
        rails.map(|(rail, (times, (at, _)))| (time(times, *at), rail)).min().map(|first| first.1)
    }
}

/// The most places that rails before some rail share with rails from it on.
fn between(classes: &[Class], rails: usize) -> usize {
    let shared = |rail: usize| {
        let spans = classes.iter().filter(|class| {
            let (first, last) = (class.rails.first(), class.rails.last());
            first.is_some_and(|own| own.0 < rail) && last.is_some_and(|own| own.0 >= rail)
        });
        spans.map(|class| class.place).collect::<BTreeSet<usize>>().len()
    };
    (1..rails).map(shared).max().unwrap_or(0)
}

/// For each place of the group in use on a rail, the luminaire that it feeds at the least cost, in order along the rail.
fn centres(group: &Readied<'_>, rail: usize) -> Vec<(usize, usize)> {
    let prepared = &group.rails[rail];
    let mut found: BTreeMap<usize, usize> = BTreeMap::new();
    for stand in &prepared.stands {
        let costs =
            (0..prepared.count()).map(|own| prepared.tables.costs(stand.table, own).first().copied().unwrap_or(BEYOND));
        let costs: Vec<_> = costs.collect();
        let Some(least) = costs.iter().min().filter(|least| **least < BEYOND) else { continue };
        let first = costs.iter().position(|cost| cost == least).unwrap_or(0);
        let last = costs.iter().rposition(|cost| cost == least).unwrap_or(first);
        found.entry(group.place_of[rail][stand.place]).or_insert(first.midpoint(last));
    }
    let mut centres: Vec<(usize, usize)> = found.into_iter().map(|(place, centre)| (centre, place)).collect();
    centres.sort_unstable();
    centres
}

/// An order of all places that agrees with each rail's own, as far as rails agree (Kahn 1962).
fn ranks(centres: &[Vec<(usize, usize)>]) -> BTreeMap<usize, u32> {
    let mut before: BTreeMap<usize, BTreeSet<usize>> = BTreeMap::new();
    for own in centres {
        for (_, place) in own {
            before.entry(*place).or_default();
        }
        own.windows(2).filter(|pair| pair[0].0 < pair[1].0).for_each(|pair| {
            before.entry(pair[1].1).or_default().insert(pair[0].1);
        });
    }
    let mut ranks = BTreeMap::new();
    // Where rails disagree, the place that fewest wait before goes first.
    while let Some(next) = before.iter().min_by_key(|(place, waits)| (waits.len(), **place)).map(|own| *own.0) {
        before.remove(&next);
        for waits in before.values_mut() {
            waits.remove(&next);
        }
        ranks.insert(next, ranks.len() as u32 + 1);
    }
    ranks
}

/// Times along a rail: those of places at their centres, evenly between, never falling.
fn times(centres: &[(usize, usize)], ranks: &BTreeMap<usize, u32>, count: usize) -> Vec<u32> {
    let known: Vec<(usize, u32)> = centres.iter().map(|(centre, place)| (*centre, ranks[place] * PLACE)).collect();
    let mut times: Vec<u32> = Vec::with_capacity(count);
    for at in 0..count {
        let after = known.partition_point(|own| own.0 < at);
        let part = |from: usize, to: usize, least: u32, most: u32| {
            let (way, all) = ((at - from) as u64, (to - from).max(1) as u64);
            least + (u64::from(most.saturating_sub(least)) * way / all) as u32
        };
        let time = match (after.checked_sub(1).map(|index| known[index]), known.get(after)) {
            (Some((from, least)), Some((to, most))) => part(from, *to, least, *most),
            (None, Some((to, most))) => part(0, *to, most - PLACE / 2, *most),
            (Some((from, least)), None) => part(from, count, least, least + PLACE / 2),
            (None, None) => 0,
        };
        times.push(times.last().map_or(time, |last| time.max(*last)));
    }
    times
}
