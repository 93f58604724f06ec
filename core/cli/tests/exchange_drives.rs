//! Shared folders on real small drives, over the real command: full, and not to be written to. They are mounted where the
//! tests run as root on Linux; elsewhere the behaviour suite of places covers the refusals.
#![cfg(target_os = "linux")]

mod place;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use place::{Place, code, other_photo, text};
use serde_json::Value;

/// A mounted drive; unmounted in the end.
struct Drive(PathBuf);

impl Drive {
    /// `None` where this machine does not let the test mount one.
    fn mount(folder: &Path, options: &str) -> Option<Self> {
        fs::create_dir_all(folder).expect("a folder");
        let mount = Command::new("mount").args(["-t", "tmpfs", "-o", options, "tmpfs"]).arg(folder).output().ok()?;
        mount.status.success().then(|| Self(folder.to_owned()))
    }

    fn remount(&self, options: &str) {
        let done = Command::new("mount").args(["-o", &format!("remount,{options}")]).arg(&self.0).status();
        assert!(done.expect("mount runs").success(), "remounted {options}");
    }
}

impl Drop for Drive {
    fn drop(&mut self) {
        // What stays mounted is seen by whoever runs the test; there is nothing to do about it here.
        let _ = Command::new("umount").arg("-l").arg(&self.0).status();
    }
}

fn done(place: &Place, home: &str, args: &[&str]) -> String {
    let output = place.on(home, args);
    assert_eq!(code(&output), 0, "{args:?}: {}", text(&output.stderr));
    text(&output.stdout)
}

fn refused(place: &Place, home: &str, args: &[&str]) -> String {
    let output = place.on(home, args);
    assert_eq!((code(&output), text(&output.stdout).as_str()), (2, ""), "{args:?}");
    text(&output.stderr)
}

/// Two machines that share a drive.
fn team(test: &str, options: &str) -> Option<(Place, Drive)> {
    let place = Place::new("exchange_drives", test);
    let Some(drive) = Drive::mount(&place.0.join("share"), options) else {
        eprintln!("no drive can be mounted here");
        return None;
    };
    let share = place.file("share");
    done(&place, "anna", &["exchange", "start", &share]);
    let invitation = done(&place, "anna", &["exchange", "invite", "--json"]);
    let invitation: Value = serde_json::from_str(&invitation).expect("JSON");
    done(&place, "ben", &["exchange", "join", &share, "--code", invitation["code"].as_str().expect("a code")]);
    done(&place, "anna", &["exchange", "approve"]);
    done(&place, "ben", &["exchange", "run"]);
    Some((place, drive))
}

#[test]
fn a_share_that_may_not_be_written_to_is_named_and_still_read() {
    let Some((place, drive)) = team("read-only", "size=8m") else { return };
    done(&place, "anna", &["site", "add", &place.file("yard.json")]);
    done(&place, "anna", &["exchange", "run"]);
    drive.remount("ro");
    // Ben has something to give, which he cannot; what the share holds comes all the same.
    done(&place, "ben", &["site", "new", "Quay (invented)"]);
    let said = refused(&place, "ben", &["exchange", "run"]);
    assert!(said.contains("ask whoever runs the share for the right to read and write in it"), "{said}");
    assert!(done(&place, "ben", &["site", "list"]).contains("yard"), "what is there was taken before");
    assert!(done(&place, "ben", &["exchange", "status"]).contains("not in the folder yet"));
    drive.remount("rw");
    done(&place, "ben", &["exchange", "run"]);
    done(&place, "anna", &["exchange", "run"]);
    assert!(done(&place, "anna", &["site", "list"]).contains("Quay"));
}

#[test]
fn a_full_share_is_named_and_the_round_goes_on_once_there_is_room() {
    let Some((place, _drive)) = team("full", "size=2m") else { return };
    done(&place, "anna", &["site", "add", &place.file("yard.json")]);
    fs::create_dir(place.0.join("card")).expect("a folder");
    for n in 0..4 {
        fs::write(place.0.join(format!("card/{n}.jpg")), other_photo("stair.jpg", &n.to_string())).expect("written");
    }
    done(&place, "anna", &["photo", "add", "yard", &place.file("card")]);
    let left = fs::File::create(place.0.join("share/ballast")).expect("a file");
    let mut filled = 0;
    while std::io::Write::write_all(&mut &left, &[0; 4096]).is_ok() {
        filled += 1;
    }
    assert!(filled > 10, "the drive was full before");
    let said = refused(&place, "anna", &["exchange", "run"]);
    assert!(said.contains("make room there; nothing is lost meanwhile"), "{said}");
    left.set_len(0).expect("room");
    fs::remove_file(place.0.join("share/ballast")).expect("removed");
    done(&place, "anna", &["exchange", "run"]);
    done(&place, "ben", &["exchange", "run"]);
    let photos: Value = serde_json::from_str(&done(&place, "ben", &["photo", "list", "yard", "--json"])).expect("JSON");
    let shown =
        photos["photos"].as_array().expect("photos").iter().filter(|photo| photo["has_picture"] == true).count();
    assert_eq!(shown, 4);
}
