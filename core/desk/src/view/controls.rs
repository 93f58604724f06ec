//! Zones with their control devices and what is set up on them.

use plan::{ControlPlan, ZonePlan};
use survey::{Answer, Control};

use super::Scheme;
use super::wire::{DeviceRow, SettingLine, ZoneLine};

pub(super) fn zones(scheme: Scheme<'_>) -> Vec<ZoneLine> {
    let line = |zone: &ZonePlan| ZoneLine {
        id: zone.id.to_string(),
        label: if zone.label.is_empty() { zone.id.to_string() } else { zone.label.clone() },
        control: format!("{}; {}", control(zone.control), stairs(zone.stairs)),
        devices: scheme.plan.controls.iter().filter(|device| device.zone == zone.id).map(row).collect(),
    };
    scheme.plan.zones.iter().map(line).collect()
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
