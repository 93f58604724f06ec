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
