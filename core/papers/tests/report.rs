//! The text report: lined up, whole, safe in a terminal, and every verdict with its reason.

mod common;

use unicode_width::UnicodeWidthStr;

#[test]
fn the_same_plan_is_the_same_report() {
    let sample = common::full();
    let text = papers::report(&sample.input());
    std::fs::write(format!("{}/report.txt", env!("CARGO_TARGET_TMPDIR")), &text).expect("target folder is writable");
    assert_eq!(text, papers::report(&sample.input()));
}

#[test]
fn a_made_up_site_says_so_at_the_top_and_cautions_stand_at_the_end() {
    let text = papers::report(&common::full().input());
    let head: Vec<&str> = text.lines().take(3).collect();
    assert!(head[2].contains("INVENTED SITE AND CATALOGUE"), "{head:?}");
    assert!(text.trim_end().ends_with("Newel screens, it does not certify."));
    let cautions = text.rfind("\nCAUTIONS\n").expect("a section of cautions");
    assert!(cautions > text.rfind("\nFINDINGS").expect("a section of findings"));
}

/// Whatever stands in the cells, every table's rows line up with its ruled head.
#[test]
fn figures_stand_in_columns_by_characters_not_bytes() {
    for sample in [common::full(), common::hostile(&common::HOSTILE)] {
        let text = papers::report(&sample.input());
        let lines: Vec<&str> = text.lines().collect();
        let mut tables = 0;
        for (at, line) in lines.iter().enumerate() {
            let is_rule = line.contains("-  -") && line.chars().all(|c| c == '-' || c == ' ');
            if !is_rule {
                continue;
            }
            tables += 1;
            let gaps: Vec<usize> = line.match_indices("-  -").map(|(place, _)| place + 1).collect();
            let rows = lines[at + 1..].iter().take_while(|row| !row.is_empty() && !row.starts_with("Least:"));
            for row in rows {
                let cells: Vec<char> = spread_wide(row);
                for gap in &gaps {
                    let between = cells.iter().skip(*gap).take(2);
                    assert!(between.into_iter().all(|c| *c == ' '), "gap at {gap} in {row:?} under {line:?}");
                }
            }
        }
        assert!(tables >= 8, "{tables}");
    }
}

/// A character that takes two columns is followed by a filler, so that places are columns.
fn spread_wide(row: &str) -> Vec<char> {
    let mut cells = Vec::new();
    for letter in row.chars() {
        cells.push(letter);
        cells.extend(std::iter::repeat_n(
            '\u{0}',
            UnicodeWidthStr::width(letter.to_string().as_str()).saturating_sub(1),
        ));
    }
    cells
}

#[test]
fn every_line_of_running_text_and_drawing_keeps_to_a_hundred_columns() {
    let text = papers::report(&common::full().input());
    for name in ["m       0", "light   ", "rail    ", "below   "] {
        let lines: Vec<&str> = text.lines().filter(|line| line.starts_with(name)).collect();
        assert_eq!(lines.len(), 4, "{name}");
        assert!(lines.iter().all(|line| line.chars().count() <= 100));
    }
    assert!(text.lines().all(|line| UnicodeWidthStr::width(line) <= 160), "{text}");
}

#[test]
fn a_verdict_comes_with_measured_limit_unit_source_and_what_to_do() {
    let text = papers::report(&common::full().input());
    let from = text.find("\nFINDINGS").expect("findings");
    let part = &text[from..];
    for word in [
        "STOP           Rail C (Bridge, north): The owner of the bridge parapet has not agreed in writing.",
        "To do: Ask the owner and wait for the letter before any hole.",
        "Measured 0.432, limit 0.4",
        "Measured 11.53 V, limit 11.4 V",
        "source: brief, drop allowed 5 %",
        "NOT EVALUATED  Rail D (Deck edge): joint J1 at 4,300 mm: Nobody has proved",
    ] {
        assert!(part.contains(word), "{word}\n{part}");
    }
    let order: Vec<usize> = ["STOP ", "NOT EVALUATED ", "CAUTION ", "PASS "]
        .iter()
        .map(|word| part.find(&format!("\n{word}")).unwrap_or_else(|| panic!("{word}")))
        .collect();
    assert!(order.is_sorted(), "{order:?}");
}

#[test]
fn a_rail_that_is_not_ready_shows_its_reasons_and_no_dimension() {
    let text = papers::report(&common::short().input());
    let from = text.find("\nRAIL D").expect("rail D");
    let part = &text[from..text[from..].find("\nDRIVERS").map_or(text.len(), |at| from + at)];
    assert!(part.contains("NOT READY TO DRILL"));
    assert!(part.contains("the bore is not proved at joint J1"));
    assert!(!part.contains("Holes, mm from the datum"));
}

#[test]
fn no_label_can_steer_a_terminal() {
    let text = papers::report(&common::hostile(&common::HOSTILE).input());
    assert!(text.chars().all(|c| c == '\n' || !c.is_control()));
    assert!(!text.contains('\u{202E}'));
    assert!(text.contains("[U+001B][2J[U+202E]abc[U+0000]"));
}

#[test]
fn an_empty_plan_says_that_there_is_nothing() {
    let text = papers::report(&common::empty().input());
    for words in ["The brief names no rail", "No driver is needed.", "There is no cable.", "that is not a pass"] {
        assert!(text.contains(words), "{words}");
    }
}

#[test]
fn a_rail_says_what_its_feeds_cost_and_where_a_shared_driver_is_counted() {
    let mut sample = common::full();
    sample.plan.rails[0].objective.cost = units::Money::ten_thousandths(1_234_500);
    let (first, second) = (sample.plan.rails[0].id.clone(), sample.plan.rails[1].id.clone());
    let driver = sample.plan.drivers[0].id.clone();
    sample.plan.drivers[0].rails = vec![first, second.clone()];
    let circuit = sample.plan.circuits.iter_mut().find(|circuit| circuit.rail == second).expect("the ramp is fed");
    circuit.driver.clone_from(&driver);
    // Words are wrapped to the page, so that they are looked for as one line.
    let text = papers::report(&sample.input()).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(text.contains("123.45 EUR; driver D1 is shared with Ramp; its cost stands here"), "{text}");
    assert!(
        text.contains("driver D1 is shared with Stair, lower flight; its cost stands with Stair, lower flight"),
        "{text}"
    );
}

#[test]
fn every_lock_is_listed_with_what_it_costs() {
    use plan::document::{Lock, LockEffect, LockPlan, SpacingEffect};
    let mut sample = common::full();
    let spacing = SpacingEffect {
        departure: units::Length::um(33_500),
        departure_without: units::Length::ZERO,
        luminaires: 14,
        luminaires_without: 13,
    };
    let hole = LockEffect { cost: Some(units::Money::ZERO), exact: true, weighed: true, spacing: Some(spacing) };
    let driver =
        LockEffect { cost: Some(units::Money::ten_thousandths(303_000)), exact: false, weighed: true, spacing: None };
    let impossible = LockEffect { cost: None, exact: false, weighed: true, spacing: None };
    let place = sample.survey.driver_places[0].id.clone();
    sample.plan.rails[0].locks = vec![
        LockPlan { lock: Lock::Hole { chainage: units::Length::mm(700) }, effect: hole },
        LockPlan { lock: Lock::Driver { place: place.clone(), part: None }, effect: driver },
        LockPlan { lock: Lock::Driver { place, part: Some("DR-100".to_owned()) }, effect: impossible },
    ];
    sample.plan.rails[0].locks_together = Some(impossible);
    let text = papers::report(&sample.input());
    let row = |start: &str| {
        let line = text.lines().find(|line| line.starts_with(start)).unwrap_or_else(|| panic!("{start}: {text}"));
        line.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    assert!(row("hole 700").ends_with("0.00 EUR 33.5 0 14 13"), "{}", row("hole 700"));
    assert!(row("a driver at").contains("30.30 EUR, not proved"), "{}", row("a driver at"));
    assert!(row("driver DR-100 at").contains("not fed within every"), "{}", row("driver DR-100"));
    assert!(row("all of them together").contains("not fed within every"));
}
