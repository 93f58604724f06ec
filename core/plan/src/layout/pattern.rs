//! Turning the counted bays into unknown margins: one set a class for the even pattern, one a bay for even spacing.

use std::collections::BTreeMap;

use super::bays::{Bay, Side, SideKind};
use super::problem::{Margin, Problem};
use super::stretch::Across;

/// A bay with its count.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Counted {
    pub bay: Bay,
    pub new: i64,
}

/// Bays that share their pattern, read one way.
#[derive(Clone, Copy, Debug)]
pub(super) struct Class {
    pub bay: Bay,
    pub new: i64,
    /// From the bay's left side to its first hole, and from its last hole to the right side. A fixed hole on a side is
    /// that first or last hole.
    pub margins: (Margin, Margin),
    /// Whether the pattern is mirrored about the bay's middle.
    pub mirrored_in_itself: bool,
}

impl Class {
    /// Holes with the fixed ones on its sides.
    pub fn holes(&self) -> i64 {
        self.new + self.bay.fixed_sides()
    }
}

/// Which class a bay belongs to, and whether the class is turned round in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Member {
    pub class: usize,
    pub turned: bool,
}

/// Classes, members and the system of their margins.
#[derive(Clone, Debug, Default)]
pub(super) struct Formed {
    pub classes: Vec<Class>,
    /// For each stretch, for each bay in reading order.
    pub members: Vec<Vec<Member>>,
    pub problem: Problem,
}

/// The even pattern: bays of equal shape, in all the stretches given, are one class, turned round where that makes them
/// equal; bays between two keep-clear lengths, and straights without any, are mirrored about their middle.
pub(super) fn even_pattern(stretches: &[&[Counted]], target: i64) -> Formed {
    let mut formed = Formed::default();
    let mut known = BTreeMap::new();
    for bays in stretches {
        let members: Vec<Member> = bays
            .iter()
            .map(|counted| {
                let turned = counted.bay.turned().shape() < counted.bay.shape();
                let read = if turned { counted.bay.turned() } else { counted.bay };
                let class = *known.entry(read.shape()).or_insert_with(|| {
                    let symmetric = matches!(
                        (read.left.kind, read.right.kind),
                        (SideKind::End, SideKind::End) | (SideKind::Clear { .. }, SideKind::Clear { .. })
                    );
                    formed.form(read, counted.new, symmetric)
                });
                Member { class, turned }
            })
            .collect();
        formed.measure(bays, &members, target);
        formed.members.push(members);
    }
    formed
}

/// Even spacing: every bay of the stretch has margins of its own. On a stretch that is its own mirror image the
/// layout is mirrored about the middle as well; by convexity that costs nothing.
pub(super) fn even_spacing(bays: &[Counted], target: i64) -> Formed {
    let mut formed = Formed::default();
    let count = bays.len();
    let mirrored = (0..count).all(|i| bays[i].bay.shape() == bays[count - 1 - i].bay.turned().shape());
    let mut members: Vec<Member> = Vec::with_capacity(count);
    for (i, counted) in bays.iter().enumerate() {
        let twin = count - 1 - i;
        let member = if mirrored && twin < i {
            Member { class: members[twin].class, turned: true }
        } else {
            Member { class: formed.form(counted.bay, counted.new, mirrored && twin == i), turned: false }
        };
        members.push(member);
    }
    formed.measure(bays, &members, target);
    formed.members.push(members);
    formed
}

impl Formed {
    /// Makes a class with its unknown margins.
    fn form(&mut self, bay: Bay, new: i64, symmetric: bool) -> usize {
        let total = 2 * bay.length;
        let fixed = |side: Side| side.kind == SideKind::Fixed;
        let inner = 2 * (new + bay.fixed_sides() - 1).max(0) * bay.least_spacing;
        let range = |this: Side, other: Side| {
            let room = total - 2 * other.least - inner;
            (2 * this.least, this.most.map_or(room, |most| room.min(2 * most)))
        };
        // Between two fixed holes nothing is free, and uniform gaps are their own mirror image.
        let mut mirrored_in_itself = fixed(bay.left) && fixed(bay.right);
        let margins = if new == 0 {
            match (fixed(bay.left), fixed(bay.right)) {
                (true, true) | (false, false) => (Margin::constant(0), Margin::constant(0)),
                (true, false) => (Margin::constant(0), Margin::constant(total)),
                (false, true) => (Margin::constant(total), Margin::constant(0)),
            }
        } else if fixed(bay.left) || fixed(bay.right) {
            let mut margin = |this: Side, other: Side| {
                if fixed(this) {
                    return Margin::constant(0);
                }
                let (least, most) = range(this, other);
                self.problem.margin(least, most)
            };
            (margin(bay.left, bay.right), margin(bay.right, bay.left))
        } else if let Some((least, most)) = common_range(&bay, new, inner).filter(|_| symmetric) {
            mirrored_in_itself = true;
            let margin = if new == 1 { Margin::constant(bay.length) } else { self.problem.margin(least, most) };
            (margin, margin)
        } else if new == 1 {
            let (least, most) = range(bay.left, bay.right);
            let least = bay.right.most.map_or(least, |other| least.max((total - 2 * other).min(most)));
            let margin = self.problem.margin(least, most);
            (margin, margin.rest_of(total))
        } else {
            let (left, right) = (range(bay.left, bay.right), range(bay.right, bay.left));
            let margins = (self.problem.margin(left.0, left.1), self.problem.margin(right.0, right.1));
            self.problem.add_room(margins.0, margins.1, total - inner);
            margins
        };
        self.classes.push(Class { bay, new, margins, mirrored_in_itself });
        self.classes.len() - 1
    }

    /// Walks along a stretch and notes every gap.
    fn measure(&mut self, bays: &[Counted], members: &[Member], target: i64) {
        // The way from the last hole so far to the side at which the walk stands; none before the first hole and
        // where the row is broken.
        let mut open: Option<Margin> = None;
        for (counted, member) in bays.iter().zip(members) {
            let bay = &counted.bay;
            let class = self.classes[member.class];
            let (start, finish) = if member.turned { (class.margins.1, class.margins.0) } else { class.margins };
            match bay.left.kind {
                SideKind::Clear { width, across: Across::Counts } => open = open.map(|way| way.plus(2 * width)),
                SideKind::Clear { across: Across::Breaks, .. } => open = None,
                SideKind::End | SideKind::Fixed => {}
            }
            let holes = class.holes();
            if holes == 0 {
                open = open.map(|way| way.plus(2 * bay.length));
                continue;
            }
            if bay.left.kind != SideKind::Fixed
                && let Some(way) = open
            {
                self.problem.add_gaps(way, start, 2 * target, 1);
            }
            if holes > 1 {
                let gaps = holes - 1;
                self.problem.add_gaps(start, finish, 2 * (bay.length - gaps * target), gaps);
            }
            for (side, margin) in [(bay.left, start), (bay.right, finish)] {
                if let Some(preferred) = side.preferred {
                    self.problem.add_liking(margin, 2 * preferred);
                }
            }
            open = Some(finish);
        }
    }
}

/// The range that both margins of a mirrored bay share, doubled; nothing where their ranges do not meet. A single hole
/// stands in the middle only where that is near enough to both ends, or where both sides have the same claim.
fn common_range(bay: &Bay, new: i64, inner: i64) -> Option<(i64, i64)> {
    let least = 2 * bay.left.least.max(bay.right.least);
    let room = bay.length - inner / 2;
    let most = [bay.left.most, bay.right.most].into_iter().flatten().fold(room, |most, other| most.min(2 * other));
    let middle_is_near = new != 1 || most == bay.length || bay.left == bay.right;
    (least <= most && middle_is_near).then_some((least, most))
}
