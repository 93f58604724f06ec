//! Bad input: each file named with its reason, the rest taken in.

use std::fs;
use std::os::unix::fs::symlink;
use std::os::unix::net::UnixListener;
use std::process::Command;

use image::ImageFormat;
use photos::{Edge, Kind, Library, MOST_FILE_BYTES, Outcome, Reason, within};
use proptest::prelude::*;

use crate::made::{folder, import, jpeg, other, photos, refusal};

/// A JPEG of 2 kB that claims other sides.
pub fn jpeg_bomb(width: u16, height: u16) -> Vec<u8> {
    let mut bytes = jpeg(64, 64, 9);
    let at = bytes.windows(2).position(|w| w == [0xff, 0xc0]).unwrap();
    bytes[at + 5..at + 7].copy_from_slice(&height.to_be_bytes());
    bytes[at + 7..at + 9].copy_from_slice(&width.to_be_bytes());
    bytes.resize(2048, 0);
    bytes
}

/// A PNG that claims other sides, its check mended (CRC-32 of ISO 3309).
pub fn png_bomb(width: u32, height: u32) -> Vec<u8> {
    let mut bytes = other(ImageFormat::Png, 8, 8, 9);
    bytes[16..20].copy_from_slice(&width.to_be_bytes());
    bytes[20..24].copy_from_slice(&height.to_be_bytes());
    let mut sum = !0u32;
    for byte in &bytes[12..29] {
        sum ^= u32::from(*byte);
        for _ in 0..8 {
            sum = if sum & 1 == 1 { 0xedb8_8320 ^ (sum >> 1) } else { sum >> 1 };
        }
    }
    bytes[29..33].copy_from_slice(&(!sum).to_be_bytes());
    bytes
}

/// A TIFF that claims other sides.
pub fn tiff_bomb(width: u32, height: u32) -> Vec<u8> {
    let mut bytes = other(ImageFormat::Tiff, 8, 8, 9);
    let list = u32::from_le_bytes(bytes[4..8].try_into().unwrap()) as usize;
    let count = usize::from(u16::from_le_bytes(bytes[list..list + 2].try_into().unwrap()));
    for n in 0..count {
        let at = list + 2 + n * 12;
        let tag = u16::from_le_bytes([bytes[at], bytes[at + 1]]);
        let side = match tag {
            256 => width,
            257 | 278 => height,
            _ => continue,
        };
        bytes[at + 2..at + 12].copy_from_slice(&[&[4, 0, 1, 0, 0, 0], &side.to_le_bytes()[..]].concat());
    }
    bytes
}

#[test]
fn each_bad_file_is_named_with_its_reason_and_the_rest_is_taken_in() {
    let (home, from) = (folder("bad-home"), folder("bad"));
    let put = |name: &str, bytes: &[u8]| fs::write(from.join(name), bytes).unwrap();
    put("good.jpg", &jpeg(300, 200, 1));
    put("also good.png", &other(ImageFormat::Png, 300, 200, 2));
    put("empty.jpg", b"");
    put("letter.txt", b"Dear client, the rail will be lit.");
    put("letter.jpg", b"Dear client, the rail will be lit.");
    put("script.svg", b"<svg xmlns='http://www.w3.org/2000/svg'/>");
    put("bomb.jpg", &jpeg_bomb(60_000, 60_000));
    put("bomb.png", &png_bomb(60_000, 60_000));
    put("bomb.tif", &tiff_bomb(60_000, 60_000));
    put("start only.jpg", &[0xff, 0xd8, 0xff, 0xe0]);
    put("start only.png", &other(ImageFormat::Png, 8, 8, 1)[..12]);
    put("zero.png", &png_bomb(0, 10));
    fs::File::create(from.join("huge.jpg")).unwrap().set_len(MOST_FILE_BYTES + 1).unwrap();
    symlink(from.join("good.jpg"), from.join("link.jpg")).unwrap();
    symlink(&from, from.join("circle")).unwrap();
    symlink("/dev/zero", from.join("endless.jpg")).unwrap();
    assert!(Command::new("mkfifo").arg(from.join("pipe.jpg")).status().unwrap().success());
    let _socket = UnixListener::bind(from.join("socket.jpg")).unwrap();

    let library = Library::open(&home).unwrap();
    let lines = import(&library, std::slice::from_ref(&from));
    for (name, reason) in [
        ("empty.jpg", "0 bytes"),
        ("letter.txt", "no picture"),
        ("letter.jpg", "no picture"),
        ("script.svg", "no picture"),
        ("bomb.jpg", "claims 60000 x 60000 pixels in 2048 bytes"),
        ("bomb.png", "claims 60000 x 60000 pixels"),
        ("bomb.tif", "claims 60000 x 60000 pixels"),
        ("start only.jpg", "begins like a JPEG"),
        ("start only.png", "begins like a PNG"),
        ("zero.png", "begins like a PNG"),
        ("huge.jpg", "greatest size"),
        ("link.jpg", "symbolic link"),
        ("circle", "symbolic link"),
        ("endless.jpg", "symbolic link"),
        ("pipe.jpg", "pipe"),
        ("socket.jpg", "socket"),
    ] {
        let said = refusal(&lines, name);
        assert!(said.contains(reason), "{name} {said}");
    }
    assert_eq!(photos(&lines), 2, "{lines:?}");
    assert_eq!(library.contents().unwrap().len(), 2, "nothing of the others was kept");
    let missing = import(&library, &[from.join("absent.jpg")]);
    assert!(refusal(&missing, "absent.jpg").contains("cannot be read"));
}

#[test]
fn a_picture_is_what_its_bytes_say_and_its_name_cannot_mislead() {
    let (home, from) = (folder("names-home"), folder("names"));
    fs::write(from.join("really a png.jpg"), other(ImageFormat::Png, 30, 20, 1)).unwrap();
    fs::write(from.join("holiday\u{202e}gpj.exe"), jpeg(30, 20, 2)).unwrap();
    fs::write(from.join("bell\u{7}\u{1b}[31m.jpg"), jpeg(30, 20, 3)).unwrap();
    let library = Library::open(&home).unwrap();
    let lines = import(&library, &[from]);
    assert_eq!(photos(&lines), 3, "{lines:?}");
    let notes = |name: &str| {
        let line = lines.iter().find(|line| line.name == name).unwrap_or_else(|| panic!("{name} in {lines:?}"));
        let Outcome::Photo(photo) = &line.outcome else { panic!("{line:?}") };
        (photo.kind, photo.notes.join("; "))
    };
    let (kind, said) = notes("really a png.jpg");
    assert!(kind == Kind::Png && said.contains("it is a PNG"), "{said}");
    let (_, said) = notes("holiday<U+202E>gpj.exe");
    assert!(said.contains("U+202E") && said.contains("ending"), "{said}");
    let (_, said) = notes("bell<U+0007><U+001B>[31m.jpg");
    assert!(said.contains("U+0007"), "{said}");
}

#[test]
fn what_cannot_be_shown_is_kept_and_said_to_be_so() {
    let (home, from) = (folder("unseen-home"), folder("unseen"));
    let whole = jpeg(900, 700, 1);
    fs::write(from.join("cut.jpg"), &whole[..whole.len() / 2]).unwrap();
    // The opening box of a file as telephones write it, and nothing else.
    let heic = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic\0\0\0\x08free";
    fs::write(from.join("phone.heic"), heic).unwrap();
    // A real photo may be large; 9 bytes for each of 60 million pixels are more than is taken.
    let library = Library::open(&home).unwrap();
    let lines = import(&library, &[from]);
    let Outcome::Photo(cut) = &lines[0].outcome else { panic!("{lines:?}") };
    assert_eq!(library.read(cut.content).unwrap(), whole[..whole.len() / 2]);
    if cfg!(feature = "heic") {
        // Who can look inside sees that there is no picture.
        assert!(refusal(&lines, "phone.heic").contains("begins like a HEIC"), "{lines:?}");
        return;
    }
    let Outcome::Photo(phone) = &lines[1].outcome else { panic!("{lines:?}") };
    assert!(phone.notes.iter().any(|note| note.contains("no preview can be made")), "{:?}", phone.notes);
    assert_eq!(library.read(phone.content).unwrap(), heic);
    let error = library.thumbnail(phone.content, Edge::Small).unwrap_err().to_string();
    assert!(error.contains("no preview can be made"), "{error}");
}

#[test]
fn names_in_a_survey_stay_inside_their_folder() {
    let folder = folder("inside");
    fs::create_dir(folder.join("photos")).unwrap();
    fs::write(folder.join("photos/a.jpg"), jpeg(30, 20, 1)).unwrap();
    symlink("/etc", folder.join("photos/out")).unwrap();
    assert_eq!(within(&folder, "photos/a.jpg"), Ok(folder.join("photos/a.jpg")));
    for name in ["../a.jpg", "/etc/passwd", "photos/../../a.jpg", "photos/out/passwd", "", "..\\a.jpg", "a\0.jpg"] {
        assert_eq!(within(&folder, name), Err(Reason::Outside), "{name:?}");
    }
    assert!(matches!(within(&folder, "photos/b.jpg"), Err(Reason::Unreadable(_))));
}

#[test]
fn ten_thousand_files_at_once_are_each_accounted_for() {
    let (home, from) = (folder("many-home"), folder("many"));
    let distinct: Vec<Vec<u8>> = (0..50).map(|seed| jpeg(24, 16, seed)).collect();
    for n in 0..10_000 {
        let shelf = from.join(format!("{:02}", n / 1000));
        fs::create_dir_all(&shelf).unwrap();
        let bytes: &[u8] = if n % 100 == 99 { b"no picture" } else { &distinct[n % 50] };
        fs::write(shelf.join(format!("{n:05}.jpg")), bytes).unwrap();
    }
    let library = Library::open(&home).unwrap();
    let lines = import(&library, &[from]);
    let count = |wanted: fn(&Outcome) -> bool| lines.iter().filter(|line| wanted(&line.outcome)).count();
    assert_eq!(lines.len(), 10_000);
    assert_eq!(count(|o| matches!(o, Outcome::Photo(_))), 50);
    assert_eq!(count(|o| matches!(o, Outcome::Duplicate { .. })), 9_850);
    assert_eq!(count(|o| matches!(o, Outcome::Refused(_))), 100);
}

#[test]
fn a_library_that_cannot_be_written_is_named_and_keeps_nothing_half() {
    let (home, from) = (folder("shut-home"), folder("shut"));
    fs::write(from.join("a.jpg"), jpeg(60, 40, 1)).unwrap();
    let library = Library::open(&home).unwrap();
    // A file where the folder was: no name can be made under it, whoever asks.
    fs::remove_dir(home.join("photos/originals")).unwrap();
    fs::write(home.join("photos/originals"), b"in the way").unwrap();
    let lines = import(&library, std::slice::from_ref(&from));
    assert!(refusal(&lines, "a.jpg").contains("could not be kept"), "{lines:?}");
    assert!(Library::open(&home).is_err());
    fs::remove_file(home.join("photos/originals")).unwrap();
    assert_eq!(photos(&import(&Library::open(&home).unwrap(), &[from])), 1);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    /// Files damaged at random: never a panic, and never a word too few.
    #[test]
    fn damaged_files_never_stop_an_import(
        kind in 0usize..4, hits in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..30),
        keep in any::<prop::sample::Index>(),
    ) {
        let mut bytes = match kind {
            0 => jpeg(60, 40, 1),
            1 => other(ImageFormat::Png, 60, 40, 1),
            2 => other(ImageFormat::Tiff, 60, 40, 1),
            _ => other(ImageFormat::WebP, 60, 40, 1),
        };
        for (at, value) in hits {
            let at = at.index(bytes.len());
            bytes[at] = value;
        }
        bytes.truncate(keep.index(bytes.len()) + 1);
        let (home, from) = (folder("damaged-home"), folder("damaged"));
        fs::write(from.join("a.jpg"), &bytes).unwrap();
        let library = Library::open(&home).unwrap();
        let lines = import(&library, &[from]);
        prop_assert_eq!(lines.len(), 1);
        match &lines[0].outcome {
            Outcome::Photo(photo) => prop_assert_eq!(&library.read(photo.content).unwrap(), &bytes),
            Outcome::Refused(reason) => prop_assert!(!reason.to_string().is_empty()),
            other => prop_assert!(false, "{:?}", other),
        }
        let _ = photos::for_client(&bytes, photos::Tell { position: true, camera: true, owner: true });
    }
}
