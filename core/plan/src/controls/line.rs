//! The shortest line through a set of spots: control cable goes from device to device and does not branch.
//!
//! Up to [`EXACT`] spots every order is weighed by dynamic programming over subsets, after M. Held and R. M. Karp,
//! "A dynamic programming approach to sequencing problems", J. SIAM 10 (1962). Beyond that the order of a walk around the
//! least spanning tree is mended by turning stretches about, and the weight of the tree, which no line undercuts, is the
//! bound.

/// Spots up to which the shortest line is found exactly.
const EXACT: usize = 11;

/// Rounds of mending beyond that.
const ROUNDS: usize = 40;

/// A line through all spots.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Line {
    /// The spots in order.
    pub order: Vec<usize>,
    /// Its length.
    pub length: i64,
    /// No line through these spots is shorter.
    pub bound: i64,
}

/// The shortest line through all spots with these distances (square, symmetric, none below zero).
pub(crate) fn shortest(distance: &[Vec<i64>]) -> Line {
    let count = distance.len();
    if count <= 1 {
        return Line { order: (0..count).collect(), length: 0, bound: 0 };
    }
    let mut order = if count <= EXACT { by_subsets(distance) } else { mended(distance, walk(distance).0) };
    // Read from the end whose spot comes first.
    if order.first() > order.last() {
        order.reverse();
    }
    let length = length(distance, &order);
    let bound = if count <= EXACT { length } else { walk(distance).1.min(length) };
    Line { order, length, bound }
}

fn length(distance: &[Vec<i64>], order: &[usize]) -> i64 {
    order.windows(2).fold(0, |sum: i64, pair| sum.saturating_add(distance[pair[0]][pair[1]]))
}

fn by_subsets(distance: &[Vec<i64>]) -> Vec<usize> {
    let count = distance.len();
    let full = (1_usize << count) - 1;
    // The shortest line through a subset that ends at one of its spots, and the spot before that.
    let mut best = vec![(i64::MAX, usize::MAX); (full + 1) * count];
    for spot in 0..count {
        best[(1 << spot) * count + spot] = (0, usize::MAX);
    }
    for subset in 1..=full {
        for last in (0..count).filter(|last| subset & (1 << last) != 0) {
            let (so_far, _) = best[subset * count + last];
            if so_far == i64::MAX {
                continue;
            }
            for next in (0..count).filter(|next| subset & (1 << next) == 0) {
                let further = so_far.saturating_add(distance[last][next]);
                let known = &mut best[(subset | 1 << next) * count + next];
                if further < known.0 {
                    *known = (further, last);
                }
            }
        }
    }
    let mut last = (0..count).min_by_key(|last| best[full * count + last].0).unwrap_or(0);
    let mut order = Vec::with_capacity(count);
    let mut subset = full;
    while last != usize::MAX {
        order.push(last);
        let before = best[subset * count + last].1;
        subset &= !(1 << last);
        last = before;
    }
    order
}

/// The spots in the order of a walk around the least spanning tree, and the tree's weight (Prim).
fn walk(distance: &[Vec<i64>]) -> (Vec<usize>, i64) {
    let count = distance.len();
    let mut near: Vec<(i64, usize)> = (0..count).map(|spot| (distance[0][spot], 0)).collect();
    let mut inside = vec![false; count];
    let mut children: Vec<Vec<usize>> = vec![Vec::new(); count];
    inside[0] = true;
    let mut weight = 0_i64;
    for _ in 1..count {
        let Some(next) = (0..count).filter(|spot| !inside[*spot]).min_by_key(|spot| near[*spot].0) else { break };
        inside[next] = true;
        weight = weight.saturating_add(near[next].0);
        children[near[next].1].push(next);
        for spot in 0..count {
            if distance[next][spot] < near[spot].0 {
                near[spot] = (distance[next][spot], next);
            }
        }
    }
    let mut order = Vec::with_capacity(count);
    let mut waiting = vec![0];
    while let Some(spot) = waiting.pop() {
        order.push(spot);
        waiting.extend(children[spot].iter().rev());
    }
    (order, weight)
}

/// Turns stretches about while that shortens the line.
fn mended(distance: &[Vec<i64>], mut order: Vec<usize>) -> Vec<usize> {
    let count = order.len();
    for _ in 0..ROUNDS {
        let mut better = false;
        for from in 0..count {
            for to in from + 1..count {
                let before = (from > 0).then(|| order[from - 1]);
                let after = order.get(to + 1).copied();
                let ends = |a: usize, b: usize| {
                    before.map_or(0, |spot| distance[spot][a]).saturating_add(after.map_or(0, |spot| distance[b][spot]))
                };
                if ends(order[to], order[from]) < ends(order[from], order[to]) {
                    order[from..=to].reverse();
                    better = true;
                }
            }
        }
        if !better {
            break;
        }
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Distances of points on a grid, drawn by a small congruential generator.
    fn grid(count: usize, mut seed: u64) -> Vec<Vec<i64>> {
        let mut draw = || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 40) as i64 % 100
        };
        let at: Vec<(i64, i64)> = (0..count).map(|_| (draw(), draw())).collect();
        at.iter().map(|a| at.iter().map(|b| (a.0 - b.0).abs() + (a.1 - b.1).abs()).collect()).collect()
    }

    fn every_order(distance: &[Vec<i64>], order: &mut Vec<usize>) -> i64 {
        if order.len() == distance.len() {
            return length(distance, order);
        }
        let mut best = i64::MAX;
        for next in 0..distance.len() {
            if !order.contains(&next) {
                order.push(next);
                best = best.min(every_order(distance, order));
                order.pop();
            }
        }
        best
    }

    #[test]
    fn the_shortest_line_by_trying_every_order() {
        for seed in 0..20 {
            let distance = grid(2 + seed as usize % 6, seed);
            let line = shortest(&distance);
            assert_eq!(line.length, every_order(&distance, &mut Vec::new()), "{distance:?}");
            assert_eq!(line.bound, line.length);
        }
    }

    #[test]
    fn many_spots_get_a_line_through_each_once_with_a_bound_below_it() {
        for seed in 0..10 {
            let distance = grid(30, seed);
            let line = shortest(&distance);
            let mut spots = line.order.clone();
            spots.sort_unstable();
            assert_eq!(spots, (0..30).collect::<Vec<_>>());
            assert!(line.bound > 0 && line.bound <= line.length && line.length <= 2 * line.bound, "{line:?}");
        }
        // Spots on one straight line: the line is the tree.
        let straight: Vec<Vec<i64>> = (0..20_i64).map(|a| (0..20_i64).map(|b| (a - b).abs() * 7).collect()).collect();
        assert_eq!(shortest(&straight).length, 133);
        assert_eq!(shortest(&straight).bound, 133);
    }
}
