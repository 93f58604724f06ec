//! Which luminaires running cores can get to from a way in, and which ways in a wish leaves.

use std::ops::RangeInclusive;

use survey::FeedWish;
use units::Length;

use super::problem::Problem;

/// What running cores from a way in can serve.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Reach {
    /// First luminaire within reach.
    pub(super) first: usize,
    /// One past the last.
    pub(super) end: usize,
    /// Choices of the first luminaire that hangs to the right: one, or two where a luminaire lies at the way in itself
    /// and may hang on either arm.
    pub(super) middles: RangeInclusive<usize>,
}

/// The reach of every way in, `None` where it reaches nothing or the wish rules it out.
pub(super) fn reaches(problem: &Problem) -> Vec<Option<Reach>> {
    let mut reaches: Vec<Option<Reach>> = problem.ways_in.iter().map(|way| reach(problem, way.chainage)).collect();
    let kept = wished(problem, &reaches);
    for (reach, kept) in reaches.iter_mut().zip(kept) {
        if !kept {
            *reach = None;
        }
    }
    reaches
}

fn reach(problem: &Problem, at: Length) -> Option<Reach> {
    let mut low = -Length::GREATEST;
    let mut high = Length::GREATEST;
    for blocked in &problem.blocked {
        // A section passes where no blocked stretch meets its inside.
        if blocked.from < at {
            low = low.max(blocked.to.min(at));
        }
        if blocked.to > at {
            high = high.min(blocked.from.max(at));
        }
    }
    let before = |limit: Length| problem.luminaires.partition_point(|luminaire| luminaire.chainage < limit);
    let up_to = |limit: Length| problem.luminaires.partition_point(|luminaire| luminaire.chainage <= limit);
    let (first, end) = (before(low), up_to(high));
    (first < end).then(|| Reach { first, end, middles: before(at).max(first)..=up_to(at).min(end) })
}

/// Which ways in a wish leaves. Ways in compete where they reach the same luminaires.
///
/// *Ends*: those before the first or beyond the last luminaire that they reach; where there is none on either side, the
/// nearest to each end. *Middle*: those in the middle third between the first and the last luminaire that they reach;
/// where there is none, the nearest to the middle (both of two equally near).
fn wished(problem: &Problem, reaches: &[Option<Reach>]) -> Vec<bool> {
    let at = |index: usize| problem.luminaires[index].chainage.to_um();
    let mut kept = vec![true; reaches.len()];
    if problem.wish == FeedWish::Cheapest {
        return kept;
    }
    let mut zones: Vec<(usize, usize)> = reaches.iter().flatten().map(|reach| (reach.first, reach.end)).collect();
    zones.sort_unstable();
    zones.dedup();
    for zone in zones {
        let (low, high) = (at(zone.0), at(zone.1 - 1));
        let members: Vec<(usize, i64)> = (0..reaches.len())
            .filter(|index| reaches[*index].as_ref().is_some_and(|reach| (reach.first, reach.end) == zone))
            .map(|index| (index, problem.ways_in[index].chainage.to_um()))
            .collect();
        // Distances are doubled or tripled rather than halved, to stay whole.
        let off_middle = |way: i64| (2 * way - low - high).abs();
        let good: Vec<usize> = match problem.wish {
            FeedWish::Ends => members.iter().filter(|(_, way)| *way <= low || *way >= high).map(|own| own.0).collect(),
            _ => members.iter().filter(|(_, way)| 3 * off_middle(*way) <= high - low).map(|own| own.0).collect(),
        };
        let nearest = |distance: &dyn Fn(i64) -> i64| {
            let least = members.iter().map(|own| distance(own.1)).min();
            members.iter().filter(|own| Some(distance(own.1)) == least).map(|own| own.0).collect::<Vec<_>>()
        };
        let good = match (good.is_empty(), problem.wish) {
            (false, _) => good,
            (true, FeedWish::Ends) => [nearest(&|way| way - low), nearest(&|way| high - way)].concat(),
            (true, _) => nearest(&off_middle),
        };
        for (index, _) in members {
            kept[index] = good.contains(&index);
        }
    }
    kept
}
