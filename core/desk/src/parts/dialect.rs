//! How a CSV file is written: what stands between its cells, and with what its decimals are written.
//!
//! Spreadsheets write what their country's settings say: commas between cells and points in decimals, or semicolons between
//! cells and commas in decimals. Neither is noted in the file, so both are found out from it; where a file fits both ways
//! it is refused rather than guessed.

use super::form::Input;

/// What stands between cells.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Separator {
    /// A comma.
    Comma,
    /// A semicolon.
    Semicolon,
    /// A tabulator.
    Tab,
}

impl Separator {
    /// The byte.
    #[must_use]
    pub const fn byte(self) -> u8 {
        match self {
            Self::Comma => b',',
            Self::Semicolon => b';',
            Self::Tab => b'\t',
        }
    }

    /// By the first line, which holds names of fields and nothing else: no name holds a separator.
    #[must_use]
    pub fn of(header: &str) -> Self {
        let count = |of: char| header.matches(of).count();
        let (semicolons, tabs, commas) = (count(';'), count('\t'), count(','));
        if semicolons > commas && semicolons >= tabs {
            Self::Semicolon
        } else if tabs > commas {
            Self::Tab
        } else {
            Self::Comma
        }
    }
}

/// With what decimals are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A point.
    Point,
    /// A comma.
    Comma,
    /// Either, as somebody types: a comma before three digits may stand between thousands and is not taken.
    Either,
}

impl Mark {
    /// By the figures of a file.
    #[must_use]
    pub fn of<'a>(separator: Separator, figures: impl Iterator<Item = &'a str>) -> Self {
        let (mut commas, mut points, mut groups_only) = (false, false, true);
        for figure in figures {
            commas |= figure.contains(',');
            points |= figure.contains('.');
            groups_only &= !figure.contains(',') || may_be_grouped(figure);
        }
        // Where commas stand between cells as well, figures such as 1,500 alone do not say what the comma means: as
        // decimals with a point they are refused, each with its place.
        let unclear = separator == Separator::Comma && (points || groups_only);
        if commas && !unclear { Self::Comma } else { Self::Point }
    }

    /// A figure in the notation of files: digits, a point, an exponent. `None` where it is no plain number.
    #[must_use]
    pub fn plain(self, text: &str) -> Option<String> {
        let text = text.replace('−', "-");
        let (sign, rest) = text.strip_prefix('-').map_or(("", text.strip_prefix('+').unwrap_or(&text)), |r| ("-", r));
        let (digits, exponent) = match rest.find(['e', 'E']) {
            Some(at) => (&rest[..at], Some(&rest[at + 1..])),
            None => (rest, None),
        };
        let is_mark = |c: char| match self {
            Self::Point => c == '.',
            Self::Comma => c == ',',
            Self::Either => c == '.' || c == ',',
        };
        if self == Self::Either && may_be_grouped(digits) {
            return None;
        }
        let (whole, part) = digits.split_once(is_mark).unwrap_or((digits, ""));
        let all_digits = |s: &str| s.bytes().all(|byte| byte.is_ascii_digit());
        let power = exponent.map_or("", |power| power.trim_start_matches(['+', '-']));
        let is_number = !(whole.is_empty() && part.is_empty())
            && all_digits(whole)
            && all_digits(part)
            && exponent.is_none_or(|_| !power.is_empty() && power.len() <= 3 && all_digits(power));
        if !is_number {
            return None;
        }
        let whole = if whole.is_empty() { "0" } else { whole };
        let part = if part.is_empty() { String::new() } else { format!(".{part}") };
        Some(format!("{sign}{whole}{part}{}", exponent.map(|power| format!("e{power}")).unwrap_or_default()))
    }

    /// A text with a figure in it, such as `2,45 m`, in the notation that people's lengths are read in.
    #[must_use]
    pub fn text(self, text: &str) -> String {
        if self == Self::Comma { text.replace(',', ".") } else { text.to_owned() }
    }

    /// What is wrong with the marks in a figure of a file; one such figure is never read as another number.
    #[must_use]
    pub fn misfit(self, input: Input, text: &str) -> Option<&'static str> {
        if !matches!(input, Input::Number | Input::Length | Input::Money | Input::LengthPrices) {
            return None;
        }
        match self {
            Self::Point if text.contains(',') => {
                Some("has a comma where this file's decimals have a point, or it stands between thousands")
            }
            Self::Comma if text.contains('.') => {
                Some("has a point where this file's decimals have a comma, or it stands between thousands")
            }
            _ => None,
        }
    }
}

/// Whether commas may stand between the thousands of a figure: three digits after each, one to three before the first.
fn may_be_grouped(figure: &str) -> bool {
    let mut groups = figure.trim().trim_start_matches(['-', '+']).split(',');
    let first = groups.next().unwrap_or_default();
    let rest: Vec<&str> = groups.collect();
    let digits = |s: &str| s.bytes().all(|byte| byte.is_ascii_digit());
    !rest.is_empty()
        && (1..=3).contains(&first.len())
        && digits(first)
        && first != "0"
        && rest.iter().all(|group| group.len() == 3 && digits(group))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_read_as_their_file_writes_them() {
        for (mark, text, plain) in [
            (Mark::Point, "12.5", Some("12.5")),
            (Mark::Point, "12,5", None),
            (Mark::Comma, "12,5", Some("12.5")),
            (Mark::Comma, "12.5", None),
            (Mark::Comma, "1,500", Some("1.500")),
            (Mark::Either, "0,034", Some("0.034")),
            (Mark::Either, "1,500", None),
            (Mark::Either, "1,5", Some("1.5")),
            (Mark::Point, "1E-05", Some("1e-05")),
            (Mark::Point, "−3", Some("-3")),
            (Mark::Point, ".5", Some("0.5")),
            (Mark::Point, "inf", None),
            (Mark::Point, "NaN", None),
            (Mark::Point, "0x10", None),
            (Mark::Point, "1.2.3", None),
            (Mark::Point, "e5", None),
            (Mark::Point, "", None),
        ] {
            assert_eq!(mark.plain(text).as_deref(), plain, "{mark:?} {text}");
        }
    }

    #[test]
    fn the_mark_is_found_out_and_never_guessed() {
        let of = |separator, figures: &[&str]| Mark::of(separator, figures.iter().copied());
        assert_eq!(of(Separator::Semicolon, &["17,40", "12"]), Mark::Comma);
        assert_eq!(of(Separator::Semicolon, &["1,500"]), Mark::Comma);
        assert_eq!(of(Separator::Semicolon, &["17.40"]), Mark::Point);
        assert_eq!(of(Separator::Comma, &["17,40"]), Mark::Comma);
        // 1500 or 1.5: each such figure is refused.
        assert_eq!(of(Separator::Comma, &["1,500"]), Mark::Point);
        assert_eq!(of(Separator::Comma, &["17,4", "0.5"]), Mark::Point);
        assert!(Mark::Point.misfit(Input::Length, "1,500").is_some());
        assert!(Mark::Comma.misfit(Input::Length, "1.500").is_some());
        assert!(Mark::Comma.misfit(Input::Words, "v1.5").is_none());
    }

    #[test]
    fn what_stands_between_cells_is_seen_in_the_first_line() {
        assert_eq!(Separator::of("part,price"), Separator::Comma);
        assert_eq!(Separator::of("part;price"), Separator::Semicolon);
        assert_eq!(Separator::of("part\tprice"), Separator::Tab);
        assert_eq!(Separator::of("part"), Separator::Comma);
    }
}
