//! Leads and cable by the reel.

use super::Item;
use crate::wire::mirror::{Mirror, kinds, record, words};
use crate::wire::scalar::{A, DegC, Mm2, MmAbove, Price};

record!(
    /// A lead.
    Lead = catalogue::Lead {
        /// What every part has.
        #[serde(flatten)]
        item: Item = item,
        /// What it may be used for.
        #[schemars(length(min = 1, max = 6))]
        uses: Vec<LeadUse> = uses,
        /// How it is sold.
        supply: Supply = supply,
        /// Construction: sheathed cable, or single unsheathed cores.
        construction: LeadKind = kind,
        /// Cores.
        #[schemars(range(min = 1, max = 50))]
        cores: u8 = cores,
        /// Area of each core.
        area_mm2: Mm2 = area,
        /// Conductor class (IEC 60228).
        class: ConductorClass = class,
        /// Whether the strands are coated; plain where absent.
        #[serde(default)]
        coating: Coating = coating,
        /// Outside diameter (of one core where unsheathed).
        outside_diameter_mm: MmAbove = outside_diameter,
        /// Insulation's highest temperature.
        greatest_temperature_c: DegC = greatest_temperature,
        /// Current that it carries in a tube or duct.
        carries_a: A = carries,
        /// Connector at its ends, if it has one.
        #[serde(default)]
        connector: Option<Connector> = connector,
        /// Whether it stands weather and sun.
        #[serde(default)]
        outdoor: bool = outdoor,
    }
);

words!(
    /// What a lead may be used for.
    LeadUse = catalogue::LeadUse {
        /// Mains point to driver.
        Mains,
        /// Driver output to a way in, and on through the tube to where a chain starts.
        Extension,
        /// From an extension lead, or from a decoder, to the first module of a chain.
        Luminaire,
        /// Along a chain, tapped or cut at luminaires.
        Run,
        /// Between linear modules, across what a module can't cross.
        Link,
        /// Control signals.
        Control,
    }
);

kinds!(
    /// How a lead is sold.
    Supply = catalogue::Supply {
        /// Made up in fixed lengths, each with a price of its own.
        MadeUp {
            /// The lengths.
            #[schemars(length(min = 1, max = 1000))]
            lengths: Vec<MadeUp> = 0,
        },
        /// By the reel, at a price for a metre.
        Reel {
            /// Length of a reel.
            length_mm: MmAbove = length,
        },
    }
);

/// One made-up length with its price.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize, schemars::JsonSchema, ts_rs::TS)]
pub struct MadeUp {
    /// The length.
    pub length_mm: MmAbove,
    /// The price of one.
    pub price: Price,
}

impl Mirror for MadeUp {
    type Plain = (units::Length, units::Money);
    fn from_plain(plain: &Self::Plain) -> Self {
        Self { length_mm: Mirror::from_plain(&plain.0), price: Mirror::from_plain(&plain.1) }
    }
    fn into_plain(self) -> Self::Plain {
        (self.length_mm.into_plain(), self.price.into_plain())
    }
}

words!(
    /// Construction.
    LeadKind = catalogue::LeadKind {
        /// Sheathed.
        Sheathed,
        /// Single unsheathed cores laid together.
        SingleCores,
    }
);

words!(
    /// IEC 60228 class of a conductor.
    ConductorClass = catalogue::ConductorClass {
        /// Class 1.
        Solid,
        /// Class 2.
        Stranded,
        /// Class 5.
        Flexible,
    }
);

words!(
    /// Coating of the strands.
    #[derive(Default)]
    Coating = catalogue::Coating {
        /// Plain copper.
        #[default]
        Plain,
        /// Metal-coated copper.
        Coated,
    }
);

record!(
    /// A connector.
    Connector = catalogue::Connector {
        /// Poles.
        #[schemars(range(min = 1, max = 20))]
        poles: u8 = poles,
        /// Greatest current of one pole.
        limit_a: A = limit,
        /// Resistance of one pole, milliohms.
        #[schemars(range(max = 1_000_000))]
        milliohms: u32 = milliohms,
    }
);
