//! Plain values survive the way over the wire and back, whatever they hold.
//!
//! The documents are made at random from the derived schema, so this also holds the schema against the derives.

mod common;

use common::from_schema::{FromSchema, take_full_forms};
use desk::wire::{Mirror, catalogue, schemas, survey};
use proptest::prelude::*;
use serde::Serialize;
use serde::de::DeserializeOwned;

/// Plain to wire to JSON text to wire to plain.
fn there_and_back<W>(plain: &W::Plain) -> W::Plain
where
    W: Mirror + Serialize + DeserializeOwned,
{
    let text = desk::json_text(&W::from_plain(plain));
    serde_json::from_str::<W>(&text).unwrap_or_else(|error| panic!("{error} in {text}")).into_plain()
}

/// Faults between fields, which a document made at random can't help having.
const BETWEEN_FIELDS: [&str; 8] = [
    "is given twice",
    "refers to no",
    "is less than",
    "is no less than",
    "is the rail itself",
    ", not a ",
    "does not fit the light",
    "stands beside made-up lengths",
];

fn only_between_fields(faults: &desk::Faults) -> Result<(), TestCaseError> {
    for line in faults.lines() {
        prop_assert!(BETWEEN_FIELDS.iter().any(|matter| line.contains(matter)), "{line}");
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_survey_goes_there_and_back(seed in any::<u64>()) {
        let schema = schemas::survey();
        let document = FromSchema::new(&schema, seed).document();
        match desk::read_survey(document.to_string().as_bytes(), "made.json") {
            Ok(plain) => prop_assert_eq!(there_and_back::<survey::Survey>(&plain), plain),
            Err(faults) => only_between_fields(&faults)?,
        }
    }

    #[test]
    fn a_catalogue_goes_there_and_back(seed in any::<u64>()) {
        let schema = schemas::catalogue();
        let document = FromSchema::new(&schema, seed).document();
        match desk::read_catalogue(document.to_string().as_bytes(), "made.json") {
            Ok(plain) => prop_assert_eq!(there_and_back::<catalogue::Catalogue>(&plain), plain),
            Err(faults) => only_between_fields(&faults)?,
        }
    }

    /// Rails, places and briefs one by one have no references to dangle, so most of them are read.
    #[test]
    fn parts_of_a_survey_go_there_and_back(seed in any::<u64>()) {
        piece::<survey::Piece>(seed)?;
        piece::<survey::Feature>(seed)?;
        piece::<survey::Tube>(seed)?;
        piece::<survey::MainsPoint>(seed)?;
        piece::<survey::DriverPlace>(seed)?;
        piece::<survey::Route>(seed)?;
        piece::<survey::Photo>(seed)?;
        piece::<survey::RailBrief>(seed)?;
        piece::<survey::Zone>(seed)?;
        piece::<catalogue::Luminaire>(seed)?;
        piece::<catalogue::Driver>(seed)?;
        piece::<catalogue::Lead>(seed)?;
        piece::<catalogue::Control>(seed)?;
        piece::<catalogue::Fixing>(seed)?;
    }

    /// Whatever the bytes, reading ends with a value or with faults.
    #[test]
    fn any_bytes_are_read_or_refused(bytes in proptest::collection::vec(any::<u8>(), 0..200), name in "s(\\.json|\\.toml)?") {
        let refused = desk::read_survey(&bytes, &name).err().is_some_and(|faults| !faults.list.is_empty());
        prop_assert!(refused, "no 200 bytes are a survey");
    }

    /// A good file with one byte changed is read or refused, by one rule for JSON and TOML.
    #[test]
    fn a_file_with_a_changed_byte_is_read_or_refused(at in any::<prop::sample::Index>(), byte in any::<u8>()) {
        for (good, name) in [(common::SURVEY, "s.json"), (common::CATALOGUE, "c.toml")] {
            let mut bytes = good.as_bytes().to_vec();
            let at = at.index(bytes.len());
            bytes[at] = byte;
            let faults = if name == "s.json" {
                desk::read_survey(&bytes, name).err()
            } else {
                desk::read_catalogue(&bytes, name).err()
            };
            if let Some(faults) = faults {
                prop_assert!(!faults.list.is_empty());
                prop_assert!(faults.lines().iter().all(|line| !line.contains('\n')));
            }
        }
    }
}

/// One part in full form, made from its own schema.
fn piece<W>(seed: u64) -> Result<(), TestCaseError>
where
    W: Mirror + Serialize + DeserializeOwned + schemars::JsonSchema + PartialEq + std::fmt::Debug,
    W::Plain: PartialEq + std::fmt::Debug,
{
    let mut schema = schemas::schema_of::<W>();
    take_full_forms(&mut schema);
    let document = FromSchema::new(&schema, seed).document();
    let wire = serde_json::from_value::<W>(document.clone())
        .map_err(|error| TestCaseError::fail(format!("{error} in {document}")))?;
    let plain = wire.into_plain();
    prop_assert_eq!(there_and_back::<W>(&plain), plain);
    Ok(())
}
