//! Draws finished results as text, CSV and PDF; computes nothing that the plan has not already settled.
//!
//! - [`report`] is the aligned text report,
//! - [`csv_files`] is one CSV file per schedule,
//! - [`pdf`](fn@pdf) is one PDF, with the feature `pdf` (on by default; its engine is heavy to compile).

mod cautions;
mod csv_files;
mod figures;
mod input;
mod schedules;
mod table;
mod text;
mod wording;

#[cfg(feature = "pdf")]
mod drawing;
#[cfg(feature = "pdf")]
mod pdf;
#[cfg(feature = "pdf")]
mod rail_sheet;

pub use csv_files::csv_files;
pub use input::PaperInput;
#[cfg(feature = "pdf")]
pub use pdf::{PdfError, pdf};
pub use text::report;
