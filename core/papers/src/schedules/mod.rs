//! The plan's schedules as tables; the text report and the PDF draw the same ones.

mod cables;
mod circuits;
#[cfg(feature = "pdf")]
mod drilling;
#[cfg(feature = "pdf")]
mod findings;
mod locks;
mod parts;
mod passes;
mod rails;

pub use cables::{cables, reels};
pub use circuits::{circuits, drivers};
#[cfg(feature = "pdf")]
pub use drilling::drilling;
#[cfg(feature = "pdf")]
pub use findings::findings;
pub use locks::locks;
pub use parts::{control_lines, controls, parts, tests};
pub use passes::passes;
#[cfg(feature = "pdf")]
pub use rails::features;
pub use rails::{least_volts, lit_words, modules, patterns, summary};

use units::{Amps, Length, Volts};

use crate::figures::{self, NONE};

fn volts(value: Option<Volts>) -> String {
    value.map_or_else(|| NONE.to_owned(), |volts| figures::decimals(volts.get(), 2))
}

fn amps(value: Option<Amps>) -> String {
    value.map_or_else(|| NONE.to_owned(), |amps| figures::decimals(amps.get(), 2))
}

fn length(value: Option<Length>) -> String {
    value.map_or_else(|| NONE.to_owned(), figures::mm)
}
