//! Faults: what keeps a file from being read, each in one line.

use std::fmt;

/// Most faults that are listed; the last line says how many more there are.
pub const MOST_LISTED: usize = 10_000;

/// One thing that can't be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Line in the file from 1; 0 where the fault is of the file as a whole.
    pub line: usize,
    /// Column in that line from 1, in characters.
    pub column: usize,
    /// Where it stands in the document (RFC 9535, `$.rails[0].tube`).
    pub path: String,
    /// The value, shortened; empty where something is missing.
    pub value: String,
    /// What is the matter.
    pub matter: String,
    /// What is accepted.
    pub accepted: String,
}

/// Every fault of one file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Faults {
    /// Name of the file as the person gave it.
    pub file: String,
    /// The faults, in order of their place in the file.
    pub list: Vec<Fault>,
    /// Faults beyond [`MOST_LISTED`] that were counted and not kept.
    pub unlisted: usize,
}

impl Faults {
    /// One line for each fault: file, line, column, path, value, what is the matter, what is accepted.
    #[must_use]
    pub fn lines(&self) -> Vec<String> {
        let mut lines: Vec<String> = self.list.iter().map(|fault| self.line(fault)).collect();
        if self.unlisted > 0 {
            lines.push(format!("{}: and {} more faults that are not listed", self.file, self.unlisted));
        }
        lines
    }

    fn line(&self, fault: &Fault) -> String {
        let mut text = self.file.clone();
        if fault.line > 0 {
            text += &format!(":{}:{}", fault.line, fault.column);
        }
        text += &format!(": {}: ", fault.path);
        if !fault.value.is_empty() {
            text += &format!("{} ", fault.value);
        }
        text += &fault.matter;
        if !fault.accepted.is_empty() {
            text += &format!("; accepted: {}", fault.accepted);
        }
        // A control character in a name from outside must neither split the line nor steer a terminal.
        text.chars().map(|c| if c.is_control() { '\u{fffd}' } else { c }).collect()
    }
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.lines().join("\n"))
    }
}

impl std::error::Error for Faults {}
