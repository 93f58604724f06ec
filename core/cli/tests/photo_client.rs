//! Copies for a client, proved on their bytes: no position, no serial number, no owner unless asked for.
//!
//! exiftool writes what must not be told and reads what is left; the bytes themselves are searched as well, in both byte
//! orders and in the wide letters of XMP's rivals, since a reader may miss what a file still holds.

mod place;

use std::fs;
use std::process::Command;

use place::{Place, code, demo_photo, text};

const OWNER: &str = "Ottilie Invented";
const SERIAL: &str = "SN-4711-INVENTED";

/// A site with photos that tell everything.
fn told(test: &str) -> Place {
    let place = Place::new("photo_client", test);
    place.done(&["site", "add", &place.file("yard.json")]);
    fs::create_dir(place.0.join("card")).expect("a folder");
    for (name, from) in [("told.jpg", "stair.jpg"), ("turned.jpg", "landing.jpg")] {
        let file = place.0.join("card").join(name);
        fs::copy(demo_photo(from), &file).expect("copied");
        let done = Command::new("exiftool")
            .args(["-q", "-overwrite_original"])
            .args([format!("-Artist={OWNER}"), format!("-OwnerName={OWNER}"), format!("-Copyright={OWNER}")])
            .args([format!("-SerialNumber={SERIAL}"), format!("-LensSerialNumber={SERIAL}")])
            .args([format!("-XMP-dc:Creator={OWNER}"), format!("-IPTC:By-line={OWNER}"), format!("-Comment={OWNER}")])
            .args(["-XMP-exif:GPSLatitude=54.75", "-XMP-exif:GPSLongitude=3.25"])
            .arg(&file)
            .status();
        assert!(done.expect("exiftool, which .ci/setup test installs").success());
    }
    // As PNG too, whose details lie elsewhere.
    let (jpeg, png) = (place.0.join("card/told.jpg"), place.0.join("card/told.png"));
    assert!(Command::new("convert").arg(&jpeg).arg(&png).status().expect("ImageMagick").success());
    let copy = ["-q", "-overwrite_original", "-TagsFromFile"];
    let done = Command::new("exiftool").args(copy).arg(&jpeg).args(["-all:all"]).arg(&png).status();
    assert!(done.expect("exiftool").success());
    place.done(&["photo", "add", "yard", &place.file("card")]);
    place
}

fn details(path: &str) -> String {
    let read = Command::new("exiftool").args(["-a", "-G1", "-s", path]).output().expect("exiftool");
    text(&read.stdout)
}

fn holds(bytes: &[u8], words: &str) -> bool {
    let wide = |order: fn(u16) -> [u8; 2]| words.encode_utf16().flat_map(order).collect::<Vec<u8>>();
    let forms = [words.as_bytes().to_vec(), wide(u16::to_le_bytes), wide(u16::to_be_bytes)];
    forms.iter().any(|form| bytes.windows(form.len()).any(|window| window == form.as_slice()))
}

#[test]
fn a_copy_tells_nothing_that_was_not_asked_for() {
    let place = told("nothing");
    // What the originals hold, the search finds: otherwise it would prove nothing.
    for name in ["told.jpg", "told.png"] {
        let original = fs::read(place.0.join("card").join(name)).expect("the original");
        assert!(holds(&original, OWNER), "{name}");
        assert!(details(&place.file(&format!("card/{name}"))).contains("GPSLatitude"), "{name}");
    }
    let copies =
        place.done(&["photo", "client", "yard", "told.jpg", "turned.jpg", "told.png", "--out", &place.file("out")]);
    assert_eq!(copies.lines().count(), 3, "{copies}");
    for path in copies.lines() {
        let bytes = fs::read(path).expect("the copy");
        for secret in [OWNER, SERIAL, "Invented Pocket One", "told", "turned", "GPS"] {
            assert!(!holds(&bytes, secret) && !path.contains(secret), "{secret} in {path}");
        }
        let left = details(path);
        for name in ["GPS", "Serial", "Owner", "Artist", "Creator", "By-line", "Copyright", "Model", "Comment"] {
            let found: Vec<&str> = left.lines().filter(|line| line.contains(name) && !line.contains("ICC")).collect();
            assert!(found.is_empty(), "{name} in {path}: {found:?}");
        }
    }
    // The picture is the same, point for point, and it still says how it is held and when it was taken.
    let first = copies.lines().next().expect("a copy");
    let same = Command::new("compare").args(["-metric", "AE", first, &place.file("card/told.jpg"), "null:"]).output();
    assert_eq!(text(&same.expect("ImageMagick").stderr), "0");
    assert!(details(first).contains("DateTimeOriginal"));
    let turned = copies.lines().find(|path| details(path).contains("Rotate")).expect("one is held turned");
    assert!(turned.ends_with(".jpg"));
}

#[test]
fn each_thing_is_told_when_it_is_asked_for_and_only_that() {
    let place = told("asked");
    for (flag, is_told, is_not) in [
        ("--position", "GPSLatitude", ["SerialNumber", "Artist"]),
        ("--camera", "SerialNumber", ["GPSLatitude", "Artist"]),
        ("--owner", "Artist", ["GPSLatitude", "SerialNumber"]),
    ] {
        let out = place.file(flag.trim_start_matches('-'));
        let copies = place.done(&["photo", "client", "yard", "told.jpg", flag, "--out", &out]);
        let told = details(copies.trim());
        assert!(told.contains(is_told), "{flag}: {told}");
        assert!(is_not.iter().all(|name| !told.contains(name)), "{flag}: {told}");
    }
    // A copy with its mark-up drawn on it tells nothing at all.
    let copies = place.done(&["photo", "client", "yard", "told.jpg", "--marks", "--out", &place.file("marks")]);
    let told = details(copies.trim());
    assert!(!told.contains("[IFD0]") && !told.contains("[ExifIFD]") && !told.contains("[GPS]"), "{told}");
    let both = place.run(&["photo", "client", "yard", "--marks", "--owner", "--out", &place.file("both")]);
    assert_eq!(code(&both), 2);
}

#[test]
fn a_photo_without_a_file_is_named_and_the_others_are_written() {
    let place = told("missing");
    let output = place.run(&["photo", "client", "yard", "--out", &place.file("out")]);
    assert_eq!(code(&output), 0);
    assert_eq!(text(&output.stdout).lines().count(), 3);
    let said = text(&output.stderr);
    assert!(said.contains("ramp.jpg is merely named by the survey"), "{said}");
    let alone = place.run(&["photo", "client", "yard", "ramp.jpg", "--out", &place.file("out")]);
    assert_eq!(code(&alone), 2, "nothing could be written");
    assert!(place.refused(&["photo", "render", "yard", "ramp.jpg", &place.file("r.jpg")]).contains("merely named"));
}
