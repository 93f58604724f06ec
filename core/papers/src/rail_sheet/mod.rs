//! The drawings of one rail: strips to scale, and what their signs mean.

mod feeds;
mod labels;
mod legend;
mod scale;
mod strip;
mod volts_line;

use plan::document::RailPlan;

use crate::drawing::Drawing;
use crate::{PaperInput, figures};
use strip::Strip;

pub use legend::legend;
pub use volts_line::volts_line;

/// Width of every drawing on the sheet, millimetres.
pub const WIDTH_MM: f64 = scale::STRIP_MM + 2.0 * strip::SIDE_MM;

/// A rail as strips, and the sentence that states their scale.
pub struct RailSheet {
    /// The strips in order of chainage.
    pub strips: Vec<Drawing>,
    /// The scale along and across.
    pub scale: String,
}

/// Draws one rail.
#[must_use]
pub fn rail_sheet(input: &PaperInput, rail: &RailPlan) -> RailSheet {
    let cut = scale::cut(rail.length);
    let surveyed = input.survey.rail(&rail.id);
    let strips = cut
        .strips
        .iter()
        .map(|(start, end)| {
            let strip = Strip { input, rail, surveyed, reduction: cut.reduction, start: *start, end: *end };
            strip.drawn(WIDTH_MM)
        })
        .collect();
    let across = surveyed.map_or_else(String::new, |rail| {
        let times = rail.tube.outside_diameter.value.to_mm() / strip::TUBE_MM;
        format!(", across it about 1:{}; symbols are not to scale", figures::at_most(times, 0))
    });
    RailSheet { strips, scale: format!("Scale along the rail 1:{}{across}.", cut.reduction) }
}
