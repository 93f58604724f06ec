//! The readers stop at stated bounds and tell them: depth, size, number of values and faults, foreign bytes and names.

mod common;

use common::{SURVEY, spoilt};

#[test]
fn depth_is_bounded() {
    let deep = format!("{{\"site\": {}{}}}", "[".repeat(100_000), "]".repeat(100_000));
    let faults = desk::read_survey(deep.as_bytes(), "s.json").expect_err("too deep");
    assert_eq!(faults.list.len(), 1);
    assert!(faults.list[0].matter.contains("too deep"), "{faults}");
    assert_eq!(faults.list[0].column, 74, "the 65th list within the table");
}

#[test]
fn size_is_bounded() {
    let large = vec![b' '; (64 << 20) + 1];
    let faults = desk::read_survey(&large, "s.json").expect_err("too large");
    assert_eq!(faults.lines(), ["s.json: $: the file has 67108865 bytes; accepted: at most 64 MiB"]);
}

#[test]
fn the_number_of_values_is_bounded() {
    let many = format!("{{\"rails\": [{}0]}}", "0,".repeat(2_000_000));
    let faults = desk::read_survey(many.as_bytes(), "s.json").expect_err("too many");
    assert!(faults.list[0].matter.contains("too many values"), "{faults}");
}

#[test]
fn the_number_of_items_is_bounded_and_told_in_one_line() {
    let rails = vec!["{}"; 1001].join(",");
    let faults = desk::read_survey(format!("{{\"rails\": [{rails}]}}").as_bytes(), "s.json").expect_err("too many");
    let of_rails: Vec<String> = faults.lines().into_iter().filter(|line| line.contains("$.rails")).collect();
    assert_eq!(of_rails, ["s.json:1:11: $.rails: [… 1001 …] has 1001 items; accepted: a list of 0 to 1000 items"]);
}

#[test]
fn more_faults_than_anybody_reads_are_counted() {
    let wrong = vec!["1"; 12_000].join(",");
    let text =
        spoilt(SURVEY, "\"zone\": \"z1\"", &format!("\"locks\": {{\"holes_mm\": [{}]}}", wrong.replace('1', "true")));
    let faults = desk::read_survey(text.as_bytes(), "s.json").expect_err("wrong");
    assert_eq!(faults.list.len(), desk::fault::MOST_LISTED + 1);
    assert_eq!(faults.lines().pop().as_deref(), Some("s.json: has 2000 more faults that are not listed"));
}

#[test]
fn what_is_no_utf_8_is_placed() {
    let faults = desk::read_survey(b"{\n  \"a\xff\": 1}", "s.json").expect_err("no text");
    assert_eq!(faults.lines(), ["s.json:2:5: $: is no text in UTF-8; accepted: UTF-8"]);
}

#[test]
fn a_name_from_outside_can_not_split_a_line() {
    let text = spoilt(SURVEY, "\"invented\": true", "\"invented\": true, \"a\\nb\\u001b[2J\": 1");
    let faults = desk::read_survey(text.as_bytes(), "evil\nname.json").expect_err("unknown field");
    assert_eq!(faults.lines().len(), 1);
    assert!(faults.lines()[0].chars().all(|c| !c.is_control()), "{faults}");
}

#[test]
fn a_survey_is_read_from_toml_as_from_json() {
    let value: serde_json::Value = serde_json::from_str(SURVEY).expect("the good survey is JSON");
    let text = toml::to_string(&value).expect("it fits TOML too");
    let read = |text: &str, name: &str| desk::read_survey(text.as_bytes(), name).unwrap_or_else(|f| panic!("{f}"));
    assert_eq!(read(&text, "s.toml"), read(SURVEY, "s.json"));
    // Without an ending the first character tells.
    assert_eq!(read(&text, "survey"), read(SURVEY, "survey"));
}
