//! Shares that mind no case, as most of Windows do: a stand-in that folds every name, tried everywhere, and a real file system
//! that folds (ext4 with `casefold`) where one can be mounted. No two files of a team share a name there, because nothing of a
//! team's names is in upper case: that is proved of every path that rounds write.

use std::collections::BTreeMap;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Mutex;

use exchange::pack::Class;
use exchange::place::{Entry, Folder, Place, PlaceError, Span, is_proper};

use crate::scratch::Scratch;
use crate::suite;
use crate::team::home::name;
use crate::team::{self, Device};

/// A folder whose every name is folded on its way; each name that was ever written is remembered as it was.
struct Folding {
    folder: Folder,
    written: Mutex<BTreeMap<String, Vec<String>>>,
}

impl Folding {
    fn over(root: &Path) -> Self {
        Self { folder: Folder::open(root, [7; 8]).expect("a folder"), written: Mutex::default() }
    }

    /// As a share keeps it that knows no small letters.
    fn folded(path: &str) -> String {
        path.to_uppercase()
    }
}

impl Place for Folding {
    fn list(&self, folder: &str) -> Result<Vec<Entry>, PlaceError> {
        // Names come back as they were given: what such shares fold is the comparison.
        let mut listed = self.folder.list(&Self::folded(folder))?;
        let written = self.written.lock().expect("a list");
        for entry in &mut listed {
            let given = written.get(&Self::folded(&format!("{folder}/{}", entry.name)));
            if let Some(first) = given.and_then(|names| names[0].rsplit('/').next()) {
                entry.name = first.to_owned();
            }
        }
        Ok(listed)
    }

    fn read(&self, path: &str, span: Span) -> Result<Vec<u8>, PlaceError> {
        self.folder.read(&Self::folded(path), span)
    }

    fn write_new(&self, path: &str, bytes: &[u8]) -> Result<(), PlaceError> {
        if is_proper(path) {
            let mut written = self.written.lock().expect("a list");
            let names = written.entry(Self::folded(path)).or_default();
            if !names.iter().any(|name| name == path) {
                names.push(path.to_owned());
            }
        }
        self.folder.write_new(&Self::folded(path), bytes)
    }

    fn delete(&self, path: &str) -> Result<(), PlaceError> {
        self.folder.delete(&Self::folded(path))
    }
}

/// Two devices of a sealed team share changes and photos of every class, and end equal.
fn two_end_equal(place: &dyn Place) {
    let (mut a, mut b) = team::two(place);
    let mut last = Vec::new();
    for n in 0_u8..24 {
        let device: &mut Device = if n % 2 == 0 { &mut a } else { &mut b };
        last = vec![device.edit(last)];
        let (class, bytes) =
            if n % 5 == 0 { (Class::Original, vec![n; 100_000]) } else { (Class::Thumbnail, vec![n; 3_000]) };
        device.store.blobs.insert(name(&bytes), (class, bytes));
        device.round(place);
    }
    for _ in 0..2 {
        for device in [&mut a, &mut b] {
            let report = device.round(place);
            assert_eq!((report.lacking, report.aside), (0, Vec::new()));
        }
    }
    assert!(a.store.changes == b.store.changes && a.store.blobs == b.store.blobs);
    assert_eq!((a.store.changes.len(), a.store.blobs.len()), (24, 24));
}

#[test]
fn a_place_that_minds_no_case_behaves_as_every_other() {
    let scratch = Scratch::new();
    suite::all(&Folding::over(&scratch.0));
}

#[test]
fn two_devices_end_equal_in_a_place_that_minds_no_case_and_no_two_of_their_files_share_a_name() {
    let scratch = Scratch::new();
    let place = Folding::over(&scratch.0);
    two_end_equal(&place);
    let written = place.written.into_inner().expect("a list");
    assert!(written.len() > 60, "{} paths", written.len());
    for names in written.values() {
        assert_eq!(names.len(), 1, "they are one file there: {names:?}");
        let is_small = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || matches!(c, '.' | '-' | '/');
        assert!(names[0].chars().all(is_small), "{names:?}");
    }
}

/// A file system that folds names; unmounted in the end.
struct Mounted {
    at: PathBuf,
    _scratch: Scratch,
}

impl Mounted {
    /// `None` where this machine lets nobody mount one, or its kernel folds no names.
    fn mount() -> Option<Self> {
        let scratch = Scratch::new();
        let (image, at) = (scratch.0.join("image"), scratch.0.join("mounted"));
        std::fs::create_dir(&at).expect("a folder");
        std::fs::File::create(&image).and_then(|file| file.set_len(32 << 20)).expect("a file");
        let run = |program: &str, args: &[&str], paths: &[&Path]| {
            // Debian keeps mkfs where only the superuser's path looks.
            let path = format!("{}:/usr/sbin:/sbin", std::env::var("PATH").unwrap_or_default());
            let output = Command::new(program).env("PATH", path).args(args).args(paths).output();
            output.is_ok_and(|output| output.status.success())
        };
        if !run("mkfs.ext4", &["-q", "-O", "casefold", "-E", "encoding=utf8"], &[&image])
            || !run("mount", &["-o", "loop"], &[&image, &at])
        {
            return None;
        }
        let mounted = Self { at, _scratch: scratch };
        std::fs::create_dir(mounted.team()).expect("a folder");
        run("chattr", &["+F"], &[&mounted.team()]).then_some(mounted)
    }

    fn team(&self) -> PathBuf {
        self.at.join("team")
    }
}

impl Drop for Mounted {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(&self.at).status();
    }
}

#[test]
fn two_devices_end_equal_on_a_real_file_system_that_minds_no_case() {
    let Some(mounted) = Mounted::mount() else {
        // Past the harness, which keeps to itself what a test prints that does not fail. The stand-in is tried everywhere.
        let _ =
            writeln!(std::io::stderr(), "not tried here, for nothing can be mounted: a file system that folds names");
        return;
    };
    std::fs::write(mounted.team().join("Probe"), "x").expect("written");
    assert!(mounted.team().join("pROBE").exists(), "it minds no case");
    std::fs::remove_file(mounted.team().join("probe")).expect("removed");
    two_end_equal(&Folder::open(&mounted.team(), [7; 8]).expect("a folder"));
}
