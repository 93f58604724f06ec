//! Leads and cable by the reel.

use units::{Amps, Celsius, Length, SquareMm};

use crate::{Item, LeadUse};

/// A lead.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Lead {
    /// Item.
    pub item: Item,
    /// What it may be used for.
    pub uses: Vec<LeadUse>,
    /// How it is sold.
    pub supply: Supply,
    /// Sheathed cable, or single unsheathed cores.
    pub kind: LeadKind,
    /// Cores.
    pub cores: u8,
    /// Area of each core.
    pub area: SquareMm,
    /// Conductor class.
    pub class: ConductorClass,
    /// Whether the strands are coated.
    pub coating: Coating,
    /// Outside diameter (of one core where unsheathed).
    pub outside_diameter: Length,
    /// Insulation's highest temperature.
    pub greatest_temperature: Celsius,
    /// Current that it carries in a tube or duct.
    pub carries: Amps,
    /// Connector at its ends, if it has one.
    pub connector: Option<Connector>,
    /// Whether it stands weather and sun.
    pub outdoor: bool,
}

/// How a lead is sold.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Supply {
    /// Made up in fixed lengths, each with a price of its own; [`Item::price`] is then zero.
    MadeUp(Vec<(Length, units::Money)>),
    /// By the reel; [`Item::price`] is for a metre.
    Reel {
        /// Length of a reel.
        length: Length,
    },
}

/// Construction.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LeadKind {
    /// Sheathed.
    Sheathed,
    /// Single unsheathed cores laid together.
    SingleCores,
}

/// IEC 60228 class of a conductor.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ConductorClass {
    /// Class 1, solid.
    Solid,
    /// Class 2, stranded.
    Stranded,
    /// Class 5, flexible.
    Flexible,
}

/// Coating of the strands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Coating {
    /// Plain copper.
    Plain,
    /// Metal-coated copper.
    Coated,
}

/// A connector.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Connector {
    /// Poles.
    pub poles: u8,
    /// Greatest current of one pole.
    pub limit: Amps,
    /// Resistance of one pole, milliohms.
    pub milliohms: u32,
}
