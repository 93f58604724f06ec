//! Set-up values of each device, for the installer to set and record.
//!
//! A sensor has a dusk threshold and a mode: test, off, always on or hold time (common practice, no source).

use catalogue::WhenLost;
use survey::Answer;

use super::choose::StationSupply;
use super::device::Device;
use super::need::{ZoneNeed, height};
use super::ways::Spot;
use crate::build::canonical::{Inputs, by_id};
use crate::document::ControlDevice;

/// What stands where the brief gives no value.
const NOT_STATED: &str = "not in the brief: agree it and write it down";

/// The settings of a device at its position in the line.
pub(crate) fn settings(
    inputs: &Inputs,
    zone: &ZoneNeed<'_>,
    device: &Device<'_>,
    supply: Option<&StationSupply>,
    position: usize,
) -> Vec<(String, String)> {
    let wish = &zone.zone.control;
    let mut out: Vec<(String, String)> = Vec::new();
    let mut set = |name: &str, value: String| out.push((name.to_owned(), value));
    let lux = || wish.dusk_lux.map_or_else(|| NOT_STATED.to_owned(), |lux| format!("{lux} lx"));
    match device.kind {
        ControlDevice::Sensor => {
            set("mode", "hold time (of test, off, always on, hold time)".to_owned());
            set("hold time", wish.hold_seconds.map_or_else(|| NOT_STATED.to_owned(), |seconds| format!("{seconds} s")));
            set("dusk threshold", lux());
            let mounted = match &device.spot {
                Spot::OnRail(rail, _) => {
                    by_id(&inputs.survey.rails, rail, |rail| &rail.id).and_then(|rail| height(zone.zone, rail))
                }
                _ => None,
            };
            set("mounting height", mounted.map_or_else(|| NOT_STATED.to_owned(), |height| height.to_string()));
        }
        ControlDevice::DuskSensor => {
            set("mode", "on below the dusk threshold (of test, off, always on)".to_owned());
            set("dusk threshold", lux());
        }
        ControlDevice::WallStation => {
            if let (Some(volts), Some(supply)) = (device.part.own_supply, supply) {
                let point = by_id(&inputs.survey.mains_points, &supply.point, |point| &point.id);
                let name = point.map_or(supply.point.as_str(), |point| Inputs::name(&point.label, &point.id));
                set("own supply", format!("{volts} from mains point {name}"));
            }
            set("level or scene on each button", NOT_STATED.to_owned());
        }
        ControlDevice::Dimmer => set("level", "full output for the tests, then as agreed".to_owned()),
        ControlDevice::Decoder => {
            set("address", (position + 1).to_string());
            set("colour", "all channels full for the tests, then as agreed".to_owned());
        }
        ControlDevice::Relay => {}
    }
    if matches!(device.kind, ControlDevice::Relay | ControlDevice::Dimmer | ControlDevice::Decoder) {
        let lit = zone.zone.stairs != Answer::No;
        let value = match device.part.when_lost {
            Some(WhenLost::Lit) => "lit (closed at rest)",
            Some(WhenLost::Dark) => "dark (open at rest)",
            Some(WhenLost::Settable) if lit => "set to lit",
            Some(WhenLost::Settable) => "set as agreed",
            None => "not stated by the maker: try it and write it down",
        };
        set("when control is lost", value.to_owned());
    }
    out
}
