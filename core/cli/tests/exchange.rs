//! `newel exchange` from one machine to another through a folder: the way a person goes who has read the README, and
//! everything that can be wrong with a folder or a code.

mod place;

use std::fs;

use place::{Place, code, other_photo, text};
use serde_json::Value;

/// A person's own machine.
fn done(place: &Place, home: &str, args: &[&str]) -> String {
    let output = place.on(home, args);
    assert_eq!(code(&output), 0, "{args:?}: {}", text(&output.stderr));
    text(&output.stdout)
}

fn json(place: &Place, home: &str, args: &[&str]) -> Value {
    serde_json::from_str(&done(place, home, args)).expect("one JSON document and nothing else")
}

fn refused(place: &Place, home: &str, args: &[&str]) -> String {
    let output = place.on(home, args);
    assert_eq!((code(&output), text(&output.stdout).as_str()), (2, ""), "{args:?}: {}", text(&output.stderr));
    let said = text(&output.stderr);
    assert_eq!(said.trim_end().lines().count(), 1, "one line for one fault: {said}");
    said
}

/// An empty folder that both machines reach.
fn folder(place: &Place, name: &str) -> String {
    fs::create_dir_all(place.0.join(name)).expect("a folder");
    place.file(name)
}

/// Two machines that share.
fn team(test: &str) -> (Place, String) {
    let place = Place::new("exchange", test);
    let share = folder(&place, "share");
    done(&place, "anna", &["site", "add", &place.file("yard.json")]);
    done(&place, "anna", &["exchange", "start", &share]);
    let code = json(&place, "anna", &["exchange", "invite", "--json"])["code"].as_str().expect("a code").to_owned();
    done(&place, "ben", &["exchange", "join", &share, "--code", &code]);
    done(&place, "anna", &["exchange", "approve"]);
    done(&place, "ben", &["exchange", "run"]);
    (place, share)
}

fn note(place: &Place, home: &str, words: &str) {
    let edit = serde_json::json!({"kind": "set_site", "change": {"kind": "note", "value": words}});
    fs::write(place.0.join("edit.json"), edit.to_string()).expect("written");
    done(place, home, &["site", "edit", "yard", &place.file("edit.json")]);
}

fn the_note(place: &Place, home: &str) -> String {
    let survey = json(place, home, &["site", "export", "yard"]);
    survey["site"]["note"].as_str().unwrap_or_default().to_owned()
}

#[test]
fn a_person_who_follows_the_readme_shares_sites_and_photos() {
    let place = Place::new("exchange", "readme");
    let share = folder(&place, "share");
    assert!(done(&place, "anna", &["exchange", "status"]).contains("newel exchange start PLACE"));
    done(&place, "anna", &["site", "add", &place.file("yard.json")]);
    fs::write(place.0.join("stair.jpg"), other_photo("stair.jpg", "readme")).expect("written");
    done(&place, "anna", &["photo", "add", "yard", &place.file("stair.jpg")]);
    let said = done(&place, "anna", &["exchange", "start", &share]);
    assert!(said.contains("its files are sealed"), "{said}");
    let said = done(&place, "anna", &["exchange", "invite"]);
    let code = said.lines().next().expect("the code");
    assert!(said.contains(&format!("newel exchange join '{share}' --code {code}")), "{said}");
    // As it is read out on the telephone: small letters, no dashes.
    let spoken = code.to_lowercase().replace('-', " ");
    let said = done(&place, "ben", &["exchange", "join", &share, "--code", &spoken]);
    assert!(said.contains("waits to be let in") && said.contains("newel exchange approve "), "{said}");
    let status = json(&place, "ben", &["exchange", "status", "--json"]);
    assert_eq!((status["state"].as_str(), status["sealed"].as_bool()), (Some("waiting"), None));
    done(&place, "anna", &["exchange", "run"]);
    let said = done(&place, "anna", &["exchange", "status"]);
    assert!(said.contains("asks") && said.contains("Invented ben"), "{said}");
    let said = done(&place, "anna", &["exchange", "approve", "Invented ben"]);
    assert!(said.contains("is in the team"), "{said}");
    let round = json(&place, "ben", &["exchange", "run", "--json"]);
    assert_eq!((round["state"].as_str(), round["stopped"].as_bool()), (Some("member"), Some(false)), "{round}");
    assert_eq!(round["photo_files_took"], 2, "the two smaller copies");
    let history = |home: &str| done(&place, home, &["site", "history", "yard"]);
    assert_eq!(history("ben"), history("anna"));
    done(&place, "ben", &["exchange", "keep", "yard"]);
    assert_eq!(json(&place, "ben", &["exchange", "run", "--json"])["photo_files_took"], 1);
    let shown = json(&place, "ben", &["photo", "show", "yard", "stair.jpg", "--json"]);
    let original = fs::read(shown["original"].as_str().expect("a path")).expect("the original");
    assert_eq!(original, fs::read(place.0.join("stair.jpg")).expect("the file"));
    // And the other way.
    note(&place, "ben", "key at the lodge");
    assert!(done(&place, "ben", &["exchange", "status"]).contains("not in the folder yet: 2 items"));
    done(&place, "ben", &["exchange", "run"]);
    assert!(done(&place, "ben", &["exchange", "status"]).contains("everything here is in the folder"));
    done(&place, "anna", &["exchange", "run"]);
    assert_eq!(the_note(&place, "anna"), "key at the lodge");
    // Ben's machine is stolen.
    assert!(done(&place, "anna", &["exchange", "remove", "Invented ben"]).contains("is shut out"));
    let said = done(&place, "ben", &["exchange", "run"]);
    assert!(said.contains("was removed from the team"), "{said}");
    assert!(refused(&place, "ben", &["exchange", "invite"]).contains("join with an invitation"));
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        for name in ["device.json", "newel.sqlite"] {
            let mode = fs::metadata(place.0.join("ben").join(name)).expect("a file").permissions().mode();
            assert_eq!(mode & 0o077, 0, "{name} is its owner's alone");
        }
        // Photos lie within, under the folder's own lock.
        let mode = fs::metadata(place.0.join("ben")).expect("a folder").permissions().mode();
        assert_eq!(mode & 0o777, 0o700);
    }
}

#[test]
fn what_a_device_gave_until_it_is_removed_counts() {
    let (place, _share) = team("last-word");
    note(&place, "ben", "left in the folder");
    done(&place, "ben", &["exchange", "run"]);
    done(&place, "anna", &["exchange", "remove", "Invented ben"]);
    assert_eq!(the_note(&place, "anna"), "left in the folder");
}

#[test]
fn a_device_that_does_not_say_whose_it_is_is_told_how_to() {
    let (place, share) = team("nameless");
    let code = json(&place, "anna", &["exchange", "invite", "--json"])["code"].as_str().expect("a code").to_owned();
    let own = folder(&place, "own");
    done(&place, "cem", &["device", "name", "--person", "somebody"]);
    for ask in [&["exchange", "start", &own][..], &["exchange", "join", &share, "--code", &code]] {
        let why = refused(&place, "cem", ask);
        assert!(why.contains("does not say whose it is; newel device name --person YOU"), "{why}");
    }
    done(&place, "cem", &["device", "name", "--person", "Invented Cem"]);
    done(&place, "cem", &["exchange", "join", &share, "--code", &code]);
}

#[test]
fn every_wrong_folder_and_code_is_a_sentence_that_says_what_to_do() {
    let (place, share) = team("wrong");
    let start = |address: &str| refused(&place, "cem", &["exchange", "start", address]);
    assert!(start(&place.file("nowhere")).contains("there is no such folder; connect the drive"));
    assert!(start(&place.file("yard.json")).contains("it is a file; name a folder"));
    assert!(start("").contains("it is empty; give a folder, https://host/path or s3://bucket/prefix"));
    assert!(start("gopher://host/x").contains("give a folder, https://host/path or s3://bucket/prefix"));
    assert!(start(&share).contains("ask one of it for an invitation"));
    assert!(start(&folder(&place, "cem/photos")).contains("outside the folder in which the sites are kept"));
    let full = folder(&place, "full");
    fs::write(place.0.join("full/letter.txt"), "dear").expect("written");
    assert!(start(&full).contains("holds other things already (letter.txt); make an empty folder"));
    // A running team's folder from which somebody removed the file that says so.
    let about = place.0.join("share/newel-exchange.txt");
    let kept = fs::read(&about).expect("the file");
    fs::remove_file(&about).expect("removed");
    assert!(start(&share).contains("newel-exchange.txt is missing there, though a team's files are not"));
    fs::write(&about, kept).expect("put back");
    let foreign = folder(&place, "foreign");
    for (text, expected) in [
        ("[settings]\n", "was not written by Newel or is damaged; choose another folder"),
        ("Newel exchange, format 2, sealed, team 00\n", "a newer release made this folder; update Newel"),
    ] {
        fs::write(place.0.join("foreign/newel-exchange.txt"), text).expect("written");
        assert!(start(&foreign).contains(expected));
    }
    assert!(refused(&place, "cem", &["exchange", "run"]).contains("newel exchange start PLACE begins a team"));
    assert!(refused(&place, "anna", &["exchange", "start", &full]).contains("newel exchange leave ends that first"));

    let join = |address: &str, code: &str| refused(&place, "cem", &["exchange", "join", address, "--code", code]);
    let own = json(&place, "anna", &["exchange", "invite", "--json"])["code"].as_str().expect("a code").to_owned();
    let wrong = format!("{}{}", if own.starts_with('0') { '1' } else { '0' }, &own[1..]);
    assert!(join(&share, &wrong).contains("a letter or digit in it is wrong"));
    assert!(join(&share, "0480").contains("it has 4 letters and digits; accepted: the code as it was printed, 47"));
    assert!(join(&share, "u").contains("'u' does not stand in a code"));
    assert!(join(&full, &own).contains("no team shares") && join(&full, &own).contains("newel exchange start"));
    assert!(refused(&place, "cem", &["exchange", "join", &share]).contains("newel exchange invite"));
    let other = folder(&place, "other");
    done(&place, "dora", &["exchange", "start", &other]);
    assert!(join(&other, &own).contains("this code is for another team's folder"));
    assert!(refused(&place, "anna", &["exchange", "join", &other]).contains("name the folder of your own team"));

    assert!(refused(&place, "anna", &["exchange", "approve"]).contains("there is no device that asks to be let in"));
    assert!(refused(&place, "anna", &["exchange", "remove", "Invented anna"]).contains("cannot remove itself"));
    assert!(refused(&place, "anna", &["exchange", "remove", "nobody"]).contains("(Invented ben on "));
    assert!(refused(&place, "anna", &["exchange", "keep", "nosuch"]).contains("is the id or label of no site"));
}

#[test]
fn a_drive_that_is_away_is_told_from_an_empty_folder_and_comes_back() {
    let (place, share) = team("away");
    let aside = place.0.join("share-unplugged");
    fs::rename(&share, &aside).expect("unplugged");
    assert!(refused(&place, "anna", &["exchange", "run"]).contains("connect the drive"));
    // Where the drive was is an empty folder now: nothing may be written there.
    fs::create_dir(&share).expect("the place of the drive");
    let said = refused(&place, "anna", &["exchange", "run"]);
    assert!(said.contains("is not the team's folder now") && said.contains("newel exchange join PLACE"), "{said}");
    assert_eq!(fs::read_dir(&share).expect("a folder").count(), 0);
    note(&place, "anna", "local work goes on");
    let status = json(&place, "anna", &["exchange", "status", "--json"]);
    assert!(status["failing_since"].is_string() && status["failure"].as_str().is_some_and(|why| why.contains("drive")));
    // What a person does meanwhile goes there with the next round.
    let output = place.on("anna", &["exchange", "invite"]);
    assert_eq!(code(&output), 0);
    assert!(text(&output.stderr).contains("it goes into the folder with the next round"), "{}", text(&output.stderr));
    fs::remove_dir(&share).expect("removed");
    // It comes back under another name, and without the file that says what it is.
    fs::remove_file(aside.join("newel-exchange.txt")).expect("removed");
    let moved = place.file("share-unplugged");
    let said = refused(&place, "anna", &["exchange", "join", &moved]);
    assert!(said.contains("bring it back from a backup, or run a round on a device of that team"), "{said}");
    fs::rename(&aside, &share).expect("plugged in");
    done(&place, "anna", &["exchange", "run"]);
    assert!(place.0.join("share/newel-exchange.txt").exists(), "it is written again");
    fs::rename(&share, &aside).expect("moved for good");
    assert!(done(&place, "anna", &["exchange", "join", &moved]).contains("the team's folder is"));
    done(&place, "ben", &["exchange", "join", &moved]);
    done(&place, "ben", &["exchange", "run"]);
    assert_eq!(the_note(&place, "ben"), "local work goes on");
    let status = json(&place, "anna", &["exchange", "status", "--json"]);
    assert!(status["failure"].is_null() && status["last_round"].is_string());
}

#[test]
fn an_open_folder_says_that_it_is_open() {
    let place = Place::new("exchange", "open");
    let share = folder(&place, "share");
    let said = done(&place, "anna", &["exchange", "start", &share, "--open"]);
    assert!(said.contains("whoever can open the folder can read everything in it"), "{said}");
    assert!(done(&place, "anna", &["exchange", "status"]).contains("open: whoever can open the folder"));
    let about = fs::read_to_string(place.0.join("share/newel-exchange.txt")).expect("the file");
    assert!(about.contains("Its files are open"), "{about}");
}
