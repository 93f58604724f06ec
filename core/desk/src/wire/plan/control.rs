//! Zones, their control lines and control devices.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;
use units::{Amps, Length};

use super::Objective;

/// A zone with its control.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
#[schemars(rename = "PlannedZone")]
#[ts(rename = "PlannedZone")]
pub struct Zone {
    /// Its id.
    pub id: String,
    /// What people call it.
    pub label: String,
    /// Its control lines: devices that control cable joins one after the other.
    pub lines: Vec<Line>,
    /// Cost of its control devices and cables with the labour for them.
    pub objective: Objective,
}

/// Devices that control cable joins one after the other.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
#[schemars(rename = "ControlLine")]
#[ts(rename = "ControlLine")]
pub struct Line {
    /// References of the devices in the order of the line.
    pub devices: Vec<String>,
    /// References of the cables between them, one fewer.
    pub cables: Vec<String>,
    /// Control cable in it.
    pub length_mm: f64,
    /// Least of the greatest lengths that its parts state.
    pub limit_mm: Option<f64>,
}

impl From<&plan::ZonePlan> for Zone {
    fn from(from: &plan::ZonePlan) -> Self {
        let line = |line: &plan::ControlLine| Line {
            devices: line.devices.clone(),
            cables: line.cables.clone(),
            length_mm: line.length.to_mm(),
            limit_mm: line.limit.map(Length::to_mm),
        };
        Self {
            id: from.id.to_string(),
            label: from.label.clone(),
            lines: from.lines.iter().map(line).collect(),
            objective: from.objective.into(),
        }
    }
}

/// A control device.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
#[schemars(rename = "PlannedControl")]
#[ts(rename = "PlannedControl")]
pub struct Control {
    /// The zone.
    pub zone: String,
    /// Reference of the device.
    pub device: String,
    /// Part of the catalogue.
    pub part: String,
    /// What it is.
    pub kind: Device,
    /// Where it is fixed, in words.
    pub place: String,
    /// The rail that it stands at, for a sensor on a rail.
    pub rail: Option<String>,
    /// Its chainage there.
    pub chainage_mm: Option<f64>,
    /// Its cable: towards the next device of its line, for the last one towards the one before.
    pub cable_ref: Option<String>,
    /// What it switches or dims: circuits between driver and chain, or drivers in their mains lead.
    pub serves: Vec<String>,
    /// Greatest current of its contact or busiest channel.
    pub load_amps: Option<f64>,
    /// Sum of the inrush peaks on its contact, where it switches drivers.
    pub inrush_amps: Option<f64>,
    /// Stretches of tube that its cable lies in.
    pub in_tube: Vec<TubeSpan>,
    /// What a presence sensor on a rail sees along it.
    pub sees: Option<SensorReach>,
    /// Settings to record.
    pub settings: Vec<Setting>,
}

/// Kinds of control devices.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[schemars(rename = "ControlDevice")]
#[ts(rename = "ControlDevice")]
pub enum Device {
    /// A presence sensor.
    Sensor,
    /// A dusk sensor.
    DuskSensor,
    /// A relay.
    Relay,
    /// A dimmer.
    Dimmer,
    /// A colour decoder.
    Decoder,
    /// A wall station.
    WallStation,
}

/// A stretch of tube, by chainage.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct TubeSpan {
    /// The rail.
    pub rail: String,
    /// Lower chainage.
    pub from_mm: f64,
    /// Higher chainage.
    pub to_mm: f64,
}

impl From<&plan::TubeSpan> for TubeSpan {
    fn from(from: &plan::TubeSpan) -> Self {
        Self { rail: from.rail.to_string(), from_mm: from.from.to_mm(), to_mm: from.to.to_mm() }
    }
}

/// What a presence sensor sees along its rail.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize, JsonSchema, TS)]
pub struct SensorReach {
    /// Lower chainage seen.
    pub from_mm: f64,
    /// Higher chainage seen.
    pub to_mm: f64,
    /// Length of walkway seen at its height, before an end of the rail or a turn cuts it.
    pub seen_mm: f64,
    /// Height above the walkway that it is reckoned at.
    pub height_mm: f64,
}

impl From<&plan::SensorReach> for SensorReach {
    fn from(from: &plan::SensorReach) -> Self {
        Self {
            from_mm: from.from.to_mm(),
            to_mm: from.to.to_mm(),
            seen_mm: from.seen.to_mm(),
            height_mm: from.height.to_mm(),
        }
    }
}

/// A setting to record.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[schemars(rename = "ControlSetting")]
#[ts(rename = "ControlSetting")]
pub struct Setting {
    /// Its name.
    pub name: String,
    /// Its value.
    pub value: String,
}

impl From<&plan::ControlPlan> for Control {
    fn from(from: &plan::ControlPlan) -> Self {
        use plan::ControlDevice as Plain;
        let setting = |(name, value): &(String, String)| Setting { name: name.clone(), value: value.clone() };
        Self {
            zone: from.zone.to_string(),
            device: from.device.clone(),
            part: from.part.clone(),
            kind: match from.kind {
                Plain::Sensor => Device::Sensor,
                Plain::DuskSensor => Device::DuskSensor,
                Plain::Relay => Device::Relay,
                Plain::Dimmer => Device::Dimmer,
                Plain::Decoder => Device::Decoder,
                Plain::WallStation => Device::WallStation,
            },
            place: from.place.clone(),
            rail: from.at_rail.as_ref().map(|(rail, _)| rail.to_string()),
            chainage_mm: from.at_rail.as_ref().map(|(_, chainage)| chainage.to_mm()),
            cable_ref: from.cable_ref.clone(),
            serves: from.serves.clone(),
            load_amps: from.load.map(Amps::get),
            inrush_amps: from.inrush.map(Amps::get),
            in_tube: from.in_tube.iter().map(TubeSpan::from).collect(),
            sees: from.sees.as_ref().map(SensorReach::from),
            settings: from.settings.iter().map(setting).collect(),
        }
    }
}
