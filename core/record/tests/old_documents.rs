//! Every shape of document that was ever written still opens: one file of each in `fixtures/documents`.

mod common;

use common::{dice::Dice, folder::Folder, things};
use record::document::{SCHEMA_VERSION, Stage};
use record::sign::Device;
use record::store::{PhotoRow, Store};
use sha2::{Digest, Sha256};
use survey::Measurement;
use units::Length;

fn fixture(name: &str) -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fixtures/documents").join(name)
}

/// The picture that travels with the third shape: bytes are bytes to the record.
const PICTURE: &[u8] = b"an invented picture, which no camera took";

/// Writes the file of the third shape; run once with `NEWEL_WRITE_DOCUMENT=1`, never again for this shape.
fn write_shape_3() {
    let folder = Folder::new();
    let device = Device::new("Invented Person", "invented tablet", [1; 32]);
    let mut store = Store::open(&folder.0, device, [31; 16]).expect("a store");
    let mut d = Dice(2028);
    let mut survey = things::survey(&mut d);
    survey.site.label = "invented site, shape 3".to_owned();
    survey.rails = vec![things::rail(&mut d, "R1")];
    let mut photo = things::photo(&mut d, "F1");
    photo.content = Some(Sha256::digest(PICTURE).iter().map(|byte| format!("{byte:02x}")).collect());
    survey.photos = vec![photo.clone()];
    store.create(&survey, 1_720_000_000_000).expect("created");
    let row = PhotoRow {
        file: photo.content.expect("stated"),
        name: "invented.jpg".to_owned(),
        kind: "JPEG".to_owned(),
        bytes: PICTURE.len() as i64,
        added_ms: 1_720_000_060_000,
        facts: r#"{"width_px": 640, "height_px": 400}"#.to_owned(),
    };
    let mut file = Vec::new();
    let mut open = |_: &PhotoRow| Ok(Box::new(PICTURE) as Box<dyn std::io::Read>);
    store.export_to(&mut file, "invented-site", &[row], &mut open).expect("file");
    std::fs::write(fixture("shape-3.newel-site"), file).expect("written");
}

/// A store that has taken in a file and accepted its device.
fn with(folder: &Folder, name: &str) -> Store {
    let mut store = Store::open(&folder.0, Device::new("Reader", "desk", [2; 32]), [2; 16]).expect("a store");
    let arrival = store.import(&std::fs::read(fixture(name)).expect("the document")).expect("taken in");
    for device in arrival.unknown {
        store.know(device.device).expect("known");
    }
    store
}

#[test]
fn the_first_shape_opens() {
    let folder = Folder::new();
    let mut store = with(&folder, "shape-1.newel-site");
    let site = store.site("invented-site").expect("opened");
    let reading = site.reading();
    assert_eq!((reading.newer, reading.unreadable), (None, vec![]));
    let survey = reading.survey.expect("readable");
    assert_eq!(survey.site.label, "invented site, shape 1");
    assert_eq!(survey.rails.len(), 1);
    assert_eq!(survey.rails[0].features[0].chainage, Measurement::taped(Length::mm(4325)));
    assert!(survey.brief.zones.iter().all(|zone| zone.id.as_str() != "Z9"));
    let history: Vec<String> = site.history().into_iter().map(|entry| entry.sentence).collect();
    assert_eq!(history[1..3], ["post P7 moved from 4,310 to 4,325 mm".to_owned(), "zone Z9 added".to_owned()]);
    assert_eq!(history.len(), 4);
}

#[test]
fn an_older_document_takes_this_shape_with_its_first_edit() {
    let folder = Folder::new();
    let mut store = with(&folder, "shape-1.newel-site");
    let mut site = store.site("invented-site").expect("opened");
    // Opening and reading change nothing.
    assert_eq!(site.content().schema_version, Some(1));
    assert_eq!((site.stage(), site.history().len()), (Stage::Survey, 4));
    let before = site.reading();
    site.put_stage(&mut store, Stage::Fit, 1_800_000_000_000).expect("put");
    assert_eq!(site.content().schema_version, Some(SCHEMA_VERSION));
    assert_eq!(site.history().len(), 5, "the new shape comes with the edit, in one change");
    assert_eq!(site.reading(), before);
    let (other, file) = (Folder::new(), store.export("invented-site").expect("file"));
    let mut other = Store::open(&other.0, Device::new("Third", "desk", [3; 32]), [3; 16]).expect("a store");
    for device in other.import(&file).expect("taken in").unknown {
        other.know(device.device).expect("known");
    }
    let site = other.site("invented-site").expect("opened");
    assert_eq!((site.content().schema_version, site.stage()), (Some(SCHEMA_VERSION), Stage::Fit));
    assert_eq!(site.reading(), before);
}

#[test]
fn the_second_shape_opens() {
    let folder = Folder::new();
    let mut store = with(&folder, "shape-2.newel-site");
    let mut site = store.site("invented-site").expect("opened");
    let reading = site.reading();
    assert_eq!((reading.newer, reading.unreadable), (None, vec![]));
    assert_eq!(reading.survey.expect("readable").site.label, "invented site, shape 2");
    assert_eq!((site.stage(), site.history().len()), (Stage::Scheme, 4));
    assert_eq!(site.content().schema_version, Some(2));
    // What another device did is not this one's to take back.
    assert!(site.undo(&mut store, 1).is_err());
    let folder = Folder::new();
    let mut store = with(&folder, "shape-2-team.newel-site");
    let team = store.team(1).expect("opened");
    assert_eq!(team.settings().get("currency").map(String::as_str), Some("EUR"));
    let catalogue = team.in_force().expect("in force");
    assert_eq!(store.catalogue(&catalogue).expect("read").as_deref(), Some(&b"invented catalogue"[..]));
    assert_eq!(team.members().len(), 1);
    assert!(team.history().last().expect("a history").sentence.ends_with("-0001 issued"));
}

#[test]
fn the_third_shape_opens_and_brings_its_photo() {
    if std::env::var_os("NEWEL_WRITE_DOCUMENT").is_some() {
        write_shape_3();
    }
    let folder = Folder::new();
    let mut store = Store::open(&folder.0, Device::new("Reader", "desk", [2; 32]), [2; 16]).expect("a store");
    let mut file = std::fs::File::open(fixture("shape-3.newel-site")).expect("the document");
    let mut pictures = Vec::new();
    let arrival = store
        .import_from(&mut file, &mut |row, bytes| {
            let mut picture = Vec::new();
            bytes.read_to_end(&mut picture).map_err(|why| why.to_string())?;
            pictures.push((row.name.clone(), picture));
            Ok(())
        })
        .expect("taken in");
    assert_eq!(pictures, [("invented.jpg".to_owned(), PICTURE.to_vec())]);
    for device in arrival.unknown {
        store.know(device.device).expect("known");
    }
    let site = store.site("invented-site").expect("opened");
    assert_eq!(site.content().schema_version, Some(3));
    let reading = site.reading();
    assert_eq!((reading.newer, reading.unreadable), (None, vec![]));
    let survey = reading.survey.expect("readable");
    assert_eq!(survey.site.label, "invented site, shape 3");
    let content = survey.photos[0].content.as_deref().expect("stated");
    assert_eq!(store.photo(content).expect("a look").map(|row| row.bytes), Some(PICTURE.len() as i64));
}

#[test]
fn a_database_of_schema_4_opens() {
    let folder = Folder::new();
    std::fs::copy(fixture("store-4.sqlite"), folder.0.join("newel.sqlite")).expect("copied");
    let device = Device::new("Invented Person", "invented tablet", [1; 32]);
    let mut store = Store::open(&folder.0, device, [22; 16]).expect("opened");
    assert_eq!(store.sites().expect("list")[0].label, "invented site, shape 2");
    assert_eq!(store.sites().expect("list")[0].stage, Stage::Scheme);
    let mut team = store.team(1).expect("opened");
    let number = team.next_number(&mut store, "Q", 2).expect("a number");
    assert!(number.ends_with("-0002"), "{number} follows the one that was issued");
}

#[test]
fn a_database_of_schema_1_is_brought_up_and_loses_nothing() {
    let old = fixture("store-1.sqlite");
    let folder = Folder::new();
    std::fs::copy(&old, folder.0.join("newel.sqlite")).expect("copied");
    let look = |store: &mut Store| {
        let site = store.site("invented-site").expect("opened");
        let survey = site.reading().survey.expect("readable");
        assert_eq!(survey.rails[0].features[0].chainage, Measurement::taped(Length::mm(4330)));
        assert_eq!(store.setting("theme").expect("read").as_deref(), Some("day"));
        assert_eq!(store.sites().expect("list")[0].label, "invented site, shape 1");
    };
    // Reading only does not touch the old file.
    let before = std::fs::read(&old).expect("bytes");
    let reader = || Device::new("Invented Person", "invented tablet", [1; 32]);
    look(&mut Store::open_read_only(&folder.0, reader()).expect("read"));
    assert!(std::fs::read(folder.0.join("newel.sqlite")).expect("bytes") == before, "the old file is as it was");
    let mut store = Store::open(&folder.0, reader(), [2; 16]).expect("brought up");
    look(&mut store);
    let kept = store.dump().expect("dump");
    store.rebuild().expect("rebuilt");
    assert_eq!(store.dump().expect("dump"), kept);
}
