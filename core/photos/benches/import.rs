//! Import of photos of 12 million pixels (hash, details, both thumbnails, store) against `vipsthumbnail`, which makes the
//! same two sizes alone. Both use two cores.
//!
//! Usage: import COUNT PICTURE.jpg... (`.ci/bench` makes the pictures). Copies of the pictures, each with a comment of its
//! own, become COUNT different photos.

use std::path::{Path, PathBuf};
use std::process::{Command, ExitCode};
use std::time::Instant;

use photos::{Import, Library, Outcome, Unwatched};

const HANDS: usize = 2;

fn main() -> ExitCode {
    let args: Vec<String> = std::env::args().skip(1).filter(|arg| arg != "--bench").collect();
    let [count, pictures @ ..] = args.as_slice() else { return usage() };
    let Ok(count) = count.parse::<usize>() else { return usage() };
    if pictures.is_empty() {
        return usage();
    }
    let base = Path::new(env!("CARGO_TARGET_TMPDIR")).join("photos-bench");
    let files = copies(&base, count, pictures);
    // Two rounds each, in turn, so that what else the machine does weighs on both.
    let (mut ours, mut theirs) = (f64::INFINITY, f64::INFINITY);
    for round in 0..2 {
        theirs = theirs.min(vipsthumbnail(&base.join(format!("vips-{round}")), &files));
        ours = ours.min(import(&base.join(format!("home-{round}")), &files));
    }
    let _ = std::fs::remove_dir_all(&base);
    let rate = |seconds: f64| count as f64 / seconds;
    println!("{count} photos, {HANDS} cores, the better of two rounds:");
    println!("  import (hash, details, two thumbnails, store)  {:6.1} photos/s", rate(ours));
    println!("  vipsthumbnail (the same two sizes alone)       {:6.1} photos/s", rate(theirs));
    let met = ours <= theirs;
    println!("  goal: at least as many; {:.2} times as many: {}", theirs / ours, if met { "met" } else { "missed" });
    ExitCode::from(u8::from(!met))
}

fn usage() -> ExitCode {
    eprintln!("import COUNT PICTURE.jpg...");
    ExitCode::from(2)
}

/// So many different files: a comment after the first marker (ITU-T T.81, B.2.4.5) makes each its own photo.
fn copies(base: &Path, count: usize, pictures: &[String]) -> Vec<PathBuf> {
    let _ = std::fs::remove_dir_all(base);
    let folder = base.join("from");
    std::fs::create_dir_all(&folder).expect("a folder for the copies");
    let pictures: Vec<Vec<u8>> = pictures.iter().map(|path| std::fs::read(path).expect("the picture")).collect();
    (0..count)
        .map(|n| {
            let picture = &pictures[n % pictures.len()];
            let mut bytes = picture[..2].to_vec();
            bytes.extend_from_slice(&[0xff, 0xfe, 0, 10]);
            bytes.extend_from_slice(format!("{n:08}").as_bytes());
            bytes.extend_from_slice(&picture[2..]);
            let path = folder.join(format!("{n:05}.jpg"));
            std::fs::write(&path, bytes).expect("a copy");
            path
        })
        .collect()
}

fn import(home: &Path, files: &[PathBuf]) -> f64 {
    std::fs::create_dir_all(home).expect("a home");
    let library = Library::open(home).expect("a library");
    let start = Instant::now();
    let import = Import { library: &library, known: &[], assume: Default::default(), hands: HANDS };
    let lines = import.run(files, &Unwatched);
    let seconds = start.elapsed().as_secs_f64();
    assert!(lines.iter().all(|line| matches!(line.outcome, Outcome::Photo(_))), "not every picture was taken in");
    seconds
}

/// One process for each core, each with its share of the files, one size after the other.
fn vipsthumbnail(into: &Path, files: &[PathBuf]) -> f64 {
    std::fs::create_dir_all(into).expect("a folder for vipsthumbnail");
    let start = Instant::now();
    std::thread::scope(|scope| {
        for share in files.chunks(files.len().div_ceil(HANDS)) {
            scope.spawn(move || {
                for edge in ["320", "1600"] {
                    let status = Command::new("vipsthumbnail")
                        .env("VIPS_CONCURRENCY", "1")
                        .args(["-s", edge, "-o"])
                        .arg(into.join(format!("%s-{edge}.jpg")))
                        .args(share)
                        .status();
                    assert!(status.is_ok_and(|s| s.success()), "vipsthumbnail; run .ci/setup bench");
                }
            });
        }
    });
    start.elapsed().as_secs_f64()
}
