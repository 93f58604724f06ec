//! Rails for the layout's tests, told in millimetres.
#![allow(dead_code, reason = "each test file uses a part of this")]

use plan::layout::{Across, EndKind, KeepClear, Laid, SpacingRule, Stretch, StretchLayout, Why, lay_out};
use units::Length;

/// The rule most examples use: 300 mm, margins from 50 to 200 mm, holes of 24 mm.
pub fn rule_of_300() -> SpacingRule {
    SpacingRule {
        target: Length::mm(300),
        least_margin: Length::mm(50),
        greatest_margin: Length::mm(200),
        least_spacing: Length::mm(40),
        grid: SpacingRule::HALF_MM,
    }
}

/// A straight without anything on it.
pub fn straight(start: Length, end: Length) -> Stretch {
    Stretch {
        id: 7,
        start,
        end,
        mark: start,
        start_kind: EndKind::Free,
        end_kind: EndKind::Free,
        keep_clears: vec![],
        fixed: vec![],
    }
}

/// A keep-clear length for a post.
pub fn post(from: Length, to: Length) -> KeepClear {
    KeepClear { from, to, why: Why::Post, tag: 0, across: Across::Counts }
}

/// A straight from 0 to `end` with posts in the middle of keep-clear lengths of twice `half`, in millimetres.
pub fn with_posts(end: i64, posts: &[i64], half: i64) -> Stretch {
    let mut stretch = straight(Length::ZERO, Length::mm(end));
    stretch.keep_clears = posts.iter().map(|at| post(Length::mm(at - half), Length::mm(at + half))).collect();
    stretch
}

/// The same stretch read from the other end.
pub fn mirror(stretch: &Stretch) -> Stretch {
    let sum = stretch.start + stretch.end;
    let mut mirrored = stretch.clone();
    mirrored.mark = sum - stretch.mark;
    (mirrored.start_kind, mirrored.end_kind) = (stretch.end_kind, stretch.start_kind);
    for clear in &mut mirrored.keep_clears {
        (clear.from, clear.to) = (sum - clear.to, sum - clear.from);
    }
    for hole in &mut mirrored.fixed {
        hole.at = sum - hole.at;
    }
    mirrored
}

/// The layout of one stretch.
pub fn laid(stretch: &Stretch, rule: &SpacingRule) -> StretchLayout {
    lay_out(std::slice::from_ref(stretch), rule).expect("the stretch can be laid out").remove(0)
}

/// Running dimensions in millimetres.
pub fn chainages(laid: &Laid) -> Vec<f64> {
    laid.holes.iter().map(|hole| hole.chainage.to_mm()).collect()
}

/// New holes in each bay.
pub fn counts(layout: &StretchLayout) -> Vec<usize> {
    layout.bays.iter().map(|bay| bay.count).collect()
}
