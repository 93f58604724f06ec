//! Photos and bad media: a full drive, one that cannot be written, a stick that is pulled out, thousands of files.
//!
//! Small drives are mounted where the tests run as root on Linux; elsewhere those tests say that they were not made.
#![cfg(target_os = "linux")]

mod common;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};

use common::card::{fill, photo};
use common::home::{Home, clock};
use desk::photos::{Go, Unwatched, Watch};
use desk::sites::Sites;
use desk::wire::photos::{ImportOutcome, PhotoList, PhotoState};

/// A mounted drive; unmounted in the end.
struct Drive(PathBuf);

impl Drive {
    /// `None` where this machine does not let the test mount one.
    fn mount(folder: &Path, options: &str) -> Option<Self> {
        fs::create_dir_all(folder).expect("a folder");
        let mount = Command::new("mount").args(["-t", "tmpfs", "-o", options, "tmpfs"]).arg(folder).output().ok()?;
        if !mount.status.success() {
            eprintln!("no drive can be mounted here, so this was not tried");
        }
        mount.status.success().then(|| Self(folder.to_owned()))
    }

    fn remount(&self, options: &str) {
        let done = Command::new("mount").args(["-o", &format!("remount,{options}")]).arg(&self.0).status();
        assert!(done.expect("mount runs").success(), "remounted {options}");
    }

    fn pull_out(&self) {
        // As a stick goes: what is open stays readable, the names are gone at once.
        let done = Command::new("umount").arg("-l").arg(&self.0).status();
        assert!(done.expect("umount runs").success());
    }
}

impl Drop for Drive {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(&self.0).output();
    }
}

/// The yard in the store of a home.
fn yard(home: &Path) -> Sites {
    let mut sites = Sites::open(home, clock).expect("a store");
    sites.add_file(common::SURVEY.as_bytes(), "s.json", None).expect("added");
    sites
}

/// Every photo that is listed with its content is whole; says how many.
fn whole(sites: &mut Sites, list: &PhotoList) -> usize {
    let with_content: Vec<_> = list.photos.iter().filter(|photo| photo.content_sha256.is_some()).collect();
    for photo in &with_content {
        assert_eq!(photo.state, PhotoState::Here, "{}", photo.file);
        let original = sites.photo("yard", &photo.id).expect("shown").original.expect("a path");
        let bytes = fs::read(original).expect("the original");
        assert_eq!(photos::Content::of(&bytes).to_string(), *photo.content_sha256.as_ref().expect("a content"));
    }
    with_content.len()
}

#[test]
fn a_drive_that_fills_up_keeps_whole_photos_and_names_the_others() {
    let home = Home::of("Invented Anna");
    let place = home.0.join("small");
    let Some(drive) = Drive::mount(&place, "size=4m") else { return };
    let mut sites = yard(&place);
    let card = fill(&home.0.join("card"), 150, "full");
    let done = sites.add_photos("yard", &card, None, &Unwatched);
    let said = match &done {
        // The library is the first to find no room, or the database is.
        Ok(done) => done.files.iter().find_map(|file| file.reason.clone()).expect("one was refused"),
        Err(why) => why.to_string(),
    };
    assert!(said.contains("No space left") || said.contains("the disk is full"), "{said}");
    // Room is made: what is listed is whole, and the rest is added.
    drive.remount("size=64m");
    let list = sites.photos("yard").expect("photos");
    let before = whole(&mut sites, &list);
    assert!(before < 150, "the drive was too large for this test");
    let done = sites.add_photos("yard", &card, None, &Unwatched).expect("added");
    assert_eq!((done.refused, done.added as usize + before), (0, 150), "{}", done.to_text());
    let list = sites.photos("yard").expect("photos");
    assert_eq!(whole(&mut sites, &list), 150);
}

#[test]
fn a_home_that_cannot_be_written_is_named_and_its_photos_are_shown() {
    let home = Home::of("Invented Anna");
    let place = home.0.join("locked");
    let Some(drive) = Drive::mount(&place, "size=32m") else { return };
    let card = fill(&home.0.join("card"), 3, "locked");
    let mut sites = yard(&place);
    sites.add_photos("yard", &card[..2], None, &Unwatched).expect("added");
    let before = sites.photos("yard").expect("photos");
    drop(sites);
    drive.remount("ro");
    let refused = Sites::open(&place, clock).expect_err("not to be written").to_string();
    assert!(refused.contains("cannot be used") && refused.contains("can be written to"), "{refused}");
    let mut sites = Sites::open_to_read(&place, clock).expect("read");
    assert_eq!(sites.photos("yard").expect("photos"), before);
    let said = sites.add_photos("yard", &card, None, &Unwatched).expect_err("nothing can be kept").to_string();
    assert!(said.contains("Read-only") || said.contains("reading only"), "{said}");
    drop(sites);
    drive.remount("rw");
    let mut sites = Sites::open(&place, clock).expect("opened");
    assert_eq!(sites.add_photos("yard", &card, None, &Unwatched).expect("added").added, 1);
}

/// Pulls a stick out after some files.
struct PullOut<'a>(&'a Drive, AtomicUsize);

impl Watch for PullOut<'_> {
    fn step(&self, _: usize, _: usize, _: &str) -> Go {
        if self.1.fetch_add(1, Ordering::Relaxed) == 80 {
            self.0.pull_out();
        }
        Go::On
    }
}

#[test]
fn a_stick_pulled_out_in_the_middle_leaves_whole_photos_and_each_other_file_named() {
    let home = Home::of("Invented Anna");
    let stick = home.0.join("stick");
    let Some(drive) = Drive::mount(&stick, "size=32m") else { return };
    fill(&stick, 150, "stick");
    let mut sites = yard(&home.0);
    let watch = PullOut(&drive, AtomicUsize::new(0));
    let done = sites.add_photos("yard", std::slice::from_ref(&stick), None, &watch).expect("what was there was added");
    assert_eq!(done.files.len(), 150);
    assert!(done.added >= 80 && done.refused >= 60 && done.added + done.refused == 150, "{}", done.to_text());
    let refused: Vec<_> = done.files.iter().filter(|file| file.outcome == ImportOutcome::Refused).collect();
    assert!(refused.iter().all(|file| file.reason.as_deref().is_some_and(|why| why.starts_with("cannot be read"))));
    let list = sites.photos("yard").expect("photos");
    assert_eq!(whole(&mut sites, &list), done.added as usize);
}

/// Memory of an import of thousands of files, beside what pictures may take: lists of their names and what came of them.
const MOST_KB: u64 = 160 << 10;

/// The child of the next test: adds a folder and says how much memory it took.
#[test]
fn child_that_is_measured() {
    let (Some(home), Some(card)) = (std::env::var_os("PHOTO_HOME"), std::env::var_os("PHOTO_CARD")) else { return };
    let mut sites = Sites::open(Path::new(&home), clock).expect("a store");
    let done = sites.add_photos("yard", &[card.into()], None, &Unwatched).expect("added");
    println!("added={} duplicates={} refused={}", done.added, done.duplicates, done.refused);
    let status = fs::read_to_string("/proc/self/status").expect("status");
    println!("{}", status.lines().find(|line| line.starts_with("VmHWM")).expect("the peak"));
}

#[test]
fn ten_thousand_files_are_accounted_for_in_bounded_memory() {
    let home = Home::of("Invented Anna");
    drop(yard(&home.0));
    let card = home.0.join("card");
    let different: Vec<Vec<u8>> = (0..200).map(|n| photo("ramp.jpg", &format!("many {n}"))).collect();
    for n in 0..10_000 {
        let shelf = card.join(format!("{:02}", n / 1000));
        fs::create_dir_all(&shelf).expect("a folder");
        let bytes: &[u8] = if n % 100 == 99 { b"no picture" } else { &different[n % 200] };
        fs::write(shelf.join(format!("{n:05}.jpg")), bytes).expect("a file");
    }
    let output = Command::new(std::env::current_exe().expect("this test"))
        .args(["--exact", "child_that_is_measured", "--nocapture"])
        .env("PHOTO_HOME", &home.0)
        .env("PHOTO_CARD", &card)
        .output()
        .expect("a child");
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(output.status.success(), "{said}{}", String::from_utf8_lossy(&output.stderr));
    // Of 200 pictures two are never met: every hundredth file is none.
    assert!(said.contains("added=198 duplicates=9702 refused=100"), "{said}");
    let peak = said.lines().find_map(|line| line.split_once("VmHWM:")).expect("the peak").1;
    let peak_kb: u64 = peak.trim().trim_end_matches(" kB").parse().expect("a number");
    assert!(peak_kb < MOST_KB, "{peak_kb} kB of {MOST_KB} kB");
}
