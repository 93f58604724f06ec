//! How warm a conductor in a rail can get.

use survey::Exposure;
use units::Celsius;

/// How much hotter than the air a dark tube in the sun gets, kelvin (common practice, no source).
pub(crate) const SUN_KELVIN: f64 = 20.0;

/// The temperature at which conductors in the tube are taken: the greatest air temperature, and 20 K more where the
/// sun shines on the rail (common practice, no source). A lead whose insulation stands less is not used there.
///
/// A conductor's own heating is left out: currents stay well below what each one carries.
pub(crate) fn in_tube(exposure: &Exposure) -> Celsius {
    let air = exposure.greatest_temperature.get().clamp(-90.0, 150.0);
    Celsius::new(if exposure.in_sun { air + SUN_KELVIN } else { air })
}
