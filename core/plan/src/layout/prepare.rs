//! Bringing stretches into the form that is solved: divided, counted, read in their working direction, grouped.

use std::collections::BTreeMap;

use units::Length;

use super::bays::{self, Divided};
use super::count;
use super::outcome::{LayoutError, Remark};
use super::pattern::Counted;
use super::stretch::{SpacingRule, Stretch};

/// A stretch divided and counted, read in its working direction.
pub(super) struct Prepared<'a> {
    pub stretch: &'a Stretch,
    pub divided: Divided,
    pub counted: Vec<Counted>,
    pub turned: bool,
}

/// Divides and counts a stretch; `left` is how many luminaires the whole layout may still have.
pub(super) fn prepare<'a>(
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
            .ok_or(LayoutError::TooMany { stretch: stretch.id, limit: super::MOST_LUMINAIRES })?;
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

/// The stretches that share a shape of bay, directly or through others: only they have to be solved together. Solving
/// the rest apart gives each its own least departure.
pub(super) fn sharing(prepared: &[Prepared<'_>]) -> Vec<Vec<usize>> {
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
