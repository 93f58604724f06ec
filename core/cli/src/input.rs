//! Reads files in bounded memory.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use desk::{Fault, Faults};

/// A little more than the greatest size that is read, so that a larger file is refused by its size and not held.
const MOST_BYTES: u64 = (64 << 20) + 1;

/// The bytes of a file.
///
/// # Errors
/// One fault that says what the system says.
pub fn bytes(path: &Path) -> Result<Vec<u8>, Faults> {
    let mut bytes = Vec::new();
    let read = File::open(path).and_then(|file| file.take(MOST_BYTES).read_to_end(&mut bytes));
    match read {
        Ok(_) => Ok(bytes),
        Err(error) => {
            let fault = Fault::of_file(&name(path), &format!("can't be read: {error}"), "a file that can be opened");
            Err(Faults { list: vec![fault] })
        }
    }
}

/// As [`bytes`], and `-` for what comes in on standard input.
///
/// # Errors
/// As [`bytes`].
pub fn bytes_or_standard_input(path: &Path) -> Result<Vec<u8>, Faults> {
    if path != Path::new("-") {
        return bytes(path);
    }
    let mut bytes = Vec::new();
    match std::io::stdin().lock().take(MOST_BYTES).read_to_end(&mut bytes) {
        Ok(_) => Ok(bytes),
        Err(error) => {
            let fault = Fault::of_file("-", &format!("can't be read: {error}"), "a text on standard input");
            Err(Faults { list: vec![fault] })
        }
    }
}

/// The file as the person named it.
pub fn name(path: &Path) -> String {
    path.display().to_string()
}
