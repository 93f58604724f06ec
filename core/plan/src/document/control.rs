//! Control devices of the plan, and the zones and lines that they work on.

use survey::Id;
use units::{Amps, Length};

use super::Objective;

/// A control device of the plan.
#[derive(Clone, Debug, PartialEq)]
pub struct ControlPlan {
    /// The zone.
    pub zone: Id,
    /// Reference of the device.
    pub device: String,
    /// Part of the catalogue.
    pub part: String,
    /// What it is.
    pub kind: ControlDevice,
    /// Where it is fixed, in words.
    pub place: String,
    /// The rail and chainage that it stands at, for a sensor on a rail.
    pub at_rail: Option<(Id, Length)>,
    /// Its cable: towards the next device of its line, for the last one towards the one before.
    pub cable_ref: Option<String>,
    /// What it switches or dims: circuits between driver and chain, or drivers in their mains lead.
    pub serves: Vec<String>,
    /// Greatest current of its contact or busiest channel; `None` where it switches nothing.
    pub load: Option<Amps>,
    /// Sum of the inrush peaks on its contact, where it switches drivers.
    pub inrush: Option<Amps>,
    /// Stretches of tube that its cable lies in.
    pub in_tube: Vec<TubeSpan>,
    /// What a presence sensor on a rail sees; `None` for every other device.
    pub sees: Option<SensorReach>,
    /// Settings to record, name and value.
    pub settings: Vec<(String, String)>,
}

/// What a presence sensor sees along its rail.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct SensorReach {
    /// Lower chainage seen.
    pub from: Length,
    /// Higher chainage seen.
    pub to: Length,
    /// Length of walkway seen at its height, half to each side, before an end of the rail or a turn cuts it.
    pub seen: Length,
    /// Height above the walkway that it is reckoned at: the zone's, else the rail's, else the catalogue's own.
    pub height: Length,
}

/// Kinds of control devices.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ControlDevice {
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
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TubeSpan {
    /// The rail.
    pub rail: Id,
    /// Lower chainage.
    pub from: Length,
    /// Higher chainage.
    pub to: Length,
}

/// A zone of the brief with its control.
#[derive(Clone, Debug, PartialEq)]
pub struct ZonePlan {
    /// The zone.
    pub id: Id,
    /// What people call it.
    pub label: String,
    /// How it is controlled.
    pub control: survey::Control,
    /// Whether it lights stairs.
    pub stairs: survey::Answer,
    /// Its control lines: devices that control cable joins one after the other.
    pub lines: Vec<ControlLine>,
    /// Cost of its control devices and cables with the labour for them, lower bound and gap.
    pub objective: Objective,
}

/// Devices that control cable joins one after the other.
#[derive(Clone, Debug, PartialEq)]
pub struct ControlLine {
    /// References of the devices in the order of the line.
    pub devices: Vec<String>,
    /// References of the cables between them, one fewer.
    pub cables: Vec<String>,
    /// Control cable in it.
    pub length: Length,
    /// Least of the greatest lengths that its parts state; `None` where none states one.
    pub limit: Option<Length>,
}
