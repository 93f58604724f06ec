//! The layout of point luminaires (linear modules have theirs in [`modules`]): hole centres on straight stretches of rail at a wanted spacing.
//!
//! 1. A stretch is divided into bays, the free lengths between keep-clear lengths (`bays`).
//! 2. Each bay gets its count, the number whose mean spacing is nearest the target (`count`). The mean is the length of
//!    rail that the bay serves, divided by its holes: from the middle of the post at one side to the middle of the post at
//!    the other, since people look along the rail and see the gap across a post like any other; at an end, from half the
//!    target beyond the preferred margin. Posts every 1,100 mm at a target of 300 mm so get 4 holes a bay, at 275 mm across
//!    every post. Ties go to the greater count.
//! 3. The **even pattern**, which is the plan: equal bays have equal patterns mirrored about their middle, bays at the
//!    two ends of a stretch mirror each other where they are equal, and stretches laid out together share patterns.
//!    Within that the worst departure of any gap from the target is least, gaps across a post included; among those
//!    layouts the sum of squared departures is least; among those the end margins are nearest to what is preferred,
//!    and a stretch that is its own mirror image has a layout that is (`pattern`, `problem`, `squares`).
//! 4. **Even spacing**, the alternative where the even pattern does not reach the target everywhere: the same counts (so
//!    that both answers need the same parts), the same two aims, but every bay free to differ.
//! 5. Positions are rounded to the grid without breaking equality, mirror or any bound (`place`), and the figures told
//!    from the rounded positions (`figures`).
//!
//! Fixed holes divide a bay: the pattern fills in on both sides, and each part is counted on its own.
//!
//! A stretch is always worked out in the same one of its two reading directions, so a mirrored stretch has exactly the
//! mirrored layout wherever its positions lie on the same grid.

mod bays;
mod count;
mod figures;
mod girth;
pub mod modules;
mod outcome;
mod pattern;
mod place;
mod prepare;
mod problem;
mod skyline;
mod squares;
mod stretch;
mod tell;

use units::Length;

pub use girth::girth_offset;
pub use outcome::{
    BayCount, Figures, GapFigures, Hole, HoleOrigin, Laid, LayoutError, Remark, StretchLayout, WhichEnd,
};
pub use stretch::{Across, EndKind, FixedHole, FixedReason, KeepClear, SpacingRule, Stretch, Why};

use pattern::{Counted, Formed};
use prepare::Prepared;

/// The most luminaires that one call lays out; far more than a site has, and few enough to answer at once.
pub const MOST_LUMINAIRES: usize = 100_000;

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
        let (ready, remark) = prepare::prepare(stretch, rule, &mut left)?;
        prepared.push(ready);
        remarks.push(remark);
    }
    let mut layouts: Vec<(usize, StretchLayout)> = Vec::with_capacity(prepared.len());
    let mut classes = 0;
    for sharing in prepare::sharing(&prepared) {
        let ready: Vec<&Prepared<'_>> = sharing.iter().map(|i| &prepared[*i]).collect();
        let bays: Vec<&[Counted]> = ready.iter().map(|ready| ready.counted.as_slice()).collect();
        let formed = pattern::even_pattern(&bays, rule.target.to_um());
        for (i, pattern) in solved(&formed, &ready, rule).into_iter().enumerate() {
            let remarks = std::mem::take(&mut remarks[sharing[i]]);
            let bays = tell::bay_counts(ready[i], &formed.members[i], classes);
            layouts.push((sharing[i], finished(ready[i], bays, pattern, remarks, rule)));
        }
        classes += formed.classes.len();
    }
    layouts.sort_by_key(|(i, _)| *i);
    Ok(layouts.into_iter().map(|(_, layout)| layout).collect())
}

/// Adds the alternative and the remarks to a pattern.
fn finished(
    ready: &Prepared<'_>,
    bays: Vec<BayCount>,
    pattern: Laid,
    mut remarks: Vec<Remark>,
    rule: &SpacingRule,
) -> StretchLayout {
    tell::margin_remarks(ready.stretch, &pattern, rule, &mut remarks);
    tell::spacing_remarks(&pattern, rule, &mut remarks);
    // Where the least worst departure is none, the grid alone keeps gaps from the target.
    let reached = pattern.least_worst == Length::ZERO
        || pattern.figures.gaps.is_none_or(|gaps| gaps.worst_departure == Length::ZERO);
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
            let holes = tell::holes(ready, &new);
            let figures = figures::figures(ready.stretch, &holes, rule.target);
            Laid { holes, figures, least_worst: Length::um(worst) }
        })
        .collect()
}
