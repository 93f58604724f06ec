//! Telling what was laid out: holes with their running dimensions, counts of bays, remarks.

use units::Length;

use super::count;
use super::outcome::{BayCount, Hole, HoleOrigin, Laid, Remark, WhichEnd};
use super::pattern::Member;
use super::prepare::Prepared;
use super::stretch::{SpacingRule, Stretch};

/// New and fixed holes in one order, with their running dimensions.
pub(super) fn holes(ready: &Prepared<'_>, new: &[i64]) -> Vec<Hole> {
    let planned = new.iter().map(|at| (Length::um(*at), HoleOrigin::Planned));
    let fixed =
        ready.divided.fixed.iter().map(|hole| (hole.at, HoleOrigin::Fixed { tag: hole.tag, reason: hole.reason }));
    let mut all: Vec<(Length, HoleOrigin)> = planned.chain(fixed).collect();
    all.sort_by_key(|(at, _)| *at);
    let mut before = None;
    all.into_iter()
        .map(|(chainage, origin)| {
            let spacing = before.map(|before| chainage - before);
            before = Some(chainage);
            Hole { chainage, from_mark: chainage - ready.stretch.mark, spacing, origin }
        })
        .collect()
}

/// What the count rule made of each bay, in order of chainage.
pub(super) fn bay_counts(ready: &Prepared<'_>, members: &[Member], classes_before: usize) -> Vec<BayCount> {
    let mut counts: Vec<BayCount> = ready
        .counted
        .iter()
        .zip(members)
        .map(|(counted, member)| BayCount {
            from: Length::um(counted.bay.low),
            to: Length::um(counted.bay.high),
            count: usize::try_from(counted.new).unwrap_or(0),
            twice_share: Length::um(count::twice_share(&counted.bay)),
            class: classes_before + member.class,
            mirrored: member.turned != ready.turned,
        })
        .collect();
    if ready.turned {
        counts.reverse();
    }
    counts
}

/// Remarks on ends whose nearest hole is outside the margins.
pub(super) fn margin_remarks(stretch: &Stretch, pattern: &Laid, rule: &SpacingRule, remarks: &mut Vec<Remark>) {
    let (Some(first), Some(last)) = (pattern.holes.first(), pattern.holes.last()) else { return };
    let range = rule.least_margin..=rule.greatest_margin;
    for (end, kind, margin) in [
        (WhichEnd::Start, stretch.start_kind, first.chainage - stretch.start),
        (WhichEnd::Finish, stretch.end_kind, stretch.end - last.chainage),
    ] {
        if !range.contains(&margin) {
            remarks.push(Remark::MarginOutOfRange { end, kind, margin });
        }
    }
}

/// Fixed holes that are too near each other are remarked on already; this finds those too near a new hole.
pub(super) fn spacing_remarks(pattern: &Laid, rule: &SpacingRule, remarks: &mut Vec<Remark>) {
    for pair in pattern.holes.windows(2) {
        let planned = pair.iter().any(|hole| hole.origin == HoleOrigin::Planned);
        if planned && pair[1].chainage - pair[0].chainage < rule.least_spacing {
            remarks.push(Remark::TooClose { first: pair[0].chainage, second: pair[1].chainage });
        }
    }
}
