//! The fields of the team document: what is not of one site.

use super::table::Field;

/// The firm: which catalogue is in force, by the SHA-256 of its bytes.
pub(super) const FIRM: &[Field] = &[Field::new::<Option<String>>(IN_FORCE, "catalogue in force")];
/// A setting.
pub(super) const SETTING: &[Field] = &[Field::new::<String>("value", "value")];
/// A member's device.
pub(super) const MEMBER: &[Field] = &[
    Field::new::<String>("label", "person"),
    Field::new::<String>("device", "device"),
    Field::new::<String>("prefix", "prefix of numbers"),
];
/// A catalogue: its name, and the SHA-256 of its bytes as they are now, where that is not its id.
pub(super) const CATALOGUE: &[Field] =
    &[Field::new::<String>("label", "name"), Field::new::<Option<String>>(CONTENT, "content of the catalogue")];
/// A series of numbers as one device issues it.
pub(super) const SERIES: &[Field] = &[
    Field::new::<String>("label", "series"),
    Field::new::<String>("prefix", "prefix"),
    Field::new::<u32>("last", "last number"),
];

/// The field that says what a catalogue holds now. It is one value, so that two people who changed a catalogue at once
/// are both heard.
pub(crate) const CONTENT: &str = "content";
/// The field that says which catalogue is in force.
pub(crate) const IN_FORCE: &str = "catalogue_in_force";
