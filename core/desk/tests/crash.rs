//! Killed at any moment during edits, imports of photos and files from another device: what was acknowledged is there,
//! no photo is half stored, and lists equal a rebuild.
//!
//! The test starts itself as a child that works and says each acknowledged thing on its output; SIGKILL ends it.

mod common;

use std::collections::BTreeSet;
use std::fs::{self, File};
use std::path::Path;
use std::time::Duration;

use common::card::{fill, photo};
use common::home::{Home, clock};
use common::killed::{Chance, child, killed, say};
use desk::photos::Unwatched;
use desk::sites::Sites;
use desk::wire::photos::PhotoState;
use photos::{Content, Library};
use record::sign::Device;
use record::store::Store;
use serde_json::json;

const TEST: &str = "everything_acknowledged_survives_being_killed_and_no_photo_is_half_stored";
const ROUNDS: u64 = 500;
/// After so many rounds everything is looked at; what was lost in between would still be lost then.
const LOOK: u64 = 50;
/// So many photos are added at once.
const CARD: usize = 3;

/// What the child does: edits, adds photos and takes in a file, without end.
fn work_until_killed(home: &Path, round: u64) -> ! {
    let mut sites = Sites::open(home, clock).expect("a store");
    for n in 0_u64.. {
        match n % 3 {
            0 => {
                let note = format!("round {round} edit {n}");
                let edit = json!({"kind": "set_site", "change": {"kind": "note", "value": note}});
                sites.edit("yard", edit.to_string().as_bytes(), "edit").expect("made");
                say(&format!("note {note}"));
            }
            1 => {
                let card = fill(&home.join(format!("card-{round}-{n}")), CARD, &format!("{round} {n}"));
                let done = sites.add_photos("yard", &card, None, &Unwatched).expect("added");
                assert_eq!(done.added as usize, CARD, "{done:?}");
                for path in card {
                    say(&format!("photo {}", Content::of(&fs::read(path).expect("the photo"))));
                }
            }
            _ => {
                let mut file = File::open(home.join("afar.newel-site")).expect("a file");
                let came = sites.receive(&mut file).expect("taken in");
                assert_eq!(came.photos, 1);
                say(&format!("photo {}", Content::of(&photo("joint.jpg", "afar"))));
            }
        }
    }
    unreachable!("work has no end")
}

/// Looks for everything that was acknowledged, and for anything half.
fn look(home: &Path, acknowledged: &BTreeSet<String>) {
    let mut sites = Sites::open(home, clock).expect("opened after the kill");
    let history = sites.history("yard").expect("history");
    assert_eq!(history.set_aside, []);
    let said: BTreeSet<String> = history.changes.into_iter().map(|change| change.sentence).collect();
    let mut here = BTreeSet::new();
    for site in ["yard", "afar"] {
        for photo in sites.photos(site).expect("photos").photos {
            let Some(content) = photo.content_sha256 else { continue };
            assert_eq!(photo.state, PhotoState::Here, "{site} names {content}, whose original is not there");
            here.insert(content);
        }
    }
    for what in acknowledged {
        let is_there = match what.split_once(' ').expect("a kind and a name") {
            ("note", note) => said.iter().any(|said| said.ends_with(&format!("“{note}”"))),
            (_, content) => here.contains(content),
        };
        assert!(is_there, "{what} was acknowledged and is gone");
    }
    let library = Library::at(home);
    for content in library.contents().expect("originals") {
        library.read(content).expect("every original is what its name says");
    }
    let unfinished: Vec<String> = ["originals", "thumbnails"]
        .iter()
        .flat_map(|shelf| fs::read_dir(home.join("photos").join(shelf)).expect("a folder"))
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .filter(|name| name.len() != 2)
        .collect();
    assert!(unfinished.is_empty(), "{unfinished:?}");
    drop(sites);
    let mut store = Store::open(home, Device::new("Looker", "test", [9; 32]), [9; 16]).expect("a store");
    for row in store.photos().expect("rows") {
        let content = Content::parse(&row.file).expect("a content");
        assert!(library.original(content).is_some(), "the index names {content}, which is not there");
    }
    let kept = store.dump().expect("dump");
    store.rebuild().expect("rebuilt");
    assert_eq!(store.dump().expect("dump"), kept, "the lists are those rebuilt");
}

#[test]
fn everything_acknowledged_survives_being_killed_and_no_photo_is_half_stored() {
    if let Some((round, home)) = child() {
        work_until_killed(&home, round);
    }
    let (home, afar) = (Home::of("Invented Anna"), Home::of("Invented Ben"));
    {
        let mut at_afar = afar.open();
        at_afar.add_file(common::SURVEY.as_bytes(), "s.json", Some("afar")).expect("added");
        fs::write(afar.0.join("joint.jpg"), photo("joint.jpg", "afar")).expect("written");
        at_afar.add_photos("afar", &[afar.0.join("joint.jpg")], None, &Unwatched).expect("added");
        at_afar.send_file("afar", &home.0.join("afar.newel-site")).expect("sent");
        let mut sites = home.open();
        sites.add_file(common::SURVEY.as_bytes(), "s.json", None).expect("added");
        let came = sites.receive(&mut File::open(home.0.join("afar.newel-site")).expect("a file")).expect("taken in");
        sites.know(&came.unknown_devices[0].id).expect("known");
    }
    let mut chance = Chance::new();
    let (mut acknowledged, mut midway) = (BTreeSet::new(), 0);
    for round in 1..=ROUNDS {
        // Every third round is killed at a moment that may fall into opening the store; the others during their work:
        // after the note the photos are on their way.
        let waits = if round.is_multiple_of(3) { 0 } else { 1 + chance.next() % 2 * CARD as u64 };
        let moment = Duration::from_micros(chance.next() % 15_000);
        acknowledged.extend(killed(TEST, round, &home.0, waits, moment));
        // Originals that no photo names yet show that a kill fell between the library and the document.
        midway += usize::from(Library::at(&home.0).contents().is_ok_and(|all| all.len() > acknowledged.len()));
        for n in [1, 4, 7] {
            // Cards of the rounds that are over are not needed any more.
            let _ = fs::remove_dir_all(home.0.join(format!("card-{round}-{n}")));
        }
        if round.is_multiple_of(LOOK) {
            look(&home.0, &acknowledged);
        }
    }
    let photos = acknowledged.iter().filter(|what| what.starts_with("photo ")).count() as u64;
    assert!(photos > ROUNDS / 4, "only {photos} photos were acknowledged");
    assert!(acknowledged.len() as u64 > photos + ROUNDS / 4, "only {} notes", acknowledged.len() as u64 - photos);
    eprintln!("{photos} photos acknowledged; {midway} kills fell while photos were on their way");
}
