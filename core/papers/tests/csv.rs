//! The CSV files: RFC 4180, units in the head, no formulas, nothing lost.

mod common;

fn read(bytes: &[u8]) -> Vec<Vec<String>> {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(bytes);
    reader.records().map(|row| row.expect("rows of equal length").iter().map(str::to_owned).collect()).collect()
}

fn file(sample: &common::Sample, name: &str) -> Vec<Vec<String>> {
    let files = papers::csv_files(&sample.input());
    let (_, bytes) = files.iter().find(|(known, _)| known == name).unwrap_or_else(|| panic!("{name}"));
    read(bytes)
}

fn cell<'a>(rows: &'a [Vec<String>], row: usize, column: &str) -> &'a str {
    let at = rows[0].iter().position(|name| name == column).unwrap_or_else(|| panic!("{column} in {:?}", rows[0]));
    &rows[row][at]
}

#[test]
fn there_is_a_file_per_schedule_and_each_has_a_head() {
    let files = papers::csv_files(&common::empty().input());
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    for name in ["cables", "reels", "drilling", "parts", "tests", "controls", "findings", "luminaires", "nodes"] {
        assert!(names.contains(&format!("{name}.csv").as_str()), "{name}");
    }
    for (name, bytes) in &files {
        // RFC 4180, section 2, rule 1: lines end with CR LF; an empty schedule is its head alone.
        assert!(bytes.ends_with(b"\r\n"), "{name}");
        assert_eq!(read(bytes).len(), 1, "{name}");
    }
}

#[test]
fn rows_hold_what_the_plan_holds() {
    let sample = common::full();
    let holes = file(&sample, "drilling.csv");
    assert_eq!(holes.len(), sample.plan.drilling.len() + 1);
    assert_eq!(cell(&holes, 1, "chainage_mm"), "150");
    assert_eq!(cell(&holes, 1, "girth_mm"), "18.97");
    assert_eq!(cell(&holes, 1, "spacing_mm"), "");
    assert_eq!(cell(&holes, 2, "spacing_mm"), "300");
    assert_eq!(cell(&holes, 1, "drilling_ready"), "yes");
    assert_eq!(cell(&holes, holes.len() - 1, "drilling_ready"), "no");

    let cables = file(&sample, "cables.csv");
    assert_eq!(cables.len(), sample.plan.cables.len() + 1);
    assert_eq!(cell(&cables, 1, "made_up_mm"), "3000");
    assert_eq!(cell(&cables, 2, "made_up_mm"), "");
    assert_eq!(cell(&cables, 1, "end_volts"), "11.85");

    let cuts: usize = sample.plan.reels.iter().map(|reel| reel.cuts.len()).sum();
    assert_eq!(file(&sample, "reels.csv").len(), cuts + 1);
    let lamps: usize = sample.plan.rails.iter().map(|rail| rail.luminaires.len()).sum();
    assert_eq!(file(&sample, "luminaires.csv").len(), lamps + 1);
    assert_eq!(file(&sample, "findings.csv").len(), sample.findings.len() + 1);
    assert_eq!(cell(&file(&sample, "findings.csv"), 1, "verdict"), "stop");
}

#[test]
fn no_words_of_people_start_a_formula_and_none_are_lost() {
    let sample = common::hostile(&["=1+1", "@SUM(1)", "+3", "-4 mm", "a,b\"c\r\nd", "\t=1"]);
    for (name, bytes) in papers::csv_files(&sample.input()) {
        for row in read(&bytes) {
            for value in row {
                let starts = value.starts_with(['=', '+', '@', '\t', '\r']);
                let is_figure = value.parse::<f64>().is_ok();
                assert!(!starts && (is_figure || !value.starts_with('-')), "{name}: {value:?}");
            }
        }
    }
    let cables = file(&sample, "cables.csv");
    let wanted = &sample.plan.cables[0].from;
    assert_eq!(cell(&cables, 1, "from").trim_start_matches('\''), wanted);
}
