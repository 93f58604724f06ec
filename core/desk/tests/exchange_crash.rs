//! Killed at any moment while two homes share: what was acknowledged arrives, nothing half is taken for whole, and the
//! folder holds no object that nobody names.
//!
//! The test starts itself as a child that edits, adds photos and runs rounds, and says each acknowledged thing on its
//! output; SIGKILL ends it.

mod common;

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::time::Duration;

use common::card::fill;
use common::home::clock;
use common::killed::{Chance, child, killed, say};
use common::team::{Device, Shared, settle, team};
use desk::exchange::Unfollowed;
use desk::photos::Unwatched;
use desk::sites::Sites;
use desk::wire::photos::PhotoState;
use photos::{Content, Library};
use serde_json::json;

const TEST: &str = "everything_acknowledged_arrives_however_often_a_round_is_killed";
const ROUNDS: u64 = 200;
/// After so many kills everybody shares in peace and everything is looked at.
const LOOK: u64 = 50;

/// What the child does: edits, a photo, and rounds, without end.
fn work_until_killed(home: &Path, round: u64) -> ! {
    let mut sites = Sites::open(home, clock).expect("a store");
    for n in 0_u64.. {
        let note = format!("round {round} edit {n}");
        let edit = json!({"kind": "set_site", "change": {"kind": "note", "value": note}});
        sites.edit("yard", edit.to_string().as_bytes(), "edit").expect("made");
        say(&format!("note {note}"));
        if n == 0 && round.is_multiple_of(4) {
            let card = fill(&home.join(format!("card-{round}")), 1, &round.to_string());
            sites.add_photos("yard", &card, None, &Unwatched).expect("added");
            say(&format!("photo {}", Content::of(&fs::read(&card[0]).expect("the photo"))));
        }
        sites.exchange(&mut Unfollowed).expect("a round");
        say(&format!("shared {n}"));
    }
    unreachable!("work has no end")
}

/// Everybody shares in peace; then the second has whatever the first acknowledged.
fn look(both: &mut [Device], folder: &Shared, acknowledged: &BTreeSet<String>) {
    settle(both);
    assert_eq!(both[0].dump(), both[1].dump());
    for device in both.iter_mut() {
        let history = device.sites.history("yard").expect("history");
        assert_eq!(history.set_aside, []);
        let said: BTreeSet<String> = history.changes.into_iter().map(|change| change.sentence).collect();
        let photos = device.sites.photos("yard").expect("photos").photos;
        let here = photos.into_iter().filter(|photo| photo.state == PhotoState::Here);
        let here: BTreeSet<String> = here.filter_map(|photo| photo.content_sha256).collect();
        for what in acknowledged {
            let is_there = match what.split_once(' ').expect("a kind and a name") {
                ("note", note) => said.iter().any(|said| said.ends_with(&format!("“{note}”"))),
                ("photo", content) => here.contains(content),
                _ => true,
            };
            assert!(is_there, "{what} was acknowledged and is gone");
        }
        let library = Library::at(&device.home.0);
        for content in library.contents().expect("originals") {
            library.read(content).expect("every original is what its name says");
        }
        let status = device.sites.exchange_status().expect("a status");
        assert_eq!((status.unshared_items, status.unshared_photo_files), (0, 0));
        assert_eq!(status.kept_aside, []);
    }
    no_orphan(both, folder);
}

/// Every object is one that a newest head names: a pack of a feed, or a block of a photo named in one.
fn no_orphan(both: &mut [Device], folder: &Shared) {
    let memory_of = |device: &Device| {
        let looker = record::sign::Device::new("Looker", "test", [9; 32]);
        let store = record::store::Store::open_read_only(&device.home.0, looker).expect("a store");
        let bytes = store.memory().expect("a look").expect("some");
        (exchange::memory::Memory::from_bytes(&bytes).expect("a memory"), store)
    };
    // Packs of before, and those of rounds that were cut off, are cleared away three in a round.
    for _ in 0..ROUNDS {
        if both.iter().all(|device| memory_of(device).0.to_clear() == 0) {
            break;
        }
        both.iter_mut().for_each(|device| drop(device.round()));
    }
    let (memory, store) = memory_of(&both[0]);
    let mut named: BTreeSet<String> = memory.packs().into_iter().map(|name| name.to_string()).collect();
    for (id, feed) in memory.lengths() {
        for item in store.feed(record::sign::DeviceId(id.0), 0, feed).expect("a feed") {
            if let record::store::FeedItem::Blob(blob) = item {
                named.extend(blob.blocks.into_iter().map(|name| exchange::seal::Name(name).to_string()));
            }
        }
    }
    let names = folder.files().into_iter().map(|(name, _)| name);
    let objects = names.filter(|name| name.starts_with("objects/") && !name.contains("unfinished"));
    let orphans: Vec<String> =
        objects.filter(|path| !named.contains(path.rsplit('/').next().unwrap_or_default())).collect();
    // A photo that was cut off in the middle has been sent by now, its first blocks included.
    assert!(orphans.is_empty(), "{orphans:?}");
}

#[test]
fn everything_acknowledged_arrives_however_often_a_round_is_killed() {
    if let Some((round, home)) = child() {
        work_until_killed(&home, round);
    }
    let folder = Shared::new();
    let mut both = team(&folder, &["Invented Anna", "Invented Ben"]);
    both[0].sites.add_file(common::SURVEY.as_bytes(), "s.json", None).expect("added");
    for device in &mut both {
        device.sites.keep_site(None, true).expect("kept");
    }
    settle(&mut both);
    let mut chance = Chance::new();
    let (mut acknowledged, mut shared) = (BTreeSet::new(), 0);
    for round in 1..=ROUNDS {
        // Now the one, now the other is killed; meanwhile its own store is closed here.
        let n = usize::from(chance.next().is_multiple_of(2));
        let device = both.remove(n);
        let home = device.home;
        drop(device.sites);
        // Every third kill may fall into opening the store; the others into a round after the edit.
        let waits = if round.is_multiple_of(3) { 0 } else { 1 + chance.next() % 3 };
        let moment = Duration::from_micros(chance.next() % 30_000);
        acknowledged.extend(killed(TEST, round, &home.0, waits, moment));
        shared += acknowledged.iter().filter(|what| what.starts_with("shared ")).count();
        acknowledged.retain(|what| !what.starts_with("shared "));
        both.insert(n, Device { sites: home.open(), home });
        if round.is_multiple_of(LOOK) {
            look(&mut both, &folder, &acknowledged);
        }
    }
    let photos = acknowledged.iter().filter(|what| what.starts_with("photo ")).count();
    assert!(acknowledged.len() as u64 > ROUNDS / 2, "only {} things were acknowledged", acknowledged.len());
    assert!(photos > 5 && shared > 20, "only {photos} photos and {shared} rounds were acknowledged");
    eprintln!("{} acknowledged, {photos} photos of them; {shared} rounds came to their end", acknowledged.len());
}
