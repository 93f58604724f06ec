//! Quantities with their unit in the type, and readers for what people type.
//!
//! [`Length`] is a whole number of micrometres, so that sums are exact, order is total and the same input gives the
//! same figures on every machine. Electrical quantities are finite `f64`; a checked constructor keeps NaN and
//! infinities out. [`Money`] is a whole number of ten-thousandths of the currency unit.

mod grouped;
mod length;
mod money;
mod quantity;

pub use grouped::grouped;
pub use length::{Length, ParseLengthError};
pub use money::{Money, ParseMoneyError};
pub use quantity::{Amps, Celsius, Degrees, Ohms, SquareMm, Volts, Watts};
