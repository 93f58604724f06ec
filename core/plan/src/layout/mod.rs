//! The layout of point luminaires: hole centres on straight stretches of rail at a wanted spacing.
//!
//! 1. A stretch is divided into bays, the free lengths between keep-clear lengths (`bays`).
//! 2. Each bay gets its count (`count`).
//! 3. The **even pattern**, which is the plan: equal bays have equal patterns mirrored about their middle, bays at the
//!    two ends of a stretch mirror each other where they are equal, and stretches laid out together share patterns.
//!    Within that the worst departure of any gap from the target is least, gaps across a post included; among those
//!    layouts the sum of squared departures is least; among those the end margins are nearest to what is preferred,
//!    and a stretch that is its own mirror image has a layout that is (`pattern`, `problem`, `squares`).
//! 4. **Even spacing**, the alternative where the even pattern does not reach the target everywhere: the same counts, the
//!    same two aims, but every bay free to differ.
//! 5. Positions are rounded to the grid without breaking equality, mirror or any bound (`place`), and the figures told
//!    from the rounded positions (`figures`).
//!
//! A stretch is always worked out in the same one of its two reading directions, so a mirrored stretch has exactly the
//! mirrored layout wherever its positions lie on the same grid.

mod bays;
mod count;
mod figures;
mod girth;
mod outcome;
mod pattern;
mod place;
mod problem;
mod skyline;
mod squares;
mod stretch;

use std::collections::BTreeMap;

use units::Length;

pub use girth::girth_offset;
pub use outcome::{
    BayCount, Figures, GapFigures, Hole, HoleOrigin, Laid, LayoutError, Remark, StretchLayout, WhichEnd,
};
pub use stretch::{Across, EndKind, FixedHole, FixedReason, KeepClear, SpacingRule, Stretch, Why};

use bays::Divided;
use pattern::{Counted, Formed, Member};

/// The most luminaires that one call lays out; far more than a site has, and few enough to answer at once.
pub const MOST_LUMINAIRES: usize = 100_000;

/// A stretch divided and counted, read in its working direction.
struct Prepared<'a> {
    stretch: &'a Stretch,
    divided: Divided,
    counted: Vec<Counted>,
    turned: bool,
}

/// Lays out stretches that are to match: bays of equal shape in any of them get the same pattern. Stretches that need
/// not match each other are laid out by a call each.
///
/// # Errors
/// A rule or a stretch that cannot be laid out at all, named with its value and what is accepted. What the rail does not
/// allow is a remark in the result instead.
///
/// # Example
/// ```
/// use plan::layout::{EndKind, SpacingRule, Stretch, lay_out};
/// use units::Length;
/// let rule = SpacingRule {
///     target: Length::mm(300),
///     least_margin: Length::mm(50),
///     greatest_margin: Length::mm(200),
///     least_spacing: Length::mm(40),
///     grid: SpacingRule::HALF_MM,
/// };
/// let straight = Stretch {
///     id: 0,
///     start: Length::ZERO,
///     end: Length::mm(1500),
///     mark: Length::ZERO,
///     start_kind: EndKind::Free,
///     end_kind: EndKind::Free,
///     keep_clears: vec![],
///     fixed: vec![],
/// };
/// let layout = &lay_out(&[straight], &rule).unwrap()[0];
/// let chainages: Vec<Length> = layout.pattern.holes.iter().map(|hole| hole.chainage).collect();
/// assert_eq!(chainages, [150, 450, 750, 1050, 1350].map(Length::mm));
/// assert!(layout.alternative.is_none());
/// ```
pub fn lay_out(stretches: &[Stretch], rule: &SpacingRule) -> Result<Vec<StretchLayout>, LayoutError> {
    check(rule)?;
    let mut left = MOST_LUMINAIRES;
    let mut prepared = Vec::with_capacity(stretches.len());
    let mut remarks = Vec::with_capacity(stretches.len());
    for stretch in stretches {
        let (ready, remark) = prepare(stretch, rule, &mut left)?;
        prepared.push(ready);
        remarks.push(remark);
    }
    let mut layouts: Vec<(usize, StretchLayout)> = Vec::with_capacity(prepared.len());
    let mut classes = 0;
    for sharing in sharing(&prepared) {
        let ready: Vec<&Prepared<'_>> = sharing.iter().map(|i| &prepared[*i]).collect();
        let bays: Vec<&[Counted]> = ready.iter().map(|ready| ready.counted.as_slice()).collect();
        let formed = pattern::even_pattern(&bays, rule.target.to_um());
        for (i, pattern) in solved(&formed, &ready, rule).into_iter().enumerate() {
            let remarks = std::mem::take(&mut remarks[sharing[i]]);
            let bays = bay_counts(ready[i], &formed.members[i], classes);
            layouts.push((sharing[i], finished(ready[i], bays, pattern, remarks, rule)));
        }
        classes += formed.classes.len();
    }
    layouts.sort_by_key(|(i, _)| *i);
    Ok(layouts.into_iter().map(|(_, layout)| layout).collect())
}

/// The stretches that share a shape of bay, directly or through others: only they have to be solved together. Solving
/// the rest apart gives each its own least departure.
fn sharing(prepared: &[Prepared<'_>]) -> Vec<Vec<usize>> {
    let mut first_with = BTreeMap::new();
    let mut leader: Vec<usize> = (0..prepared.len()).collect();
    for (i, ready) in prepared.iter().enumerate() {
        for counted in ready.counted.iter().filter(|counted| counted.new > 0) {
            let shape = counted.bay.shape().min(counted.bay.turned().shape());
            let other = leader[*first_with.entry(shape).or_insert(i)];
            let (keep, drop) = (leader[i].min(other), leader[i].max(other));
            for one in &mut leader[..=i] {
                if *one == drop {
                    *one = keep;
                }
            }
        }
    }
    let mut sets: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (i, leader) in leader.into_iter().enumerate() {
        sets.entry(leader).or_default().push(i);
    }
    sets.into_values().collect()
}

/// Adds the alternative and the remarks to a pattern.
fn finished(
    ready: &Prepared<'_>,
    bays: Vec<BayCount>,
    pattern: Laid,
    mut remarks: Vec<Remark>,
    rule: &SpacingRule,
) -> StretchLayout {
    margin_remarks(ready.stretch, &pattern, rule, &mut remarks);
    spacing_remarks(&pattern, rule, &mut remarks);
    let reached = pattern.figures.gaps.is_none_or(|gaps| gaps.worst_departure == Length::ZERO);
    let alternative = (!reached).then(|| {
        let formed = pattern::even_spacing(&ready.counted, rule.target.to_um());
        solved(&formed, &[ready], rule).remove(0)
    });
    StretchLayout { stretch: ready.stretch.id, bays, pattern, alternative, remarks }
}

fn check(rule: &SpacingRule) -> Result<(), LayoutError> {
    let accepted = "from 0 to 100 km";
    for (field, value, least, accepted) in [
        ("target spacing", rule.target, Length::um(1), "above 0, up to 100 km"),
        ("least end margin", rule.least_margin, Length::ZERO, accepted),
        ("greatest end margin", rule.greatest_margin, Length::ZERO, accepted),
        ("least spacing", rule.least_spacing, Length::ZERO, accepted),
        ("grid", rule.grid, Length::um(1), "above 0, up to 100 km"),
    ] {
        if value < least || value > Length::GREATEST {
            return Err(LayoutError::Rule { field, value, accepted });
        }
    }
    if rule.greatest_margin < rule.least_margin {
        return Err(LayoutError::MarginRange { least: rule.least_margin, greatest: rule.greatest_margin });
    }
    Ok(())
}

fn prepare<'a>(
    stretch: &'a Stretch,
    rule: &SpacingRule,
    left: &mut usize,
) -> Result<(Prepared<'a>, Vec<Remark>), LayoutError> {
    let divided = bays::divide(stretch, rule)?;
    let mut remarks = divided.remarks.clone();
    let mut counted = Vec::with_capacity(divided.bays.len());
    for bay in &divided.bays {
        let count = count::count(bay, rule.target.to_um());
        if count.possible < count.wanted {
            remarks.push(Remark::NoRoom {
                from: Length::um(bay.low),
                to: Length::um(bay.high),
                wanted: usize::try_from(count.wanted).unwrap_or(usize::MAX),
                possible: usize::try_from(count.possible).unwrap_or(0),
            });
        }
        *left = usize::try_from(count.possible)
            .ok()
            .and_then(|new| left.checked_sub(new))
            .ok_or(LayoutError::TooMany { stretch: stretch.id, limit: MOST_LUMINAIRES })?;
        counted.push(Counted { bay: *bay, new: count.possible });
    }
    let shapes = counted.iter().map(|counted| counted.bay.shape());
    let turned = counted.iter().rev().map(|counted| counted.bay.turned().shape()).lt(shapes);
    if turned {
        counted.reverse();
        for counted in &mut counted {
            counted.bay = counted.bay.turned();
        }
    }
    Ok((Prepared { stretch, divided, counted, turned }, remarks))
}

/// Solves a system and places the holes of its stretches.
fn solved(formed: &Formed, prepared: &[&Prepared<'_>], rule: &SpacingRule) -> Vec<Laid> {
    let (worst, start) = formed.problem.least_worst();
    let solution = squares::least_squares(&formed.problem, worst, &start);
    let bays: Vec<&[Counted]> = prepared.iter().map(|ready| ready.counted.as_slice()).collect();
    let offsets = place::offsets(formed, &solution, &bays, rule.grid.to_um());
    prepared
        .iter()
        .zip(&formed.members)
        .map(|(ready, members)| {
            let new = place::chainages(&ready.counted, members, &offsets, ready.turned);
            let holes = holes(ready, &new);
            let figures = figures::figures(ready.stretch, &holes, rule.target);
            Laid { holes, figures, least_worst: Length::um(worst) }
        })
        .collect()
}

/// New and fixed holes in one order, with their running dimensions.
fn holes(ready: &Prepared<'_>, new: &[i64]) -> Vec<Hole> {
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

fn bay_counts(ready: &Prepared<'_>, members: &[Member], classes_before: usize) -> Vec<BayCount> {
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

fn margin_remarks(stretch: &Stretch, pattern: &Laid, rule: &SpacingRule, remarks: &mut Vec<Remark>) {
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
fn spacing_remarks(pattern: &Laid, rule: &SpacingRule, remarks: &mut Vec<Remark>) {
    for pair in pattern.holes.windows(2) {
        let planned = pair.iter().any(|hole| hole.origin == HoleOrigin::Planned);
        if planned && pair[1].chainage - pair[0].chainage < rule.least_spacing {
            remarks.push(Remark::TooClose { first: pair[0].chainage, second: pair[1].chainage });
        }
    }
}
