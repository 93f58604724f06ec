//! What the layout of points gives back: holes, figures, remarks and errors.

use std::fmt;

use units::Length;

use super::stretch::{EndKind, FixedHole, FixedReason, KeepClear};

/// The layout of one stretch.
#[derive(Clone, Debug, PartialEq)]
pub struct StretchLayout {
    /// The stretch's id.
    pub stretch: usize,
    /// The free lengths of the stretch in order, with what the count rule made of each.
    pub bays: Vec<BayCount>,
    /// The even pattern: equal bays alike, mirrored about their middle. This is the plan.
    pub pattern: Laid,
    /// The even spacing, offered where the even pattern does not reach the target everywhere.
    pub alternative: Option<Laid>,
    /// What did not work out as asked.
    pub remarks: Vec<Remark>,
}

/// One free length and its count. A fixed hole divides a bay, and each part is counted on its own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BayCount {
    /// Chainage where the free length starts.
    pub from: Length,
    /// Chainage where it ends.
    pub to: Length,
    /// New holes in it.
    pub count: usize,
    /// The length of rail that the bay serves, doubled so that it is exact.
    pub twice_share: Length,
    /// Bays with the same number, in any of the stretches laid out together, have the same even pattern (turned round
    /// where `mirrored` differs).
    pub class: usize,
    /// Whether the pattern of the class is turned round here.
    pub mirrored: bool,
}

/// One complete answer for a stretch.
#[derive(Clone, Debug, PartialEq)]
pub struct Laid {
    /// All holes, in order of chainage.
    pub holes: Vec<Hole>,
    /// What was reached.
    pub figures: Figures,
    /// The least worst departure that any layout of this kind has before positions are rounded to the grid, rounded
    /// up to a micrometre. Stretches of one group that share bays share it.
    pub least_worst: Length,
}

/// One hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Hole {
    /// Running dimension of the centre from the rail's datum.
    pub chainage: Length,
    /// Running dimension from the straight's own mark; negative before it.
    pub from_mark: Length,
    /// Distance to the hole before it on the same stretch; `None` for the first.
    pub spacing: Option<Length>,
    /// Where it comes from.
    pub origin: HoleOrigin,
}

/// Where a hole comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleOrigin {
    /// The layout put it there.
    Planned,
    /// It was there before.
    Fixed {
        /// The caller's name for it.
        tag: usize,
        /// Why it is fixed.
        reason: FixedReason,
    },
}

/// What a layout reached, from its final positions. Gaps across a keep-clear length that breaks the row are left out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Holes, fixed ones included.
    pub count: usize,
    /// The gaps; `None` where there is no gap to judge.
    pub gaps: Option<GapFigures>,
}

/// The gaps of a layout.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GapFigures {
    /// How many.
    pub count: usize,
    /// The least gap.
    pub least: Length,
    /// The mean gap in millimetres.
    pub mean_mm: f64,
    /// The greatest gap.
    pub greatest: Length,
    /// The greatest difference from the target, without sign.
    pub worst_departure: Length,
    /// Chainages of the two holes of the first gap that departs so far.
    pub worst_between: (Length, Length),
    /// The sum of the squared departures in square micrometres.
    pub sum_of_squares_um2: u128,
}

/// What did not work out as asked. The layout is drawn all the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Remark {
    /// A fixed hole is not on the stretch. It is left out of the layout.
    FixedOffStretch(FixedHole),
    /// A fixed hole stands inside a keep-clear length. It is kept.
    FixedInKeepClear {
        /// The hole.
        hole: FixedHole,
        /// The first keep-clear length that it stands in.
        keep_clear: KeepClear,
    },
    /// Two fixed holes have the same place. The first is kept, this one is left out.
    FixedTwice(FixedHole),
    /// Two holes are nearer to each other than the least spacing: one of them is fixed, or they stand on both sides of a
    /// keep-clear length between bays so short that the holes cannot stand further apart.
    TooClose {
        /// Chainage of the first.
        first: Length,
        /// Chainage of the second.
        second: Length,
    },
    /// A bay that the count rule would give holes has none, or fewer, since the least end margin or the least spacing
    /// leaves no room for them.
    NoRoom {
        /// Chainage where the bay starts.
        from: Length,
        /// Chainage where it ends.
        to: Length,
        /// What the count rule asks for.
        wanted: usize,
        /// What there is room for.
        possible: usize,
    },
    /// The distance from an end to the nearest hole is outside the range.
    MarginOutOfRange {
        /// Which end.
        end: WhichEnd,
        /// What the rail does there.
        kind: EndKind,
        /// The distance that the even pattern has.
        margin: Length,
    },
}

/// One end of a stretch.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WhichEnd {
    /// The end with the lower chainage.
    Start,
    /// The end with the higher chainage.
    Finish,
}

/// An input that cannot be laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LayoutError {
    /// The target spacing is not above zero, or a rule's length is negative or beyond what is read.
    Rule {
        /// Which value.
        field: &'static str,
        /// What it is.
        value: Length,
        /// What is accepted.
        accepted: &'static str,
    },
    /// The greatest end margin is below the least.
    MarginRange {
        /// The least margin.
        least: Length,
        /// The greatest margin.
        greatest: Length,
    },
    /// A stretch ends before it starts, or lies beyond what is read.
    StretchEnds {
        /// The stretch.
        stretch: usize,
        /// Its start.
        start: Length,
        /// Its end.
        end: Length,
    },
    /// A keep-clear length ends before it starts, or lies beyond what is read.
    KeepClearEnds {
        /// The stretch.
        stretch: usize,
        /// The keep-clear length.
        keep_clear: KeepClear,
    },
    /// The target asks for more luminaires than a plan may have.
    TooMany {
        /// The stretch at which the count was passed.
        stretch: usize,
        /// The limit.
        limit: usize,
    },
}

impl fmt::Display for LayoutError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Rule { field, value, accepted } => write!(f, "{field} is {value}; accepted: {accepted}"),
            Self::MarginRange { least, greatest } => {
                write!(f, "the greatest end margin {greatest} is below the least {least}; accepted: least to greatest")
            }
            Self::StretchEnds { stretch, start, end } => {
                write!(f, "stretch {stretch} runs from {start} to {end}; accepted: start not after end, within 100 km")
            }
            Self::KeepClearEnds { stretch, keep_clear } => write!(
                f,
                "a keep-clear length on stretch {stretch} runs from {} to {}; accepted: from not after to, within 100 km",
                keep_clear.from, keep_clear.to
            ),
            Self::TooMany { stretch, limit } => write!(
                f,
                "stretch {stretch} would bring the layout to more than {limit} luminaires; choose a greater target spacing"
            ),
        }
    }
}

impl std::error::Error for LayoutError {}
