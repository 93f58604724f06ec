//! Parts with their electrical and mechanical data, prices and labour times, as plain data.
//!
//! The catalogue is the user's own; figures come from the makers' data sheets that the user has at hand.

mod codes;
mod control;
mod driver;
mod lead;
mod luminaire;

pub use codes::{Ingress, LeadUse};
pub use control::{Control, ControlKind, WhenLost};
pub use driver::{Derating, Driver, Overload, ShortCircuit};
pub use lead::{Coating, ConductorClass, Connector, Lead, LeadKind, Supply};
pub use luminaire::{ColourKind, LinearModule, LoadModel, Luminaire, LuminaireKind, PointLuminaire, Retention};

use units::{Length, Money};

/// The version of the catalogue's shape that this release reads.
pub const SCHEMA_VERSION: u32 = 1;

/// What can be bought and how long work takes.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Catalogue {
    /// What people call it.
    pub label: String,
    /// Whether it is made up, for teaching or trying out.
    pub invented: bool,
    /// ISO 4217 code of its prices.
    pub currency: String,
    /// Day of its prices (ISO 8601).
    pub priced_on: String,
    /// Luminaires.
    pub luminaires: Vec<Luminaire>,
    /// Drivers.
    pub drivers: Vec<Driver>,
    /// Leads and cable.
    pub leads: Vec<Lead>,
    /// Sensors, relays, dimmers, decoders, wall stations.
    pub controls: Vec<Control>,
    /// Taps, seals, rivets, end caps, glands, enclosures.
    pub fixings: Vec<Fixing>,
    /// Labour.
    pub labour: Labour,
}

/// What every part has.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Item {
    /// Part reference, unique in the catalogue.
    pub part: String,
    /// Description.
    pub description: String,
    /// Price of one unit (one piece, or one metre where sold by length).
    pub price: Money,
    /// Pieces to a pack; 1 where sold singly.
    pub pack: u32,
    /// Supplier's reference.
    pub supplier_ref: String,
}

/// A small part by its purpose.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Fixing {
    /// Item.
    pub item: Item,
    /// What it is for.
    pub kind: FixingKind,
}

/// Purposes of small parts.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum FixingKind {
    /// A sealed tap that joins a luminaire's tail to one uncut running core.
    Tap {
        /// Its resistance.
        milliohms: u32,
        /// Room it takes up across the bore, as area in tenths of a square millimetre.
        section_tenths_mm2: u32,
        /// Greatest current, tenths of an ampere.
        tenths_amp: u32,
    },
    /// A seal for the end of a run.
    EndSeal,
    /// An end cap by its number of poles.
    EndCap {
        /// Poles.
        poles: u8,
    },
    /// A rivet by its diameter.
    Rivet {
        /// Diameter.
        diameter: Length,
    },
    /// A clip for linear modules.
    Clip,
    /// A cover strip that closes the slot of a tube where a lead lies in it.
    Containment {
        /// Length of one strip.
        length: Length,
    },
    /// Slotting a tube in a workshop, priced by the metre.
    Slotting {
        /// Width of the slot.
        slot_width: Length,
    },
    /// Slotted tube to replace what is there, fitted, priced by the metre.
    SlottedTube {
        /// Outside diameter.
        outside_diameter: Length,
        /// Width of the slot.
        slot_width: Length,
    },
    /// A gland.
    Gland {
        /// Greatest outside diameter of the cable.
        greatest_cable: Length,
    },
    /// An enclosure for a driver or a control device.
    Enclosure,
    /// A plug made off on site at an end of control cable.
    ControlPlug {
        /// Poles.
        poles: u8,
    },
    /// Anything else.
    Other,
}

/// Labour times in minutes and the rate for an hour. Travel and the rest belong to the price.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Labour {
    /// Price of an hour.
    pub hour: Money,
    /// Mark, drill and deburr one hole.
    pub hole_minutes: u32,
    /// Tap, prove and press in one point luminaire.
    pub point_minutes: u32,
    /// Fix one linear module.
    pub module_minutes: u32,
    /// Mount and connect one driver.
    pub driver_minutes: u32,
    /// Lay ten metres of lead along a route.
    pub lead_minutes_per_10_m: u32,
    /// Thread ten metres of run through a tube.
    pub thread_minutes_per_10_m: u32,
    /// Make off one end of a lead.
    pub connection_minutes: u32,
}

impl Labour {
    /// Price of this many minutes, rounded to the nearest ten-thousandth.
    #[must_use]
    pub fn minutes(&self, minutes: i64) -> Money {
        Money::ten_thousandths((self.hour.to_ten_thousandths() * minutes + 30).div_euclid(60))
    }
}

impl Catalogue {
    /// The catalogue with every list in order of part, so that the order of a file changes no figure.
    #[must_use]
    pub fn in_order(&self) -> Self {
        let mut ordered = self.clone();
        ordered.luminaires.sort_by(|a, b| a.item.part.cmp(&b.item.part));
        ordered.drivers.sort_by(|a, b| a.item.part.cmp(&b.item.part));
        ordered.leads.sort_by(|a, b| a.item.part.cmp(&b.item.part));
        ordered.controls.sort_by(|a, b| a.item.part.cmp(&b.item.part));
        ordered.fixings.sort_by(|a, b| a.item.part.cmp(&b.item.part));
        ordered
    }

    /// The item with this part reference, whatever kind of part it is.
    #[must_use]
    pub fn item(&self, part: &str) -> Option<&Item> {
        self.items().find(|item| item.part == part)
    }

    /// Every item.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        (self.luminaires.iter().map(|l| &l.item))
            .chain(self.drivers.iter().map(|d| &d.item))
            .chain(self.leads.iter().map(|l| &l.item))
            .chain(self.controls.iter().map(|c| &c.item))
            .chain(self.fixings.iter().map(|f| &f.item))
    }

    /// The luminaire with this part reference.
    #[must_use]
    pub fn luminaire(&self, part: &str) -> Option<&Luminaire> {
        self.luminaires.iter().find(|l| l.item.part == part)
    }

    /// The driver with this part reference.
    #[must_use]
    pub fn driver(&self, part: &str) -> Option<&Driver> {
        self.drivers.iter().find(|d| d.item.part == part)
    }

    /// The lead with this part reference.
    #[must_use]
    pub fn lead(&self, part: &str) -> Option<&Lead> {
        self.leads.iter().find(|l| l.item.part == part)
    }
}
