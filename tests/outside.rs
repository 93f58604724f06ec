//! Other programs as witnesses: exiftool and ImageMagick, and a folder of its own for each check.

use std::path::{Path, PathBuf};
use std::process::Command;

use serde_json::Value;

/// What a program prints.
///
/// # Panics
/// Where it cannot be started or fails.
#[must_use]
pub fn run(program: &str, arguments: &[&str]) -> Vec<u8> {
    let output = Command::new(program)
        .args(arguments)
        // ImageMagick's threads wait for one another by spinning, which on a busy machine takes minutes.
        .env("MAGICK_THREAD_LIMIT", "1")
        .output()
        .unwrap_or_else(|error| panic!("{program} cannot be started ({error}); run .ci/setup test"));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "{program} {arguments:?}: {said}");
    output.stdout
}

/// An empty folder for one check.
///
/// # Panics
/// Where it cannot be made.
#[must_use]
pub fn folder(base: &str, name: &str) -> PathBuf {
    let folder = Path::new(base).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder for the check");
    folder
}

/// What exiftool says of every picture in a folder, numbers as numbers, by file name.
///
/// # Panics
/// Where exiftool cannot be started.
#[must_use]
pub fn exiftool(folder: &Path) -> Vec<(String, Value)> {
    // exiftool ends with 1 where one of the files has no more than a warning; what it prints is still whole.
    let output =
        Command::new("exiftool").args(["-n", "-j", "-G1"]).arg(folder).output().expect("exiftool, from .ci/setup test");
    let Ok(Value::Array(files)) = serde_json::from_slice(&output.stdout) else {
        panic!("exiftool printed no list: {}", String::from_utf8_lossy(&output.stderr));
    };
    let name = |file: &Value| {
        let path = file["SourceFile"].as_str().unwrap_or_default();
        Path::new(path).file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default()
    };
    files.into_iter().map(|file| (name(&file), file)).collect()
}
