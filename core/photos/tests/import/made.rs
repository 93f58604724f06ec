//! Pictures and folders made for the checks.

use std::io::Cursor;
use std::path::{Path, PathBuf};

use image::{ImageFormat, RgbImage};
use jpeg_encoder::{ColorType, Encoder};
use photos::{Import, Library, Line, Outcome, Unwatched};

/// An empty folder for one check.
pub fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// Pixels that depend on a seed, so that pictures of different seeds differ.
pub fn pixels(width: u32, height: u32, seed: u32) -> RgbImage {
    RgbImage::from_fn(width, height, |x, y| {
        let part = |n: u32| (n.wrapping_mul(2_654_435_761) >> 24) as u8;
        image::Rgb([(x / 3) as u8 ^ part(seed), (y / 2) as u8, part(seed.wrapping_add((x / 16) * 31 + y / 16))])
    })
}

/// A JPEG.
pub fn jpeg(width: u16, height: u16, seed: u32) -> Vec<u8> {
    encoded(width, height, seed, false)
}

/// A JPEG that comes in several passes.
pub fn progressive(width: u16, height: u16, seed: u32) -> Vec<u8> {
    encoded(width, height, seed, true)
}

fn encoded(width: u16, height: u16, seed: u32, progressive: bool) -> Vec<u8> {
    // One row, repeated: pictures of many million pixels are made in no time.
    let row = pixels(width.into(), 1, seed).into_raw();
    let all = row.repeat(usize::from(height));
    let mut file = Vec::new();
    let mut encoder = Encoder::new(&mut file, 80);
    encoder.set_progressive(progressive);
    encoder.encode(&all, width, height, ColorType::Rgb).unwrap();
    file
}

/// A picture of another kind.
pub fn other(format: ImageFormat, width: u32, height: u32, seed: u32) -> Vec<u8> {
    let mut file = Cursor::new(Vec::new());
    pixels(width, height, seed).write_to(&mut file, format).unwrap();
    file.into_inner()
}

/// Imports what is named into a library, with two hands.
pub fn import(library: &Library, named: &[PathBuf]) -> Vec<Line> {
    Import { library, known: &[], assume: Default::default(), hands: 2 }.run(named, &Unwatched)
}

/// Why a file was refused.
pub fn refusal(lines: &[Line], name: &str) -> String {
    let line = lines.iter().find(|line| line.name == name).unwrap_or_else(|| panic!("{name} is not in {lines:?}"));
    match &line.outcome {
        Outcome::Refused(reason) => reason.to_string(),
        other => panic!("{name}: {other:?}"),
    }
}

/// How many photos were taken in.
pub fn photos(lines: &[Line]) -> usize {
    lines.iter().filter(|line| matches!(line.outcome, Outcome::Photo(_))).count()
}
