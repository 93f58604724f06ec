//! Power cuts and failing drives: every acknowledged change is there afterwards, whatever the drive lost.
//!
//! The drive is simulated by `faults`, which notes every write and sync under SQLite. Its model of what a drive may lose
//! is that of sqlite.org/atomiccommit.html: anything that was not synced, in any order, torn between sectors.

mod common;

use std::collections::BTreeMap;

use common::post::{SITE, device, one_post};
use common::{dice::Dice, edits, folder::Folder, things};
use faults::{Loss, Refusal, Watch};
use record::document::Thing;
use record::edit::Edit;
use record::store::{Site, Store, StoreError};
use rusqlite::Connection;

/// So many moments of power cuts are looked at, each with one way of losing what was not synced.
const CUTS: usize = 250;

fn open(folder: &Folder, dice: &mut Dice) -> Store {
    Store::open(&folder.0, device(1), dice.bytes()).expect("a store")
}

/// What was acknowledged: changes of documents, by their hashes, and settings.
#[derive(Default)]
struct Safe {
    changes: Vec<(String, Vec<[u8; 32]>)>,
}

impl Safe {
    fn add(&mut self, watch: &Watch, site: &Site) {
        let all = site.history().into_iter().map(|entry| entry.change.0).collect();
        self.changes.push((site.document().to_owned(), all));
        watch.mark(self.changes.len() as u64);
    }

    /// What must be there when the last mark was this one: the longest history of every document.
    fn until(&self, mark: Option<u64>) -> BTreeMap<&str, &Vec<[u8; 32]>> {
        let marked = usize::try_from(mark.unwrap_or(0)).expect("few");
        self.changes[..marked].iter().map(|(document, all)| (document.as_str(), all)).collect()
    }
}

/// Openings with edits, undo, imports, copies and closings.
fn work(folder: &Folder, watch: &Watch, dice: &mut Dice, file: &[u8]) -> Safe {
    let mut safe = Safe::default();
    for opening in 0..5 {
        let mut store = open(folder, dice);
        let mut site = store.site(SITE).expect("opened");
        for n in 0..25 {
            if dice.one_in(9) && opening > 0 {
                // There may be nothing of this device to take back, or somebody changed it since.
                let _ = site.undo(&mut store, n);
            } else {
                let edit = edits::edit(dice, site.content());
                site.edit(&mut store, &edit, n).expect("made");
            }
            safe.add(watch, &site);
        }
        match opening {
            1 => {
                store.import(file).expect("taken in");
                store.know(device(2).id()).expect("known");
                let site = store.site("from-afar").expect("opened");
                safe.add(watch, &site);
            }
            2 => {
                let id = survey::Id::new("copy").expect("an id");
                let copy = store.duplicate(SITE, id, "copied", 7).expect("copied");
                safe.add(watch, &copy);
            }
            3 => store.rebuild().expect("rebuilt"),
            _ => {}
        }
    }
    safe
}

/// A site of another device with a long history.
fn from_afar(dice: &mut Dice) -> Vec<u8> {
    let folder = Folder::new();
    let mut store = Store::open(&folder.0, device(2), dice.bytes()).expect("a store");
    let mut survey = one_post();
    survey.site.id = survey::Id::new("from-afar").expect("an id");
    survey.rails.push(things::rail(dice, "R9"));
    let mut site = store.create(&survey, 1).expect("created");
    for n in 0..20 {
        site.edit(&mut store, &Edit::set(Thing::site(), "note", &format!("note {n}")), n).expect("made");
    }
    store.export("from-afar").expect("file")
}

#[test]
fn every_acknowledged_change_survives_a_power_cut() {
    let (folder, mut dice) = (Folder::new(), Dice(0x0FF));
    let file = from_afar(&mut dice);
    open(&folder, &mut dice).create(&one_post(), 0).expect("created");
    let watch = Watch::over(&folder.0);
    let safe = work(&folder, &watch, &mut dice, &file);
    let journal = watch.end();
    assert!(journal.syncs(journal.moments() - 1) > 100, "the layer has seen the work");
    let mut acknowledged = 0;
    for n in 0..CUTS {
        let moment = dice.below(journal.moments());
        let loss = Loss::ALL[n % Loss::ALL.len()];
        let after = Folder::new();
        journal.cut(moment, loss, &mut || dice.next(), &after.0);
        let told = format!("power cut at moment {moment} of {}, {loss:?} lost", journal.moments());
        let mut store = Store::open(&after.0, device(1), dice.bytes()).unwrap_or_else(|why| panic!("{told}: {why}"));
        for (document, changes) in safe.until(journal.marked(moment)) {
            let site = store.site(document).unwrap_or_else(|why| panic!("{told}: {why}"));
            assert!(site.set_aside().is_empty(), "{told}: {:?}", site.set_aside());
            let there: Vec<[u8; 32]> = site.history().into_iter().map(|entry| entry.change.0).collect();
            for change in changes {
                assert!(there.contains(change), "{told}: an acknowledged change of {document} is gone");
            }
            acknowledged += changes.len();
        }
        let kept = store.dump().expect("dump");
        store.rebuild().expect("rebuilt");
        assert_eq!(store.dump().expect("dump"), kept, "{told}: the lists are those rebuilt");
        // And work goes on.
        let mut site = store.site(SITE).expect("opened");
        site.edit(&mut store, &Edit::set(Thing::site(), "note", &told), 1).expect("made");
    }
    assert!(acknowledged > 5_000, "only {acknowledged} acknowledged changes were looked for");
}

#[test]
fn the_layer_would_have_shown_a_loss() {
    // The same layer under a database that does not wait for the drive loses what it had called safe.
    let (folder, mut dice) = (Folder::new(), Dice(5));
    let path = folder.0.join("careless.sqlite");
    let make = "PRAGMA journal_mode = WAL; CREATE TABLE notes (n INTEGER)";
    Connection::open(&path).expect("opened").execute_batch(make).expect("made");
    let watch = Watch::over(&folder.0);
    let db = Connection::open(&path).expect("opened");
    db.execute_batch("PRAGMA synchronous = OFF").expect("set");
    for n in 1..=40_u64 {
        db.execute("INSERT INTO notes VALUES (?1)", [n as i64]).expect("written");
        watch.mark(n);
    }
    drop(db);
    let journal = watch.end();
    let mut lost = 0;
    for n in 0..60 {
        let (moment, after) = (dice.below(journal.moments()), Folder::new());
        journal.cut(moment, Loss::ALL[n % Loss::ALL.len()], &mut || dice.next(), &after.0);
        let found: Result<i64, _> = Connection::open(after.0.join("careless.sqlite"))
            .and_then(|db| db.query_row("SELECT count(*) FROM notes", [], |row| row.get(0)));
        let marked = i64::try_from(journal.marked(moment).unwrap_or(0)).expect("few");
        lost += usize::from(found.is_ok_and(|found| found < marked));
    }
    assert!(lost > 10, "{lost} of 60 power cuts lost what was called safe");
}

#[test]
fn a_drive_that_refuses_loses_nothing_and_is_named() {
    for how in [Refusal::Full, Refusal::Broken] {
        let (folder, mut dice) = (Folder::new(), Dice(0xF0));
        open(&folder, &mut dice).create(&one_post(), 0).expect("created");
        let watch = Watch::over(&folder.0);
        let mut store = open(&folder, &mut dice);
        let mut site = store.site(SITE).expect("opened");
        let (mut made, mut refused) = (Vec::new(), 0);
        for n in 0..60 {
            // Every second time the drive refuses, at an ever later write of the edit.
            if n % 2 == 1 {
                watch.refuse_after(n / 2 % 12, how);
            }
            let (note, before) = (format!("note {n}"), site.reading());
            let edited = site.edit(&mut store, &Edit::set(Thing::site(), "note", &note), 1);
            match edited {
                Ok(_) => made.push(note),
                Err(why) => {
                    refused += 1;
                    let said = why.to_string();
                    let expected = if how == Refusal::Full { "the disk is full" } else { "the drive failed" };
                    assert!(said.starts_with(expected) && said.contains("saved before is safe"), "{said}");
                    assert!(matches!(why, StoreError::Database(_)));
                    assert!(site.reading() == before, "what is not on the disk is not on the screen");
                }
            }
            watch.heal();
        }
        assert!(refused >= 10, "{how:?} refused {refused} edits");
        let kept = store.dump().expect("dump");
        drop((site, store));
        let mut store = open(&folder, &mut dice);
        let history: Vec<String> =
            store.site(SITE).expect("opened").history().into_iter().map(|entry| entry.sentence).collect();
        for note in &made {
            assert!(history.iter().any(|said| said.ends_with(&format!("“{note}”"))), "{note} is in the history");
        }
        assert_eq!(store.dump().expect("dump"), kept);
        store.rebuild().expect("rebuilt");
        assert_eq!(store.dump().expect("dump"), kept);
        drop(watch.end());
    }
}

#[test]
fn an_import_onto_a_full_drive_takes_in_nothing() {
    let (folder, mut dice) = (Folder::new(), Dice(0xF1));
    let file = from_afar(&mut dice);
    open(&folder, &mut dice).create(&one_post(), 0).expect("created");
    let watch = Watch::over(&folder.0);
    let mut store = open(&folder, &mut dice);
    let before = store.dump().expect("dump");
    let mut refused = 0;
    for n in 0..40 {
        watch.refuse_after(n, Refusal::Full);
        let taken_in = store.import(&file);
        let was_refused = watch.heal();
        match taken_in {
            Ok(_) => break,
            Err(why) => {
                assert!(was_refused && why.to_string().starts_with("the disk is full"), "{why}");
                refused += 1;
                let there = store.site("from-afar").is_ok();
                // Either nothing was taken in, or all of it and only the list is behind.
                assert!(there || store.dump().expect("dump") == before);
            }
        }
    }
    assert!(refused > 3, "{refused} imports were refused");
    assert_eq!(store.import(&file).expect("taken in").documents, ["from-afar"]);
    let kept = store.dump().expect("dump");
    store.rebuild().expect("rebuilt");
    assert_eq!(store.dump().expect("dump"), kept);
    drop(watch.end());
}
