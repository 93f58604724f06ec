//! Faults: what keeps files from being read, each in one line.

use std::fmt;

/// Most faults of one file that are listed; one more then says how many there are beyond.
pub const MOST_LISTED: usize = 10_000;

/// One thing that can't be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Name of the file as the person gave it.
    pub file: String,
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

impl Fault {
    /// A fault of a file as a whole.
    #[must_use]
    pub fn of_file(file: &str, matter: &str, accepted: &str) -> Self {
        Self {
            file: file.to_owned(),
            line: 0,
            column: 0,
            path: String::new(),
            value: String::new(),
            matter: matter.to_owned(),
            accepted: accepted.to_owned(),
        }
    }
}

/// File, line, column, path, value, what is the matter, what is accepted.
impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut text = self.file.clone();
        if self.line > 0 {
            text += &format!(":{}:{}", self.line, self.column);
        }
        if !self.path.is_empty() {
            text += &format!(": {}", self.path);
        }
        text += ": ";
        if !self.value.is_empty() {
            text += &format!("{} ", self.value);
        }
        text += &self.matter;
        if !self.accepted.is_empty() {
            text += &format!("; accepted: {}", self.accepted);
        }
        // A control character in a name from outside must neither split the line nor steer a terminal.
        let safe: String = text.chars().map(|c| if c.is_control() { '\u{fffd}' } else { c }).collect();
        f.write_str(&safe)
    }
}

/// Every fault of one or more files, in the order of each file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Faults {
    /// The faults.
    pub list: Vec<Fault>,
}

impl Faults {
    /// One line for each fault.
    #[must_use]
    pub fn lines(&self) -> Vec<String> {
        self.list.iter().map(ToString::to_string).collect()
    }

    /// These faults and then those of another file.
    #[must_use]
    pub fn and(mut self, other: Self) -> Self {
        self.list.extend(other.list);
        self
    }
}

impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.lines().join("\n"))
    }
}

impl std::error::Error for Faults {}
