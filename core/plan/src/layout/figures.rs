//! What a layout reached, told from its final positions.

use units::Length;

use super::outcome::{Figures, GapFigures, Hole};
use super::stretch::{Across, Stretch};

/// The figures of the holes of a stretch, in order of chainage.
pub(super) fn figures(stretch: &Stretch, holes: &[Hole], target: Length) -> Figures {
    let breaks = breaks(stretch);
    let mut next_break = breaks.iter().peekable();
    let mut found: Option<GapFigures> = None;
    let mut sum = Length::ZERO;
    for pair in holes.windows(2) {
        let (from, to) = (pair[0].chainage, pair[1].chainage);
        // A break ends before this gap, inside it, or later; only one that both holes stand outside of parts them.
        while next_break.next_if(|(_, end)| *end <= from).is_some() {}
        if next_break.peek().is_some_and(|(start, _)| *start < to) {
            continue;
        }
        let gap = to - from;
        let departure = (gap - target).abs();
        let square = u128::from(departure.to_um().unsigned_abs()).pow(2);
        sum += gap;
        let figures = found.get_or_insert(GapFigures {
            count: 0,
            least: gap,
            mean_mm: 0.0,
            greatest: gap,
            worst_departure: departure,
            worst_between: (from, to),
            sum_of_squares_um2: 0,
        });
        figures.count += 1;
        figures.least = figures.least.min(gap);
        figures.greatest = figures.greatest.max(gap);
        figures.sum_of_squares_um2 += square;
        if departure > figures.worst_departure {
            figures.worst_departure = departure;
            figures.worst_between = (from, to);
        }
    }
    if let Some(figures) = &mut found {
        figures.mean_mm = sum.to_mm() / figures.count as f64;
    }
    Figures { count: holes.len(), gaps: found }
}

/// Where the row is broken, in order: keep-clear lengths that break it, with all that overlap or touch them.
fn breaks(stretch: &Stretch) -> Vec<(Length, Length)> {
    let mut clears: Vec<_> = stretch.keep_clears.iter().map(|clear| (clear.from, clear.to, clear.across)).collect();
    clears.sort_unstable();
    let mut merged: Vec<(Length, Length, Across)> = Vec::new();
    for (from, to, across) in clears {
        match merged.last_mut() {
            Some(last) if from <= last.1 => {
                last.1 = last.1.max(to);
                last.2 = last.2.max(across);
            }
            _ => merged.push((from, to, across)),
        }
    }
    merged.into_iter().filter(|(_, _, across)| *across == Across::Breaks).map(|(from, to, _)| (from, to)).collect()
}
