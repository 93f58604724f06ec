//! Limits that keep any file readable in bounded time and memory.

/// Greatest size of a file, in bytes (64 MiB).
pub const GREATEST_BYTES: usize = 64 << 20;
/// Greatest depth of lists and tables in each other.
pub const GREATEST_DEPTH: usize = 64;
/// Greatest number of values in a file.
pub const GREATEST_VALUES: usize = 2_000_000;
/// Greatest length of one text, in characters.
pub const GREATEST_TEXT: usize = 10_000;
