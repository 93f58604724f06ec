//! Surveys that can't be read: each case changes one thing in a good survey and names every line that has to come.
//!
//! The wording is ours and has no outside source; that every case is refused, in full and by place, is the claim.

mod common;

use common::{SURVEY, spoilt};

/// What is changed, into what, and the lines that have to come, without the name of the file.
const CASES: &[(&str, &str, &[&str])] = &[
];

#[test]
fn the_good_survey_is_read() {
    let survey = desk::read_survey(SURVEY.as_bytes(), "s.json").unwrap_or_else(|faults| panic!("{faults}"));
    assert_eq!(survey.rails[0].length(), survey.rails[0].placed_pieces()[2].end);
}

#[test]
fn every_fault_is_one_line_with_place_value_and_what_is_accepted() {
    let mut differing = Vec::new();
    for (from, to, lines) in CASES {
        let text = spoilt(SURVEY, from, to);
        let got = match desk::read_survey(text.as_bytes(), "s.json") {
            Ok(_) => vec!["read without a fault".to_owned()],
            Err(faults) => faults.lines(),
        };
        let wanted: Vec<String> = lines.iter().map(|line| format!("s.json:{line}")).collect();
        if got != wanted {
            differing.push(format!("{from} -> {to}\n  got    {got:#?}\n  wanted {wanted:#?}"));
        }
    }
    assert!(differing.is_empty(), "{}", differing.join("\n"));
}
