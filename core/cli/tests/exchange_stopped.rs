//! Ctrl-C in the middle of a round: what was shared stays, the rest goes with the next round.
#![cfg(unix)]

mod place;

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use place::{Place, code, other_photo, text};
use serde_json::Value;

const FILES: usize = 80;

fn objects(share: &Path) -> usize {
    let shelves = fs::read_dir(share.join("objects")).into_iter().flatten().flatten();
    shelves.map(|shelf| fs::read_dir(shelf.path()).map_or(0, Iterator::count)).sum()
}

#[test]
fn an_interrupted_round_goes_on_where_it_ended() {
    let place = Place::new("exchange_stopped", "interrupted");
    let share = place.0.join("share");
    fs::create_dir(&share).expect("a folder");
    place.done(&["exchange", "start", &place.file("share")]);
    place.done(&["site", "add", &place.file("yard.json")]);
    fs::create_dir(place.0.join("card")).expect("a folder");
    for n in 0..FILES {
        fs::write(place.0.join(format!("card/{n:03}.jpg")), other_photo("ramp.jpg", &n.to_string())).expect("written");
    }
    place.done(&["photo", "add", "yard", &place.file("card")]);
    let before = objects(&share);
    let child = place
        .command("home", &["exchange", "run", "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("newel runs");
    // Once some photos are in the folder, it is in the middle of its work.
    let begun = Instant::now();
    while objects(&share) < before + 10 {
        assert!(begun.elapsed() < Duration::from_secs(120), "nothing was shared");
        std::thread::sleep(Duration::from_millis(2));
    }
    let interrupted = Command::new("kill").args(["-INT", &child.id().to_string()]).status();
    assert!(interrupted.expect("kill runs").success());
    let output = child.wait_with_output().expect("newel ends");
    assert_eq!(code(&output), 130, "{}", text(&output.stderr));
    let round: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(round["stopped"], true);
    let (left, shared) = (place.json(&["exchange", "status", "--json"]), objects(&share));
    assert!(left["unshared_photo_files"].as_u64().is_some_and(|left| left > 0), "{left}");
    // Each photo is three files: the original and two smaller copies.
    let round = place.json(&["exchange", "run", "--json"]);
    assert_eq!(round["stopped"], false);
    let files = round["photo_files_gave"].as_u64().expect("a number");
    assert!(files > 0 && files < 3 * FILES as u64, "{files} of {} were left", 3 * FILES);
    assert!(objects(&share) > shared);
    assert!(place.done(&["exchange", "status"]).contains("everything here is in the folder"));
}
