//! Words from outside in lines for people.

/// Words from a file must neither split a line nor steer a terminal.
#[must_use]
pub fn safe(text: &str) -> String {
    text.chars().map(|c| if c.is_control() || is_turning(c) { '\u{fffd}' } else { c }).collect()
}

/// Marks that turn the direction of writing (Unicode Annex 9).
fn is_turning(c: char) -> bool {
    matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}
