//! Which ways in may feed modules, and whether a lead gets from one to a module along the bore.

use survey::FeedWish;
use units::Length;

use super::problem::Problem;

/// Whether a lead passes along the bore from one chainage to another: no shut stretch meets the inside of that length.
pub(super) fn passes(problem: &Problem, from: Length, to: Length) -> bool {
    let (low, high) = (from.min(to), from.max(to));
    !problem.blocked.iter().any(|blocked| blocked.from < high && blocked.to > low)
}

/// Whether a lead from one chainage to another lies behind a module somewhere.
pub(super) fn meets_module(problem: &Problem, from: Length, to: Length) -> bool {
    let (low, high) = (from.min(to), from.max(to));
    // Modules lie in order, so the first that ends beyond the nearer end is the first that can be met.
    let next = problem.modules.partition_point(|module| module.end <= low);
    problem.modules.get(next).is_some_and(|module| module.start < high)
}

/// Which ways in the wish leaves. *Ends*: those before the first or beyond the last module; where there is none on either
/// side, the nearest to each end. *Middle*: those in the middle third of the modules; where there is none, the nearest to
/// the middle. Ways in compete only with those that reach the same modules.
pub(super) fn wished(problem: &Problem) -> Vec<bool> {
    let count = problem.ways_in.len();
    let mut kept = vec![true; count];
    if problem.wish == FeedWish::Cheapest {
        return kept;
    }
    let reached: Vec<Option<(usize, usize)>> = problem
        .ways_in
        .iter()
        .map(|way| {
            let within = |index: &usize| passes(problem, way.chainage, problem.modules[*index].start);
            let first = (0..problem.modules.len()).find(within)?;
            Some((first, (0..problem.modules.len()).rev().find(within)?))
        })
        .collect();
    for way in 0..count {
        let Some(zone) = reached[way] else { continue };
        let (low, high) = (problem.modules[zone.0].start.to_um(), problem.modules[zone.1].end.to_um());
        let rivals: Vec<i64> = (0..count)
            .filter(|other| reached[*other] == Some(zone))
            .map(|other| problem.ways_in[other].chainage.to_um())
            .collect();
        let own = problem.ways_in[way].chainage.to_um();
        // Distances are doubled or tripled rather than halved, to stay whole.
        let off_middle = |at: i64| (2 * at - low - high).abs();
        let nearest = |distance: &dyn Fn(i64) -> i64| rivals.iter().all(|other| distance(own) <= distance(*other));
        kept[way] = match problem.wish {
            FeedWish::Ends => {
                let outside = |at: i64| at <= low || at >= high;
                if rivals.iter().any(|at| outside(*at)) {
                    outside(own)
                } else {
                    nearest(&|at| (at - low).abs()) || nearest(&|at| (high - at).abs())
                }
            }
            _ => {
                let central = |at: i64| 3 * off_middle(at) <= high - low;
                if rivals.iter().any(|at| central(*at)) { central(own) } else { nearest(&off_middle) }
            }
        };
    }
    kept
}
