//! Ctrl-C while photos are added: what was added stays whole, the rest is named and added by the next run.
#![cfg(unix)]

mod place;

use std::fs;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use place::{Place, code, other_photo, text};
use serde_json::Value;

const FILES: usize = 300;

#[test]
fn an_interrupted_import_leaves_nothing_half() {
    let place = Place::new("photo_stopped", "interrupted");
    place.done(&["site", "add", &place.file("yard.json")]);
    fs::create_dir(place.0.join("card")).expect("a folder");
    for n in 0..FILES {
        fs::write(place.0.join(format!("card/{n:03}.jpg")), other_photo("ramp.jpg", &n.to_string())).expect("written");
    }
    let card = place.file("card");
    let child = place
        .command("home", &["photo", "add", "yard", &card, "--json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("newel runs");
    // Once some originals are there, it is in the middle of its work.
    let originals = place.0.join("home/photos/originals");
    let begun = Instant::now();
    while fs::read_dir(&originals).map_or(0, Iterator::count) < 5 {
        assert!(begun.elapsed() < Duration::from_secs(120), "nothing was added");
        std::thread::sleep(Duration::from_millis(2));
    }
    let interrupted = Command::new("kill").args(["-INT", &child.id().to_string()]).status();
    assert!(interrupted.expect("kill runs").success());
    let output = child.wait_with_output().expect("newel ends");
    assert_eq!(code(&output), 130, "{}", text(&output.stderr));
    let done: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let (added, left) = (done["added"].as_u64().expect("a number"), done["not_reached"].as_u64().expect("a number"));
    assert!(done["stopped"] == true && added > 0 && left > 0, "{added} added, {left} left");
    assert_eq!(added + left, FILES as u64);
    let here = || {
        let list = place.json(&["photo", "list", "yard", "--json"]);
        let photos = list["photos"].as_array().expect("photos").clone();
        photos.into_iter().filter(|photo| photo["state"] == "here").count() as u64
    };
    assert_eq!(here(), added);
    let again = place.json(&["photo", "add", "yard", &card, "--json"]);
    assert_eq!((again["added"].as_u64(), again["duplicates"].as_u64()), (Some(left), Some(added)));
    assert_eq!(here(), FILES as u64);
}
