//! Where photos were taken against the site and its rails.

mod away;
mod clock;
mod frame;
mod line;
mod near;

pub use away::{Away, FAR_M, far_away};
pub use clock::{Drift, DriftKind, Shot, corrected, drifts};
pub use frame::{Earth, Frame, Way, way};
pub use line::{Vertex, drawn_line};
pub use near::{ASSUMED_ACCURACY_M, Near, Proposal, Rails, propose};
