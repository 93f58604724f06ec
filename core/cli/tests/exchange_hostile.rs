//! A hostile folder over the real command: what is truncated, swapped, replayed, gigantic, linked or somebody else's is set
//! aside and named, nothing of it is used, and the round goes on.
#![cfg(unix)]

mod place;

use std::fs::{self, File};
use std::os::unix::fs::symlink;
use std::path::{Path, PathBuf};

use place::{Place, code, other_photo, text};
use serde_json::{Value, json};

fn done(place: &Place, home: &str, args: &[&str]) -> String {
    let output = place.on(home, args);
    assert_eq!(code(&output), 0, "{args:?}: {}", text(&output.stderr));
    text(&output.stdout)
}

fn run(place: &Place, home: &str) -> Value {
    serde_json::from_str(&done(place, home, &["exchange", "run", "--json"])).expect("JSON")
}

fn note(place: &Place, home: &str, words: &str) {
    let edit = json!({"kind": "set_site", "change": {"kind": "note", "value": words}});
    fs::write(place.0.join("edit.json"), edit.to_string()).expect("written");
    done(place, home, &["site", "edit", "yard", &place.file("edit.json")]);
}

fn the_note(place: &Place, home: &str) -> String {
    let survey: Value = serde_json::from_str(&done(place, home, &["site", "export", "yard"])).expect("JSON");
    survey["site"]["note"].as_str().unwrap_or_default().to_owned()
}

/// Two machines in a team; the second has not seen the site yet.
fn team(test: &str) -> (Place, PathBuf) {
    let place = Place::new("exchange_hostile", test);
    let share = place.0.join("share");
    fs::create_dir(&share).expect("a folder");
    let address = share.display().to_string();
    done(&place, "anna", &["exchange", "start", &address]);
    let invitation: Value =
        serde_json::from_str(&done(&place, "anna", &["exchange", "invite", "--json"])).expect("JSON");
    done(&place, "ben", &["exchange", "join", &address, "--code", invitation["code"].as_str().expect("a code")]);
    done(&place, "anna", &["exchange", "approve"]);
    run(&place, "ben");
    done(&place, "anna", &["site", "add", &place.file("yard.json")]);
    fs::write(place.0.join("stair.jpg"), other_photo("stair.jpg", test)).expect("written");
    done(&place, "anna", &["photo", "add", "yard", &place.file("stair.jpg")]);
    run(&place, "anna");
    (place, share)
}

/// Files in a folder of the share, by size.
fn files(share: &Path, folder: &str) -> Vec<PathBuf> {
    let (mut found, mut open) = (Vec::new(), vec![share.join(folder)]);
    while let Some(folder) = open.pop() {
        for entry in fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()) {
            if entry.is_dir() { open.push(entry) } else { found.push(entry) }
        }
    }
    found.sort_by_key(|path| fs::metadata(path).map_or(0, |at| at.len()));
    found
}

fn is_named(round: &Value, part: &str) -> bool {
    let aside = round["set_aside"].as_array().expect("a list");
    aside.iter().any(|line| line["path"].as_str().is_some_and(|path| path.contains(part)))
}

/// Rounds of the first and another until that one shows what the first has.
fn recovers(place: &Place, other: &str) {
    for _ in 0..24 {
        run(place, "anna");
        let round = run(place, other);
        if round["lacking"] == 0 && done(place, other, &["site", "list"]).contains("yard") {
            break;
        }
    }
    let history = |home: &str| done(place, home, &["site", "history", "yard"]);
    assert_eq!(history(other), history("anna"));
    let words = format!("all is well with {other}");
    note(place, "anna", &words);
    run(place, "anna");
    run(place, other);
    assert_eq!(the_note(place, other), words);
}

#[test]
fn truncated_and_swapped_objects_are_named_and_mended() {
    let (place, share) = team("truncated");
    // Ben wants the original too, so that he needs whatever is in the folder.
    done(&place, "ben", &["exchange", "keep", "--every"]);
    let objects = files(&share, "objects");
    assert!(objects.len() >= 4, "{objects:?}");
    let (cut, last) = (&objects[0], &objects[objects.len() - 1]);
    let whole = fs::read(cut).expect("an object");
    fs::write(cut, &whole[..whole.len() / 2]).expect("cut short");
    let (one, other) = (&objects[1], &objects[2]);
    let bytes = fs::read(one).expect("an object");
    fs::copy(other, one).expect("swapped");
    fs::write(other, bytes).expect("swapped");
    fs::remove_file(last).expect("removed");
    let round = run(&place, "ben");
    let named = |path: &Path| is_named(&round, path.file_name().expect("a name").to_str().expect("digits"));
    assert!(named(cut) && named(last), "{round}");
    for line in round["set_aside"].as_array().expect("a list") {
        assert!(line["why"].as_str().is_some_and(|why| why.len() > 10), "{line}");
    }
    recovers(&place, "ben");
    // Whoever comes later needs the rest too, and gets it.
    let invitation: Value =
        serde_json::from_str(&done(&place, "anna", &["exchange", "invite", "--json"])).expect("JSON");
    let code = invitation["code"].as_str().expect("a code");
    done(&place, "cem", &["exchange", "join", &share.display().to_string(), "--code", code]);
    done(&place, "cem", &["exchange", "keep", "--every"]);
    done(&place, "anna", &["exchange", "approve"]);
    recovers(&place, "cem");
}

/// A number that no head comes near: a device counts on by less than 2³² each time.
const GREATER: &str = "4000000000000000000";

#[test]
fn links_folders_giants_and_strangers_among_the_heads_are_named_and_never_followed() {
    let (place, share) = team("strange");
    let heads = files(&share, "heads");
    let name = |path: &Path| path.file_name().expect("a name").to_str().expect("digits").to_owned();
    let anna = name(&heads[0]).split_once('.').expect("a head").0.to_owned();
    // What a link points to must be neither read nor changed.
    let precious = place.0.join("precious");
    fs::write(&precious, "precious").expect("written");
    symlink(&precious, share.join(format!("heads/{anna}.77"))).expect("a link");
    fs::create_dir(share.join(format!("heads/{anna}.78"))).expect("a folder");
    File::create(share.join(format!("heads/{anna}.79"))).and_then(|file| file.set_len(40 << 30)).expect("a giant");
    File::create(share.join(format!("members/{}", "ab".repeat(32))))
        .and_then(|f| f.set_len(40 << 30))
        .expect("a giant");
    fs::write(share.join("heads/desktop.ini"), "[.ShellClassInfo]").expect("a stranger");
    fs::write(share.join("heads/..%2f..%2fetc%2fpasswd.1"), "x").expect("a stranger");
    fs::write(share.join(format!("heads/{}.1", "cd".repeat(32))), "a device that nobody let in").expect("a stranger");
    // Above every head of hers, whose numbers lie apart by chance.
    fs::write(share.join(format!("heads/{anna}.{GREATER}")), [1; 100]).expect("no head");
    let round = run(&place, "ben");
    for part in [".77", ".78", ".79", "desktop.ini", "passwd.1", GREATER] {
        assert!(is_named(&round, part), "{part}: {round}");
    }
    assert_eq!(round["strangers"], json!(["cd".repeat(32)]));
    assert_eq!(fs::read_to_string(&precious).expect("still there"), "precious");
    let said = done(&place, "ben", &["exchange", "run"]);
    assert!(said.contains("set aside heads/desktop.ini: it is no file of this team; it is left alone"), "{said}");
    recovers(&place, "ben");
    assert_eq!(fs::read_to_string(&precious).expect("still there"), "precious");
    assert!(share.join("heads/desktop.ini").exists(), "what is somebody else's is left alone");
}

#[test]
fn a_linked_shelf_is_not_followed_and_an_older_folder_takes_nothing_back() {
    let (place, share) = team("replayed");
    recovers(&place, "ben");
    // The whole folder as it was, put back later, as a restored backup or a thief would.
    let backup = place.0.join("backup");
    let copy = |from: &Path, to: &Path| {
        let done = std::process::Command::new("cp").arg("-a").arg(from).arg(to).status();
        assert!(done.expect("cp runs").success());
    };
    copy(&share, &backup);
    note(&place, "anna", "written after the backup");
    run(&place, "anna");
    run(&place, "ben");
    fs::remove_dir_all(&share).expect("removed");
    copy(&backup, &share);
    for _ in 0..3 {
        run(&place, "anna");
        run(&place, "ben");
    }
    for home in ["anna", "ben"] {
        assert_eq!(the_note(&place, home), "written after the backup", "nothing is taken back");
    }
    // Shelves of objects that are links lead out of the folder. Whatever is written belongs onto one of all that can be.
    let (objects, elsewhere) = (share.join("objects"), place.0.join("elsewhere"));
    fs::rename(&objects, &elsewhere).expect("moved");
    fs::create_dir(&objects).expect("a folder");
    for shelf in (0..=255_u8).map(|byte| format!("{byte:02x}")) {
        fs::create_dir_all(elsewhere.join(&shelf)).expect("a folder");
        symlink(elsewhere.join(&shelf), objects.join(&shelf)).expect("a link");
    }
    let before = files(&place.0, "elsewhere");
    note(&place, "anna", "past the link");
    let output = place.on("anna", &["exchange", "run"]);
    assert_ne!(code(&output), 0, "{}", text(&output.stdout));
    assert!(text(&output.stderr).contains("it is a link; put a folder there"), "{}", text(&output.stderr));
    assert_eq!(files(&place.0, "elsewhere"), before, "no link is followed");
    fs::remove_dir_all(&objects).and_then(|()| fs::rename(&elsewhere, &objects)).expect("put back");
    run(&place, "anna");
    run(&place, "ben");
    assert_eq!(the_note(&place, "ben"), "past the link");
}
