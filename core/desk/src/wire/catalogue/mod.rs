//! The catalogue file: what can be bought and how long work takes.

mod control;
mod driver;
mod fixing;
mod item;
mod lead;
mod luminaire;

pub use control::{Control, ControlKind, WhenLost};
pub use driver::{Derating, Driver, Overload, ShortCircuit};
pub use fixing::{Fixing, FixingKind};
pub use item::{Catalogue, Item, Labour};
pub use lead::{Coating, ConductorClass, Connector, Lead, LeadKind, LeadUse, MadeUp, Supply};
pub use luminaire::{ColourKind, LinearModule, LoadModel, Luminaire, LuminaireKind, PointLuminaire, Retention};
