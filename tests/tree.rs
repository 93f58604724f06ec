//! Where things lie in the repository.

use std::path::PathBuf;

/// A path below the repository's top.
#[must_use]
pub fn path(below_top: &str) -> PathBuf {
    PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/..")).join(below_top)
}

/// The text of a file below the repository's top.
///
/// # Panics
/// Where it cannot be read: the test then has nothing to check.
#[must_use]
pub fn text(below_top: &str) -> String {
    let path = path(below_top);
    std::fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// The bytes of a file below the repository's top.
///
/// # Panics
/// Where it cannot be read.
#[must_use]
pub fn bytes(below_top: &str) -> Vec<u8> {
    let path = path(below_top);
    std::fs::read(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}
