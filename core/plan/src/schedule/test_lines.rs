//! The tests that chains of points and chains of modules have in common.

use catalogue::Driver;
use units::Volts;

use super::tests_due::{LEAST_INSULATION, METER_SHARE};
use crate::document::{Circuit, TestLine};

/// Insulation of a chain, tested in a stated way.
pub(super) fn insulation(circuit: &Circuit, kind: &'static str) -> TestLine {
    floor(circuit, kind, LEAST_INSULATION, "MΩ")
}

/// Polarity: with the meter's plus lead on the plus core a crossed pair reads below zero, and a sound one above the
/// limit.
pub(super) fn polarity(circuit: &Circuit) -> TestLine {
    floor(circuit, "polarity at the far end, plus on plus, at full output", circuit.limit().get(), "V")
}

/// Volts at the output of a driver.
pub(super) fn source_volts(circuit: &Circuit, driver: &Driver) -> TestLine {
    let share = f64::from(driver.tolerance_permille) / 1000.0 + METER_SHARE;
    TestLine {
        subject: circuit.output.clone(),
        kind: "source volts",
        expected: driver.output.get(),
        tolerance: driver.output.get() * share,
        unit: "V",
        is_floor: false,
    }
}

/// Volts at a far end, between those of the two cases.
pub(super) fn far_end_volts(subject: String, low: Volts, high: Volts) -> TestLine {
    let middle = (low + high) / 2.0;
    TestLine {
        subject,
        kind: "far-end volts at full output",
        expected: middle.get(),
        tolerance: (high - low).get().abs() / 2.0 + middle.get() * METER_SHARE,
        unit: "V",
        is_floor: false,
    }
}

fn floor(circuit: &Circuit, kind: &'static str, least: f64, unit: &'static str) -> TestLine {
    TestLine { subject: circuit.id.clone(), kind, expected: least, tolerance: 0.0, unit, is_floor: true }
}
