//! Every shape of document that was ever written still opens: one file of each in `fixtures/documents`.

mod common;

use common::{dice::Dice, folder::Folder, things};
use record::document::Thing;
use record::edit::Edit;
use record::sign::Device;
use record::store::Store;
use survey::{FeatureKind, Measurement, Passage, PostKind};
use units::Length;

fn path() -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fixtures/documents/shape-1.newel-site")
}

/// Writes the file of the first shape; run once with `NEWEL_WRITE_DOCUMENT=1`, never again for this shape.
fn write_shape_1() {
    let folder = Folder::new();
    let device = Device::new("Invented Person", "invented tablet", [1; 32]);
    let mut store = Store::open(&folder.0, device, [1; 16]).expect("a store");
    let mut d = Dice(2026);
    let mut survey = things::survey(&mut d);
    survey.site.label = "invented site, shape 1".to_owned();
    let mut rail = things::rail(&mut d, "R1");
    let mut post = things::feature(&mut d, "f7");
    post.label = "P7".to_owned();
    post.chainage = Measurement::taped(Length::mm(4310));
    post.kind = FeatureKind::Post { width: Length::mm(48), kind: PostKind::Saddle, into_post: Passage::Unknown };
    rail.features = vec![post];
    survey.rails = vec![rail];
    let mut site = store.create(&survey, 1_700_000_000_000).expect("created");
    let to = Measurement::taped(Length::mm(4325));
    let edits = [
        Edit::Move { rail: "R1".into(), feature: "f7".into(), to },
        Edit::Add(Box::new(record::edit::NewThing::Zone(things::zone(&mut d, "Z9")))),
        Edit::Remove(Thing::new(record::document::Kind::Zone, "Z9")),
    ];
    for (n, edit) in (1..).zip(&edits) {
        site.edit(&mut store, edit, 1_700_000_000_000 + n * 60_000).expect("made");
    }
    std::fs::write(path(), store.export("invented-site").expect("file")).expect("written");
}

#[test]
fn the_first_shape_opens() {
    if std::env::var_os("NEWEL_WRITE_DOCUMENT").is_some() {
        write_shape_1();
    }
    let file = std::fs::read(path()).expect("the document of the first shape");
    let folder = Folder::new();
    let mut store = Store::open(&folder.0, Device::new("Reader", "desk", [2; 32]), [2; 16]).expect("a store");
    let arrival = store.import(&file).expect("taken in");
    assert_eq!(arrival.documents, ["invented-site"]);
    for device in arrival.unknown {
        store.know(device.device).expect("known");
    }
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
fn a_database_of_schema_1_is_brought_up_and_loses_nothing() {
    let old = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../fixtures/documents/store-1.sqlite");
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
