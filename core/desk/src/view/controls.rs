//! Zones with their control devices and what is set up on them.

use plan::{ControlDevice, ControlPlan, ZonePlan};
use survey::{Answer, Control, Rail};

use super::Scheme;
use super::wire::{ControlMark, DeviceRow, SettingLine, Stretch, ZoneLine};

pub(super) fn zones(scheme: Scheme<'_>) -> Vec<ZoneLine> {
    let line = |zone: &ZonePlan| ZoneLine {
        id: zone.id.to_string(),
        label: if zone.label.is_empty() { zone.id.to_string() } else { zone.label.clone() },
        control: format!("{}; {}", control(zone.control), stairs(zone.stairs)),
        devices: scheme.plan.controls.iter().filter(|device| device.zone == zone.id).map(row).collect(),
    };
    scheme.plan.zones.iter().map(line).collect()
}

/// The control devices that stand on a rail, by chainage.
pub(super) fn marks(scheme: Scheme<'_>, rail: &Rail) -> Vec<ControlMark> {
    let mut marks: Vec<ControlMark> = scheme
        .plan
        .controls
        .iter()
        .filter_map(|device| device.at_rail.as_ref().filter(|(id, _)| id == &rail.id).map(|(_, at)| (device, *at)))
        .map(|(device, at)| ControlMark {
            device: device.device.clone(),
            what: word(device.kind).to_owned(),
            chainage_mm: at.to_mm(),
            reach: device.sees.map(|sees| Stretch { from_mm: sees.from.to_mm(), to_mm: sees.to.to_mm() }),
        })
        .collect();
    marks.sort_by(|a, b| a.chainage_mm.total_cmp(&b.chainage_mm));
    marks
}

/// What a control device is called.
pub(super) const fn word(kind: ControlDevice) -> &'static str {
    match kind {
        ControlDevice::Sensor => "presence sensor",
        ControlDevice::DuskSensor => "dusk sensor",
        ControlDevice::Relay => "relay",
        ControlDevice::Dimmer => "dimmer",
        ControlDevice::Decoder => "decoder",
        ControlDevice::WallStation => "wall station",
    }
}

fn row(device: &ControlPlan) -> DeviceRow {
    let setting = |(name, value): &(String, String)| SettingLine { name: name.clone(), value: value.clone() };
    DeviceRow {
        device: device.device.clone(),
        part: device.part.clone(),
        place: device.place.clone(),
        cable: device.cable_ref.clone(),
        settings: device.settings.iter().map(setting).collect(),
    }
}

fn control(kind: Control) -> &'static str {
    match kind {
        Control::AlwaysOn => "always on",
        Control::Dusk => "on from dusk to dawn",
        Control::PresenceAfterDusk => "on at presence after dusk",
        Control::WallStation => "from a wall station",
        Control::Dimmed => "dimmed",
    }
}

fn stairs(stairs: Answer) -> &'static str {
    match stairs {
        Answer::Yes => "lights stairs",
        Answer::No => "lights no stairs",
        Answer::Unknown => "not said whether it lights stairs",
    }
}
