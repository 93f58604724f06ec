//! A local folder: the suite, and what only a file system can do to a team's files.

use std::fs;

use exchange::place::{Folder, Place, Span, Trouble};

use crate::scratch::Scratch;
use crate::suite;

const ALL: Span = Span { from: 0, most: u64::MAX };

#[test]
fn a_local_folder_does_what_every_place_does() {
    let scratch = Scratch::new();
    suite::all(&Folder::open(&scratch.0, [1; 8]).expect("a folder"));
}

#[test]
fn a_folder_that_is_not_there_is_not_made() {
    let scratch = Scratch::new();
    let away = scratch.0.join("share");
    let error = Folder::open(&away, [1; 8]).expect_err("no such folder");
    assert_eq!(error.trouble, Trouble::Away);
    assert!(error.to_string().contains("connect the drive"), "{error}");
    fs::create_dir(&away).expect("mounted");
    let folder = Folder::open(&away, [1; 8]).expect("a folder");
    fs::remove_dir(&away).expect("taken away");
    assert_eq!(folder.write_new("heads/a.1", b"x").expect_err("away").trouble, Trouble::Away);
    assert_eq!(folder.list("heads").expect_err("away").trouble, Trouble::Away);
    assert_eq!(folder.read("heads/a.1", ALL).expect_err("away").trouble, Trouble::Away);
    assert!(!away.exists(), "an unmounted share is not written beneath");
    fs::write(&away, b"a file").expect("a file");
    assert_eq!(Folder::open(&away, [1; 8]).expect_err("a file").trouble, Trouble::Wrong);
}

#[cfg(unix)]
#[test]
fn links_are_never_followed() {
    use std::os::unix::fs::symlink;
    let (scratch, outside) = (Scratch::new(), Scratch::new());
    fs::write(outside.0.join("secret"), b"secret").expect("a file");
    let folder = Folder::open(&scratch.0, [1; 8]).expect("a folder");
    folder.write_new("heads/a.1", b"x").expect("written");
    symlink(outside.0.join("secret"), scratch.0.join("heads/b.1")).expect("a link");
    symlink(&outside.0, scratch.0.join("objects")).expect("a link");
    let listed = folder.list("heads").expect("a list");
    assert_eq!(listed.iter().filter(|entry| entry.plain).count(), 1);
    assert_eq!(folder.read("heads/b.1", ALL).expect_err("a link").trouble, Trouble::Unreadable);
    assert_eq!(folder.read("objects/secret", ALL).expect_err("a link").trouble, Trouble::Unreadable);
    assert_eq!(folder.list("objects").expect_err("a link").trouble, Trouble::Unreadable);
    assert_eq!(folder.write_new("objects/x", b"x").expect_err("a link").trouble, Trouble::Unreadable);
    assert!(!outside.0.join("x").exists());
    // What replaces a link is a file of its own.
    folder.write_new("heads/b.1", b"ours").expect("written");
    assert_eq!(fs::read(outside.0.join("secret")).expect("there"), b"secret");
}

#[test]
fn what_a_crash_left_half_written_is_not_listed() {
    let scratch = Scratch::new();
    let folder = Folder::open(&scratch.0, [1; 8]).expect("a folder");
    folder.write_new("heads/a.1", b"x").expect("written");
    fs::write(scratch.0.join("heads/.unfinished-0101010101010101-0"), b"half").expect("a rest");
    assert_eq!(folder.list("heads").expect("a list").len(), 1);
}

#[cfg(unix)]
#[test]
fn a_share_that_may_only_be_read_says_so() {
    use std::os::unix::fs::PermissionsExt;
    let scratch = Scratch::new();
    let folder = Folder::open(&scratch.0, [1; 8]).expect("a folder");
    fs::set_permissions(&scratch.0, fs::Permissions::from_mode(0o500)).expect("read only");
    let refused = folder.write_new("heads/a.1", b"x");
    fs::set_permissions(&scratch.0, fs::Permissions::from_mode(0o700)).expect("as before");
    // The superuser may write whatever the mode says.
    if let Err(error) = refused {
        assert_eq!(error.trouble, Trouble::Refused);
        assert!(error.to_string().contains("ask whoever runs the share"), "{error}");
    } else {
        assert!(scratch.0.join("heads/a.1").exists());
    }
}
