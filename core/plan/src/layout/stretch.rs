//! What the layout of points is given: straight stretches of rail with their keep-clear lengths and fixed holes.

use units::Length;

/// One straight piece of rail in which holes may be drilled.
///
/// All positions are centreline chainages from the rail's datum. A straight that runs on through a joint is one
/// stretch with a keep-clear length at the joint; a stretch ends where the eye stops following the rail: a free end, a
/// bend, a movement joint that the caller wants treated as an end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// The caller's name for the stretch, given back in the results and in errors.
    pub id: usize,
    /// Chainage of the stretch's start.
    pub start: Length,
    /// Chainage of the stretch's end; not before `start`.
    pub end: Length,
    /// Chainage of the straight's own marked start, from which the fitter may measure as well.
    pub mark: Length,
    /// What the stretch starts with.
    pub start_kind: EndKind,
    /// What the stretch ends with.
    pub end_kind: EndKind,
    /// Lengths that no new hole centre may enter. They may overlap, touch and stick out over the ends.
    pub keep_clears: Vec<KeepClear>,
    /// Holes that are drilled already or locked where a person put them. They stay exactly where they are.
    pub fixed: Vec<FixedHole>,
}

/// What a stretch ends with. The margins are the same for all; the kind is given back in remarks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum EndKind {
    /// The rail ends: open, capped or returning to a wall.
    Free,
    /// The rail turns.
    Bend,
    /// The rail is parted to let it move.
    MovementJoint,
    /// The rail goes on in line, in a piece that is laid out separately.
    Continues,
}

/// A length of rail that no new hole centre may enter, both ends included in the free length beside it.
///
/// The caller has widened it already by the surveyed clear length, half the width of the thing itself and the radius
/// of the hole, so that a centre may stand exactly at `from` and exactly at `to`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KeepClear {
    /// Chainage where it starts.
    pub from: Length,
    /// Chainage where it ends; not before `from`.
    pub to: Length,
    /// What is to be kept clear.
    pub why: Why,
    /// The caller's name for the feature, given back in remarks.
    pub tag: usize,
    /// Whether people see the lights on both sides as one row.
    pub across: Across,
}

/// What a keep-clear length is there for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// A post or a bracket.
    Post,
    /// A welded, sleeved, bolted or flush joint.
    Joint,
    /// A movement joint with its range.
    MovementJoint,
    /// The straight end of a bend.
    Bend,
    /// A hole that was there before and is not used.
    Hole,
    /// An infill clamp, a way in for a cable, damage or a low point.
    Other,
}

/// Whether the gap between the holes on both sides of a keep-clear length belongs to the pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Across {
    /// People see on across it, so the gap is judged like any other: a post, a joint.
    Counts,
    /// The row is broken there, and the gap is not judged.
    Breaks,
}

/// A hole that stays where it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FixedHole {
    /// Chainage of its centre.
    pub at: Length,
    /// The caller's name for the hole, given back in the results.
    pub tag: usize,
    /// Why it is fixed.
    pub reason: FixedReason,
}

/// Why a hole is fixed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FixedReason {
    /// It is drilled already.
    Drilled,
    /// A person locked it there.
    Locked,
}

/// How the holes are to be spaced.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SpacingRule {
    /// Wanted distance from hole centre to hole centre; above zero.
    pub target: Length,
    /// Least distance from a stretch's end to the first hole centre; new holes never come nearer.
    pub least_margin: Length,
    /// Greatest distance from a stretch's end to the first hole centre, kept where the keep-clear lengths allow it.
    pub greatest_margin: Length,
    /// Least distance between two hole centres: the hole's diameter and the metal that must stay between.
    pub least_spacing: Length,
    /// The grid that a fitter can mark, to which positions are rounded where that keeps equal bays equal;
    /// [`SpacingRule::HALF_MM`] unless there is a reason, at least one micrometre.
    pub grid: Length,
}

impl SpacingRule {
    /// Half a millimetre, the finest that a fitter marks with a rule.
    pub const HALF_MM: Length = Length::um(500);

    /// The end margin that makes a row look unbroken to its end: half the target, inside the range.
    #[must_use]
    pub fn preferred_margin(&self) -> Length {
        self.target.half().clamp(self.least_margin, self.greatest_margin.max(self.least_margin))
    }
}
