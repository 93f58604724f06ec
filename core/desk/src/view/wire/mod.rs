//! The shapes that cross to the window: one site, page by page, with every figure already named and with its unit.

mod figure;
mod rail;
mod site;
mod why;

pub use figure::{Figure, Mark};
pub use rail::{
    CableRow, ChainLine, FeatureRow, FeatureShape, FeedMark, LuminaireRow, PieceShape, PieceSpan, RailPage, VoltLimit,
    VoltPoint,
};
pub use site::{FindingLine, MainsLine, Refusal, SitePage, Start, Tally};
pub use why::{Asked, Explanation, Note, Step, StepRole};
