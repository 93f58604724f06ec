//! JSON Schemas of the files, derived from the wire types and closed against fields that they do not name.

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde_json::Value;

use super::{catalogue, plan, shape, survey};

/// The schema of one type, closed.
#[must_use]
pub fn schema_of<T: JsonSchema>() -> Value {
    let mut schema = SchemaSettings::draft2020_12().into_generator().into_root_schema_for::<T>().to_value();
    shape::close(&mut schema);
    schema
}

/// The schema of the survey file.
#[must_use]
pub fn survey() -> Value {
    schema_of::<survey::Survey>()
}

/// The schema of the brief, which stands in the survey file as `brief`.
#[must_use]
pub fn brief() -> Value {
    schema_of::<survey::Brief>()
}

/// The schema of the catalogue file.
#[must_use]
pub fn catalogue() -> Value {
    schema_of::<catalogue::Catalogue>()
}

/// The schema of the plan document.
#[must_use]
pub fn plan() -> Value {
    schema_of::<plan::Plan>()
}

/// The schema of one edit of a stored site.
#[cfg(feature = "store")]
#[must_use]
pub fn edit() -> Value {
    schema_of::<crate::edit::Edit>()
}

/// The schema of the mark-up of one photo.
#[cfg(feature = "store")]
#[must_use]
pub fn photo_marks() -> Value {
    schema_of::<super::photos::PhotoMarks>()
}

/// The schemas of what `newel site`, `newel photo`, `newel catalogue`, `newel device` and
/// `newel exchange` print with `--json`, and of what
/// `newel site edit` and `newel photo mark` read, by name.
#[cfg(feature = "store")]
#[must_use]
pub fn of_sites() -> Vec<(&'static str, Value)> {
    use super::{exchange, photos, sites};
    vec![
        ("site-list", schema_of::<sites::SiteList>()),
        ("site-history", schema_of::<sites::SiteHistory>()),
        ("site-disagreements", schema_of::<sites::SiteDisagreements>()),
        ("site-search", schema_of::<sites::SiteHits>()),
        ("site-arrival", schema_of::<sites::SiteArrival>()),
        ("site-edit", edit()),
        ("photo-list", schema_of::<photos::PhotoList>()),
        ("photo-shown", schema_of::<photos::PhotoShown>()),
        ("photo-import", schema_of::<photos::PhotoImport>()),
        ("photo-copies", schema_of::<photos::PhotoCopies>()),
        ("photo-marks", photo_marks()),
        ("catalogue-list", schema_of::<sites::CatalogueList>()),
        ("catalogue-import", schema_of::<crate::parts::Preview>()),
        ("device-list", schema_of::<sites::DeviceList>()),
        ("exchange-place", schema_of::<exchange::ExchangePlace>()),
        ("exchange-status", schema_of::<exchange::ExchangeStatus>()),
        ("exchange-round", schema_of::<exchange::ExchangeRound>()),
        ("exchange-invitation", schema_of::<exchange::ExchangeInvitation>()),
    ]
}
