//! Cuts over reels: as few reels as can be, with a bound that proves how few that is.
//!
//! Best fit in falling order gives an answer at once. Where the bound of Martello and Toth does not prove it the best
//! and there are few cuts, branch and bound looks through all ways to share them out.

use std::collections::BTreeMap;

use units::Length;

/// Cuts beyond this number are not searched exhaustively.
const MOST_CUTS_FOR_SEARCH: usize = 24;

/// Steps after which the search gives up and the first answer stands with its bound.
const MOST_STEPS: u32 = 200_000;

/// How cuts are shared out over reels.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Cutting {
    /// For each reel the positions of its cuts in the list given, in that order.
    pub reels: Vec<Vec<usize>>,
    /// Fewest reels that any sharing could do with.
    pub lower_bound: u32,
}

/// Shares cuts out over reels of one length. Every cut must fit on a reel; a cut that is longer or not above zero is
/// left out.
pub(crate) fn cut_over_reels(reel: Length, cuts: &[Length]) -> Cutting {
    let mut order: Vec<usize> = (0..cuts.len()).filter(|i| cuts[*i] > Length::ZERO && cuts[*i] <= reel).collect();
    order.sort_by_key(|i| (-cuts[*i].to_um(), *i));
    let sizes: Vec<i64> = order.iter().map(|i| cuts[*i].to_um()).collect();
    let mut bound = martello_toth(reel.to_um(), &sizes);
    let mut shared = best_fit(reel.to_um(), &sizes);
    if shared.len() > bound && sizes.len() <= MOST_CUTS_FOR_SEARCH {
        let mut search =
            Search { reel: reel.to_um(), sizes: &sizes, reels: Vec::new(), best: shared.clone(), bound, steps: 0 };
        search.place(0);
        if search.steps < MOST_STEPS {
            // Everything was looked through, so the answer is its own bound.
            bound = search.best.len();
        }
        shared = search.best;
    }
    let mut reels: Vec<Vec<usize>> =
        shared.into_iter().map(|reel| reel.into_iter().map(|place| order[place]).collect::<Vec<_>>()).collect();
    for reel in &mut reels {
        reel.sort_unstable();
    }
    reels.sort();
    Cutting { reels, lower_bound: u32::try_from(bound).unwrap_or(u32::MAX) }
}

/// Best fit in falling order: each cut goes on the reel that it fills best. Sizes fall.
fn best_fit(reel: i64, sizes: &[i64]) -> Vec<Vec<usize>> {
    let mut reels: Vec<Vec<usize>> = Vec::new();
    let mut by_room: BTreeMap<(i64, usize), ()> = BTreeMap::new();
    for (place, size) in sizes.iter().enumerate() {
        let found = by_room.range((*size, 0)..).next().map(|(key, ())| *key);
        let (room, index) = found.unwrap_or_else(|| {
            reels.push(Vec::new());
            (reel, reels.len() - 1)
        });
        by_room.remove(&(room, index));
        reels[index].push(place);
        by_room.insert((room - size, index), ());
    }
    reels
}

/// The bound L2: for a share `k` of the reel, cuts above `reel - k` stand alone, cuts above half a reel take one each,
/// and what the cuts from `k` to half a reel need beyond the room left beside those takes more. Sizes fall.
///
/// # Source
/// Martello and Toth, *Knapsack Problems* (1990), section 8.3 (from memory).
fn martello_toth(reel: i64, sizes: &[i64]) -> usize {
    if sizes.is_empty() || reel <= 0 {
        return 0;
    }
    let sums: Vec<i128> = std::iter::once(0)
        .chain(sizes.iter().scan(0_i128, |sum, size| {
            *sum += i128::from(*size);
            Some(*sum)
        }))
        .collect();
    // The first place whose size is no longer above a limit; sizes fall.
    let above = |limit: i64| sizes.partition_point(|size| *size > limit);
    let half = sizes.partition_point(|size| size * 2 > reel);
    let at = |least: i64| {
        let alone = above(reel - least);
        let beside = half.max(alone) - alone;
        let small_end = sizes.partition_point(|size| *size >= least).max(half);
        let room = i128::from(reel) * beside as i128 - (sums[half.max(alone)] - sums[alone]);
        let over = (sums[small_end] - sums[half]) - room;
        let more = if over > 0 { (over + i128::from(reel) - 1) / i128::from(reel) } else { 0 };
        alone + beside + more as usize
    };
    sizes.iter().filter(|size| **size * 2 <= reel).map(|size| at(*size)).chain([at(1)]).max().unwrap_or(0)
}

/// Depth-first search over all ways to share cuts out, longest cut first.
struct Search<'a> {
    reel: i64,
    sizes: &'a [i64],
    reels: Vec<(i64, Vec<usize>)>,
    best: Vec<Vec<usize>>,
    bound: usize,
    steps: u32,
}

impl Search<'_> {
    fn place(&mut self, next: usize) {
        if self.steps >= MOST_STEPS || self.best.len() <= self.bound {
            return;
        }
        self.steps += 1;
        let Some(size) = self.sizes.get(next).copied() else {
            if self.reels.len() < self.best.len() {
                self.best = self.reels.iter().map(|(_, cuts)| cuts.clone()).collect();
            }
            return;
        };
        let left: i128 = self.sizes[next..].iter().map(|size| i128::from(*size)).sum();
        let room: i128 = self.reels.iter().map(|(room, _)| i128::from(*room)).sum();
        let more = (left - room).max(0).div_euclid(i128::from(self.reel)) as usize
            + usize::from((left - room).max(0).rem_euclid(i128::from(self.reel)) > 0);
        if self.reels.len() + more >= self.best.len() {
            return;
        }
        let mut tried = Vec::new();
        for index in 0..self.reels.len() {
            let (room, _) = self.reels[index];
            // Reels with the same room are the same choice.
            if room < size || tried.contains(&room) {
                continue;
            }
            tried.push(room);
            self.reels[index].0 -= size;
            self.reels[index].1.push(next);
            self.place(next + 1);
            self.reels[index].1.pop();
            self.reels[index].0 += size;
        }
        if self.reels.len() + 1 < self.best.len() {
            self.reels.push((self.reel - size, vec![next]));
            self.place(next + 1);
            self.reels.pop();
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(reel_mm: i64, cuts_mm: &[i64], reels: usize, bound: u32) {
        let cuts: Vec<Length> = cuts_mm.iter().map(|mm| Length::mm(*mm)).collect();
        let cutting = cut_over_reels(Length::mm(reel_mm), &cuts);
        assert_eq!((cutting.reels.len(), cutting.lower_bound), (reels, bound), "{cuts_mm:?}");
        let mut all: Vec<usize> = cutting.reels.iter().flatten().copied().collect();
        all.sort_unstable();
        assert_eq!(all, (0..cuts.len()).collect::<Vec<_>>());
        for reel in &cutting.reels {
            assert!(reel.iter().map(|i| cuts_mm[*i]).sum::<i64>() <= reel_mm);
        }
    }

    #[test]
    fn few_cuts_take_the_fewest_reels_that_can_be() {
        check(100, &[], 0, 0);
        check(100, &[60, 60, 60, 40, 40, 40], 3, 3);
        // Best fit in falling order needs three reels here; 6+3+3 and 4+4+2+2 fill two (by hand).
        check(12, &[6, 4, 4, 3, 3, 2, 2], 2, 2);
        // Three cuts of more than half a reel need three reels though their sum fits on two.
        check(100, &[51, 51, 51], 3, 3);
        // No pair of these fits together: the bound of Martello and Toth sees it.
        check(100, &[70, 60, 45, 35], 3, 3);
    }

    #[test]
    fn a_cut_longer_than_a_reel_is_left_out() {
        let cutting = cut_over_reels(Length::mm(100), &[Length::mm(101), Length::mm(10), Length::mm(-5)]);
        assert_eq!(cutting.reels, [vec![1]]);
    }

    #[test]
    fn the_search_agrees_with_every_partition_of_small_sets() {
        // Outside witness: all set partitions of up to seven cuts, counted by brute force.
        let mut state = 12_345_u64;
        let mut next = |span: u64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) % span
        };
        for _ in 0..200 {
            let sizes: Vec<i64> = (0..7).map(|_| 1 + next(20) as i64).collect();
            let cuts: Vec<Length> = sizes.iter().map(|mm| Length::mm(*mm)).collect();
            let cutting = cut_over_reels(Length::mm(20), &cuts);
            let fewest = fewest_by_force(20, &sizes, &mut Vec::new());
            assert_eq!(cutting.reels.len(), fewest, "{sizes:?}");
            assert_eq!(cutting.lower_bound as usize, fewest, "{sizes:?}");
        }
    }

    /// Several cuts of each length.
    fn demand(lengths: &[(i64, usize)]) -> Vec<Length> {
        lengths.iter().flat_map(|(mm, count)| std::iter::repeat_n(Length::mm(*mm), *count)).collect()
    }

    #[test]
    fn the_bound_of_a_published_paper_machine_is_its_proved_optimum() {
        // The much printed example of rolls of 5600 mm: 73 of them, proved (from memory).
        let cuts = demand(&[
            (1380, 22),
            (1520, 25),
            (1560, 12),
            (1710, 14),
            (1820, 18),
            (1880, 18),
            (1930, 20),
            (2000, 10),
            (2050, 12),
            (2100, 14),
            (2140, 16),
            (2150, 18),
            (2200, 20),
        ]);
        let cutting = cut_over_reels(Length::mm(5600), &cuts);
        assert_eq!(cutting.lower_bound, 73);
        // Best fit in falling order takes at most 11/9 of the optimum and 6/9 (Dosa 2007 for first fit, from memory).
        assert!((73..=89).contains(&cutting.reels.len()), "{}", cutting.reels.len());
        assert_eq!(cutting.reels.iter().map(Vec::len).sum::<usize>(), cuts.len());
    }

    #[test]
    fn the_bound_holds_where_falling_order_is_known_to_do_worst() {
        // Johnson 1973 (from memory): nine reels do, and falling order takes eleven.
        let cuts = demand(&[(510, 6), (270, 6), (260, 6), (230, 12)]);
        let cutting = cut_over_reels(Length::mm(1000), &cuts);
        assert_eq!((cutting.lower_bound, cutting.reels.len()), (9, 11));
        // Half of it is few enough to look through, and the search finds what falling order does not.
        let half = demand(&[(510, 4), (270, 4), (260, 4), (230, 8)]);
        let cutting = cut_over_reels(Length::mm(1000), &half);
        assert_eq!((cutting.lower_bound, cutting.reels.len()), (6, 6));
    }

    fn fewest_by_force(reel: i64, sizes: &[i64], rooms: &mut Vec<i64>) -> usize {
        let Some((first, rest)) = sizes.split_first() else { return rooms.len() };
        let mut fewest = usize::MAX;
        for index in 0..rooms.len() {
            if rooms[index] >= *first {
                rooms[index] -= first;
                fewest = fewest.min(fewest_by_force(reel, rest, rooms));
                rooms[index] += first;
            }
        }
        rooms.push(reel - first);
        fewest = fewest.min(fewest_by_force(reel, rest, rooms));
        rooms.pop();
        fewest
    }
}
