//! What is taken in: folders, duplicates, thumbnails, stopping.

use std::fs;
use std::sync::Mutex;

use image::ImageFormat;
use photos::{Content, Edge, Go, Import, Kind, Library, Outcome, Size, Watch};

use crate::made::{folder, import, jpeg, other, photos};

#[test]
fn originals_are_kept_byte_for_byte_and_thumbnails_made_of_each_kind() {
    let (home, from) = (folder("kinds-home"), folder("kinds"));
    let files = [
        ("a.jpg", jpeg(2400, 1800, 1), Kind::Jpeg),
        ("deep/er/b.png", other(ImageFormat::Png, 700, 900, 2), Kind::Png),
        ("deep/c.tif", other(ImageFormat::Tiff, 640, 480, 3), Kind::Tiff),
        ("d.webp", other(ImageFormat::WebP, 200, 100, 4), Kind::WebP),
    ];
    for (name, bytes, _) in &files {
        fs::create_dir_all(from.join(name).parent().unwrap()).unwrap();
        fs::write(from.join(name), bytes).unwrap();
    }
    let library = Library::open(&home).unwrap();
    let lines = import(&library, &[from]);
    assert_eq!(photos(&lines), 4, "{lines:?}");
    for (name, bytes, kind) in files {
        let content = Content::of(&bytes);
        assert_eq!(fs::read(library.original(content).unwrap()).unwrap(), bytes, "{name}");
        let line = lines.iter().find(|line| line.path.ends_with(name)).unwrap();
        let Outcome::Photo(photo) = &line.outcome else { panic!("{line:?}") };
        assert_eq!((photo.kind, photo.content, photo.bytes), (kind, content, bytes.len() as u64));
        for (edge, path) in [Edge::Small, Edge::Large].map(|edge| (edge, library.thumbnail(content, edge).unwrap())) {
            let thumbnail = jpeg_size(&fs::read(path).unwrap());
            assert_eq!(thumbnail, photo.size.unwrap().within(edge.pixels()), "{name}");
        }
    }
    assert_eq!(library.contents().unwrap().len(), 4);
}

/// Width and height of a baseline JPEG.
fn jpeg_size(bytes: &[u8]) -> Size {
    let at = bytes.windows(2).position(|w| w == [0xff, 0xc0]).unwrap();
    let side = |n: usize| u32::from(u16::from_be_bytes([bytes[at + n], bytes[at + n + 1]]));
    Size { width: side(7), height: side(5) }
}

#[test]
fn a_thumbnail_that_was_deleted_or_damaged_is_made_again() {
    let (home, from) = (folder("cache-home"), folder("cache"));
    fs::write(from.join("a.jpg"), jpeg(800, 600, 1)).unwrap();
    let library = Library::open(&home).unwrap();
    import(&library, std::slice::from_ref(&from));
    let content = library.contents().unwrap()[0];
    let path = library.thumbnail(content, Edge::Small).unwrap();
    let first = fs::read(&path).unwrap();
    fs::remove_dir_all(home.join("photos/thumbnails")).unwrap();
    assert_eq!(fs::read(library.thumbnail(content, Edge::Small).unwrap()).unwrap(), first);
    fs::write(&path, &first[..first.len() / 2]).unwrap();
    assert_eq!(fs::read(library.thumbnail(content, Edge::Small).unwrap()).unwrap(), first);
    // An original that was altered is said to be so, and is put right by importing it again.
    let original = library.original(content).unwrap();
    let mut bytes = fs::read(&original).unwrap();
    let last = bytes.len() - 3;
    bytes[last] ^= 1;
    fs::write(&original, &bytes).unwrap();
    assert!(library.read(content).unwrap_err().to_string().contains("altered"));
    import(&library, &[from]);
    assert_eq!(Content::of(&library.read(content).unwrap()), content);
}

#[test]
fn a_photo_from_elsewhere_is_proved_before_it_is_kept() {
    let library = Library::open(&folder("elsewhere-home")).unwrap();
    let (mine, other) = (jpeg(90, 60, 1), jpeg(90, 60, 2));
    assert!(library.receive(Content::of(&mine), &other).is_err());
    assert!(library.receive(Content::of(b"text"), b"text").is_err());
    assert!(library.contents().unwrap().is_empty());
    library.receive(Content::of(&mine), &mine).unwrap();
    assert_eq!(library.read(Content::of(&mine)).unwrap(), mine);
    assert!(library.thumbnail(Content::of(&mine), Edge::Large).unwrap().is_file());
}

#[test]
fn equal_files_are_one_photo_whatever_their_names_and_whichever_hand_is_quicker() {
    let from = folder("equal");
    for n in 0..12 {
        fs::write(from.join(format!("{n:02}.jpg")), jpeg(90, 60, n / 3)).unwrap();
    }
    let mut results = Vec::new();
    for round in 0..5 {
        let home = folder(&format!("equal-home-{round}"));
        let library = Library::open(&home).unwrap();
        let lines = import(&library, std::slice::from_ref(&from));
        assert_eq!(photos(&lines), 4);
        assert_eq!(
            lines[4].outcome,
            Outcome::Duplicate { content: content_of(&lines[3].outcome), of: Some("03.jpg".to_owned()) }
        );
        results.push(lines);
    }
    assert!(results.windows(2).all(|pair| pair[0] == pair[1]), "the same files give the same lines");
    // A photo that the site has already is known by its content.
    let library = Library::open(&folder("equal-home-known")).unwrap();
    let known = [Content::of(&jpeg(90, 60, 0))];
    let lines = Import { library: &library, known: &known, assume: Default::default(), hands: 2 }
        .run(&[from], &photos::Unwatched);
    assert_eq!(photos(&lines), 3);
    assert_eq!(lines[0].outcome, Outcome::Duplicate { content: known[0], of: None });
}

fn content_of(outcome: &Outcome) -> Content {
    match outcome {
        Outcome::Photo(photo) => photo.content,
        other => panic!("{other:?}"),
    }
}

struct StopAt(usize, Mutex<Vec<(usize, usize)>>);

impl Watch for StopAt {
    fn step(&self, done: usize, all: usize, _: &str) -> Go {
        self.1.lock().unwrap().push((done, all));
        if done >= self.0 { Go::Stop } else { Go::On }
    }
}

#[test]
fn an_import_that_is_stopped_keeps_what_it_has_and_says_what_is_left() {
    let (home, from) = (folder("stop-home"), folder("stop"));
    for n in 0..40 {
        fs::write(from.join(format!("{n:02}.jpg")), jpeg(120, 80, n)).unwrap();
    }
    let library = Library::open(&home).unwrap();
    let watch = StopAt(5, Mutex::new(Vec::new()));
    let import_ = Import { library: &library, known: &[], assume: Default::default(), hands: 2 };
    let lines = import_.run(std::slice::from_ref(&from), &watch);
    let taken = photos(&lines);
    assert!((5..=6).contains(&taken), "{taken}: the other hand may finish what it holds");
    assert_eq!(lines.iter().filter(|line| line.outcome == Outcome::NotReached).count(), 40 - taken);
    assert_eq!(library.contents().unwrap().len(), taken);
    let seen = watch.1.into_inner().unwrap();
    assert!(seen.iter().enumerate().all(|(n, step)| *step == (n + 1, 40)), "{seen:?}");
    assert_eq!(photos(&import(&library, &[from])), 40);
}
