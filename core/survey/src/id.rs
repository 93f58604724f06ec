//! Identity of things in a survey.

use std::fmt;

/// The id of one thing: 1 to 64 characters, none of them a control character.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Id(String);

impl Id {
    /// An id, or `None` where the text is empty, too long or holds a control character.
    #[must_use]
    pub fn new(text: &str) -> Option<Self> {
        let fits = !text.is_empty() && text.chars().count() <= 64 && !text.chars().any(char::is_control);
        fits.then(|| Self(text.to_owned()))
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
