//! The typefaces carried inside the program, and which characters they can print.

use std::sync::LazyLock;

use typst::foundations::Bytes;
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;

use crate::text::is_invisible;

/// Family names in the order in which the paper asks for them.
pub const FAMILIES: [&str; 3] = ["Atkinson Hyperlegible Next", "Atkinson Hyperlegible Next Ext", "DejaVu Sans"];

/// Font files with their licences are listed in `core/papers/fonts/README.md`.
const FILES: [&[u8]; 5] = [
    include_bytes!("../../fonts/AtkinsonHyperlegibleNext-Regular.ttf"),
    include_bytes!("../../fonts/AtkinsonHyperlegibleNext-Bold.ttf"),
    include_bytes!("../../fonts/AtkinsonHyperlegibleNextExt-Regular.ttf"),
    include_bytes!("../../fonts/AtkinsonHyperlegibleNextExt-Bold.ttf"),
    include_bytes!("../../fonts/DejaVuSans.ttf"),
];

/// The fonts in file order, with the book that the engine searches.
pub struct Typefaces {
    fonts: Vec<Font>,
    book: LazyHash<FontBook>,
}

/// Reads the embedded fonts once for the life of the program.
pub fn typefaces() -> &'static Typefaces {
    static ALL: LazyLock<Typefaces> = LazyLock::new(|| {
        let fonts: Vec<Font> = FILES.iter().flat_map(|file| Font::iter(Bytes::new(*file))).collect();
        let book = LazyHash::new(FontBook::from_fonts(&fonts));
        Typefaces { fonts, book }
    });
    &ALL
}

impl Typefaces {
    /// The book of fonts that the engine searches.
    pub fn book(&self) -> &LazyHash<FontBook> {
        &self.book
    }

    /// The font with this number in the book.
    pub fn font(&self, index: usize) -> Option<Font> {
        self.fonts.get(index).cloned()
    }

    fn can_print(&self, letter: char) -> bool {
        self.fonts.iter().any(|font| font.info().coverage.contains(u32::from(letter)))
    }
}

/// Text as it can be printed: a character that no embedded typeface has is written as its Unicode
/// number, for example `[U+4E2D]`, so that nothing is lost and the archive format stays valid.
/// Line breaks and tabs become spaces; other control characters are shown by number as well.
pub fn printable(text: &str) -> String {
    let faces = typefaces();
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        if matches!(letter, '\n' | '\r' | '\t' | '\u{2028}' | '\u{2029}') {
            out.push(' ');
        } else if !letter.is_control() && !is_invisible(letter) && faces.can_print(letter) {
            out.push(letter);
        } else {
            out.push_str(&format!("[U+{:04X}]", u32::from(letter)));
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::width_of;

    #[test]
    fn every_family_asked_for_is_embedded() {
        let names: Vec<&str> = typefaces().book().families().map(|(name, _)| name).collect();
        for family in FAMILIES {
            assert!(names.contains(&family), "{family} is not among {names:?}");
        }
    }

    #[test]
    fn no_letter_is_wider_than_the_drawings_reckon() {
        let names = ["zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
        for file in &FILES[..2] {
            let face = ttf_parser::Face::parse(file, 0).expect("a font");
            for letter in (' '..='~').chain("·×²°–…".chars()) {
                let mut glyph = face.glyph_index(letter).expect("plain Latin is there");
                if let Some(figure) = letter.to_digit(10) {
                    // Papers ask for figures of equal width, which are glyphs of their own.
                    glyph =
                        face.glyph_index_by_name(&format!("{}.tf", names[figure as usize])).expect("tabular figures");
                }
                let advance = f64::from(face.glyph_hor_advance(glyph).expect("an advance"));
                let wide = advance / f64::from(face.units_per_em()) * 72.0 * 25.4 / 72.0;
                let reckoned = width_of(&letter.to_string(), 72.0);
                assert!(wide <= reckoned, "{letter:?} takes {wide} mm, {reckoned} mm reckoned");
            }
        }
    }

    #[test]
    fn trade_symbols_and_european_letters_print_as_they_are() {
        let text = "Geländer Łódź Ελλάδα Ω mm² ° × – ≤ ≥ µ → ⌀ ▲ ● \u{2B23}";
        assert_eq!(printable(text), text);
    }

    #[test]
    fn what_cannot_be_printed_is_written_by_number() {
        assert_eq!(printable("中"), "[U+4E2D]");
        assert_eq!(printable("a\u{202E}b\u{0}"), "a[U+202E]b[U+0000]");
        assert_eq!(printable("a\nb"), "a b");
    }
}
