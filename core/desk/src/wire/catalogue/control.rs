//! Sensors, relays, dimmers, decoders and wall stations.

use super::Item;
use crate::wire::mirror::{kinds, record, words};
use crate::wire::scalar::{A, Ingress, MmAbove, V, VDrop};
use crate::wire::shape;

record!(
    /// A control device.
    Control = catalogue::Control {
        /// What every part has.
        #[serde(flatten)]
        item: Item = item,
        /// What it is.
        device: ControlKind = kind,
        /// Nominal supply voltage of the load side.
        nominal_v: V = nominal,
        /// Greatest current of one contact or channel.
        contact_a: A = contact,
        /// Greatest peak of inrush that one contact stands.
        #[serde(default)]
        contact_inrush_a: Option<A> = contact_inrush,
        /// Voltage it drops at that current; 0 where absent.
        #[serde(default)]
        drop_v: VDrop = drop,
        /// Voltage of the supply of its own, where it needs one.
        #[serde(default)]
        own_supply_v: Option<V> = own_supply,
        /// What it leaves the light at when its control cable or the sensor on it is lost.
        #[serde(default)]
        when_lost: Option<WhenLost> = when_lost,
        /// Greatest length of control cable.
        #[serde(default)]
        greatest_control_cable_mm: Option<MmAbove> = greatest_control_cable,
        /// Ingress code.
        ingress: Ingress = ingress,
    }
);

words!(
    /// What a device leaves the light at when nothing tells it what to do.
    WhenLost = catalogue::WhenLost {
        /// Lit: its contact is closed at rest.
        Lit,
        /// Dark: its contact is open at rest.
        Dark,
        /// Either, as it is set up.
        Settable,
    }
);

kinds!(
    /// Kinds of control devices.
    #[schemars(transform = shape::bare_word)]
    ControlKind = catalogue::ControlKind {
        /// A presence sensor.
        Sensor {
            /// Length of walkway that it sees at the mounting height below.
            detects_mm: MmAbove = detects,
            /// Mounting height for that length.
            at_height_mm: MmAbove = at_height,
        },
        /// A dusk sensor.
        DuskSensor {},
        /// A relay.
        Relay {},
        /// A dimmer.
        Dimmer {},
        /// A colour decoder, between driver and chain.
        Decoder {
            /// Poles of its inlet.
            #[schemars(range(min = 1, max = 20))]
            inlet_poles: u8 = inlet_poles,
            /// Poles of its outlet.
            #[schemars(range(min = 1, max = 20))]
            outlet_poles: u8 = outlet_poles,
            /// Number of control sockets.
            #[schemars(range(max = 20))]
            control_sockets: u8 = control_sockets,
            /// Poles of each control socket.
            #[schemars(range(max = 20))]
            control_poles: u8 = control_poles,
        },
        /// A wall station.
        WallStation {},
    }
);
