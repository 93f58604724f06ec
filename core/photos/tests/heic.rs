//! HEIC, which phones write. With the feature `heic` pictures are made of it; without, the file is kept, its details are
//! read, and a sentence says that no preview can be made. Both lanes run this file.
//!
//! The files are written by heif-enc (Debian's libheif, another release than the one that is tested) from a picture that
//! ImageMagick draws; ImageMagick scales that picture for comparison, and exiftool writes and reads the details.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use photos::{Edge, Import, Kind, Library, Line, Outcome, Size, Taken, Tell, Unwatched, for_client};
use proptest::prelude::*;

const IS_UNPACKED: bool = cfg!(feature = "heic");

fn run(program: &str, args: &[&str]) -> Output {
    let output = Command::new(program).args(args).output();
    let output = output.unwrap_or_else(|why| panic!("{program}, which .ci/setup test installs: {why}"));
    assert!(output.status.success(), "{program} {args:?}: {}", String::from_utf8_lossy(&output.stderr));
    output
}

fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("heic").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    folder
}

/// A picture as PNG and as HEIC with what a phone writes beside it.
fn made(folder: &Path, size: &str, more: &[&str]) -> (String, String) {
    let (png, heic) = (folder.join("picture.png"), folder.join("IMG_0001.HEIC"));
    let (png, heic) = (png.to_str().unwrap(), heic.to_str().unwrap());
    run(
        "convert",
        &["-size", size, "-seed", "11", "plasma:fractal", "-blur", "0x2", "-depth", "8", &format!("PNG24:{png}")],
    );
    run("heif-enc", &["-q", "95", png, "-o", heic]);
    let details = [
        "-q",
        "-overwrite_original",
        "-Make=Invented",
        "-Model=Invented Phone 3",
        "-DateTimeOriginal=2026:09:15 08:12:40",
        "-OffsetTimeOriginal=+02:00",
        "-GPSLatitude=54.75",
        "-GPSLatitudeRef=N",
        "-GPSLongitude=3.25",
        "-GPSLongitudeRef=W",
        "-GPSAltitude=4.5",
        "-GPSAltitudeRef=1",
        "-GPSHPositioningError=5",
        "-GPSImgDirection=271.5",
        "-GPSImgDirectionRef=M",
        "-FocalLength=4.2",
    ];
    run("exiftool", &[&details, more, &[heic]].concat());
    (png.to_owned(), heic.to_owned())
}

fn import(library: &Library, path: &str) -> Line {
    let import = Import { library, known: &[], assume: Default::default(), hands: 1 };
    import.run(&[path.into()], &Unwatched).remove(0)
}

fn taken(line: Line) -> Taken {
    match line.outcome {
        Outcome::Photo(taken) => taken,
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_file_is_kept_and_its_details_are_those_that_exiftool_reads() {
    let folder = folder("details");
    let (_, heic) = made(&folder, "640x480", &[]);
    let library = Library::open(&folder).unwrap();
    let photo = taken(import(&library, &heic));
    assert_eq!(photo.kind, Kind::Heic);
    assert_eq!(library.read(photo.content).unwrap(), fs::read(&heic).unwrap(), "byte for byte");
    let read = run("exiftool", &["-n", "-j", &heic]);
    let read: serde_json::Value = serde_json::from_slice(&read.stdout).unwrap();
    let number = |name: &str| read[0][name].as_f64().unwrap_or_else(|| panic!("{name} in {read}"));
    let position = photo.facts.position.unwrap();
    for (ours, name) in [
        (position.latitude_deg, "GPSLatitude"),
        (position.longitude_deg, "GPSLongitude"),
        (position.altitude_m.unwrap(), "GPSAltitude"),
        (position.accuracy_m.unwrap(), "GPSHPositioningError"),
        (photo.facts.heading.unwrap().degrees, "GPSImgDirection"),
        (photo.facts.focal_length_mm.unwrap(), "FocalLength"),
    ] {
        assert!((ours - number(name)).abs() < 1e-6, "{name}: {ours} for {}", number(name));
    }
    assert_eq!(photo.facts.taken.unwrap().text(), "2026-09-15T08:12:40+02:00");
    assert_eq!(photo.facts.camera.unwrap().text(), "Invented Phone 3");
}

#[test]
fn where_this_build_does_not_unpack_it_a_sentence_says_so() {
    let folder = folder("sentence");
    let (_, heic) = made(&folder, "640x480", &[]);
    let library = Library::open(&folder).unwrap();
    let photo = taken(import(&library, &heic));
    let thumbnail = library.thumbnail(photo.content, Edge::Small);
    let copy = for_client(&fs::read(&heic).unwrap(), Tell::default());
    if IS_UNPACKED {
        assert_eq!((photo.notes, photo.size), (Vec::<String>::new(), Some(Size { width: 640, height: 480 })));
        assert!(thumbnail.is_ok() && copy.is_ok());
    } else {
        let said = photo.notes.join("; ");
        assert!(said.contains("no preview can be made: this build does not unpack HEIC"), "{said}");
        assert!(said.contains("kept as it is"), "{said}");
        assert_eq!(photo.size, None);
        assert!(thumbnail.unwrap_err().to_string().contains("no preview can be made"));
        assert!(copy.unwrap_err().to_string().contains("without its details"));
    }
}

/// Mean absolute difference, of 255.
fn difference(one: &str, other: &str) -> f64 {
    let output = Command::new("compare").args(["-metric", "MAE", one, other, "null:"]).output().unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    let part = said.split(['(', ')']).nth(1).unwrap_or_else(|| panic!("{said}"));
    part.parse::<f64>().unwrap() * 255.0
}

#[test]
fn thumbnails_are_those_that_imagemagick_makes_of_the_picture() {
    if !IS_UNPACKED {
        return;
    }
    let folder = folder("thumbnails");
    // The orientation in the details is for other readers: a HEIC turns its picture itself, and this one does not.
    let (png, heic) = made(&folder, "2016x1512", &["-Orientation#=6"]);
    let library = Library::open(&folder).unwrap();
    let photo = taken(import(&library, &heic));
    assert_eq!(photo.size, Some(Size { width: 2016, height: 1512 }));
    assert_eq!(photo.facts.orientation.get(), 6, "it is told as it was written");
    for edge in [Edge::Small, Edge::Large] {
        let ours = library.thumbnail(photo.content, edge).unwrap();
        let scaled = folder.join(format!("{}.png", edge.pixels()));
        let size = format!("{0}x{0}", edge.pixels());
        run("convert", &[&png, "-filter", "Lanczos", "-resize", &size, scaled.to_str().unwrap()]);
        let apart = difference(ours.to_str().unwrap(), scaled.to_str().unwrap());
        assert!(apart < 3.0, "{apart} of 255 at {} pixels", edge.pixels());
    }
}

#[test]
fn a_copy_for_a_client_is_a_jpeg_that_tells_nothing() {
    if !IS_UNPACKED {
        return;
    }
    let folder = folder("client");
    let (png, heic) = made(&folder, "640x480", &["-Artist=Ottilie Invented", "-SerialNumber=SN-4711"]);
    let bytes = fs::read(&heic).unwrap();
    let holds = |bytes: &[u8], word: &str| bytes.windows(word.len()).any(|window| window == word.as_bytes());
    assert!(holds(&bytes, "Ottilie") && holds(&bytes, "SN-4711"));
    let copy = for_client(&bytes, Tell::default()).unwrap();
    assert_eq!(copy.kind, Kind::Jpeg);
    assert!(["Ottilie", "SN-4711", "Invented Phone", "Exif"].iter().all(|word| !holds(&copy.bytes, word)));
    let path = folder.join("copy.jpg");
    fs::write(&path, copy.bytes).unwrap();
    assert!(difference(path.to_str().unwrap(), &png) < 3.0);
}

#[test]
fn damaged_files_never_stop_an_import() {
    let folder = folder("damaged");
    let (_, heic) = made(&folder, "320x240", &[]);
    let whole = fs::read(&heic).unwrap();
    let library = Library::open(&folder).unwrap();
    let config = ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() };
    let hits = prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 0..20);
    proptest::test_runner::TestRunner::new(config)
        .run(&(hits, any::<prop::sample::Index>()), |(hits, keep)| {
            let mut bytes = whole.clone();
            for (at, value) in hits {
                let at = at.index(bytes.len());
                bytes[at] = value;
            }
            bytes.truncate(keep.index(bytes.len()) + 1);
            fs::write(&heic, &bytes).unwrap();
            match import(&library, &heic).outcome {
                Outcome::Photo(photo) => prop_assert_eq!(library.read(photo.content).unwrap(), bytes),
                Outcome::Refused(reason) => prop_assert!(!reason.to_string().is_empty()),
                other => prop_assert!(false, "{:?}", other),
            }
            Ok(())
        })
        .unwrap();
}
