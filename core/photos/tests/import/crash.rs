//! Killed in the middle: no photo is half stored, and the next import goes on from there.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use photos::{Content, Edge, Library};

use crate::made::{folder, import, jpeg, photos};

const ROUNDS: u32 = 24;
const FILES: u32 = 60;

/// The child of [`a_kill_leaves_no_photo_half_stored`]; alone it has nothing to do.
#[test]
fn child_that_is_killed() {
    if let (Some(home), Some(from)) = (std::env::var_os("PHOTOS_HOME"), std::env::var_os("PHOTOS_FROM")) {
        let library = Library::open(Path::new(&home)).unwrap();
        import(&library, &[from.into()]);
    }
}

#[test]
fn a_kill_leaves_no_photo_half_stored() {
    let (home, from) = (folder("crash-home"), folder("crash"));
    for n in 0..FILES {
        fs::write(from.join(format!("{n:02}.jpg")), jpeg(640, 480, n)).unwrap();
    }
    let mut killed_midway = 0;
    for round in 0..ROUNDS {
        if round % 6 == 0 {
            fs::remove_dir_all(&home).unwrap();
            fs::create_dir(&home).unwrap();
        }
        let mut child = Command::new(std::env::current_exe().unwrap())
            .args(["--exact", "crash::child_that_is_killed"])
            .env("PHOTOS_HOME", &home)
            .env("PHOTOS_FROM", &from)
            .stdout(Stdio::null())
            .spawn()
            .unwrap();
        // A sequence that looks random and is the same at every run.
        std::thread::sleep(Duration::from_millis(u64::from((round * 7919 + 13) % 180)));
        child.kill().unwrap();
        child.wait().unwrap();
        let library = Library::open(&home).unwrap();
        library.sweep().unwrap();
        let contents = library.contents().unwrap();
        killed_midway += u32::from(!contents.is_empty() && contents.len() < FILES as usize);
        for content in contents {
            let bytes = fs::read(library.original(content).unwrap()).unwrap();
            assert_eq!(Content::of(&bytes), content, "round {round}: a name stands over other bytes");
        }
        assert!(unfinished(&home).is_empty(), "round {round}: {:?}", unfinished(&home));
    }
    assert!(killed_midway > 0, "no round was killed with part of the photos kept; the check shows nothing");
    let library = Library::open(&home).unwrap();
    let lines = import(&library, &[from]);
    assert_eq!(photos(&lines), FILES as usize, "{lines:?}");
    for content in library.contents().unwrap() {
        let thumbnail = fs::read(library.thumbnail(content, Edge::Large).unwrap()).unwrap();
        assert!(thumbnail.ends_with(&[0xff, 0xd9]));
    }
}

/// What is in the library and is neither an original nor a thumbnail.
fn unfinished(home: &Path) -> Vec<String> {
    ["originals", "thumbnails"]
        .iter()
        .flat_map(|shelf| fs::read_dir(home.join("photos").join(shelf)).unwrap())
        .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
        .filter(|name| name.len() != 2)
        .collect()
}
