//! What we read of a camera's details against what exiftool reads of the same file, field by field.
//!
//! The cameras are invented; their layouts are those that makers use: either order of bytes, with and without an offset,
//! satellites' time, fractions, seconds, references; magnetic and true directions; maker's notes, further pictures and
//! films appended.

use std::path::{Path, PathBuf};

use newel_tests::outside::{exiftool, folder, run};
use photos::Kind;
use photos::exif::{self, Assume, Facts, North};
use serde_json::Value;

const BASE: &str = env!("CARGO_TARGET_TMPDIR");

/// Invented cameras: order of bytes, maker, model, and the fields each writes.
#[rustfmt::skip]
const CAMERAS: [(&str, &str, &str, &[&str]); 30] = [
    ("MM", "Invented", "Pocket One", &["DateTimeOriginal=2026:09:15 08:12:40", "OffsetTimeOriginal=+02:00", "SubSecTimeOriginal=123", "GPSLatitude=54.7499977", "GPSLatitudeRef=N", "GPSLongitude=3.2498239", "GPSLongitudeRef=E", "GPSAltitude=3.7", "GPSAltitudeRef=0", "GPSHPositioningError=4.2", "GPSImgDirection=82.5", "GPSImgDirectionRef=T", "FocalLength=4.25", "FocalLengthIn35mmFormat=26", "Orientation=1"]),
    ("II", "Invented", "Pocket Two", &["DateTimeOriginal=2026:09:15 08:12:40", "OffsetTimeOriginal=-03:30", "SubSecTimeOriginal=000450", "GPSLatitude=33.9", "GPSLatitudeRef=S", "GPSLongitude=70.25", "GPSLongitudeRef=W", "GPSAltitude=12.5", "GPSAltitudeRef=1", "Orientation=6"]),
    ("II", "Nowhere Optics", "Nowhere Optics N-1", &["DateTimeOriginal=2026:09:15 23:59:59", "FocalLength=35", "Orientation=8"]),
    ("MM", "Nowhere Optics", "N-2 Marine", &["DateTimeOriginal=2026:09:15 08:12:40", "GPSLatitude=0.5", "GPSLatitudeRef=S", "GPSLongitude=179.9999", "GPSLongitudeRef=W", "GPSAltitude=430.2", "GPSAltitudeRef=1", "GPSImgDirection=271", "GPSImgDirectionRef=M", "Orientation=3"]),
    ("II", "Make Believe", "Brick 5", &["CreateDate=2026:09:14 12:00:01", "OffsetTimeDigitized=+05:45", "Orientation=2"]),
    ("MM", "Make Believe", "Brick 6", &["ModifyDate=2026:09:14 12:00:01", "OffsetTime=Z", "Orientation=4"]),
    ("II", "TESTCAM", "T100", &["DateTimeOriginal=2026:02:28 06:30:00", "Orientation=5", "FocalLength=0"]),
    ("MM", "TESTCAM", "T200  ", &["DateTimeOriginal=2024:02:29 06:30:00", "Orientation=7", "FocalLengthIn35mmFormat=0"]),
    ("II", "Fell & Tarn (invented)", "Rugged", &["DateTimeOriginal=2026:09:15 07:58:00", "OffsetTimeOriginal=+02:00", "GPSLatitude=54.5", "GPSLatitudeRef=N", "GPSLongitude=0", "GPSLongitudeRef=W", "GPSImgDirection=0", "GPSImgDirectionRef=T"]),
    ("MM", "Fell & Tarn (invented)", "Rugged Pro", &["DateTimeOriginal=2026:09:15 07:58:00", "GPSDateStamp=2026:09:15", "GPSTimeStamp=05:58:03", "GPSLatitude=54.5", "GPSLatitudeRef=N", "GPSLongitude=3.1", "GPSLongitudeRef=E"]),
    ("II", "Hoax Works", "Drone A", &["DateTimeOriginal=2026:09:15 10:00:00", "GPSLatitude=89.999999", "GPSLatitudeRef=N", "GPSLongitude=120.000001", "GPSLongitudeRef=E", "GPSAltitude=6499.75", "GPSAltitudeRef=0", "FocalLength=8.8"]),
    ("MM", "Hoax Works", "Drone B", &["DateTimeOriginal=2026:09:15 10:00:00", "GPSLatitude=90", "GPSLatitudeRef=S", "GPSLongitude=180", "GPSLongitudeRef=W", "GPSAltitude=2835", "GPSAltitudeRef=0"]),
    ("II", "Hoax Works", "Drone C", &["DateTimeOriginal=2026:09:15 10:00:00", "GPSAltitude=44.1", "GPSImgDirection=359.99", "GPSImgDirectionRef=M"]),
    ("MM", "Ficta", "Mirror 1", &["DateTimeOriginal=2026:09:15 10:00:00", "FocalLength=24.0", "FocalLengthIn35mmFormat=24", "ISO=200", "FNumber=2.8"]),
    ("II", "Ficta", "Mirror 2", &["DateTimeOriginal=2026:09:15 10:00:00", "FocalLength=undef"]),
    ("MM", "Ficta", "Mirror 3", &["DateTimeOriginal=2026:09:15 10:00:00", "FocalLength=inf", "GPSLatitude=51.1", "GPSLatitudeRef=N", "GPSLongitude=1.2", "GPSLongitudeRef=E", "GPSAltitude=undef", "GPSImgDirection=undef", "GPSImgDirectionRef=T"]),
    ("II", "Nulla", "Zero", &["DateTimeOriginal=0000:00:00 00:00:00", "ModifyDate=2026:01:02 03:04:05"]),
    ("MM", "Nulla", "Blank", &["DateTimeOriginal=    :  :     :  :  ", "CreateDate=2026:01:02 03:04:05"]),
    ("II", "Nulla", "No clock", &["Orientation=6"]),
    ("MM", "Nulla", "No seconds", &["DateTimeOriginal=2026:01:02 03:04"]),
    ("II", "Nulla", "Blank seconds", &["DateTimeOriginal=2026:01:02 03:04:  "]),
    ("MM", "Anon", "", &["DateTimeOriginal=2026:01:02 03:04:05"]),
    ("II", "", "Modelonly", &["DateTimeOriginal=2026:01:02 03:04:05"]),
    ("MM", "Gaugeworks (invented)", "Wide 12", &["DateTimeOriginal=1999:12:31 23:59:59", "SubSecTimeOriginal=9", "FocalLength=1.55"]),
    ("II", "Gaugeworks (invented)", "Wide 13", &["DateTimeOriginal=2026:09:15 10:00:00", "OffsetTimeOriginal=   :  ", "GPSLatitude=12.345678901", "GPSLatitudeRef=S", "GPSLongitude=98.765432109", "GPSLongitudeRef=E"]),
    ("MM", "Gaugeworks (invented)", "Wide 14", &["DateTimeOriginal=2026:09:15 10:00:00", "GPSLatitude=12.3", "GPSLatitudeRef=S"]),
    ("II", "Überkamera (erfunden)", "Höhe 3", &["DateTimeOriginal=2026:09:15 10:00:00", "FocalLength=50"]),
    ("MM", "Twice", "Twice", &["DateTimeOriginal=2026:09:15 10:00:00", "CreateDate=2026:09:15 10:00:01", "ModifyDate=2026:09:16 00:00:00", "OffsetTimeOriginal=+14:00", "OffsetTime=+01:00"]),
    ("II", "Phone (invented)", "P-9", &["DateTimeOriginal=2026:09:15 10:00:00", "OffsetTimeOriginal=-11:00", "GPSLatitude=14.3", "GPSLatitudeRef=S", "GPSLongitude=170.7", "GPSLongitudeRef=W", "GPSHPositioningError=65", "GPSSpeed=1.5", "GPSDOP=3"]),
    ("MM", "Phone (invented)", "P-10", &["DateTimeOriginal=2026:09:15 10:00:00", "GPSLatitude=54.7", "GPSLatitudeRef=N", "GPSLongitude=3.2", "GPSLongitudeRef=E", "GPSHPositioningError=0.75", "GPSImgDirection=360", "GPSImgDirectionRef=T", "GPSAltitude=0", "GPSAltitudeRef=0"]),
];

fn blank(path: &Path) {
    let _ = run("convert", &["-size", "64x48", "gradient:#dfe7ea-#b7c4ca", "-strip", path.to_str().unwrap()]);
}

fn write(path: &Path, order: &str, make: &str, model: &str, fields: &[&str]) {
    blank(path);
    let mut arguments: Vec<String> =
        ["-q", "-q", "-overwrite_original", "-n", "-m"].iter().map(|a| (*a).to_owned()).collect();
    arguments.push(format!("-ExifByteOrder={order}"));
    for (name, value) in [("IFD0:Make", make), ("IFD0:Model", model)] {
        if !value.is_empty() {
            arguments.push(format!("-{name}={value}"));
        }
    }
    // `#` keeps exiftool from mending what a camera got wrong.
    arguments.extend(fields.iter().map(|field| {
        let (name, value) = field.split_once('=').unwrap();
        format!("-EXIF:{name}#={value}")
    }));
    arguments.push(path.to_str().unwrap().to_owned());
    let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let _ = run("exiftool", &arguments);
}

/// A field of exiftool as text, trimmed as all readers do.
fn text(said: &Value, field: &str) -> Option<String> {
    let text = match &said[field] {
        Value::String(text) => text.trim().to_owned(),
        Value::Number(number) => number.to_string(),
        _ => return None,
    };
    (!text.is_empty()).then_some(text)
}

/// A field of exiftool as a number; `undef` and `inf` are none.
fn number(said: &Value, field: &str) -> Option<f64> {
    said[field].as_f64().or_else(|| said[field].as_str()?.parse().ok().filter(|n: &f64| n.is_finite()))
}

/// exiftool prints ten digits of a fraction.
fn same(ours: Option<f64>, theirs: Option<f64>) -> bool {
    match (ours, theirs) {
        (Some(a), Some(b)) => (a - b).abs() <= 1e-9 * a.abs().max(1.0),
        (a, b) => a.is_none() && b.is_none(),
    }
}

/// The first of the three times that exiftool prints and that means something, with its fraction and offset.
fn time(said: &Value) -> Option<String> {
    let sources = [
        ("ExifIFD:DateTimeOriginal", "ExifIFD:SubSecTimeOriginal", "ExifIFD:OffsetTimeOriginal"),
        ("ExifIFD:CreateDate", "ExifIFD:SubSecTimeDigitized", "ExifIFD:OffsetTimeDigitized"),
        ("IFD0:ModifyDate", "ExifIFD:SubSecTime", "ExifIFD:OffsetTime"),
    ];
    sources.into_iter().find_map(|(time, fraction, offset)| {
        let raw = text(said, time)?;
        let (day, clock) = raw.split_once(' ')?;
        if day.trim_matches(['0', ':', ' ']).is_empty() {
            return None;
        }
        let mut iso = format!("{}T{}", day.replace(':', "-"), clock.trim_end_matches([':', ' ']));
        if iso.len() == 16 {
            iso.push_str(":00");
        }
        // exiftool prints a fraction that looks like a number as one: its leading zeros tell in the raw text alone.
        if let Some(fraction) = text(said, fraction) {
            iso.push_str(&format!(".{}", fraction.trim_end_matches('0')));
        }
        if let Some(offset) = text(said, offset).filter(|o| o.len() == 6 || o == "Z") {
            iso.push_str(if offset == "Z" { "+00:00" } else { &offset });
        }
        Some(iso)
    })
}

/// Every field that differs, in words.
fn differences(ours: &Facts, said: &Value) -> Vec<String> {
    let mut found = Vec::new();
    let mut check = |name: &str, same: bool, ours: String, theirs: String| {
        if !same {
            found.push(format!("{name}: {ours}, exiftool {theirs}"));
        }
    };
    let words = |name: &str, ours: Option<String>, theirs: Option<String>| {
        (name.to_owned(), ours == theirs, format!("{ours:?}"), format!("{theirs:?}"))
    };
    let reals = |name: &str, ours: Option<f64>, theirs: Option<f64>| {
        (name.to_owned(), same(ours, theirs), format!("{ours:?}"), format!("{theirs:?}"))
    };
    let position = ours.position;
    let both = number(said, "Composite:GPSLatitude").is_some() && number(said, "Composite:GPSLongitude").is_some();
    let placed = |field: &str| number(said, field).filter(|_| both);
    let reference = |north| match north {
        North::True => Some("T".to_owned()),
        North::Magnetic => Some("M".to_owned()),
        North::NotStated => None,
    };
    let direction = number(said, "GPS:GPSImgDirection");
    let orientation = number(said, "IFD0:Orientation").unwrap_or(1.0);
    let rows = [
        words("make", ours.camera.as_ref().and_then(|c| c.make.clone()), text(said, "IFD0:Make")),
        words("model", ours.camera.as_ref().and_then(|c| c.model.clone()), text(said, "IFD0:Model")),
        reals("orientation", Some(ours.orientation.get().into()), Some(orientation)),
        reals("focal length", ours.focal_length_mm, number(said, "ExifIFD:FocalLength").filter(|mm| *mm > 0.0)),
        reals(
            "focal length on film",
            ours.focal_length_35mm,
            number(said, "ExifIFD:FocalLengthIn35mmFormat").filter(|mm| *mm > 0.0),
        ),
        reals("latitude", position.map(|p| p.latitude_deg), placed("Composite:GPSLatitude")),
        reals("longitude", position.map(|p| p.longitude_deg), placed("Composite:GPSLongitude")),
        reals("altitude", position.and_then(|p| p.altitude_m), placed("Composite:GPSAltitude")),
        reals("accuracy", position.and_then(|p| p.accuracy_m), placed("GPS:GPSHPositioningError")),
        reals("direction", ours.heading.map(|h| h.degrees), direction),
        words(
            "reference of the direction",
            ours.heading.and_then(|h| reference(h.north)),
            text(said, "GPS:GPSImgDirectionRef").filter(|_| direction.is_some()),
        ),
        words("time", taken_as_written(ours), time(said)),
    ];
    for (name, same, ours, theirs) in rows {
        check(&name, same, ours, theirs);
    }
    found
}

/// Our time without an offset that we told ourselves from the satellites.
fn taken_as_written(ours: &Facts) -> Option<String> {
    let taken = ours.taken?;
    let mut text = taken.text();
    if taken.offset_source == exif::OffsetSource::Satellites {
        text.truncate(text.len() - 6);
    }
    Some(text)
}

fn read(path: &Path) -> Facts {
    let bytes = std::fs::read(path).unwrap();
    exif::read(Kind::of(&bytes).unwrap(), &bytes, Assume::default())
}

fn compare(folder: &Path) -> usize {
    let said = exiftool(folder);
    let mut wrong = Vec::new();
    for (name, said) in &said {
        let facts = read(&folder.join(name));
        wrong.extend(differences(&facts, said).into_iter().map(|row| format!("{name}: {row}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    said.len()
}

#[test]
fn thirty_cameras_are_read_as_exiftool_reads_them() {
    let base = folder(BASE, "cameras");
    for (n, (order, make, model, fields)) in CAMERAS.iter().enumerate() {
        // The same fields in every kind of file that carries them.
        let ending = ["jpg", "tif", "png", "webp"][if n % 5 == 4 { n / 5 % 4 } else { 0 }];
        write(&base.join(format!("camera-{n:02}.{ending}")), order, make, model, fields);
    }
    assert_eq!(compare(&base), 30);
}

#[test]
fn the_eight_orientations_are_read() {
    let base = folder(BASE, "exif-orientations");
    for orientation in 0..=9 {
        let tag = format!("Orientation={orientation}");
        write(&base.join(format!("{orientation}.jpg")), "II", "Invented", "Turner", &[&tag]);
    }
    for orientation in 0..=9u8 {
        let facts = read(&base.join(format!("{orientation}.jpg")));
        let means = (1..=8).contains(&orientation);
        assert_eq!(facts.orientation.get(), if means { orientation } else { 1 });
        assert_eq!(facts.notes.iter().any(|note| note.contains("orientation")), !means);
    }
}

/// A picture with position and time, as bytes.
fn full(base: &Path) -> (PathBuf, Vec<u8>) {
    let path = base.join("full.jpg");
    let mut fields = CAMERAS[0].3.to_vec();
    fields.push("UserComment=placeholder for what a maker notes of its own, long enough to stand apart");
    write(&path, "MM", "Invented", "Pocket One", &fields);
    let bytes = std::fs::read(&path).unwrap();
    (path, bytes)
}

fn find(bytes: &[u8], pattern: &[u8]) -> usize {
    bytes.windows(pattern.len()).position(|w| w == pattern).expect("the pattern")
}

#[test]
fn makers_notes_further_pictures_and_films_disturb_nothing() {
    let base = folder(BASE, "appended");
    let (path, bytes) = full(&base);
    let plain = read(&path);
    // A maker's note: the comment's tag 0x9286 becomes 0x927C, its bytes anything.
    let mut noted = bytes.clone();
    let at = find(&noted, &[0x92, 0x86, 0, 7]);
    noted[at + 1] = 0x7c;
    std::fs::write(base.join("maker.jpg"), &noted).unwrap();
    // A film after the end (motion photo).
    let mut motion = bytes.clone();
    motion.extend_from_slice(b"\0\0\0\x18ftypmp42\0\0\0\0mp42isom");
    motion.extend_from_slice(&[0xff; 5000]);
    std::fs::write(base.join("motion.jpg"), &motion).unwrap();
    // A second picture with other details after the end, and the index that announces it (CIPA DC-007).
    let other = base.join("other.jpg");
    write(&other, "II", "Other", "Other", &["Orientation=8"]);
    let mut mpf = bytes[..2].to_vec();
    mpf.extend_from_slice(&[0xff, 0xe2, 0, 16]);
    mpf.extend_from_slice(b"MPF\0MM\0*\0\0\0\x08\0\0");
    mpf.extend_from_slice(&bytes[2..]);
    mpf.extend_from_slice(&std::fs::read(&other).unwrap());
    std::fs::write(base.join("mpf.jpg"), &mpf).unwrap();
    assert_eq!(compare(&base), 5);
    for name in ["maker.jpg", "motion.jpg", "mpf.jpg"] {
        let facts = read(&base.join(name));
        assert_eq!(facts.position, plain.position, "{name}");
        assert_eq!(facts.taken, plain.taken, "{name}");
    }
}

#[test]
fn what_is_cut_short_or_runs_in_circles_is_read_as_far_as_it_goes() {
    let base = folder(BASE, "damaged");
    let (_, bytes) = full(&base);
    let whole = read(&base.join("full.jpg"));
    // The segment says that it ends earlier; what is left over lies between segments.
    let app1 = find(&bytes, &[0xff, 0xe1]);
    let length = u16::from_be_bytes([bytes[app1 + 2], bytes[app1 + 3]]);
    for part in 1..20u16 {
        let mut cut = bytes.clone();
        cut[app1 + 2..app1 + 4].copy_from_slice(&(length * part / 20).to_be_bytes());
        std::fs::write(base.join(format!("short-{part:02}.jpg")), &cut).unwrap();
        // And the file itself ends there.
        let end = app1 + 2 + usize::from(length * part / 20);
        let facts = exif::read(Kind::Jpeg, &bytes[..end], Assume::default());
        assert!(!facts.notes.is_empty(), "{part}/20 of the details and not a word about it");
        assert!(
            facts.position.is_none()
                || facts.position.map(|p| p.latitude_deg) == whole.position.map(|p| p.latitude_deg)
        );
        assert!(facts.camera.is_none() || facts.camera.unwrap().make.is_none_or(|make| make == "Invented"));
    }
    // The list of fields points back at itself.
    let tiff = find(&bytes, b"Exif\0\0") + 6;
    let count = usize::from(u16::from_be_bytes([bytes[tiff + 8], bytes[tiff + 9]]));
    let mut circle = bytes.clone();
    circle[tiff + 10 + count * 12..tiff + 14 + count * 12].copy_from_slice(&8u32.to_be_bytes());
    std::fs::write(base.join("circle.jpg"), &circle).unwrap();
    let facts = read(&base.join("circle.jpg"));
    assert_eq!((facts.position, facts.taken, &facts.camera), (whole.position, whole.taken, &whole.camera));
    assert!(facts.notes.iter().any(|note| note.contains("could not be read")), "{:?}", facts.notes);
    // The block of positions points back at the first list.
    let mut nested = bytes.clone();
    let pointer = find(&nested, &[0x88, 0x25, 0, 4, 0, 0, 0, 1]);
    nested[pointer + 8..pointer + 12].copy_from_slice(&8u32.to_be_bytes());
    std::fs::write(base.join("nested.jpg"), &nested).unwrap();
    assert_eq!(read(&base.join("nested.jpg")).position, None);
    assert_eq!(read(&base.join("nested.jpg")).camera, whole.camera);
}

#[test]
fn what_is_missing_is_assumed_aloud_or_left_out() {
    let base = folder(BASE, "assumed");
    let path = base.join("a.jpg");
    write(&path, "II", "Invented", "Pocket", &["DateTimeOriginal=2026:09:15 08:12:40"]);
    let bytes = std::fs::read(&path).unwrap();
    let assume = Assume { offset: exif::Offset::parse("+02:00") };
    let facts = exif::read(Kind::Jpeg, &bytes, assume);
    assert_eq!(facts.taken.unwrap().text(), "2026-09-15T08:12:40+02:00");
    assert!(facts.notes.iter().any(|note| note.contains("+02:00 is assumed")), "{:?}", facts.notes);
    let facts = read(&path);
    assert_eq!(facts.taken.unwrap().text(), "2026-09-15T08:12:40");
    assert!(facts.notes.iter().any(|note| note.contains("no time zone")), "{:?}", facts.notes);
    // The satellites tell the offset, and how far the clock is off.
    write(&path, "II", "Invented", "Pocket", CAMERAS[9].3);
    let taken = read(&path).taken.unwrap();
    assert_eq!(taken.text(), "2026-09-15T07:58:00+02:00");
    assert_eq!(taken.ahead_of_satellites_s, Some(-3));
    // A position without hemispheres, one that is void, and one at 0, 0 are no positions.
    let here = ["GPSLatitude=54.7", "GPSLongitude=3.2"];
    for (extra, why) in [
        (vec!["GPSLatitudeRef=N"], "hemisphere"),
        (vec!["GPSLatitudeRef=N", "GPSLongitudeRef=E", "GPSStatus=V"], "receiver"),
    ] {
        let fields: Vec<&str> = here.iter().copied().chain(extra).collect();
        write(&path, "II", "Invented", "Pocket", &fields);
        let facts = read(&path);
        assert_eq!(facts.position, None);
        assert!(facts.notes.iter().any(|note| note.contains(why)), "{:?}", facts.notes);
    }
    write(
        &path,
        "II",
        "Invented",
        "Pocket",
        &["GPSLatitude=0", "GPSLatitudeRef=N", "GPSLongitude=0", "GPSLongitudeRef=E"],
    );
    assert_eq!(read(&path).position, None);
}
