//! Real small drives: full, and not to be written to.
//!
//! They are mounted where the tests run as root on Linux; elsewhere `power.rs` simulates the same refusals, and here only
//! the folder that cannot be made is tried.
#![cfg(target_os = "linux")]

mod common;

use std::path::Path;
use std::process::Command;

use common::folder::Folder;
use common::post::{SITE, chainage, device, fresh, move_to, one_post};
use record::document::Thing;
use record::edit::Edit;
use record::store::{Store, StoreError};
use units::Length;

/// A mounted drive; unmounted in the end.
struct Drive<'a>(&'a Path);

impl<'a> Drive<'a> {
    /// `None` where this machine does not let the test mount one.
    fn mount(folder: &'a Path, options: &str) -> Option<Self> {
        let mount = Command::new("mount").args(["-t", "tmpfs", "-o", options, "tmpfs"]).arg(folder).output().ok()?;
        mount.status.success().then_some(Self(folder))
    }

    fn remount(&self, options: &str) {
        let done = Command::new("mount").args(["-o", &format!("remount,{options}")]).arg(self.0).status();
        assert!(done.expect("mount runs").success(), "remounted {options}");
    }
}

impl Drop for Drive<'_> {
    fn drop(&mut self) {
        // What stays mounted is seen by whoever runs the test; there is nothing to do about it here.
        let _ = Command::new("umount").arg("-l").arg(self.0).status();
    }
}

fn note(text: &str) -> Edit {
    Edit::set(Thing::site(), "note", &text.to_owned())
}

#[test]
fn a_full_drive_is_named_and_loses_nothing() {
    let folder = Folder::new();
    let Some(drive) = Drive::mount(&folder.0, "size=2m") else {
        eprintln!("no drive can be mounted here; power.rs simulates it");
        return;
    };
    let mut store = Store::open(&folder.0, device(1), fresh(1, 1)).expect("a store");
    let mut site = store.create(&one_post(), 1).expect("created");
    let ballast = folder.0.join("ballast");
    let mut made = Vec::new();
    let refused = (0..10_000).find_map(|n| {
        // Something else fills the drive while the surveyor works.
        let filled = std::fs::read(&ballast).map_or(0, |bytes| bytes.len());
        let _ = std::fs::write(&ballast, vec![0; filled + 64 * 1024]);
        let text = format!("note {n} {}", "x".repeat(500));
        match site.edit(&mut store, &note(&text), n) {
            Ok(_) => {
                made.push(text);
                None
            }
            Err(why) => Some(why.to_string()),
        }
    });
    let said = refused.expect("two megabytes are soon full");
    assert!(said.starts_with("the disk is full") && said.contains("make room"), "{said}");
    let last = made.last().expect("some fitted");
    assert_eq!(&site.reading().survey.expect("readable").site.note, last, "the refused note is not on the screen");
    // Room is made and work goes on; everything acknowledged is there after opening again.
    // Cut rather than removed: a process that another test is starting may hold the file open for a moment.
    std::fs::write(&ballast, "").expect("room");
    site.edit(&mut store, &note("after room was made"), 1).expect("made");
    drop((site, store));
    let mut store = Store::open(&folder.0, device(1), fresh(1, 2)).expect("opened");
    let site = store.site(SITE).expect("opened");
    assert_eq!(site.history().len(), made.len() + 2);
    assert!(site.set_aside().is_empty());
    drop((site, store, drive));
}

#[test]
fn a_folder_that_cannot_be_written_to_is_named_and_may_be_read() {
    let folder = Folder::new();
    let Some(drive) = Drive::mount(&folder.0, "size=8m") else {
        eprintln!("no drive can be mounted here");
        return;
    };
    // A copy taken while a program was running has changes that are still in the journal alone.
    let other = Folder::new();
    let mut store = Store::open(&other.0, device(1), fresh(1, 1)).expect("a store");
    let mut site = store.create(&one_post(), 1).expect("created");
    site.edit(&mut store, &move_to(4325), 2).expect("moved");
    for name in ["newel.sqlite", "newel.sqlite-wal"] {
        std::fs::copy(other.0.join(name), folder.0.join(name)).expect("copied");
    }
    drive.remount("ro");
    let refused = Store::open(&folder.0, device(1), fresh(1, 2)).err().expect("read only").to_string();
    assert!(refused.contains("cannot be used") && refused.contains("can be written to"), "{refused}");
    let mut reader = Store::open_read_only(&folder.0, device(1)).expect("readable");
    let mut site = reader.site(SITE).expect("read");
    assert_eq!(chainage(&site.reading().survey), Length::mm(4325), "what only the journal holds is there");
    assert!(matches!(site.edit(&mut reader, &move_to(4400), 3), Err(StoreError::ReadOnly(_))));
    drop((site, reader));
    drive.remount("rw");
    let mut store = Store::open(&folder.0, device(1), fresh(1, 3)).expect("opened");
    let site = store.site(SITE).expect("opened");
    assert_eq!(chainage(&site.reading().survey), Length::mm(4325));
    drop((site, store, drive));
}

#[test]
fn a_locked_database_is_named_and_nothing_is_lost() {
    let folder = Folder::new();
    let mut store = Store::open(&folder.0, device(1), fresh(1, 1)).expect("a store");
    let mut site = store.create(&one_post(), 1).expect("created");
    // Another program, which knows nothing of our lock, holds the database itself.
    let other = rusqlite::Connection::open(folder.0.join("newel.sqlite")).expect("opened");
    other.execute_batch("BEGIN IMMEDIATE").expect("held");
    let said = site.edit(&mut store, &move_to(4400), 2).expect_err("held").to_string();
    assert!(said.starts_with("another program holds the store") && said.contains("close that program"), "{said}");
    assert_eq!(chainage(&site.reading().survey), Length::mm(4310));
    other.execute_batch("ROLLBACK").expect("let go");
    site.edit(&mut store, &move_to(4400), 3).expect("moved");
    assert_eq!(chainage(&store.site(SITE).expect("opened").reading().survey), Length::mm(4400));
}

#[test]
fn a_folder_that_cannot_be_made_is_named() {
    let folder = Folder::new();
    let file = folder.0.join("file");
    std::fs::write(&file, "no folder").expect("written");
    let said = Store::open(&file.join("home"), device(1), fresh(1, 1)).err().expect("no folder").to_string();
    assert!(said.contains("cannot be used") && said.contains("choose a folder"), "{said}");
}
