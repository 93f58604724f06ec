//! Killed at any moment during edits and imports: every acknowledged change is there, and lists equal a rebuild.
//!
//! The test starts itself as a child that edits, imports and says each acknowledged change on its output; SIGKILL ends it.

mod common;

use std::collections::BTreeSet;
use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use common::post::{SITE, device, one_post};
use common::{dice::Dice, folder::Folder};
use record::document::Thing;
use record::edit::Edit;
use record::store::Store;

const CHILD: &str = "NEWEL_CRASH_CHILD";
const ROUNDS: u64 = 500;
/// After so many rounds everything is looked at; what was lost in between would still be lost then.
const LOOK: u64 = 50;
/// Another site as it grows on another device, one file for each state.
const FILES: u64 = 12;
const AFAR: &str = "from-afar";

fn open(folder: &Path, opening: u64) -> Store {
    Store::open(folder, device(3), Dice(opening ^ 0xC0FFEE).bytes()).expect("a store")
}

fn file(folder: &Path, n: u64) -> std::path::PathBuf {
    folder.join(format!("{n}.newel-site"))
}

/// What the child does: edits and imports without end.
fn work_until_killed(folder: &Path, round: u64) -> ! {
    let mut store = open(folder, round);
    let mut site = store.site(SITE).expect("opened");
    for n in 0_u64.. {
        let said = if n % 4 == 3 {
            let state = (round + n) % FILES;
            store.import(&std::fs::read(file(folder, state)).expect("a file")).expect("taken in");
            format!("import {state}")
        } else {
            let note = format!("round {round} edit {n}");
            site.edit(&mut store, &Edit::set(Thing::site(), "note", &note), 1).expect("made");
            note
        };
        let mut out = std::io::stdout().lock();
        writeln!(out, "acknowledged {said}").and_then(|()| out.flush()).expect("said");
    }
    unreachable!("work has no end")
}

/// Writes the files to import.
fn grow_from_afar(folder: &Path) {
    let own = Folder::new();
    let mut store = Store::open(&own.0, device(4), [4; 16]).expect("a store");
    let mut survey = one_post();
    survey.site.id = survey::Id::new(AFAR).expect("an id");
    let mut site = store.create(&survey, 0).expect("created");
    for n in 0..FILES {
        site.edit(&mut store, &Edit::set(Thing::site(), "note", &format!("state {n}")), 1).expect("made");
        std::fs::write(file(folder, n), store.export(AFAR).expect("file")).expect("written");
    }
}

/// Looks for everything that was acknowledged.
fn look(folder: &Path, opening: u64, acknowledged: &BTreeSet<String>) {
    let mut store = open(folder, opening);
    let mut there = BTreeSet::new();
    for document in store.sites().expect("list").into_iter().map(|row| row.document) {
        let site = store.site(&document).expect("opened after the kill");
        assert_eq!(site.set_aside(), []);
        for entry in site.history() {
            let note = entry.sentence.rsplit_once('“').map(|(_, note)| note.trim_end_matches('”').to_owned());
            there.extend(note);
        }
    }
    for said in acknowledged {
        let note = said.strip_prefix("import ").map_or_else(|| said.clone(), |n| format!("state {n}"));
        assert!(there.contains(&note), "{said} was acknowledged and is gone");
    }
    let kept = store.dump().expect("dump");
    store.rebuild().expect("rebuilt");
    assert_eq!(store.dump().expect("dump"), kept, "the lists are those rebuilt");
}

#[test]
fn every_acknowledged_change_survives_being_killed() {
    if let Ok(child) = std::env::var(CHILD) {
        let (round, folder) = child.split_once(' ').expect("round and folder");
        work_until_killed(Path::new(folder), round.parse().expect("a round"));
    }
    let folder = Folder::new();
    grow_from_afar(&folder.0);
    {
        let mut store = open(&folder.0, 1_000_000);
        store.create(&one_post(), 0).expect("created");
        store.import(&std::fs::read(file(&folder.0, 0)).expect("a file")).expect("taken in");
        store.know(device(4).id()).expect("known");
    }
    let mut dice = Dice(0xD1CE);
    let mut acknowledged = BTreeSet::new();
    for round in 1..=ROUNDS {
        let mut child = Command::new(std::env::current_exe().expect("this test"))
            .args(["--exact", "every_acknowledged_change_survives_being_killed", "--nocapture"])
            .env(CHILD, format!("{round} {}", folder.0.display()))
            .stdout(Stdio::piped())
            .spawn()
            .expect("a child");
        let out = BufReader::new(child.stdout.take().expect("its output"));
        let mut lines = out.lines().map_while(Result::ok);
        let mut said = || lines.by_ref().find_map(|l| l.split_once("acknowledged ").map(|(_, said)| said.to_owned()));
        // Every third round is killed at a moment that may fall into opening the store; the others after some work.
        let waits = if round % 3 == 0 { 0 } else { 1 + dice.below(3) };
        acknowledged.extend((0..waits).map_while(|_| said()));
        std::thread::sleep(Duration::from_micros(dice.next() % 12_000));
        child.kill().expect("killed");
        child.wait().expect("ended");
        acknowledged.extend(std::iter::from_fn(said));
        if round % LOOK == 0 {
            look(&folder.0, 2_000_000 + round, &acknowledged);
        }
    }
    // Two of three rounds acknowledge at least one change before the kill.
    assert!(acknowledged.len() as u64 > ROUNDS / 2, "only {} changes were acknowledged", acknowledged.len());
}
