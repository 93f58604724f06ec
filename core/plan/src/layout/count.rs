//! The count rule: how many new holes a bay gets.
//!
//! The mean spacing of a bay is the *share* of rail that it serves, divided by its holes. The share runs
//!
//! - at a keep-clear length across which people see: to its middle, but no further than half the target beyond the
//!   bay, which is as far as a hole at the very side of the bay can serve;
//! - at the stretch's end: to half the target beyond the preferred margin (half the target, kept inside the range), so
//!   that an end where half the target fits is served exactly to the end;
//! - at a keep-clear length that breaks the row: to the bay's side;
//! - at a fixed hole: to the hole, which counts as half a hole on each side.
//!
//! So the gap across a post takes part in the mean. With posts every 1,100 mm, 34 mm to be kept clear on each side of
//! their middle and a target of 300 mm, the share is 1,100 mm and the count 4, at 275 mm across every post. The free
//! length alone, 1,032 mm, would give 3, which people see on the rail as 367 mm.
//!
//! Two counts may be equally near the target: the greater is taken. A bay has none only where its free length is
//! shorter than half the target and what it serves on the rail itself is too: where bays are short because posts are
//! close, each bay still takes its hole. A count must also be possible, with every hole in the free length, the end
//! margins in their range and the least spacing kept.

use super::bays::{Bay, Side, SideKind};

/// What the count rule asks for, and what there is room for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Count {
    pub wanted: i64,
    pub possible: i64,
}

/// The share of rail that a bay serves, doubled.
pub(super) fn twice_share(bay: &Bay) -> i64 {
    2 * bay.length + bay.left.twice_beyond + bay.right.twice_beyond
}

/// Counts a bay.
pub(super) fn count(bay: &Bay, target: i64) -> Count {
    let wanted = nearest(bay, target);
    let mut possible = wanted.min(room(bay));
    // One hole alone cannot always be near enough to both ends of a straight; two can.
    if possible == 1 && !one_is_possible(bay) && room(bay) >= 2 {
        possible = 2;
    }
    Count { wanted: wanted.max(possible), possible }
}

/// The count whose mean spacing is nearest the target, the greater of two.
fn nearest(bay: &Bay, target: i64) -> i64 {
    let twice_share = twice_share(bay);
    let fixed = bay.fixed_sides();
    let too_short = 2 * bay.length < target && twice_on_rail(bay) < target;
    if fixed == 0 && too_short {
        return 0;
    }
    // In halves of a hole: the most whose mean is not below the target, and one hole more.
    let most_halves = twice_share.div_euclid(target);
    let fewer = (most_halves - fixed).div_euclid(2).max(0);
    let more = fewer + 1;
    let (few, many) = (2 * fewer + fixed, 2 * more + fixed);
    // No hole has no mean spacing, so one is nearer whatever it reaches.
    if few == 0 {
        return more;
    }
    // |share/many - target| <= |share/few - target|, without dividing. With fixed holes the mean may be below the
    // target already with none, and then more only makes it worse; the same comparison says so.
    let (few, many) = (i128::from(few), i128::from(many));
    let prefers_more = 2 * i128::from(target) * few * many <= i128::from(twice_share) * (few + many);
    if prefers_more { more } else { fewer }
}

/// The share without what lies beyond the stretch's ends, doubled.
fn twice_on_rail(bay: &Bay) -> i64 {
    let beyond = |side: Side| if side.kind == SideKind::End { side.twice_beyond.min(0) } else { side.twice_beyond };
    2 * bay.length + beyond(bay.left) + beyond(bay.right)
}

/// The most holes for which there is room.
fn room(bay: &Bay) -> i64 {
    let free = bay.length - bay.left.least - bay.right.least;
    if free < 0 {
        return 0;
    }
    (free / bay.least_spacing + 1 - bay.fixed_sides()).max(0)
}

/// Whether a single hole keeps both end margins in their range.
fn one_is_possible(bay: &Bay) -> bool {
    let both_ends = bay.left.kind == SideKind::End && bay.right.kind == SideKind::End;
    !both_ends || bay.left.most.zip(bay.right.most).is_none_or(|(left, right)| left + right >= bay.length)
}
