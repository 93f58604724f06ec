//! Photos go with their site: in one file, into another store, and what was damaged on the way is named.

mod place;

use std::fs;

use place::{Place, code, other_photo, text};
use serde_json::Value;

/// A site with three photos, sent to a file.
fn sent(test: &str) -> Place {
    let place = Place::new("photo_sent", test);
    place.done(&["site", "add", &place.file("yard.json")]);
    fs::create_dir(place.0.join("card")).expect("a folder");
    for name in ["stair.jpg", "landing.jpg", "joint.jpg"] {
        fs::write(place.0.join("card").join(name), other_photo(name, test)).expect("written");
    }
    place.done(&["photo", "add", "yard", &place.file("card")]);
    place.done(&["photo", "note", "yard", "stair.jpg", "key at the lodge"]);
    let said = place.done(&["site", "send", "yard", &place.file("yard.newel-site")]);
    assert_eq!(said, "yard with its history and 3 photos\n");
    place
}

/// Takes the file in on another machine, and vouches for the first.
fn received(place: &Place) -> Value {
    let came = place.on("other", &["site", "receive", &place.file("yard.newel-site"), "--json"]);
    assert_eq!(code(&came), 0, "{}", text(&came.stderr));
    let came: Value = serde_json::from_slice(&came.stdout).expect("JSON");
    let device = came["unknown_devices"][0]["id"].as_str().expect("a device");
    assert_eq!(code(&place.on("other", &["device", "know", &device[..16]])), 0);
    came
}

fn listed(place: &Place) -> Value {
    serde_json::from_slice(&place.on("other", &["photo", "list", "yard", "--json"]).stdout).expect("JSON")
}

#[test]
fn survey_history_and_photos_arrive_as_they_were() {
    let place = sent("whole");
    let came = received(&place);
    assert_eq!((came["photos"].as_u64(), came["photos_set_aside"].as_array().map(Vec::len)), (Some(3), Some(0)));
    let (here, there) = (place.json(&["photo", "list", "yard", "--json"]), listed(&place));
    let photos = |list: &Value| {
        let mut photos = list["photos"].clone();
        for photo in photos.as_array_mut().expect("photos") {
            // Where thumbnails lie is each machine's own.
            photo["thumbnail_320"] = Value::Bool(photo["thumbnail_320"].is_string());
            photo["thumbnail_1600"] = Value::Bool(photo["thumbnail_1600"].is_string());
        }
        photos
    };
    assert_eq!(photos(&here), photos(&there));
    for name in ["stair.jpg", "landing.jpg", "joint.jpg"] {
        let shown = place.on("other", &["photo", "show", "yard", name, "--json"]);
        let shown: Value = serde_json::from_slice(&shown.stdout).expect("JSON");
        let original = fs::read(shown["original"].as_str().expect("a path")).expect("the original");
        assert_eq!(original, fs::read(place.0.join("card").join(name)).expect("the file"), "{name}");
    }
    let history = |home: &str| text(&place.on(home, &["site", "history", "yard"]).stdout);
    assert_eq!(history("home"), history("other"));
    // Once more brings nothing new and does no harm.
    let again = place.on("other", &["site", "receive", &place.file("yard.newel-site")]);
    assert_eq!(text(&again.stdout), "yard: 0 new changes, 3 photos\n");
}

#[test]
fn a_photo_damaged_on_the_way_is_named_and_the_rest_is_taken_in() {
    let place = sent("damaged");
    let path = place.0.join("yard.newel-site");
    let mut file = fs::read(&path).expect("the file");
    // In the middle of the second photo's bytes.
    let second = fs::read(place.0.join("card/landing.jpg")).expect("the photo");
    let at = file.windows(second.len()).position(|window| window == second.as_slice()).expect("it travels as it is");
    file[at + second.len() / 2] ^= 0x10;
    fs::write(&path, &file).expect("written");
    let came = received(&place);
    assert_eq!(came["photos"], 2);
    let aside = &came["photos_set_aside"];
    assert_eq!((aside.as_array().map(Vec::len), aside[0]["file"].as_str()), (Some(1), Some("landing.jpg")));
    assert!(aside[0]["why"].as_str().is_some_and(|why| why.contains("damaged")), "{aside}");
    let list = listed(&place);
    let states: Vec<&str> =
        list["photos"].as_array().expect("photos").iter().filter_map(|p| p["state"].as_str()).collect();
    assert_eq!(states, ["named", "here", "missing", "here"], "joint, landing and stair in the order of the card");
    // The file itself brings the missing one back, under the same photo.
    let card = place.file("card");
    let added = place.on("other", &["photo", "add", "yard", &card, "--json"]);
    let added: Value = serde_json::from_slice(&added.stdout).expect("JSON");
    assert_eq!((added["restored"].as_u64(), added["duplicates"].as_u64()), (Some(1), Some(2)), "{added}");
    assert_eq!(listed(&place)["photos"].as_array().map(Vec::len), Some(4));
}

#[test]
fn a_file_cut_short_brings_what_it_holds() {
    let place = sent("cut");
    let path = place.0.join("yard.newel-site");
    let file = fs::read(&path).expect("the file");
    // The last photo's end is missing.
    fs::write(&path, &file[..file.len() - 2000]).expect("written");
    let came = received(&place);
    assert_eq!(came["photos"], 2);
    assert_eq!(came["photos_set_aside"].as_array().map(Vec::len), Some(1));
    // Cut within the history nothing is taken in.
    fs::write(&path, &file[..900]).expect("written");
    let refused = place.on("third", &["site", "receive", &place.file("yard.newel-site")]);
    assert_eq!(code(&refused), 2);
    assert!(text(&refused.stderr).contains("cut short"), "{}", text(&refused.stderr));
    assert!(text(&place.on("third", &["site", "list"]).stdout).starts_with("0 sites"));
}

#[test]
fn what_is_not_here_or_was_altered_does_not_travel_and_is_named() {
    let place = sent("left_out");
    let original = |name: &str| {
        let shown = place.json(&["photo", "show", "yard", name, "--json"]);
        shown["original"].as_str().expect("a path").to_owned()
    };
    let (gone, altered) = (original("stair.jpg"), original("landing.jpg"));
    fs::remove_file(gone).expect("removed");
    let mut bytes = fs::read(&altered).expect("the original");
    let middle = bytes.len() / 2;
    bytes[middle] ^= 1;
    fs::write(&altered, bytes).expect("written");
    let said = place.done(&["site", "send", "yard", &place.file("again.newel-site")]);
    assert!(said.starts_with("yard with its history and 1 photo\n"), "{said}");
    assert!(
        said.contains("photo stair.jpg does not travel with it: ") && said.contains("is not on this device"),
        "{said}"
    );
    assert!(said.contains("photo landing.jpg does not travel with it: ") && said.contains("was altered"), "{said}");
    let list = place.done(&["photo", "list", "yard"]);
    assert!(list.contains("stair.jpg") && list.contains("missing: not on this device"), "{list}");
}

#[test]
fn a_copy_and_an_archived_site_keep_their_photos() {
    let place = sent("kept");
    let copy = place.done(&["site", "duplicate", "yard", "Second yard"]);
    let photos = |site: &str| place.json(&["photo", "list", site, "--json"])["photos"].clone();
    assert_eq!(photos(copy.trim()), photos("yard"));
    place.done(&["site", "archive", "yard"]);
    assert!(photos("yard").as_array().expect("photos").iter().skip(1).all(|photo| photo["state"] == "here"));
    place.done(&["site", "send", copy.trim(), &place.file("copy.newel-site")]);
    let came = place.on("other", &["site", "receive", &place.file("copy.newel-site"), "--json"]);
    let came: Value = serde_json::from_slice(&came.stdout).expect("JSON");
    assert_eq!(came["photos"], 3);
}
