//! The catalogue as a whole, what every part has, and labour.

use super::{Control, Driver, Fixing, Lead, Luminaire};
use crate::wire::mirror::{Mirror, record};
use crate::wire::scalar::{Currency, Day, Part, Price};

/// A catalogue file: parts with their data, prices and labour times. Lengths are numbers in millimetres or texts with a
/// unit; prices are in the one currency of the catalogue.
#[derive(Clone, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema, ts_rs::TS)]
#[schemars(rename = "CatalogueFile")]
pub struct Catalogue {
    /// Version of this shape: 1.
    #[schemars(range(min = 1, max = 1))]
    pub schema_version: u32,
    /// What people call it.
    pub label: String,
    /// Whether it is made up, for teaching or trying out.
    #[serde(default)]
    pub invented: bool,
    /// Currency of its prices.
    pub currency: Currency,
    /// Day of its prices.
    pub priced_on: Day,
    /// Luminaires.
    #[serde(default)]
    #[schemars(length(max = 10000))]
    pub luminaires: Vec<Luminaire>,
    /// Drivers.
    #[serde(default)]
    #[schemars(length(max = 10000))]
    pub drivers: Vec<Driver>,
    /// Leads and cable.
    #[serde(default)]
    #[schemars(length(max = 10000))]
    pub leads: Vec<Lead>,
    /// Sensors, relays, dimmers, decoders, wall stations.
    #[serde(default)]
    #[schemars(length(max = 10000))]
    pub controls: Vec<Control>,
    /// Taps, seals, rivets, end caps, glands, enclosures.
    #[serde(default)]
    #[schemars(length(max = 10000))]
    pub fixings: Vec<Fixing>,
    /// Labour.
    pub labour: Labour,
}

impl Mirror for Catalogue {
    type Plain = catalogue::Catalogue;
    fn from_plain(plain: &Self::Plain) -> Self {
        Self {
            schema_version: catalogue::SCHEMA_VERSION,
            label: plain.label.clone(),
            invented: plain.invented,
            currency: Mirror::from_plain(&plain.currency),
            priced_on: Mirror::from_plain(&plain.priced_on),
            luminaires: Mirror::from_plain(&plain.luminaires),
            drivers: Mirror::from_plain(&plain.drivers),
            leads: Mirror::from_plain(&plain.leads),
            controls: Mirror::from_plain(&plain.controls),
            fixings: Mirror::from_plain(&plain.fixings),
            labour: Mirror::from_plain(&plain.labour),
        }
    }
    fn into_plain(self) -> Self::Plain {
        catalogue::Catalogue {
            label: self.label,
            invented: self.invented,
            currency: self.currency.into_plain(),
            priced_on: self.priced_on.into_plain(),
            luminaires: self.luminaires.into_plain(),
            drivers: self.drivers.into_plain(),
            leads: self.leads.into_plain(),
            controls: self.controls.into_plain(),
            fixings: self.fixings.into_plain(),
            labour: self.labour.into_plain(),
        }
    }
}

record!(
    /// What every part has.
    Item = catalogue::Item {
        /// Part reference, unique in the catalogue.
        part: Part = part,
        /// Description.
        description: String = description,
        /// Price of one piece, or of one metre where sold by length; 0 where a lead's made-up lengths have prices.
        price: Price = price,
        /// Pieces to a pack; 1 where absent.
        #[serde(default = "one")]
        #[schemars(range(min = 1, max = 1_000_000))]
        pack: u32 = pack,
        /// Supplier's reference.
        #[serde(default)]
        supplier_ref: String = supplier_ref,
    }
);

fn one() -> u32 {
    1
}

record!(
    /// Labour times in minutes and the rate for an hour.
    Labour = catalogue::Labour {
        /// Price of an hour.
        hour_price: Price = hour,
        /// Mark, drill and deburr one hole.
        #[schemars(range(max = 100_000))]
        hole_minutes: u32 = hole_minutes,
        /// Tap, prove and press in one point luminaire.
        #[schemars(range(max = 100_000))]
        point_minutes: u32 = point_minutes,
        /// Fix one linear module.
        #[schemars(range(max = 100_000))]
        module_minutes: u32 = module_minutes,
        /// Mount and connect one driver.
        #[schemars(range(max = 100_000))]
        driver_minutes: u32 = driver_minutes,
        /// Lay ten metres of lead along a route.
        #[schemars(range(max = 100_000))]
        lead_minutes_per_10_m: u32 = lead_minutes_per_10_m,
        /// Thread ten metres of run through a tube.
        #[schemars(range(max = 100_000))]
        thread_minutes_per_10_m: u32 = thread_minutes_per_10_m,
        /// Make off one end of a lead.
        #[schemars(range(max = 100_000))]
        connection_minutes: u32 = connection_minutes,
    }
);
