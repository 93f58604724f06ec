//! The store: sentences, undo, history, signatures, one writer, files to send, lists that can be rebuilt.

mod common;

use common::post::{chainage, device, move_to, one_post, open};
use common::{by_chainage, dice::Dice, folder::Folder, things};
use record::document::Thing;
use record::edit::Edit;
use record::store::{Shelf, StoreError};
use survey::{FeatureKind, Measurement};
use units::Length;

#[test]
fn a_move_reads_as_a_surveyor_says_it_and_survives_reopening() {
    let folder = Folder::new();
    let survey = one_post();
    {
        let mut store = open(&folder, 1, 1);
        let mut site = store.create(&survey, 1_000).expect("created");
        let said = site.edit(&mut store, &move_to(4325), 2_000).expect("moved");
        assert_eq!(said, "post P7 moved from 4,310 to 4,325 mm");
    }
    let mut store = open(&folder, 1, 2);
    let site = store.site("invented-site").expect("opened");
    assert_eq!(chainage(&site.reading().survey), Length::mm(4325));
    let last = site.history().pop().expect("a history");
    assert_eq!((last.person.as_str(), last.time_ms), ("Invented Person 1", 2_000));
    assert_eq!(last.sentence, "post P7 moved from 4,310 to 4,325 mm");
    // The past: as it was with the first change, and at a time before the second.
    let first = site.history()[0].change;
    assert_eq!(site.at(first).expect("past").survey, Some(by_chainage(survey.clone())));
    assert_eq!(site.at_time(1_999).expect("past").survey, Some(by_chainage(survey)));
    assert_eq!(chainage(&site.at_time(2_000).expect("past").survey), Length::mm(4325));
}

#[test]
fn what_was_done_is_taken_back_and_made_again() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut site = store.create(&one_post(), 1).expect("created");
    let before = site.reading().survey;
    let rail = things::rail(&mut Dice(5), "R2");
    let kind = FeatureKind::Damage { width: Length::mm(30) };
    let edits = [
        move_to(4325),
        Edit::ChangeKind { rail: "R1".into(), feature: "f7".into(), to: kind },
        Edit::set(Thing::rail("R1"), "note", &"loose".to_owned()),
        Edit::set(Thing::rail("R1"), "overall", &Some(Measurement::taped(Length::mm(9000)))),
        Edit::Remove(Thing::feature("R1", "f7")),
        Edit::Add(Box::new(record::edit::NewThing::Rail(rail))),
        Edit::Reorder { thing: Thing::rail("R2"), after: None },
        move_to(4400),
    ];
    let mut states = vec![before];
    for edit in &edits {
        site.edit(&mut store, edit, 2).expect("made");
        states.push(site.reading().survey);
    }
    for n in (0..edits.len()).rev() {
        site.undo(&mut store, 3).expect("taken back");
        assert_eq!(site.reading().survey, states[n], "after taking back {:?}", edits[n]);
    }
    assert!(matches!(site.undo(&mut store, 3), Err(StoreError::Nothing(_))));
    for n in 0..edits.len() {
        site.redo(&mut store, 4).expect("made again");
        assert_eq!(site.reading().survey, states[n + 1], "after making again {:?}", edits[n]);
    }
    assert!(matches!(site.redo(&mut store, 4), Err(StoreError::Nothing(_))));
}

#[test]
fn a_value_that_somebody_changed_since_is_not_taken_back() {
    let (a, b) = (Folder::new(), Folder::new());
    let (mut store_a, mut store_b) = (open(&a, 1, 1), open(&b, 2, 1));
    store_a.create(&one_post(), 1).expect("created");
    let arrival = store_b.import(&store_a.export("invented-site").expect("file")).expect("taken in");
    assert_eq!(arrival.unknown.len(), 1);
    store_b.know(device(1).id()).expect("known");
    store_a
        .import(&{
            let mut site = store_b.site("invented-site").expect("opened");
            site.edit(&mut store_b, &move_to(4330), 5).expect("moved");
            store_b.export("invented-site").expect("file")
        })
        .expect("taken in");
    store_a.know(device(2).id()).expect("known");
    let mut site_a = store_a.site("invented-site").expect("opened");
    assert_eq!(chainage(&site_a.reading().survey), Length::mm(4330));
    site_a.edit(&mut store_a, &move_to(4340), 6).expect("moved");
    store_b.import(&store_a.export("invented-site").expect("file")).expect("taken in");
    let mut site_b = store_b.site("invented-site").expect("opened");
    let refused = site_b.undo(&mut store_b, 7).expect_err("no longer its own").to_string();
    assert_eq!(
        refused,
        "chainage of post P7 on rail stair was changed since by Invented Person 1; look at it before changing it back"
    );
    assert_eq!(chainage(&site_b.reading().survey), Length::mm(4340));
}

#[test]
fn two_values_for_one_field_are_both_heard_and_settled() {
    let (a, b) = (Folder::new(), Folder::new());
    let (mut store_a, mut store_b) = (open(&a, 1, 1), open(&b, 2, 1));
    let mut site_a = store_a.create(&one_post(), 1).expect("created");
    store_b.import(&store_a.export("invented-site").expect("file")).expect("taken in");
    store_b.know(device(1).id()).expect("known");
    let proved = survey::Passage::Proved { how: survey::Proof::Camera, widest: Length::mm(8) };
    site_a.edit(&mut store_a, &move_to(4320), 10).expect("moved");
    site_a.edit(&mut store_a, &Edit::set(Thing::feature("R1", "f7"), "bore", &proved), 11).expect("set");
    store_a
        .import(&{
            let mut site_b = store_b.site("invented-site").expect("opened");
            site_b.edit(&mut store_b, &move_to(4330), 20).expect("moved");
            site_b
                .edit(&mut store_b, &Edit::set(Thing::feature("R1", "f7"), "bore", &survey::Passage::Assumed), 21)
                .expect("set");
            store_b.export("invented-site").expect("file")
        })
        .expect("taken in");
    store_a.know(device(2).id()).expect("known");
    let mut site = site_a;
    site.catch_up(&store_a).expect("merged");
    let heard = site.disagreements();
    assert_eq!(heard.len(), 2);
    assert_eq!(store_a.sites().expect("list")[0].disagreements, 2);
    // A disputed passage counts as unknown, not as the winner says.
    let reading = site.reading().survey.expect("readable");
    assert_eq!(reading.rails[0].features[0].bore, survey::Passage::Unknown);
    let moved = heard.iter().find(|d| d.field == "chainage").expect("disputed");
    assert_eq!(moved.about, "chainage of post P7 on rail stair");
    let mut said: Vec<(&str, &str, i64)> =
        moved.positions.iter().map(|p| (p.said.as_str(), p.person.as_str(), p.time_ms)).collect();
    said.sort_unstable();
    assert_eq!(
        said,
        [("4,320 mm, tape, class II", "Invented Person 1", 10), ("4,330 mm, tape, class II", "Invented Person 2", 20)]
    );
    let value = moved.positions.iter().find(|p| p.person.ends_with('2')).expect("theirs").value.clone();
    site.settle(&mut store_a, moved, &value, 30).expect("settled");
    assert_eq!(site.disagreements().len(), 1);
    assert_eq!(chainage(&site.reading().survey), Length::mm(4330));
    store_b.import(&store_a.export("invented-site").expect("file")).expect("taken in");
    let site_b = store_b.site("invented-site").expect("opened");
    assert_eq!(site_b.content().things.keys().collect::<Vec<_>>(), site.content().things.keys().collect::<Vec<_>>());
    assert_eq!(site_b.reading(), site.reading());
}

#[test]
fn an_unknown_signer_is_set_aside_and_named_until_somebody_vouches_for_it() {
    let (a, b) = (Folder::new(), Folder::new());
    let (mut store_a, mut store_b) = (open(&a, 1, 1), open(&b, 2, 1));
    store_a.create(&one_post(), 1).expect("created");
    let file = store_a.export("invented-site").expect("file");
    let arrival = store_b.import(&file).expect("taken in");
    assert_eq!((arrival.fresh, arrival.unknown.len()), (1, 1));
    let site = store_b.site("invented-site").expect("opened");
    assert_eq!(site.reading().survey, None);
    assert_eq!(site.set_aside().len(), 1);
    assert_eq!(site.set_aside()[0].person, "Invented Person 1");
    assert_eq!(site.set_aside()[0].why, "its device is not known here");
    store_b.know(device(1).id()).expect("known");
    let site = store_b.site("invented-site").expect("opened");
    assert_eq!(site.reading().survey, Some(by_chainage(one_post())));
    assert!(site.set_aside().is_empty());
    // Any byte altered on the way is noticed and nothing is taken in. The last 32 bytes are a seal over the whole file, for
    // readers of the first release; the history has its own before them.
    for at in [0, 30, file.len() / 2, file.len() - 33] {
        let mut altered = file.clone();
        altered[at] ^= 1;
        assert!(matches!(store_b.import(&altered), Err(StoreError::Parcel(_))), "byte {at}");
    }
    assert!(matches!(store_b.import(&file[..file.len() - 37]), Err(StoreError::Parcel(_))));
}

#[test]
fn lists_and_search_kept_up_are_those_rebuilt() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut d = Dice(99);
    let mut site = store.create(&one_post(), 1).expect("created");
    for n in 0..120 {
        let edit = common::edits::edit(&mut d, site.content());
        site.edit(&mut store, &edit, n).expect("made");
    }
    let copy = survey::Id::new("copy").expect("an id");
    let mut copied = store.duplicate("invented-site", copy, "copied site", 500).expect("copied");
    copied.archive(&mut store, Shelf::Archive, 501).expect("archived");
    copied
        .edit(&mut store, &Edit::set(Thing::site(), "note", &"key at the porter's lodge".to_owned()), 502)
        .expect("set");
    for document in ["invented-site", "copy"] {
        let site = store.site(document).expect("opened");
        let survey = site.reading().survey.expect("readable");
        let mut findings = survey::consistency::findings(&survey);
        findings.extend(site.concerns());
        let row = store.sites().expect("list").into_iter().find(|row| row.document == document).expect("listed");
        let number = |n: usize| i64::try_from(n).expect("few");
        assert_eq!(row.rails, number(survey.rails.len()));
        assert_eq!(row.features, number(survey.rails.iter().map(|rail| rail.features.len()).sum()));
        assert_eq!(row.photos, number(survey.photos.len()));
        assert_eq!(row.stops, number(findings.iter().filter(|f| f.verdict == survey::Verdict::Stop).count()));
        assert_eq!(row.findings, number(findings.iter().filter(|f| f.verdict != survey::Verdict::Pass).count()));
        assert_eq!((row.label, row.address), (survey.site.label, survey.site.address));
    }
    let kept = store.dump().expect("dump");
    // The index agrees with the table that it indexes: sqlite.org/fts5.html#the_integrity_check_command.
    let index = rusqlite::Connection::open(folder.0.join("newel.sqlite")).expect("opened");
    let check = "INSERT INTO search (search, rank) VALUES ('integrity-check', 1)";
    index.execute(check, []).expect("the index as kept up is whole");
    store.rebuild().expect("rebuilt");
    assert_eq!(store.dump().expect("dump"), kept);
    index.execute(check, []).expect("the index as rebuilt is whole");
    assert!(store.sites().expect("list").iter().any(|row| row.document == "copy" && row.archived));
    let hits = store.search("porter lod", 10).expect("search");
    assert_eq!(hits.len(), 1);
    assert_eq!((hits[0].document.as_str(), hits[0].field.as_str()), ("copy", "note"));
    assert!(store.search("\" OR *", 10).is_ok());
}

#[test]
fn the_site_is_seen_as_it_was_at_any_moment_with_changes_of_both_devices() {
    let (a, b) = (Folder::new(), Folder::new());
    let (mut store_a, mut store_b) = (open(&a, 1, 1), open(&b, 2, 1));
    let mut site_a = store_a.create(&one_post(), 0).expect("created");
    store_b.import(&store_a.export("invented-site").expect("file")).expect("taken in");
    store_b.know(device(1).id()).expect("known");
    let mut site_b = store_b.site("invented-site").expect("opened");
    // One device writes at even minutes, the other at odd ones, neither knowing of the other.
    let minute = 60_000;
    for n in 1..=6_i64 {
        let (site, store, field) =
            if n % 2 == 0 { (&mut site_a, &mut store_a, "note") } else { (&mut site_b, &mut store_b, "address") };
        site.edit(store, &Edit::set(Thing::site(), field, &format!("minute {n}")), n * minute).expect("made");
    }
    store_a.import(&store_b.export("invented-site").expect("file")).expect("taken in");
    store_a.know(device(2).id()).expect("known");
    let site = store_a.site("invented-site").expect("opened");
    let first = one_post().site;
    for n in 0..=6_i64 {
        let seen = site.at_time(n * minute).expect("past").survey.expect("readable").site;
        let last = |odd: i64| (1..=n).rev().find(|m| m % 2 == odd).map(|m| format!("minute {m}"));
        assert_eq!(seen.note, last(0).unwrap_or_else(|| first.note.clone()), "note at minute {n}");
        assert_eq!(seen.address, last(1).unwrap_or_else(|| first.address.clone()), "address at minute {n}");
    }
    assert_eq!(site.at_time(-1).expect("before it was written").survey, None);
    // Every line of the history can be looked at.
    for entry in site.history() {
        assert!(site.at(entry.change).expect("past").survey.is_some());
    }
}
