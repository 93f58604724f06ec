//! Tables in plain text: columns lined up by what a terminal shows, not by bytes.

use unicode_width::{UnicodeWidthChar, UnicodeWidthStr};

use crate::table::{Column, Side, Table};

const GAP: &str = "  ";

/// Text that is safe in a terminal and keeps columns straight: control, direction and zero-width characters are
/// written by number, so that no label can move the cursor or hide a figure.
#[must_use]
pub fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '\n' | '\r' | '\t' | '\u{2028}' | '\u{2029}' => out.push(' '),
            letter if letter.is_control() || is_invisible(letter) => {
                out.push_str(&format!("[U+{:04X}]", u32::from(letter)));
            }
            letter => out.push(letter),
        }
    }
    out
}

/// Direction overrides and zero-width characters, which reorder or hide what a person reads.
#[must_use]
pub fn is_invisible(letter: char) -> bool {
    matches!(letter, '\u{200B}'..='\u{200F}' | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FEFF}' | '\u{FFF9}'..='\u{FFFB}')
}

/// Columns that text takes in a terminal.
#[must_use]
pub fn width(text: &str) -> usize {
    UnicodeWidthStr::width(text)
}

/// Wraps words to a width; a word longer than the width is broken, so nothing is cut off.
#[must_use]
pub fn wrapped(text: &str, widest: usize) -> Vec<String> {
    let widest = widest.max(2);
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        if !line.is_empty() && width(&line) + 1 + width(word) > widest {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        for letter in word.chars() {
            if width(&line) + letter.width().unwrap_or(0) > widest {
                lines.push(std::mem::take(&mut line));
            }
            line.push(letter);
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// Text filled up with spaces to a width on the side that faces away from `side`.
#[must_use]
pub fn filled(text: &str, to: usize, side: Side) -> String {
    let space = " ".repeat(to.saturating_sub(width(text)));
    match side {
        Side::Left => format!("{text}{space}"),
        Side::Right => format!("{space}{text}"),
    }
}

/// The table: titles, units, a line, rows. Cells that are too wide wrap inside their column.
#[must_use]
pub fn drawn(table: &Table) -> String {
    let cells: Vec<Vec<Vec<String>>> = table
        .rows
        .iter()
        .map(|row| table.columns.iter().zip(row).map(|(column, cell)| lines_of(column, &cell.plain())).collect())
        .collect();
    let widths: Vec<usize> = table
        .columns
        .iter()
        .enumerate()
        .map(|(place, column)| {
            let of_cells = cells.iter().flat_map(|row| &row[place]).map(|line| width(line)).max();
            of_cells.unwrap_or(0).max(longest_word(&column.title)).max(width(column.unit))
        })
        .collect();
    let titles: Vec<Vec<String>> =
        table.columns.iter().zip(&widths).map(|(column, width)| wrapped(&column.title, *width)).collect();

    let mut out = String::new();
    let height = titles.iter().map(Vec::len).max().unwrap_or(0);
    for line in 0..height {
        // Titles stand at the foot of the head, next to the unit and the figures.
        let parts =
            titles.iter().map(|title| (line + title.len()).checked_sub(height).map_or("", |at| title[at].as_str()));
        push_line(&mut out, &table.columns, &widths, parts);
    }
    if table.columns.iter().any(|column| !column.unit.is_empty()) {
        push_line(&mut out, &table.columns, &widths, table.columns.iter().map(|column| column.unit));
    }
    out.push_str(&widths.iter().map(|width| "-".repeat(*width)).collect::<Vec<_>>().join(GAP));
    out.push('\n');
    for row in &cells {
        let height = row.iter().map(Vec::len).max().unwrap_or(0);
        for line in 0..height {
            let parts = row.iter().map(|lines| lines.get(line).map_or("", String::as_str));
            push_line(&mut out, &table.columns, &widths, parts);
        }
    }
    out
}

fn lines_of(column: &Column, text: &str) -> Vec<String> {
    let text = plain(text);
    match column.side {
        Side::Left => wrapped(&text, column.widest),
        Side::Right => vec![text],
    }
}

fn longest_word(title: &str) -> usize {
    title.split(' ').map(width).max().unwrap_or(0)
}

fn push_line<'a>(out: &mut String, columns: &[Column], widths: &[usize], parts: impl Iterator<Item = &'a str>) {
    let cells: Vec<String> = columns
        .iter()
        .zip(widths)
        .zip(parts)
        .map(|((column, width), part)| filled(part, *width, column.side))
        .collect();
    out.push_str(cells.join(GAP).trim_end());
    out.push('\n');
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table() -> Table {
        let mut table = Table::new(vec![Column::words("Name", 12), Column::figures("Length", "mm")]);
        table.row(["Geländer".into(), "7".into()]);
        table.row(["plain".into(), "12 345".into()]);
        table.row(["中文".into(), "1".into()]);
        table
    }

    #[test]
    fn figures_end_in_one_column_whatever_the_letters_before_them() {
        let text = drawn(&table());
        let ends: Vec<usize> = text.lines().map(width).collect();
        assert!(ends.iter().all(|end| *end == ends[0]), "{text}");
    }

    #[test]
    fn long_words_are_broken_and_nothing_is_lost() {
        let long = "x".repeat(500);
        let lines = wrapped(&long, 20);
        assert!(lines.iter().all(|line| width(line) <= 20));
        assert_eq!(lines.concat(), long);
        assert_eq!(wrapped("", 5), [""]);
    }

    #[test]
    fn no_label_can_move_the_cursor() {
        assert_eq!(plain("a\u{1b}[2Jb"), "a[U+001B][2Jb");
        assert_eq!(plain("a\nb"), "a b");
        assert_eq!(plain("\u{202E}x"), "[U+202E]x");
    }

    #[test]
    fn an_empty_table_is_its_head() {
        let text = drawn(&Table::new(vec![Column::words("A", 5), Column::figures("B", "V")]));
        assert_eq!(text.lines().count(), 3);
    }
}
