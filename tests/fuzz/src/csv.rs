//! Lists of parts in CSV, taken into a small catalogue.

use std::sync::LazyLock;

use desk::parts::{self, CsvStyle, Sheet};
use desk::read_catalogue;
use desk::wire::{Mirror as _, catalogue::Catalogue};
use serde_json::Value;

use crate::read::Read;

const SMALL: &[u8] = include_bytes!("../../../core/desk/tests/files/catalogue.toml");
static FULL: LazyLock<Value> = LazyLock::new(|| full(SMALL));

fn full(bytes: &[u8]) -> Value {
    let read = read_catalogue(bytes, "catalogue.toml").unwrap_or_else(|faults| panic!("no catalogue: {faults}"));
    serde_json::to_value(Catalogue::from_plain(&read)).unwrap_or_else(|why| panic!("no JSON: {why}"))
}

/// A list of parts is refused, or taken so that what is exported afterwards comes in again as no change.
pub fn catalogue_csv(data: &[u8]) -> Read {
    let incoming = match parts::read(data, "parts.csv", &FULL) {
        Ok(incoming) => incoming,
        Err(faults) => {
            assert!(!faults.list.is_empty(), "refused without a reason");
            return Read::Refused;
        }
    };
    let taken = incoming.parts.len();
    let Ok((seen, edits)) = parts::preview(incoming, Some(&FULL), "parts.csv") else { return Read::Refused };
    assert!(seen.refused.iter().all(|refused| !refused.matter.is_empty()), "refused without a reason");
    assert_eq!(seen.added.len() + seen.changed.len(), edits.len());
    if edits.is_empty() {
        return if taken == 0 { Read::Refused } else { Read::Whole };
    }
    let Ok(text) = parts::edited(SMALL, &FULL, &edits) else { return Read::Refused };
    let then = full(text.as_bytes());
    for sheet in Sheet::PARTS {
        for style in [CsvStyle::Points, CsvStyle::Commas] {
            let csv = parts::csv_of(&then, sheet, style);
            let back = parts::read(&csv, "parts.csv", &then).unwrap_or_else(|faults| panic!("refused: {faults}"));
            let Ok((again, none)) = parts::preview(back, Some(&then), "parts.csv") else {
                panic!("it goes with itself")
            };
            assert!(none.is_empty() && again.refused.is_empty(), "{sheet:?} {style:?}: {again:?}");
        }
    }
    Read::Whole
}
