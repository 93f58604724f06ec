//! Names of files as they may be shown: nothing in them moves the cursor or turns the line around.

use std::path::Path;

/// A name that can be shown safely, and whether anything had to be replaced.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// The name.
    pub text: String,
    /// What was replaced, if anything: each as `U+202E`.
    pub replaced: Vec<String>,
}

/// A path's last part, safe to show: control characters and marks of direction appear as `<U+202E>`, bytes that are no
/// text as `<?>`; longer than 120 characters is cut in the middle.
#[must_use]
pub fn shown(path: &Path) -> Shown {
    let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
    let mut text = String::new();
    let mut replaced = Vec::new();
    for c in name.chars() {
        if c == char::REPLACEMENT_CHARACTER {
            text.push_str("<?>");
            replaced.push("bytes that are no text".to_owned());
        } else if unseen(c) {
            let code = format!("U+{:04X}", u32::from(c));
            text.push_str(&format!("<{code}>"));
            replaced.push(code);
        } else {
            text.push(c);
        }
    }
    let count = text.chars().count();
    if count > 120 {
        let head: String = text.chars().take(80).collect();
        let tail: String = text.chars().skip(count - 37).collect();
        text = format!("{head}...{tail}");
    }
    replaced.dedup();
    Shown { text, replaced }
}

/// Text from a file, without control characters and marks of direction, trimmed.
#[must_use]
pub fn clean(text: &str) -> String {
    text.chars().filter(|c| !unseen(*c)).collect::<String>().trim().to_owned()
}

/// Control characters, marks and isolates of direction, and separators of lines (Unicode 15.1, UAX #9 section 2).
fn unseen(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200e}' | '\u{200f}' | '\u{061c}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
        || matches!(c, '\u{2028}' | '\u{2029}' | '\u{feff}' | '\u{200b}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_cannot_turn_the_line_around() {
        let name = shown(Path::new("folder/holiday\u{202e}gpj.exe"));
        assert_eq!(name.text, "holiday<U+202E>gpj.exe");
        assert_eq!(name.replaced, ["U+202E"]);
        assert_eq!(shown(Path::new("a\u{1b}[2Jb\n.jpg")).text, "a<U+001B>[2Jb<U+000A>.jpg");
        assert_eq!(shown(Path::new("Geländer, Nord.jpg")).text, "Geländer, Nord.jpg");
        assert_eq!(shown(Path::new(&"ä".repeat(300))).text.chars().count(), 120);
    }
}
