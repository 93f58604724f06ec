//! A place that fills up: a small file system of its own, in a file, mounted for the test.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::Command;

use exchange::place::{Place, Span, Trouble};
use places::{Settings, open};

use crate::servers::Scratch;
use crate::servers::apache::{Apache, Wish};

const ALL: Span = Span { from: 0, most: u64::MAX };

/// A file system of some MiB.
struct Small {
    at: PathBuf,
    _scratch: Scratch,
}

impl Small {
    /// None where this machine lets nobody mount one.
    fn mount() -> Option<Self> {
        let scratch = Scratch::new();
        let (file, at) = (scratch.0.join("image"), scratch.0.join("mounted"));
        std::fs::create_dir(&at).expect("a folder");
        std::fs::File::create(&file).and_then(|file| file.set_len(12 << 20)).expect("a file");
        run("mkfs.ext4", &["-q", "-O", "^has_journal", "-m", "0"], &[&file]).expect("mkfs.ext4 (Debian: e2fsprogs)");
        run("mount", &["-o", "loop"], &[&file, &at]).ok()?;
        Some(Self { at, _scratch: scratch })
    }
}

impl Drop for Small {
    fn drop(&mut self) {
        // Lazily, for a server may still be ending.
        let _ = run("umount", &["-l"], &[&self.at]);
    }
}

fn run(program: &str, args: &[&str], paths: &[&Path]) -> Result<(), String> {
    // Debian keeps mkfs where only the superuser's path looks.
    let path = format!("{}:/usr/sbin:/sbin", std::env::var("PATH").unwrap_or_default());
    let output = Command::new(program).env("PATH", path).args(args).args(paths).output();
    let output = output.map_err(|why| why.to_string())?;
    if output.status.success() { Ok(()) } else { Err(String::from_utf8_lossy(&output.stderr).into_owned()) }
}

/// Fills a place block by block until it says that it is full; what was said to be written is there, and nothing else is
/// ever listed. With room again it goes on.
fn fills_up(place: &dyn Place) {
    let block = |n: u8| vec![n; 1 << 20];
    let path = |n: u8| format!("objects/ab/block{n}");
    place.write_new("heads/a.1", b"one").expect("written");
    let mut written = Vec::new();
    let full = (1..=20).find_map(|n| match place.write_new(&path(n), &block(n)) {
        Ok(()) => {
            written.push(n);
            None
        }
        Err(error) => Some((n, error)),
    });
    let (first, error) = full.expect("20 MiB do not go into 12");
    assert_eq!(error.trouble, Trouble::Full, "{error}");
    assert!(error.why.contains("make room there"), "{error}");
    assert!(written.len() >= 6, "{written:?}");
    for n in &written {
        assert!(place.read(&path(*n), ALL).expect("read") == block(*n));
    }
    assert_eq!(place.read(&path(first), ALL).expect_err("not written").trouble, Trouble::Missing);
    let mut listed: Vec<String> =
        place.list("objects/ab").expect("a list").into_iter().map(|entry| entry.name).collect();
    listed.sort();
    let mut expected: Vec<String> = written.iter().map(|n| format!("block{n}")).collect();
    expected.sort();
    assert_eq!(listed, expected);
    place.delete(&path(written[0])).expect("deleted");
    place.write_new(&path(first), &block(first)).expect("there is room again");
    assert_eq!(place.read("heads/a.1", ALL).expect("read"), b"one");
}

#[test]
fn a_full_place_says_so_and_keeps_what_it_has() {
    let Some(folder) = Small::mount() else {
        // Past the harness, which keeps to itself what a test prints that does not fail. The canned answers of `faults` are
        // tried everywhere.
        let _ = writeln!(std::io::stderr(), "not tried here, for nothing can be mounted: a place that fills up");
        return;
    };
    let inside = |small: &Small| {
        let path = small.at.join("share");
        std::fs::create_dir(&path).expect("a folder");
        path
    };
    let path = inside(&folder);
    fills_up(open(&Settings::at(path.to_str().expect("UTF-8")), [1; 8]).expect("a place").place());
    let drive = Small::mount().expect("mounted as before");
    let apache = Apache::start(Wish { shared: Some(inside(&drive)), ..Wish::default() });
    fills_up(open(&apache.settings(), [1; 8]).expect("a place").place());
}
