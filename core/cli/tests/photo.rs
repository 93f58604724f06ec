//! `newel photo` as built: adding, listing, placing, clocks, notes, marks, log and map.
//!
//! The contract is ours and has no outside source; what is read from pictures is checked against exiftool elsewhere.

mod place;

use std::fs;
use std::process::Command;

use place::{Place, code, demo_photo, other_photo, text};
use serde_json::{Value, json};

/// The demo site in the store of a place.
fn demo(test: &str) -> Place {
    let place = Place::new("photo", test);
    place.done(&["site", "add", "demo"]);
    place
}

fn demo_id(place: &Place) -> String {
    let list = place.json(&["site", "list", "--json"]);
    list["sites"][0]["id"].as_str().expect("an id").to_owned()
}

fn photo<'a>(list: &'a Value, id: &str) -> &'a Value {
    let photos = list["photos"].as_array().expect("photos");
    photos.iter().find(|photo| photo["id"] == id).unwrap_or_else(|| panic!("{id} in {list}"))
}

#[test]
fn the_photos_that_a_survey_names_are_missing_until_their_files_are_added() {
    let place = demo("named");
    let id = demo_id(&place);
    let before = place.json(&["photo", "list", &id, "--json"]);
    let named = before["photos"].as_array().expect("photos").len();
    assert!(named >= 8);
    assert!(before["photos"].as_array().expect("photos").iter().all(|photo| photo["state"] == "named"));
    assert!(place.done(&["photo", "list", &id]).contains("missing: the survey merely names it"));
    let folder = demo_photo("");
    let added = place.json(&["photo", "add", &id, &folder.display().to_string(), "--json"]);
    // Beside the pictures lie a list and a page of words.
    assert_eq!((added["linked"].as_u64(), added["added"].as_u64()), (Some(named as u64), Some(0)), "{added}");
    assert_eq!(added["refused"], 2);
    let list = place.json(&["photo", "list", &id, "--json"]);
    assert_eq!(list["photos"].as_array().expect("photos").len(), named, "each has found its photo");
    let stair = photo(&list, "ph-stair");
    assert_eq!((stair["state"].as_str(), stair["file_kind"].as_str()), (Some("here"), Some("JPEG")));
    assert_eq!((stair["width_px"].as_u64(), stair["height_px"].as_u64()), (Some(640), Some(400)));
    assert_eq!(stair["heading"], json!({"degrees": 82.0, "north": "true"}));
    assert_eq!(stair["note"], "foot of the stair, first weld", "what the survey says stays");
    for thumbnail in ["thumbnail_320", "thumbnail_1600"] {
        let path = stair[thumbnail].as_str().expect("a thumbnail");
        assert!(fs::read(path).expect("it is there").starts_with(&[0xff, 0xd8]));
        // A thumbnail that was deleted is there again when it is asked for.
        fs::remove_file(path).expect("deleted");
    }
    let again = place.json(&["photo", "list", &id, "--json"]);
    assert_eq!(again, list);
    assert!(fs::exists(stair["thumbnail_320"].as_str().expect("a path")).expect("looked for"));
    // The original is kept byte for byte.
    let shown = place.json(&["photo", "show", &id, "stair.jpg", "--json"]);
    let original = fs::read(shown["original"].as_str().expect("a path")).expect("the original");
    assert_eq!(original, fs::read(demo_photo("stair.jpg")).expect("the file"));
    // The demo's deck was drawn some kilometres away, and that is asked about.
    let said = place.done(&["photo", "list", &id]);
    assert_eq!(list["away"].as_array().expect("clusters").len(), said.matches("another job?").count());
    // Once more they are all there already.
    let again = place.json(&["photo", "add", &id, &folder.display().to_string(), "--json"]);
    assert_eq!((again["duplicates"].as_u64(), again["linked"].as_u64()), (Some(named as u64), Some(0)));
    assert!(place.done(&["site", "history", &id]).contains(&format!("{named} photos given the file")));
}

#[test]
fn files_are_added_once_and_those_that_are_none_are_named() {
    let place = Place::new("photo", "add");
    place.done(&["site", "add", &place.file("yard.json")]);
    let folder = place.0.join("card/deep/er");
    fs::create_dir_all(&folder).expect("folders");
    fs::copy(demo_photo("stair.jpg"), folder.join("a.jpg")).expect("copied");
    fs::copy(demo_photo("stair.jpg"), place.0.join("card/the same.jpg")).expect("copied");
    fs::copy(demo_photo("ramp.jpg"), place.0.join("card/holiday\u{202e}gpj.exe")).expect("copied");
    fs::write(place.0.join("card/notes.txt"), "no picture").expect("written");
    assert!(Command::new("mkfifo").arg(place.0.join("card/pipe.jpg")).status().expect("mkfifo").success());
    std::os::unix::fs::symlink(&place.0, place.0.join("card/circle")).expect("a link");
    let output = place.run(&["photo", "add", "yard", &place.file("card"), "--json"]);
    assert_eq!(code(&output), 0, "the rest was added");
    let said = text(&output.stderr);
    for (name, why) in [("notes.txt", "is no picture"), ("pipe.jpg", "pipe"), ("circle", "symbolic link")] {
        assert!(said.lines().any(|line| line.contains(name) && line.contains(why)), "{name} {why}: {said}");
    }
    let added: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    let numbers = ["added", "linked", "duplicates", "refused"].map(|name| added[name].as_u64().expect("a number"));
    assert_eq!(numbers, [2, 0, 1, 3], "{added}");
    let list = place.json(&["photo", "list", "yard", "--json"]);
    // What would turn the line around is taken out of the name.
    let files: Vec<&str> =
        list["photos"].as_array().expect("photos").iter().filter_map(|p| p["file"].as_str()).collect();
    assert_eq!(files, ["ramp.jpg", "a.jpg", "holiday<U+202E>gpj.exe"]);
    let stair = &list["photos"][1];
    assert_eq!(stair["taken"], "2026-09-15T08:12:40+02:00");
    assert_eq!(
        (stair["offset_source"].as_str(), stair["camera"].as_str()),
        (Some("camera"), Some("Invented Pocket One"))
    );
    assert_eq!(stair["position"]["altitude_mm"], 3700);
    // Nothing of what is named can be used: a refusal.
    let output = place.run(&["photo", "add", "yard", &place.file("card/notes.txt"), &place.file("absent.jpg")]);
    assert_eq!(code(&output), 2);
    assert!(text(&output.stderr).contains("absent.jpg cannot be read"), "{}", text(&output.stderr));
    let wrong = place.refused(&["photo", "add", "yards", &place.file("card")]);
    assert!(wrong.contains("\"yards\" is the id or label of no site; accepted: yard (Yard (invented))"), "{wrong}");
}

#[test]
fn an_offset_is_assumed_only_where_it_is_said() {
    let place = Place::new("photo", "offset");
    place.done(&["site", "add", &place.file("yard.json")]);
    // A picture whose EXIF was taken out but for the time.
    let bare = place.file("bare.jpg");
    fs::copy(demo_photo("stair.jpg"), &bare).expect("copied");
    let done = Command::new("exiftool")
        .args(["-q", "-overwrite_original", "-all=", "-DateTimeOriginal=2026:09:15 08:12:40", &bare])
        .status();
    assert!(done.expect("exiftool, which .ci/setup test installs").success());
    let added = place.json(&["photo", "add", "yard", &bare, "--offset", "-03:30", "--json"]);
    let remarks = added["files"][0]["remarks"].to_string();
    assert!(remarks.contains("-03:30 is assumed"), "{remarks}");
    let list = place.json(&["photo", "list", "yard", "--json"]);
    let photo = &list["photos"][1];
    assert_eq!(photo["taken"], "2026-09-15T08:12:40-03:30");
    assert_eq!(photo["offset_source"], "assumed");
    assert!(place.refused(&["photo", "add", "yard", &bare, "--offset", "soon"]).contains("+02:00"));
}

#[test]
fn photos_are_placed_by_their_positions_or_by_word() {
    let place = demo("place");
    let id = demo_id(&place);
    let folder = place.0.join("card");
    fs::create_dir(&folder).expect("a folder");
    fs::write(folder.join("new.jpg"), other_photo("ramp.jpg", "another")).expect("written");
    place.done(&["photo", "add", &id, &folder.display().to_string()]);
    let shown = place.json(&["photo", "show", &id, "new.jpg", "--json"]);
    let near = &shown["photo"]["nearest"];
    assert_eq!(near["rail"], "ramp");
    assert!(near["uncertainty_m"].as_f64().expect("metres") >= 3.0, "the receiver's own 3 m at least");
    let between = [&near["least_chainage_mm"], &near["chainage_mm"], &near["greatest_chainage_mm"]];
    let between = between.map(|mm| mm.as_f64().expect("a chainage"));
    assert!(between.is_sorted(), "{between:?}");
    // The chainage at which the demo's picture was drawn lies within the stated uncertainty.
    assert!(between[0] <= 3080.0 && 3080.0 <= between[2], "{near}");
    let said = place.done(&["photo", "place", &id, "new.jpg", "--accept"]);
    let at = format!("photo new.jpg shows Ramp rail at {:.0} mm\n", between[1]);
    let label = near["label"].as_str().expect("a label");
    assert_eq!(said, at.replace("Ramp rail", label));
    let shown = place.json(&["photo", "show", &id, "new.jpg", "--json"]);
    assert_eq!(shown["photo"]["shows"]["rail"], "ramp");
    place.done(&["photo", "place", &id, "new.jpg", "--rail", label, "--chainage", "1.25 m"]);
    let shown = place.json(&["photo", "show", &id, "new.jpg", "--json"]);
    assert_eq!(shown["photo"]["shows"], json!({"kind": "rail", "rail": "ramp", "chainage_mm": 1250}));
    place.done(&["photo", "place", &id, "new.jpg", "--defect", "rust at the weld"]);
    assert!(place.done(&["photo", "show", &id, "new.jpg"]).contains("shows: defect: rust at the weld"));
    place.done(&["site", "undo", &id]);
    let again = place.json(&["photo", "show", &id, "new.jpg", "--json"]);
    assert_eq!(again["photo"]["shows"], shown["photo"]["shows"]);
    let beyond = place.refused(&["photo", "place", &id, "new.jpg", "--rail", "ramp", "--chainage", "900 m"]);
    assert!(beyond.contains("accepted: a chainage from 0 to "), "{beyond}");
    assert!(
        place
            .refused(&["photo", "place", &id, "new.jpg", "--rail", "roof"])
            .contains("is no rail of this site; accepted")
    );
    assert!(place.refused(&["photo", "place", &id, "old.jpg", "--general"]).contains("is no photo of this site"));
}

#[test]
fn a_wrong_clock_is_put_right_for_a_batch_and_no_file_is_touched() {
    let place = demo("clock");
    let id = demo_id(&place);
    let folder = place.0.join("card");
    fs::create_dir(&folder).expect("a folder");
    for n in 0..3 {
        let file = folder.join(format!("late-{n}.jpg"));
        fs::write(&file, other_photo("ramp.jpg", &n.to_string())).expect("written");
        let shift =
            ["-q", "-overwrite_original", "-Model=Invented Pocket Two", "-DateTimeOriginal=2026:09:25 09:47:18"];
        let done = Command::new("exiftool").args(shift).arg("-gps:all=").arg(&file).status();
        assert!(done.expect("exiftool, which .ci/setup test installs").success());
    }
    place.done(&["photo", "add", &id, &folder.display().to_string()]);
    let said = place.done(&["photo", "clock", &id]);
    assert!(
        said.starts_with("3 photos by Invented Pocket Two: the clock is 10 d ahead of the day of the survey"),
        "{said}"
    );
    let list = place.json(&["photo", "list", &id, "--json"]);
    assert_eq!(
        (list["clocks"][0]["ahead_s"].as_i64(), list["clocks"][0]["against"].as_str()),
        (Some(864_000), Some("survey_day"))
    );
    let files = || {
        let list = place.json(&["photo", "list", &id, "--json"]);
        let originals: Vec<Vec<u8>> = (0..3)
            .map(|n| {
                let shown = place.json(&["photo", "show", &id, &format!("late-{n}.jpg"), "--json"]);
                fs::read(shown["original"].as_str().expect("a path")).expect("the original")
            })
            .collect();
        (originals, list["clocks"].clone())
    };
    let (before, _) = files();
    let said = place.done(&["photo", "clock", &id, "--camera", "Invented Pocket Two", "--ahead", "10 d"]);
    assert_eq!(said, "times of 3 photos put right, the clock was 864000 s ahead\n");
    let (after, clocks) = files();
    assert_eq!(after, before, "the originals are as they were");
    assert_eq!(clocks, json!([]), "and nobody is asked again");
    let shown = place.json(&["photo", "show", &id, "late-1.jpg", "--json"]);
    assert_eq!(shown["photo"]["taken"], "2026-09-15T09:47:18+02:00");
    // One step takes the whole batch back.
    place.done(&["site", "undo", &id]);
    assert_eq!(place.json(&["photo", "list", &id, "--json"])["clocks"], list["clocks"]);
    assert!(
        place.refused(&["photo", "clock", &id, "--camera", "Nobody's", "--ahead", "5"]).contains("Invented Pocket Two")
    );
    assert!(place.refused(&["photo", "clock", &id, "--camera", "x", "--ahead", "a while"]).contains("span of time"));
}

#[test]
fn notes_are_found_and_marks_are_data() {
    let place = demo("notes");
    let id = demo_id(&place);
    let folder = place.0.join("card");
    fs::create_dir(&folder).expect("a folder");
    fs::write(folder.join("new.jpg"), other_photo("ramp.jpg", "another")).expect("written");
    place.done(&["photo", "add", &id, &folder.display().to_string()]);
    place.done(&["photo", "note", &id, "new.jpg", "cracked weld beside the kiosk"]);
    let found = place.json(&["site", "search", "kiosk", "crack", "--json"]);
    assert_eq!(found["hits"].as_array().expect("hits").len(), 1, "{found}");
    assert_eq!(
        (found["hits"][0]["id"].as_str(), found["hits"][0]["field"].as_str()),
        (Some(id.as_str()), Some("note"))
    );
    assert_eq!(place.json(&["site", "search", "new.jpg", "--json"])["hits"][0]["field"], "file");
    let marks = r#"{"marks": [
      {"kind": "arrow", "from": {"x_permille": 100, "y_permille": 100}, "to": {"x_permille": 500, "y_permille": 500}},
      {"kind": "dimension", "from": {"x_permille": 0, "y_permille": 900}, "to": {"x_permille": 900, "y_permille": 900}, "length_mm": "1.2 m"},
      {"kind": "frame", "from": {"x_permille": 10, "y_permille": 10}, "to": {"x_permille": 90, "y_permille": 90}},
      {"kind": "words", "at": {"x_permille": 5, "y_permille": 5}, "text": "here"}]}"#;
    fs::write(place.0.join("marks.json"), marks).expect("written");
    place.done(&["photo", "mark", &id, "new.jpg", &place.file("marks.json")]);
    let shown = place.json(&["photo", "show", &id, "new.jpg", "--json"]);
    assert_eq!(shown["marks"].as_array().expect("marks").len(), 4);
    assert_eq!(shown["marks"][1]["length_mm"], 1200);
    place.done(&["photo", "render", &id, "new.jpg", &place.file("drawn.jpg")]);
    // Full resolution, with other pixels than the photo's along the arrow (ImageMagick says where they differ).
    let differs = |at: &str| {
        let convert = Command::new("convert")
            .args([place.file("card/new.jpg"), place.file("drawn.jpg")])
            .args(["-compose", "difference", "-composite", "-crop", at, "-format", "%wx%h %[fx:mean*255]", "info:"])
            .output()
            .expect("ImageMagick, which .ci/setup test installs");
        text(&convert.stdout)
    };
    assert!(differs("640x400+0+0").starts_with("640x400 "));
    let mean = |at: &str| differs(at).split(' ').next_back().and_then(|mean| mean.parse::<f64>().ok()).expect("a mean");
    let (arrow, elsewhere) = (mean("20x20+190+110"), mean("20x20+560+30"));
    assert!(arrow > 10.0 && elsewhere < 3.0, "{arrow} {elsewhere}");
    // Each fault of the text with its place.
    fs::write(place.0.join("wrong.json"), r#"{"marks": [{"kind": "arrow", "from": 3}, {"kind": "star"}]}"#)
        .expect("written");
    let said = place.refused(&["photo", "mark", &id, "new.jpg", &place.file("wrong.json")]);
    assert!(said.contains("$.marks[0].from") && said.contains("$.marks[1].kind"), "{said}");
}

#[test]
fn the_log_and_the_map_tell_what_the_site_holds() {
    let place = demo("log");
    let id = demo_id(&place);
    let log = place.done(&["photo", "log", &id]);
    assert!(log.starts_with("id,file,taken,shows,") && log.contains("\r\nph-stair,photos/stair.jpg,"), "{log}");
    place.done(&["photo", "geojson", &id, "--out", &place.file("map.geojson")]);
    let map: Value = serde_json::from_slice(&fs::read(place.file("map.geojson")).expect("the map")).expect("JSON");
    assert_eq!(map["type"], "FeatureCollection");
    let kinds = |kind: &str| {
        map["features"].as_array().expect("features").iter().filter(|f| f["properties"]["kind"] == kind).count()
    };
    assert!(kinds("rail") > 0 && kinds("mains_point") > 0 && kinds("photo") >= 8);
}
