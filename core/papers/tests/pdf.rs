//! The PDF: well formed, the same every time, and no label is ever markup.

#![cfg(feature = "pdf")]

mod common;

use papers::PdfError;

/// Marks of a whole file (ISO 32000-1, 7.5: header, cross-reference start, end mark).
fn is_whole(bytes: &[u8]) -> bool {
    let tail = &bytes[bytes.len().saturating_sub(64)..];
    bytes.starts_with(b"%PDF-1.") && find(tail, b"startxref") && find(tail, b"%%EOF")
}

fn find(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}

fn kept(name: &str, bytes: &[u8]) {
    // Kept under the target folder so that a person can look at what was drawn.
    std::fs::write(format!("{}/{name}.pdf", env!("CARGO_TARGET_TMPDIR")), bytes).expect("target folder is writable");
}

#[test]
fn a_long_plan_is_drawn() {
    let bytes = papers::pdf(&common::full().input()).expect("drawn");
    kept("full", &bytes);
    assert!(is_whole(&bytes));
}

#[test]
fn the_same_plan_is_the_same_file() {
    let sample = common::short();
    let one = papers::pdf(&sample.input()).expect("drawn");
    kept("short", &one);
    assert_eq!(one, papers::pdf(&sample.input()).expect("drawn"));
}

#[test]
fn the_file_says_that_it_is_tagged_and_archival() {
    let bytes = papers::pdf(&common::empty().input()).expect("drawn");
    kept("empty", &bytes);
    // ISO 19005-2, 6.6.4 and ISO 14289-1, 5: identification in the file's metadata.
    assert!(find(&bytes, b"<pdfaid:part>2</pdfaid:part>"));
    assert!(find(&bytes, b"<pdfaid:conformance>A</pdfaid:conformance>"));
    assert!(find(&bytes, b"<pdfuaid:part>1</pdfuaid:part>"));
    assert!(find(&bytes, b"2030-03-04"));
}

#[test]
fn hostile_labels_are_only_shown() {
    let bytes = papers::pdf(&common::hostile(&common::HOSTILE).input()).expect("drawn");
    kept("hostile", &bytes);
    assert!(is_whole(&bytes));
}

#[test]
fn a_wrong_issue_date_is_named() {
    let sample = common::empty();
    let mut input = sample.input();
    input.issued = "4 March";
    assert_eq!(papers::pdf(&input), Err(PdfError::IssuedDate { value: "4 March".to_owned() }));
}
