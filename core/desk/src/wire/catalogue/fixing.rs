//! Small parts by their purpose.

use super::Item;
use crate::wire::mirror::{kinds, record};
use crate::wire::scalar::{MmAbove, TenthsAmp, TenthsMm2};
use crate::wire::shape;

record!(
    /// A small part by its purpose.
    Fixing = catalogue::Fixing {
        /// What every part has.
        #[serde(flatten)]
        item: Item = item,
        /// What it is for.
        purpose: FixingKind = kind,
    }
);

kinds!(
    /// Purposes of small parts.
    #[schemars(transform = shape::bare_word)]
    FixingKind = catalogue::FixingKind {
        /// A sealed tap that joins a luminaire's tail to one uncut running core.
        Tap {
            /// Its resistance, milliohms.
            #[schemars(range(max = 1_000_000))]
            milliohms: u32 = milliohms,
            /// Room it takes up across the bore.
            section_mm2: TenthsMm2 = section_tenths_mm2,
            /// Greatest current.
            greatest_a: TenthsAmp = tenths_amp,
        },
        /// A seal for the end of a run.
        EndSeal {},
        /// An end cap by its number of poles.
        EndCap {
            /// Poles.
            #[schemars(range(min = 1, max = 20))]
            poles: u8 = poles,
        },
        /// A rivet.
        Rivet {
            /// Diameter.
            diameter_mm: MmAbove = diameter,
        },
        /// A clip for linear modules.
        Clip {},
        /// A cover strip that closes the slot of a tube where a lead lies in it.
        Containment {
            /// Length of one strip.
            length_mm: MmAbove = length,
        },
        /// Slotting a tube in a workshop, priced by the metre.
        Slotting {
            /// Width of the slot.
            slot_mm: MmAbove = slot_width,
        },
        /// Slotted tube to replace what is there, fitted, priced by the metre.
        SlottedTube {
            /// Outside diameter.
            outside_diameter_mm: MmAbove = outside_diameter,
            /// Width of the slot.
            slot_mm: MmAbove = slot_width,
        },
        /// A gland.
        Gland {
            /// Greatest outside diameter of the cable.
            greatest_cable_mm: MmAbove = greatest_cable,
        },
        /// An enclosure for a driver or a control device.
        Enclosure {},
        /// A plug made off on site at an end of control cable.
        ControlPlug {
            /// Poles.
            #[schemars(range(min = 1, max = 20))]
            poles: u8 = poles,
        },
        /// Anything else.
        Other {},
    }
);
