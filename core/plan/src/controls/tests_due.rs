//! What is tested of a zone's control, and what to expect.

use std::collections::BTreeSet;

use units::{Celsius, Length};

use super::choose::LinePlan;
use super::device::Device;
use super::need::{LineNeed, ZoneNeed};
use crate::build::stock;
use crate::document::{ControlDevice, TestLine};
use crate::schedule::tests_due::{COPPER_SHARE, METER_OHMS};

/// How far a hold time may be off, share (common practice, no source).
const HOLD_SHARE: f64 = 0.1;

/// Continuity of each control cable, function of each sensor and of the line, and the light with a cable taken off.
pub(crate) fn tests(
    zone: &ZoneNeed<'_>,
    line: &LineNeed<'_>,
    plan: &LinePlan<'_>,
    named: &[(String, &Device<'_>)],
    cables: &[String],
) -> Vec<TestLine> {
    let mut lines = Vec::new();
    let mut test = |subject: &str, kind, expected: f64, tolerance: f64, unit| {
        lines.push(TestLine { subject: subject.to_owned(), kind, expected, tolerance, unit, is_floor: false });
    };
    for (cable, laid) in cables.iter().zip(&plan.cables) {
        let per_m = laid.lead.and_then(|lead| stock::ohms_per_m(lead, Celsius::new(20.0)));
        if let Some(per_m) = per_m {
            let ohms = 2.0 * per_m * laid.cut.max(Length::ZERO).to_m();
            let tolerance = ohms * COPPER_SHARE + METER_OHMS;
            test(cable, "continuity of two conductors in series, joined at the far end", ohms, tolerance, "Ω");
        }
    }
    let circuits = || line.drivers.iter().flat_map(|need| &need.circuits);
    let lamps: BTreeSet<(&str, &str)> = circuits()
        .flat_map(|circuit| circuit.loads.iter().map(|load| (circuit.rail.as_str(), load.luminaire.as_str())))
        .collect();
    let lamps = lamps.len() as f64;
    let lit = "luminaires";
    for (name, device) in named {
        match device.kind {
            ControlDevice::Sensor => {
                test(name, "in mode test, somebody walks at each end of its length: luminaires lit", lamps, 0.0, lit);
                if let Some(hold) = zone.zone.control.hold_seconds {
                    let hold = f64::from(hold);
                    test(name, "light stays on after nobody is seen", hold, hold * HOLD_SHARE, "s");
                }
            }
            ControlDevice::DuskSensor => test(name, "covered from light: luminaires lit", lamps, 0.0, lit),
            ControlDevice::WallStation => test(name, "every button pressed, at full: luminaires lit", lamps, 0.0, lit),
            ControlDevice::Relay | ControlDevice::Dimmer | ControlDevice::Decoder => {}
        }
    }
    if zone.zone.stairs != survey::Answer::No {
        for cable in cables {
            test(cable, "taken off at one end after dusk: luminaires lit", lamps, 0.0, lit);
        }
    }
    lines
}
