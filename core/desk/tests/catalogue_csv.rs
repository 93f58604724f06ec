//! Parts as CSV: what is exported comes in again as no change at all, whatever is in it and however a spreadsheet writes it,
//! and what cannot be taken is named by row and column.
//!
//! The form is RFC 4180; that spreadsheets of many countries write semicolons and decimal commas is common knowledge of the
//! trade, no source.

use desk::parts::{CsvStyle, Preview, Refused, Separator, Sheet, csv_of, preview, read, template_of};
use desk::read_catalogue;
use proptest::prelude::*;
use serde_json::{Value, json};

const DEMO: &[u8] = include_bytes!("../../../fixtures/demo/catalogue.toml");

fn full(bytes: &[u8]) -> Value {
    use desk::wire::Mirror as _;
    let read = read_catalogue(bytes, "catalogue").expect("it reads");
    serde_json::to_value(desk::wire::catalogue::Catalogue::from_plain(&read)).expect("JSON")
}

fn seen(csv: &[u8], full: &Value) -> Preview {
    let incoming = read(csv, "parts.csv", full).expect("a list of parts");
    preview(incoming, Some(full), "parts.csv").expect("it goes with the catalogue").0
}

fn text(bytes: Vec<u8>) -> String {
    String::from_utf8(bytes).expect("text")
}

#[test]
fn every_list_of_the_demo_comes_in_again_as_no_change() {
    let full = full(DEMO);
    for sheet in Sheet::PARTS {
        for style in [CsvStyle::Points, CsvStyle::Commas] {
            let found = seen(&csv_of(&full, sheet, style), &full);
            assert_eq!((found.added, found.changed, found.refused), (vec![], vec![], vec![]), "{sheet:?} {style:?}");
            assert_eq!(found.unchanged as usize, full[sheet.name()].as_array().expect("a list").len());
        }
    }
}

/// Texts that spreadsheets and separators are known to spoil.
fn words() -> impl Strategy<Value = String> {
    let awkward = prop::sample::select(vec![
        "00123",
        "1E5",
        "1,5",
        "1.500",
        "=1+1",
        "+44",
        "-5",
        "@x",
        "'quoted",
        "a;b",
        "a,b",
        "\"q\"",
        "two\nlines",
        "tab\tin",
        " lead",
        "trail ",
        "<b>bold</b>",
        "TRUE",
        "2026-01-02",
        "é µ Ω",
        "",
        "'=x",
        "\r\n",
        "ends;",
    ]);
    prop_oneof![awkward.prop_map(str::to_owned), "[ -~é€;,'\"\n]{0,20}"]
}

fn figure(greatest: i64) -> impl Strategy<Value = f64> {
    (1..greatest * 1000).prop_map(|thousandths| thousandths as f64 / 1000.0)
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(64) })]
    #[test]
    fn any_texts_and_figures_survive_the_way_out_and_back(
        description in words(), supplier in words(), part in "[!-~]{1,12}", volts in figure(900), price in 0_i64..10_000_000,
        hole in figure(30), style in prop::sample::select(vec![CsvStyle::Points, CsvStyle::Commas]),
    ) {
        let mut full = full(DEMO);
        let lamp = &mut full["luminaires"][0];
        lamp["description"] = json!(description);
        lamp["supplier_ref"] = json!(supplier);
        lamp["part"] = json!(format!("={part}"));
        lamp["least_v"] = json!(volts);
        lamp["nominal_v"] = json!(volts);
        lamp["greatest_v"] = json!(volts);
        lamp["price"] = json!(price as f64 / 1e4);
        lamp["shape"]["hole_mm"] = json!(hole);
        lamp["shape"]["hole_tolerance_mm"] = json!(0);
        let full = self::full(full.to_string().as_bytes());
        let found = seen(&csv_of(&full, Sheet::Luminaires, style), &full);
        prop_assert_eq!((found.added, found.changed, found.refused), (vec![], vec![], vec![]));
    }
}

fn refused(csv: &str) -> Vec<String> {
    seen(csv.as_bytes(), &full(DEMO)).refused.iter().map(Refused::sentence).collect()
}

#[test]
fn a_list_of_references_and_prices_changes_prices_alone() {
    let full = full(DEMO);
    let found = seen("part;price\r\nPT-18-W30;18,2\r\nDR-12-20;38\r\n".as_bytes(), &full);
    assert_eq!((found.added.len(), found.unchanged, found.refused.len()), (0, 1, 0));
    let [change] = found.changed.as_slice() else { panic!("{:?}", found.changed) };
    assert_eq!((change.part.as_str(), change.sheet), ("PT-18-W30", Sheet::Luminaires));
    let [field] = change.fields.as_slice() else { panic!("{:?}", change.fields) };
    assert_eq!((field.field.as_str(), field.before.as_str(), field.after.as_str()), ("price", "17.40", "18.20"));
    let all: usize = Sheet::PARTS.iter().map(|sheet| full[sheet.name()].as_array().expect("a list").len()).sum();
    assert_eq!(found.not_named as usize, all - 2);
}

#[test]
fn what_is_refused_is_named_by_row_and_column_and_the_rest_is_taken() {
    assert_eq!(
        refused("part,price,nominal_v\nPT-18-W30,cheap,12\nPT-22-W50,20,12000\n"),
        [
            "line 2, column 2, PT-18-W30, price: cheap is no amount of money; accepted: an amount from 0 to 1000000000 with \
             at most four decimals, such as 12.50",
            "line 3, column 3, PT-22-W50, nominal_v: 12000 is outside its limits; accepted: a number above 0, up to 1000 V",
        ]
    );
    // Whatever ends the lines, and with lines within cells, empty lines and a notice above the first row.
    let below = refused("sep=;\r\npart;description;price\r\nPT-18-W30;\"two\r\nlines\";1\r\n\r\nPT-22-W50;x;dear\r\n");
    assert!(below.len() == 1 && below[0].starts_with("line 6, column 3, PT-22-W50, price: dear"), "{below:?}");
    let twice = refused("part,price\nPT-18-W30,1\nPT-18-W30,2\n");
    assert_eq!(twice.len(), 1);
    assert!(
        twice[0].starts_with("line 3, column 1, PT-18-W30, part: PT-18-W30 is given twice, first in line 2"),
        "{twice:?}"
    );
    // A part that is named twice is named once.
    let full_demo = full(DEMO);
    let all: usize = Sheet::PARTS.iter().map(|sheet| full_demo[sheet.name()].as_array().expect("a list").len()).sum();
    let twice = seen(b"part,price\nPT-18-W30,1\nPT-18-W30,2\n", &full_demo);
    assert_eq!((twice.changed.len(), twice.not_named as usize), (1, all - 1));
    let new = refused("part,price\nPT-NEW,1\n");
    assert_eq!(new.len(), 1);
    assert!(new[0].starts_with("line 2, column 1, PT-NEW, part: PT-NEW is no part of this catalogue"), "{new:?}");
    let lacking = refused("part,price,flux_lm\nPT-NEW,1,20\n");
    assert_eq!(lacking.len(), 1);
    assert!(lacking[0].contains("the file has no column for what a new part needs"), "{lacking:?}");
}

#[test]
fn a_figure_that_could_be_two_numbers_is_never_guessed() {
    let two = refused("part,price\nPT-18-W30,\"1,500\"\n");
    assert_eq!(two.len(), 1);
    assert!(two[0].contains("has a comma where this file's decimals have a point"), "{two:?}");
    let mixed = refused("part;shape.hole_mm;price\nPT-18-W30;1.500;17,40\n");
    assert_eq!(mixed.len(), 1);
    assert!(mixed[0].contains("has a point where this file's decimals have a comma"), "{mixed:?}");
}

#[test]
fn a_file_that_is_no_list_of_parts_is_refused_whole() {
    let whole = |csv: &[u8]| read(csv, "parts.csv", &full(DEMO)).expect_err("refused").lines().join("\n");
    assert!(whole(b"part,voltage\nx,1\n").contains("1:2: \"voltage\" is no field of"), "{}", whole(b"part,voltage\n"));
    assert!(whole(b"price\n1\n").contains("without part"));
    assert!(whole(b"part,part\na,b\n").contains("is given twice"));
    assert!(whole(b"").contains("has no first row"));
    assert!(whole(b"part,price\nM\xf6,1\n").contains("no text in UTF-8"));
    assert!(whole(&vec![b'x'; (8 << 20) + 1]).contains("at most 8 MiB"));
    let many = "part,price\n".to_owned() + &"PT-18-W30,1\n".repeat(10_001);
    assert!(whole(many.as_bytes()).contains("10001 rows"));
}

#[test]
fn a_template_names_every_column_and_brings_nothing() {
    let full = full(DEMO);
    for sheet in Sheet::PARTS {
        let template = template_of(sheet, CsvStyle::Commas);
        let header = text(template.clone());
        assert!(header.starts_with("\u{feff}part;description;price;pack;supplier_ref;"), "{header}");
        assert_eq!(Separator::of(&header), Separator::Semicolon);
        assert_eq!(seen(&template, &full).added, []);
    }
}
