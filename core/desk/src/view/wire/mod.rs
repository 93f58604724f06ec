//! The shapes that cross to the window: one site, page by page, with every figure already named and with its unit.

mod beside;
mod catalogue;
mod figure;
mod history;
mod join;
mod kept;
mod opened;
mod photos;
mod rail;
mod shared;
mod shelf;
mod site;
mod why;

pub use beside::{Beside, BesidePage};
pub use catalogue::{CatalogueEntry, CatalogueForm, CataloguePage, OpenCatalogue, PartLine, SheetForm};
pub use figure::{Figure, Mark};
pub use history::{HistoryPage, PastChange};
pub use join::{ControlMark, EndCap, LinkSpan, Stretch};
pub use kept::{KeptThing, LockRow};
pub use opened::{CatalogueNote, Opened, PartChoice, Tried, WayOn};
pub use photos::{AddProgress, CopiesTell, PhotoFile, PhotosPage};
pub use rail::{
    Bounded, CableRow, ChainLine, FeatureRow, FeatureShape, FeedMark, LuminaireRow, PatternLine, PieceShape, PieceSpan,
    RailPage, VoltLimit, VoltPoint,
};
pub use shared::{SharedPage, SharedProgress, SharedSign, SharedSite};
pub use shelf::{ExportForm, First, Settings, SitesPage, Start, ThemeChoice, Units};
pub use site::{DeviceRow, FindingLine, MainsLine, Refusal, SettingLine, SitePage, Tally, ZoneLine};
pub use why::{Asked, Explanation, Note, Step, StepRole};
