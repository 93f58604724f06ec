//! From margins to hole centres on the grid that a fitter can mark.
//!
//! Offsets are rounded once for a class, so that equal bays stay equal to the micrometre; of a mirrored pattern one
//! half is rounded and the other is its mirror image. The grid is used where the bay's length and both its sides lie
//! on it in every bay of the class; elsewhere positions are exact to a micrometre. The hole in the middle of a bay
//! with an odd count stands exactly in the middle.

use super::pattern::{Class, Counted, Formed, Member};
use super::problem::Margin;

/// The offsets of the new holes of each class from the left side of its bay, in micrometres.
pub(super) fn offsets(formed: &Formed, solution: &[i64], stretches: &[&[Counted]], grid: i64) -> Vec<Vec<i64>> {
    let mut on_grid = vec![true; formed.classes.len()];
    for (bays, members) in stretches.iter().zip(&formed.members) {
        for (counted, member) in bays.iter().zip(members) {
            on_grid[member.class] &= counted.bay.low % grid == 0 && counted.bay.high % grid == 0;
        }
    }
    let value = |margin: Margin| margin.constant + margin.unknown.map_or(0, |i| margin.sign * solution[i]);
    formed
        .classes
        .iter()
        .zip(on_grid)
        .map(|(class, on_grid)| {
            let margins = (value(class.margins.0), value(class.margins.1));
            class_offsets(class, margins, if on_grid { grid } else { 1 })
        })
        .collect()
}

/// `margins` in doubled micrometres.
fn class_offsets(class: &Class, margins: (i64, i64), grid: i64) -> Vec<i64> {
    let bay = &class.bay;
    let new = class.new;
    let gaps = (class.holes() - 1).max(1);
    let skip = i64::from(bay.left.kind == super::bays::SideKind::Fixed);
    let inner = 2 * bay.length - margins.0 - margins.1;
    let least = bay.left.least;
    let most = (bay.length - bay.right.least).max(least);
    // A single hole, or the first one, also keeps within the greatest end margin.
    let first_most = bay.left.most.map_or(most, |greatest| most.min(greatest));
    let last_least = bay.right.most.map_or(least, |greatest| least.max(bay.length - greatest));
    let mut offsets = vec![0; new as usize];
    for i in 0..new {
        if class.mirrored_in_itself && 2 * i >= new {
            offsets[i as usize] = bay.length - offsets[(new - 1 - i) as usize];
            continue;
        }
        if class.mirrored_in_itself && 2 * i + 1 == new {
            offsets[i as usize] = bay.length.div_euclid(2);
            continue;
        }
        let top = i128::from(margins.0) * i128::from(gaps) + i128::from(i + skip) * i128::from(inner);
        let bottom = 2 * i128::from(gaps);
        let low = if i + 1 == new { last_least.min(most) } else { least };
        let high = if i == 0 { first_most.max(low) } else { most };
        offsets[i as usize] = rounded(top, bottom, grid, low, high);
    }
    offsets
}

/// `top / bottom` rounded to a multiple of `grid` between two bounds; to the nearest bound or micrometre where no
/// multiple lies between them.
fn rounded(top: i128, bottom: i128, grid: i64, low: i64, high: i64) -> i64 {
    let nearest = |step: i64| {
        let step = i128::from(step);
        let steps = (2 * top + bottom * step).div_euclid(2 * bottom * step);
        (steps * step) as i64
    };
    let on_grid = nearest(grid);
    let moved = if on_grid < low {
        on_grid + grid
    } else if on_grid > high {
        on_grid - grid
    } else {
        on_grid
    };
    if (low..=high).contains(&moved) { moved } else { nearest(1).clamp(low, high) }
}

/// The chainages of the new holes of a stretch, in order. `turned` says that the stretch is read from its far end.
pub(super) fn chainages(bays: &[Counted], members: &[Member], offsets: &[Vec<i64>], turned: bool) -> Vec<i64> {
    let mut chainages = Vec::new();
    for (counted, member) in bays.iter().zip(members) {
        let bay = &counted.bay;
        for offset in &offsets[member.class] {
            chainages.push(if member.turned == turned { bay.low + offset } else { bay.high - offset });
        }
    }
    chainages.sort_unstable();
    chainages
}
