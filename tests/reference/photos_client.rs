//! Copies for a client, looked at with exiftool and byte by byte: nothing of place, camera or person is in them.

use std::path::{Path, PathBuf};

use newel_tests::outside::{exiftool, folder, run};
use photos::{Kind, Tell, for_client, marked};
use serde_json::Value;
use survey::Mark;
use units::Length;

const BASE: &str = env!("CARGO_TARGET_TMPDIR");

/// Words that stand in the original and must not stand in a copy.
const SECRETS: [&str; 5] =
    ["SN-40911-INV", "Ottoline Q. Invented", "Invented Works", "Invented Pocket", "lens-77-invented"];

/// A picture that tells everything, with more appended: another picture with a position, and a film.
fn talkative(base: &Path, name: &str) -> PathBuf {
    let file = base.join(name);
    let path = file.to_str().unwrap();
    let _ = run("convert", &["-size", "400x300", "plasma:red-blue", "-set", "comment", SECRETS[1], path]);
    let mut arguments = vec![
        "-q",
        "-overwrite_original",
        "-n",
        "-Make=Invented Works",
        "-Model=Invented Pocket One",
        "-Orientation=6",
        "-DateTimeOriginal=2026:09:15 08:12:40",
        "-OffsetTimeOriginal=+02:00",
        "-ExifIFD:SerialNumber=SN-40911-INV",
        "-ExifIFD:LensSerialNumber=lens-77-invented",
        "-ExifIFD:OwnerName=Ottoline Q. Invented",
        "-Artist=Ottoline Q. Invented",
        "-Copyright=Ottoline Q. Invented",
        "-GPSLatitude=54.7499977",
        "-GPSLatitudeRef=N",
        "-GPSLongitude=3.2498239",
        "-GPSLongitudeRef=E",
        "-GPSAltitude=3.7",
        "-GPSImgDirection=82",
        "-XMP:Creator=Ottoline Q. Invented",
        "-XMP:GPSLatitude=54.7499977",
        "-XMP:GPSLongitude=3.2498239",
    ];
    if name.ends_with(".jpg") {
        arguments.extend(["-IPTC:By-line=Ottoline Q. Invented", "-Comment=SN-40911-INV"]);
    }
    arguments.push(path);
    let _ = run("exiftool", &arguments);
    if name.ends_with(".jpg") {
        let mut bytes = std::fs::read(&file).unwrap();
        let again = bytes.clone();
        bytes.extend_from_slice(&again);
        bytes.extend_from_slice(b"\0\0\0\x18ftypmp42 SN-40911-INV");
        std::fs::write(&file, bytes).unwrap();
    }
    file
}

fn holds(bytes: &[u8], word: &str) -> bool {
    bytes.windows(word.len()).any(|w| w == word.as_bytes())
}

/// Every field that exiftool finds, by group and name.
fn fields(file: &Value) -> Vec<String> {
    file.as_object().unwrap().iter().map(|(name, value)| format!("{name}={value}")).collect()
}

#[test]
fn a_copy_tells_nothing_of_place_camera_or_person() {
    let (base, copies) = (folder(BASE, "talkative"), folder(BASE, "copies"));
    for name in ["a.jpg", "b.png", "c.webp", "d.tif"] {
        let original = std::fs::read(talkative(&base, name)).unwrap();
        assert!(SECRETS.iter().all(|secret| holds(&original, secret)), "{name}: the original tells everything");
        let copy = for_client(&original, Tell::default()).unwrap();
        for secret in SECRETS {
            assert!(!holds(&copy.bytes, secret), "{name}: the copy holds {secret}");
        }
        // 54 degrees as the EXIF writer stores them, in either order of bytes.
        for degrees in [[54u8, 0, 0, 0, 1, 0, 0, 0], [0, 0, 0, 54, 0, 0, 0, 1]] {
            assert!(!copy.bytes.windows(8).any(|w| w == degrees), "{name}: the copy holds the latitude");
        }
        std::fs::write(copies.join(name).with_extension(copy.kind.extension()), copy.bytes).unwrap();
    }
    let said = exiftool(&copies);
    assert_eq!(said.len(), 4);
    for (name, file) in said {
        let telling: Vec<String> = fields(&file)
            .into_iter()
            .filter(|field| {
                [
                    "GPS",
                    "XMP",
                    "IPTC",
                    "Serial",
                    "Owner",
                    "Artist",
                    "Copyright",
                    "Make",
                    "Model",
                    "Comment",
                    "MPF",
                    "Trailer",
                ]
                .iter()
                .any(|word| field.contains(word))
            })
            .collect();
        assert!(telling.is_empty(), "{name} tells {telling:?}");
    }
}

#[test]
fn a_copy_is_the_same_picture_still_turned_and_dated() {
    let (base, copies) = (folder(BASE, "talkative-2"), folder(BASE, "copies-2"));
    for name in ["a.jpg", "b.png", "c.webp"] {
        let original = talkative(&base, name);
        let bytes = std::fs::read(&original).unwrap();
        let copy = for_client(&bytes, Tell::default()).unwrap();
        let path = copies.join(name);
        std::fs::write(&path, &copy.bytes).unwrap();
        let pixels = |path: &Path| run("convert", &[path.to_str().unwrap(), "-depth", "8", "rgb:-"]);
        assert!(pixels(&original) == pixels(&path), "{name}: the pixels differ");
    }
    for (name, file) in exiftool(&copies) {
        // WebP keeps fields only in its extended form, which exiftool has made here.
        assert_eq!(file["IFD0:Orientation"], 6, "{name}");
        assert_eq!(file["ExifIFD:DateTimeOriginal"], "2026:09:15 08:12:40", "{name}");
        assert_eq!(file["ExifIFD:OffsetTimeOriginal"], "+02:00", "{name}");
    }
}

#[test]
fn what_is_asked_for_is_told_and_nothing_else() {
    let (base, copies) = (folder(BASE, "talkative-3"), folder(BASE, "copies-3"));
    let bytes = std::fs::read(talkative(&base, "a.jpg")).unwrap();
    let asked = [
        ("position.jpg", Tell { position: true, ..Tell::default() }),
        ("camera.jpg", Tell { camera: true, ..Tell::default() }),
        ("owner.jpg", Tell { owner: true, ..Tell::default() }),
    ];
    for (name, tell) in asked {
        let copy = for_client(&bytes, tell).unwrap();
        assert_eq!(copy.kind, Kind::Jpeg);
        std::fs::write(copies.join(name), copy.bytes).unwrap();
    }
    for (name, file) in exiftool(&copies) {
        let has = |field: &str| !file[field].is_null();
        assert_eq!(has("GPS:GPSLatitude"), name == "position.jpg", "{name}");
        assert_eq!(has("GPS:GPSImgDirection"), name == "position.jpg", "{name}");
        assert_eq!(has("ExifIFD:SerialNumber"), name == "camera.jpg", "{name}");
        assert_eq!(has("IFD0:Model"), name == "camera.jpg", "{name}");
        assert_eq!(has("ExifIFD:OwnerName"), name == "owner.jpg", "{name}");
        assert_eq!(has("IFD0:Artist"), name == "owner.jpg", "{name}");
    }
}

#[test]
fn marks_are_drawn_on_an_upright_copy_and_the_original_stays() {
    let base = folder(BASE, "marked");
    let original = talkative(&base, "a.jpg");
    let bytes = std::fs::read(&original).unwrap();
    let marks = [
        Mark::Arrow { from: (100, 100), to: (500, 500) },
        Mark::Dimension { from: (200, 800), to: (800, 800), length: Length::um(180_500) },
        Mark::Frame { from: (600, 100), to: (900, 300) },
        Mark::Words { at: (50, 600), text: "18 mm, Büchse passt".to_owned() },
    ];
    let copy = base.join("marked.jpg");
    let drawn = marked(&bytes, &marks).unwrap();
    assert!(SECRETS.iter().all(|secret| !holds(&drawn, secret)));
    std::fs::write(&copy, drawn).unwrap();
    // Upright, 400 x 300 turned by a quarter is 300 x 400.
    let size = run("identify", &["-format", "%wx%h", copy.to_str().unwrap()]);
    assert_eq!(String::from_utf8_lossy(&size), "300x400");
    let pixel = |x: u32, y: u32| {
        let rgb = run("convert", &[copy.to_str().unwrap(), "-crop", &format!("1x1+{x}+{y}"), "-depth", "8", "rgb:-"]);
        (rgb[0], rgb[1], rgb[2])
    };
    // On the upper side of the frame, half way, there is the mark's yellow; ImageMagick reads it, not we.
    let (red, green, blue) = pixel(224, 40);
    assert!(red > 180 && green > 130 && blue < 110, "{red} {green} {blue}");
    assert_eq!(std::fs::read(&original).unwrap(), bytes);
}
