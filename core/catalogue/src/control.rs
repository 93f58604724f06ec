//! Sensors, relays, dimmers, decoders and wall stations.

use units::{Amps, Length, Volts};

use crate::{Ingress, Item};

/// A control device.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Control {
    /// Item.
    pub item: Item,
    /// What it is.
    pub kind: ControlKind,
    /// Nominal supply voltage of the load side.
    pub nominal: Volts,
    /// Greatest current of one contact or channel.
    pub contact: Amps,
    /// Greatest peak of inrush that one contact stands, where the maker states it.
    pub contact_inrush: Option<Amps>,
    /// Voltage it drops at that current.
    pub drop: Volts,
    /// Voltage of the supply of its own, where it needs one.
    pub own_supply: Option<Volts>,
    /// What it leaves the light at when its control cable or the sensor on it is lost, where the maker states it.
    pub when_lost: Option<WhenLost>,
    /// Greatest length of control cable.
    pub greatest_control_cable: Option<Length>,
    /// Ingress code.
    pub ingress: Ingress,
}

/// What a device leaves the light at when nothing tells it what to do.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WhenLost {
    /// Lit: its contact is closed at rest.
    Lit,
    /// Dark: its contact is open at rest.
    Dark,
    /// Either, as it is set up.
    Settable,
}

/// Kinds of control devices.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum ControlKind {
    /// A presence sensor.
    Sensor {
        /// Length of walkway that it sees at the mounting height below.
        detects: Length,
        /// Mounting height for that length.
        at_height: Length,
    },
    /// A dusk sensor.
    DuskSensor,
    /// A relay.
    Relay,
    /// A dimmer.
    Dimmer,
    /// A colour decoder, between driver and chain.
    Decoder {
        /// Poles of its inlet.
        inlet_poles: u8,
        /// Poles of its outlet.
        outlet_poles: u8,
        /// Number of control sockets.
        control_sockets: u8,
        /// Poles of each control socket.
        control_poles: u8,
    },
    /// A wall station.
    WallStation,
}
