//! What the command line says of the window's store: the outside witness for what the window has kept.

use std::path::Path;
use std::process::Command;

use serde_json::Value;

use crate::machine::built;

/// What `newel site … --json` prints.
pub fn said(home: &Path, words: &[&str]) -> Value {
    let mut command = Command::new(built("newel"));
    let output = command.arg("site").args(words).arg("--home").arg(home).output().expect("the command line runs");
    assert!(output.status.success(), "{words:?}: {}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{words:?}: {error}"))
}

/// The sites in the list.
pub fn sites(home: &Path) -> Vec<Value> {
    said(home, &["list", "--json"])["sites"].as_array().expect("sites").clone()
}

/// A site's survey, as `newel site export` prints it.
pub fn exported(home: &Path, id: &str) -> Value {
    said(home, &["export", id])
}
