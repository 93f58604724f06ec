//! Finding the bays of a stretch: the free lengths between keep-clear lengths, fixed holes and ends.

use units::Length;

use super::outcome::{LayoutError, Remark};
use super::stretch::{Across, FixedHole, KeepClear, SpacingRule, Stretch};

/// What stands at one side of a bay. Lengths are whole micrometres.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Side {
    pub kind: SideKind,
    /// Least distance from this side to the nearest new hole.
    pub least: i64,
    /// Greatest distance from this side to the nearest new hole, where there is one.
    pub most: Option<i64>,
    /// The distance from this side to the nearest hole that leaves nothing to wish for, at an end or beside a break.
    pub preferred: Option<i64>,
    /// What the bay serves beyond this side, doubled so that half a width is exact; negative where the bay's own
    /// beginning is left to the margin.
    pub twice_beyond: i64,
}

/// The thing at the side of a bay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum SideKind {
    /// The stretch ends.
    End,
    /// A keep-clear length of this width.
    Clear { width: i64, across: Across },
    /// A hole that stays where it is, exactly at the side.
    Fixed,
}

/// A free length of a stretch.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Bay {
    pub length: i64,
    pub left: Side,
    pub right: Side,
    /// Chainages of its ends, the lower first, whichever way the bay is being read.
    pub low: i64,
    pub high: i64,
    /// Least distance between holes inside the bay.
    pub least_spacing: i64,
}

impl Bay {
    /// The same bay read from the other end.
    pub fn turned(self) -> Self {
        Self { left: self.right, right: self.left, ..self }
    }

    /// What equal bays have in common: free length and what stands at both sides.
    pub fn shape(&self) -> (i64, Side, Side, i64) {
        (self.length, self.left, self.right, self.least_spacing)
    }

    /// How many of its two sides are fixed holes.
    pub fn fixed_sides(&self) -> i64 {
        [self.left, self.right].iter().filter(|side| side.kind == SideKind::Fixed).count() as i64
    }
}

/// The bays of a stretch in order of chainage, and its fixed holes in order.
#[derive(Clone, Debug)]
pub(super) struct Divided {
    pub bays: Vec<Bay>,
    pub fixed: Vec<FixedHole>,
    pub remarks: Vec<Remark>,
}

/// What parts two bays.
#[derive(Clone, Copy)]
struct Parting {
    from: i64,
    to: i64,
    kind: SideKind,
}

/// Divides a stretch into bays.
pub(super) fn divide(stretch: &Stretch, rule: &SpacingRule) -> Result<Divided, LayoutError> {
    check(stretch)?;
    let (start, end) = (stretch.start.to_um(), stretch.end.to_um());
    let clears = merged(stretch, start, end);
    let mut remarks = Vec::new();
    let fixed = kept_fixed(stretch, rule, &mut remarks);

    let partings = partings(&clears, &fixed);
    let mut bays = Vec::new();
    let mut left = (start, SideKind::End);
    for (i, parting) in partings.iter().enumerate() {
        // A keep-clear length that touches the stretch's end is part of the end: the margin is still measured from
        // the stretch's end itself.
        if i == 0 && parting.from <= start && matches!(parting.kind, SideKind::Clear { .. }) {
            left = (parting.to, SideKind::End);
            continue;
        }
        let touches_end = i + 1 == partings.len() && parting.to >= end;
        if touches_end && matches!(parting.kind, SideKind::Clear { .. }) {
            bays.push(bay(left, (parting.from, SideKind::End), (start, end), rule));
            return Ok(Divided { bays, fixed, remarks });
        }
        bays.push(bay(left, (parting.from, parting.kind), (start, end), rule));
        left = (parting.to, parting.kind);
    }
    // Nothing is free where keep-clear lengths cover the whole stretch.
    if left.0 < end || (left.0 == end && left.1 == SideKind::Fixed) || partings.is_empty() {
        bays.push(bay(left, (end, SideKind::End), (start, end), rule));
    }
    Ok(Divided { bays, fixed, remarks })
}

fn check(stretch: &Stretch) -> Result<(), LayoutError> {
    let readable = |length: Length| length.abs() <= Length::GREATEST;
    if stretch.start > stretch.end || !readable(stretch.start) || !readable(stretch.end) || !readable(stretch.mark) {
        return Err(LayoutError::StretchEnds { stretch: stretch.id, start: stretch.start, end: stretch.end });
    }
    for keep_clear in &stretch.keep_clears {
        if keep_clear.from > keep_clear.to || !readable(keep_clear.from) || !readable(keep_clear.to) {
            return Err(LayoutError::KeepClearEnds { stretch: stretch.id, keep_clear: *keep_clear });
        }
    }
    Ok(())
}

/// Keep-clear lengths cut to the stretch, in order, overlapping and touching ones made one. The row is broken across
/// a merged length if it is across any part of it.
fn merged(stretch: &Stretch, start: i64, end: i64) -> Vec<Parting> {
    let mut lengths: Vec<(i64, i64, Across)> = stretch
        .keep_clears
        .iter()
        .map(|clear| (clear.from.to_um().max(start), clear.to.to_um().min(end), clear.across))
        // A length of no width keeps nothing clear; it matters only where it breaks the row.
        .filter(|(from, to, across)| from < to || (from == to && *across == Across::Breaks))
        .collect();
    lengths.sort_unstable();
    let mut merged: Vec<(i64, i64, Across)> = Vec::with_capacity(lengths.len());
    for (from, to, across) in lengths {
        match merged.last_mut() {
            Some(last) if from <= last.1 => {
                last.1 = last.1.max(to);
                last.2 = last.2.max(across);
            }
            _ => merged.push((from, to, across)),
        }
    }
    merged
        .into_iter()
        .map(|(from, to, across)| Parting { from, to, kind: SideKind::Clear { width: to - from, across } })
        .collect()
}

/// The fixed holes that take part, in order; conflicts become remarks.
fn kept_fixed(stretch: &Stretch, rule: &SpacingRule, remarks: &mut Vec<Remark>) -> Vec<FixedHole> {
    let mut sorted = stretch.fixed.clone();
    sorted.sort_by_key(|hole| (hole.at, hole.reason, hole.tag));
    let mut kept: Vec<FixedHole> = Vec::with_capacity(sorted.len());
    for hole in sorted {
        if hole.at < stretch.start || hole.at > stretch.end {
            remarks.push(Remark::FixedOffStretch(hole));
            continue;
        }
        if let Some(last) = kept.last() {
            if last.at == hole.at {
                remarks.push(Remark::FixedTwice(hole));
                continue;
            }
            if hole.at - last.at < rule.least_spacing {
                remarks.push(Remark::TooClose { first: last.at, second: hole.at });
            }
        }
        let inside = |clear: &&KeepClear| clear.from < hole.at && hole.at < clear.to;
        if let Some(clear) = stretch.keep_clears.iter().find(inside) {
            remarks.push(Remark::FixedInKeepClear { hole, keep_clear: *clear });
        }
        kept.push(hole);
    }
    kept
}

/// Keep-clear lengths and fixed holes in one order; a hole inside a keep-clear length cuts it in two.
fn partings(clears: &[Parting], fixed: &[FixedHole]) -> Vec<Parting> {
    let mut partings = Vec::with_capacity(clears.len() + 2 * fixed.len());
    let mut holes = fixed.iter().map(|hole| hole.at.to_um()).peekable();
    let hole_parting = |at| Parting { from: at, to: at, kind: SideKind::Fixed };
    for clear in clears {
        while let Some(at) = holes.next_if(|at| *at <= clear.from) {
            partings.push(hole_parting(at));
        }
        let SideKind::Clear { across, .. } = clear.kind else { continue };
        let mut from = clear.from;
        while let Some(at) = holes.next_if(|at| *at < clear.to) {
            partings.push(Parting { from, to: at, kind: SideKind::Clear { width: at - from, across } });
            partings.push(hole_parting(at));
            from = at;
        }
        partings.push(Parting { from, to: clear.to, kind: SideKind::Clear { width: clear.to - from, across } });
    }
    partings.extend(holes.map(hole_parting));
    partings
}

fn bay(left: (i64, SideKind), right: (i64, SideKind), ends: (i64, i64), rule: &SpacingRule) -> Bay {
    let (start, end) = ends;
    let (low, high) = (left.0, right.0);
    // New holes keep the least margin from the stretch's end, whichever bay they are in.
    let least_margin = rule.least_margin.to_um();
    let short_left = (start + least_margin - low).max(0);
    let short_right = (high - (end - least_margin)).max(0);
    let grid = rule.grid.to_um();
    // Rounding to the grid may bring two holes nearer by one step and must never make them one.
    let mut least_spacing = (rule.least_spacing.to_um() + grid).max(2 * grid);
    for (kind, short) in [(left.1, short_left), (right.1, short_right)] {
        if kind == SideKind::Fixed {
            least_spacing = least_spacing.max(short);
        }
    }
    Bay {
        length: high - low,
        left: side(left.1, short_left, low - start, rule),
        right: side(right.1, short_right, end - high, rule),
        low,
        high,
        least_spacing,
    }
}

/// `short` is what the bay's side lacks of the least end margin, `kept` the distance from the stretch's end to it.
fn side(kind: SideKind, short: i64, kept: i64, rule: &SpacingRule) -> Side {
    let target = rule.target.to_um();
    match kind {
        SideKind::Fixed => Side { kind, least: 0, most: None, preferred: None, twice_beyond: 0 },
        SideKind::Clear { across: Across::Breaks, .. } => {
            Side { kind, least: short, most: None, preferred: Some((target / 2).max(short)), twice_beyond: 0 }
        }
        SideKind::Clear { width, across: Across::Counts } => {
            Side { kind, least: short, most: None, preferred: None, twice_beyond: width.min(target) }
        }
        SideKind::End => {
            // Where a keep-clear length reaches further in than the greatest margin, the first hole stands as near as
            // it may.
            let most = (rule.greatest_margin.to_um() - kept).max(short);
            let preferred = (rule.preferred_margin().to_um() - kept).clamp(short, most);
            Side {
                kind,
                least: short,
                most: Some(most),
                preferred: Some(preferred),
                twice_beyond: target - 2 * preferred,
            }
        }
    }
}
