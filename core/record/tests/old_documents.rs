//! Every shape of document that was ever written still opens: one file of each in `fixtures/documents`.

mod common;

use common::{dice::Dice, folder::Folder, things};
use record::document::{SCHEMA_VERSION, Stage};
use record::sign::Device;
use record::store::Store;
use survey::Measurement;
use units::Length;

fn fixture(name: &str) -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fixtures/documents").join(name)
}

/// Writes the files of the second shape; run once with `NEWEL_WRITE_DOCUMENT=1`, never again for this shape.
fn write_shape_2() {
    let folder = Folder::new();
    let device = Device::new("Invented Person", "invented tablet", [1; 32]);
    let mut store = Store::open(&folder.0, device, [21; 16]).expect("a store");
    let mut d = Dice(2027);
    let mut survey = things::survey(&mut d);
    survey.site.label = "invented site, shape 2".to_owned();
    survey.rails = vec![things::rail(&mut d, "R1")];
    let day = 1_710_000_000_000;
    let mut site = store.create(&survey, day).expect("created");
    site.put_stage(&mut store, Stage::Scheme, day + 60_000).expect("put");
    site.put_stage(&mut store, Stage::Price, day + 120_000).expect("put");
    site.undo(&mut store, day + 180_000).expect("taken back");
    std::fs::write(fixture("shape-2.newel-site"), store.export("invented-site").expect("file")).expect("written");
    let mut team = store.team(day).expect("begun");
    team.put_setting(&mut store, "currency", "EUR", day).expect("set");
    let hash = team.add_catalogue(&mut store, "spring", b"invented catalogue", day).expect("added");
    team.put_in_force(&mut store, &hash, day).expect("in force");
    team.next_number(&mut store, "Q", day).expect("a number");
    std::fs::write(fixture("shape-2-team.newel-site"), store.export("team").expect("file")).expect("written");
    drop((site, store));
    std::fs::copy(folder.0.join("newel.sqlite"), fixture("store-4.sqlite")).expect("copied");
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
    if std::env::var_os("NEWEL_WRITE_DOCUMENT").is_some() {
        write_shape_2();
    }
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
