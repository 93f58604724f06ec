//! Edits of a stored site as they cross to the window and the command line, and what each answers.

mod change;
mod command;
mod open;
mod uses;

pub use change::{
    BriefChange, DriverPlaceChange, FeatureChange, MainsPointChange, PhotoChange, RailBriefChange, RailChange,
    RouteChange, SiteChange, ZoneChange,
};
pub use command::{Edit, Edits, ThingName};
pub use open::OpenSite;
