//! One CSV file per schedule: RFC 4180, UTF-8, a head row whose names carry the unit.
//!
//! A spreadsheet runs a text that begins with `=`, `+`, `-` or `@` (or a tab or carriage return before one) as a formula.
//! Words from a survey or a catalogue that begin so therefore get an apostrophe in front, which spreadsheets show as
//! plain text; figures that the program itself prints stay figures, also negative ones.

mod findings;
mod network;
mod schedules;

use crate::PaperInput;

/// Every schedule as a file name and its bytes, in a fixed order.
#[must_use]
pub fn csv_files(input: &PaperInput) -> Vec<(String, Vec<u8>)> {
    vec![
        file("luminaires.csv", network::luminaires(input)),
        file("drilling.csv", schedules::drilling(input)),
        file("drivers.csv", network::drivers(input)),
        file("circuits.csv", network::circuits(input)),
        file("nodes.csv", network::nodes(input)),
        file("cables.csv", schedules::cables(input)),
        file("reels.csv", schedules::reels(input)),
        file("controls.csv", schedules::controls(input)),
        file("parts.csv", schedules::parts(input)),
        file("tests.csv", schedules::tests(input)),
        file("findings.csv", findings::findings(input)),
    ]
}

fn file(name: &str, sheet: Sheet) -> (String, Vec<u8>) {
    (name.to_owned(), sheet.bytes())
}

/// Rows of one file under their head.
struct Sheet {
    head: &'static [&'static str],
    rows: Vec<Vec<String>>,
}

impl Sheet {
    fn new(head: &'static [&'static str]) -> Self {
        Self { head, rows: Vec::new() }
    }

    fn row<const N: usize>(&mut self, cells: [String; N]) {
        debug_assert_eq!(N, self.head.len(), "a row has a cell per name");
        self.rows.push(cells.into());
    }

    fn bytes(&self) -> Vec<u8> {
        let mut writer =
            csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).flexible(true).from_writer(Vec::new());
        // Writing into memory cannot fail; a fault would leave a file that is visibly short.
        let _ = writer.write_record(self.head);
        for row in &self.rows {
            let _ = writer.write_record(row);
        }
        writer.into_inner().unwrap_or_default()
    }
}

/// Words from outside: never a formula.
fn words(text: &str) -> String {
    let risky = text.trim_start_matches([' ', '\t', '\r', '\n']).starts_with(['=', '+', '-', '@'])
        || text.starts_with(['\t', '\r', '\n']);
    if risky { format!("'{text}") } else { text.to_owned() }
}

/// A figure in the shortest form that reads back the same; empty where there is none.
fn figure(value: f64) -> String {
    if value.is_finite() { (value + 0.0).to_string() } else { String::new() }
}

fn maybe(value: Option<f64>) -> String {
    value.map_or_else(String::new, figure)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_never_becomes_a_formula() {
        for risky in ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "  =1", "\r\n=1"] {
            assert_eq!(words(risky), format!("'{risky}"));
        }
        assert_eq!(words("a=1"), "a=1");
        assert_eq!(words(""), "");
    }

    #[test]
    fn a_negative_figure_stays_a_figure() {
        assert_eq!(figure(-12.5), "-12.5");
        assert_eq!(figure(-0.0), "0");
        assert_eq!(figure(f64::NAN), "");
    }

    #[test]
    fn quotes_commas_and_line_breaks_are_quoted() {
        // RFC 4180, section 2, rules 1, 6 and 7.
        let mut sheet = Sheet::new(&["a", "b"]);
        sheet.row(["x,\"y\"".to_owned(), "1\n2".to_owned()]);
        assert_eq!(sheet.bytes(), b"a,b\r\n\"x,\"\"y\"\"\",\"1\n2\"\r\n");
    }
}
