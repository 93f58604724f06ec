//! Killed at any moment during edits: every acknowledged change is there, and lists equal a rebuild.
//!
//! The test starts itself as a child that edits and says each acknowledged note on its output; SIGKILL ends it.

mod common;

use std::io::{BufRead, BufReader, Write};
use std::process::{Command, Stdio};
use std::time::Duration;

use common::{dice::Dice, folder::Folder, things};
use record::document::Thing;
use record::edit::Edit;
use record::sign::Device;
use record::store::Store;

const CHILD: &str = "NEWEL_CRASH_CHILD";
const ROUNDS: u64 = 30;

fn open(folder: &std::path::Path, opening: u64) -> Store {
    let mut dice = Dice(opening ^ 0xC0FFEE);
    Store::open(folder, Device::new("Invented Person", "tablet", [3; 32]), dice.bytes()).expect("a store")
}

/// What the child does: edits without end.
fn edit_until_killed(folder: &std::path::Path, round: u64) -> ! {
    let mut store = open(folder, round);
    let mut site = store.site("invented-site").expect("opened");
    for n in 0_i64.. {
        let note = format!("round {round} edit {n}");
        site.edit(&mut store, &Edit::set(Thing::site(), "note", &note), n).expect("made");
        let mut out = std::io::stdout().lock();
        writeln!(out, "acknowledged {note}").and_then(|()| out.flush()).expect("said");
    }
    unreachable!("edits have no end")
}

#[test]
fn every_acknowledged_change_survives_being_killed() {
    if let Ok(child) = std::env::var(CHILD) {
        let (round, folder) = child.split_once(' ').expect("round and folder");
        edit_until_killed(std::path::Path::new(folder), round.parse().expect("a round"));
    }
    let folder = Folder::new();
    {
        let mut store = open(&folder.0, 1_000_000);
        store.create(&things::survey(&mut Dice(3)), 0).expect("created");
    }
    let mut dice = Dice(0xD1CE);
    let mut acknowledged = 0;
    for round in 0..ROUNDS {
        let mut child = Command::new(std::env::current_exe().expect("this test"))
            .args(["--exact", "every_acknowledged_change_survives_being_killed", "--nocapture"])
            .env(CHILD, format!("{round} {}", folder.0.display()))
            .stdout(Stdio::piped())
            .spawn()
            .expect("a child");
        let out = BufReader::new(child.stdout.take().expect("its output"));
        let mut lines = out.lines().map_while(Result::ok);
        let mut said = || lines.by_ref().find_map(|l| l.split_once("acknowledged ").map(|(_, note)| note.to_owned()));
        // Some edits first, however slow the machine; then a moment that falls anywhere within an edit.
        let mut notes: Vec<String> = (0..=dice.below(8)).map_while(|_| said()).collect();
        std::thread::sleep(Duration::from_micros(dice.next() % 20_000));
        child.kill().expect("killed");
        child.wait().expect("ended");
        notes.extend(std::iter::from_fn(said));
        let mut store = open(&folder.0, 2_000_000 + round);
        let site = store.site("invented-site").expect("opened after the kill");
        let history: Vec<String> = site.history().into_iter().map(|entry| entry.sentence).collect();
        for note in &notes {
            assert!(history.iter().any(|said| said.ends_with(&format!("“{note}”"))), "{note} is in the history");
        }
        assert!(site.set_aside().is_empty());
        let kept = store.dump().expect("dump");
        store.rebuild().expect("rebuilt");
        assert_eq!(store.dump().expect("dump"), kept);
        acknowledged += notes.len();
    }
    // Each round acknowledges at least one edit before the kill.
    assert!(acknowledged >= ROUNDS as usize, "only {acknowledged} edits were acknowledged in {ROUNDS} rounds");
}
