//! Reads survey and catalogue files from bytes, and lists every fault in one go.
//!
//! JSON and TOML become one tree of values with their places; the tree is walked along the schema derived from the wire
//! types; then come ids, references and limits between fields. Only a file without a fault becomes a plain value.
//!
#![doc = include_str!("../../FAULTS.md")]

mod catalogue_checks;
pub(crate) mod gather;
mod json;
mod limits;
mod look;
mod scalar;
pub(crate) mod schema;
mod survey_checks;
mod toml;
pub(crate) mod tree;
mod walk;

use std::sync::LazyLock;

use serde::de::DeserializeOwned;
use serde_json::Value as Json;
#[cfg(feature = "store")]
use serde_json::json;

use crate::fault::Faults;
use crate::wire::{self, Mirror};
use gather::Gather;
use look::Look;
use tree::{Node, Path, Place, Value};

/// Reads a survey file, JSON or TOML.
///
/// # Errors
/// Every fault of the file.
pub fn read_survey(bytes: &[u8], name: &str) -> Result<survey::Survey, Faults> {
    let kind = Kind { version: survey::SCHEMA_VERSION, schema: &SURVEY, checks: survey_checks::check };
    read::<wire::survey::Survey>(bytes, name, &kind).map(Mirror::into_plain)
}

/// Reads a catalogue file, TOML or JSON.
///
/// # Errors
/// Every fault of the file.
pub fn read_catalogue(bytes: &[u8], name: &str) -> Result<catalogue::Catalogue, Faults> {
    let kind = Kind { version: catalogue::SCHEMA_VERSION, schema: &CATALOGUE, checks: catalogue_checks::check };
    read::<wire::catalogue::Catalogue>(bytes, name, &kind).map(Mirror::into_plain)
}

/// A catalogue of which some parts may be refused: the full form of all that is written, null where it could not be read,
/// and every fault with its way.
#[cfg(feature = "parts")]
pub(crate) struct LooseCatalogue {
    /// The full form.
    pub full: Json,
    /// Every fault.
    pub faults: Vec<(Place, Path, crate::fault::Fault)>,
}

/// Reads a catalogue file, TOML or JSON, fault by fault.
///
/// # Errors
/// It has no tree at all, or a newer shape.
#[cfg(feature = "parts")]
pub(crate) fn read_loose_catalogue(bytes: &[u8], name: &str) -> Result<LooseCatalogue, Faults> {
    let mut gather = Gather::default();
    let root = tree(bytes, name, &mut gather).filter(|root| !is_newer(root, catalogue::SCHEMA_VERSION, &mut gather));
    let Some(root) = root.filter(|root| matches!(root.value, Value::Table(_))) else {
        return Err(gather.into_faults(name));
    };
    let full = walk::walk(&CATALOGUE, &root, &mut gather);
    catalogue_checks::check(&mut Look::new(&root, &full, &mut gather));
    Ok(LooseCatalogue { full, faults: gather.into_found() })
}

/// Reads some lists or tables of a catalogue that stand alone in a tree, with the same checks.
#[cfg(feature = "parts")]
pub(crate) fn read_some_of_catalogue(root: &Node) -> LooseCatalogue {
    let mut gather = Gather::default();
    let full = walk::walk_present(&CATALOGUE, root, &mut gather);
    catalogue_checks::check(&mut Look::new(root, &full, &mut gather));
    LooseCatalogue { full, faults: gather.into_found() }
}

/// The schema of catalogues.
#[cfg(feature = "parts")]
pub(crate) fn catalogue_schema() -> &'static Json {
    &CATALOGUE
}

/// Reads one edit of a stored site, JSON or TOML.
///
/// # Errors
/// Every fault of the text.
#[cfg(feature = "store")]
pub fn read_edit(bytes: &[u8], name: &str) -> Result<crate::edit::Edit, Faults> {
    let kind = Kind { version: 1, schema: &EDIT, checks: |_| {} };
    read(bytes, name, &kind)
}

/// Reads edits of a stored site that are made as one change: a list in the form of [`crate::edit::Edit`].
///
/// # Errors
/// Every fault of the list.
#[cfg(feature = "store")]
pub fn read_edits(list: &Json) -> Result<Vec<crate::edit::Edit>, Faults> {
    let kind = Kind { version: 1, schema: &EDITS, checks: |_| {} };
    read::<crate::edit::Edits>(json!({ "edits": list }).to_string().as_bytes(), "edits.json", &kind)
        .map(|found| found.edits)
}

/// Reads the mark-up of one photo, JSON or TOML.
///
/// # Errors
/// Every fault of the text.
#[cfg(feature = "store")]
pub fn read_marks(bytes: &[u8], name: &str) -> Result<Vec<survey::Mark>, Faults> {
    let kind = Kind { version: 1, schema: &MARKS, checks: |_| {} };
    read::<wire::photos::PhotoMarks>(bytes, name, &kind).map(|read| read.marks.into_plain())
}

// Deriving a schema takes longer than walking a usual file along it, so each is derived once.
static SURVEY: LazyLock<Json> = LazyLock::new(wire::schemas::survey);
static CATALOGUE: LazyLock<Json> = LazyLock::new(wire::schemas::catalogue);
#[cfg(feature = "store")]
static EDIT: LazyLock<Json> = LazyLock::new(wire::schemas::edit);
#[cfg(feature = "store")]
static EDITS: LazyLock<Json> = LazyLock::new(wire::schemas::schema_of::<crate::edit::Edits>);
#[cfg(feature = "store")]
static MARKS: LazyLock<Json> = LazyLock::new(wire::schemas::photo_marks);

/// What tells one kind of file from another.
struct Kind {
    version: u32,
    schema: &'static LazyLock<Json>,
    checks: fn(&mut Look<'_>),
}

fn read<W: DeserializeOwned>(bytes: &[u8], name: &str, kind: &Kind) -> Result<W, Faults> {
    let mut gather = Gather::default();
    let found = tree(bytes, name, &mut gather).and_then(|root| wire_value(&root, kind, &mut gather));
    match found {
        Some(found) if gather.is_empty() => Ok(found),
        _ => Err(gather.into_faults(name)),
    }
}

fn wire_value<W: DeserializeOwned>(root: &Node, kind: &Kind, gather: &mut Gather) -> Option<W> {
    if is_newer(root, kind.version, gather) {
        return None;
    }
    let full = walk::walk(kind.schema, root, gather);
    (kind.checks)(&mut Look::new(root, &full, gather));
    if !gather.is_empty() {
        return None;
    }
    match serde_json::from_value(full) {
        Ok(read) => Some(read),
        // The walk accepts what the derives accept; were they to differ, this still is a fault and no panic.
        Err(error) => {
            gather.add(&Path::new(), root.place, String::new(), format!("can't be read: {error}"), String::new());
            None
        }
    }
}

/// A newer shape may mean anything by any field, so nothing else is said about it.
fn is_newer(root: &Node, version: u32, gather: &mut Gather) -> bool {
    let Some(node) = root.get("schema_version") else { return false };
    let Value::Number { value, .. } = &node.value else { return false };
    let newer = *value > f64::from(version) && value.fract() == 0.0;
    if newer {
        let path = vec![tree::Step::Name("schema_version".to_owned())];
        let matter = "is newer than this release of Newel reads; install a newer release".to_owned();
        gather.add(&path, node.place, node.shown(), matter, version.to_string());
    }
    newer
}

fn tree(bytes: &[u8], name: &str, gather: &mut Gather) -> Option<Node> {
    if bytes.len() > limits::GREATEST_BYTES {
        let matter = format!("the file has {} bytes", bytes.len());
        gather.add(&Path::new(), Place::default(), String::new(), matter, "at most 64 MiB".to_owned());
        return None;
    }
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => text.trim_start_matches('\u{feff}'),
        Err(error) => {
            let before = String::from_utf8_lossy(&bytes[..error.valid_up_to()]);
            let line = before.matches('\n').count() + 1;
            let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
            let matter = "is no text in UTF-8".to_owned();
            gather.add(&Path::new(), Place { line, column }, String::new(), matter, "UTF-8".to_owned());
            return None;
        }
    };
    if is_toml(text, name) { toml::read(text, gather) } else { json::read(text, gather) }
}

/// By the name's ending; else by the first character, since a JSON document of ours is a table.
fn is_toml(text: &str, name: &str) -> bool {
    let name = name.to_ascii_lowercase();
    if name.ends_with(".json") || name.ends_with(".toml") {
        return name.ends_with(".toml");
    }
    !text.trim_start().starts_with('{')
}
