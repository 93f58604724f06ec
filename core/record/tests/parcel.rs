//! The one file with site, history and photos: what a reader of the first release finds in it, what damage does, and what
//! it takes in memory.
//!
//! The form of the file is ours and has no outside source; the reader of the first release is written here anew.

mod common;

use std::collections::BTreeMap;
use std::io::{self, Cursor, Read};
use std::process::Command;

use common::dice::Dice;
use common::folder::Folder;
use common::post::{SITE, device, fresh, move_to, one_post};
use record::store::{MOST_HISTORY_BYTES, PhotoRow, Store};
use sha2::{Digest, Sha256};

const MIB: usize = 1 << 20;
const FIRST_LINE: &[u8] = b"Newel site, format 1\n";

fn hash(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Bytes that no packing shortens, of a seed.
fn noise(length: usize, seed: u64) -> Vec<u8> {
    let mut state = seed | 1;
    let mut next = || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 32) as u8
    };
    (0..length).map(|_| next()).collect()
}

fn row(name: &str, bytes: &[u8]) -> PhotoRow {
    PhotoRow {
        file: hash(bytes),
        name: name.to_owned(),
        kind: "JPEG".to_owned(),
        bytes: bytes.len() as i64,
        added_ms: 7,
        facts: "{}".to_owned(),
    }
}

/// A site of two changes with these photos, as one file.
fn file(photos: &[(&str, Vec<u8>)]) -> Vec<u8> {
    let folder = Folder::new();
    let mut store = Store::open(&folder.0, device(1), fresh(1, 1)).expect("a store");
    let mut site = store.create(&one_post(), 1).expect("created");
    site.edit(&mut store, &move_to(4325), 2).expect("moved");
    let rows: Vec<PhotoRow> = photos.iter().map(|(name, bytes)| row(name, bytes)).collect();
    let bytes: BTreeMap<String, Vec<u8>> = photos.iter().map(|(_, bytes)| (hash(bytes), bytes.clone())).collect();
    let mut file = Vec::new();
    let mut open = |row: &PhotoRow| Ok(Box::new(Cursor::new(bytes[&row.file].clone())) as Box<dyn Read>);
    store.export_to(&mut file, SITE, &rows, &mut open).expect("written");
    file
}

/// Takes a file in; the photos that came whole, by name, and the names of those that did not.
fn taken_in(file: &[u8]) -> (Vec<String>, Vec<String>, usize) {
    let folder = Folder::new();
    let mut store = Store::open(&folder.0, device(2), fresh(2, 1)).expect("a store");
    let mut whole = Vec::new();
    let arrival = store
        .import_from(&mut Cursor::new(file), &mut |row, bytes| {
            let mut found = Vec::new();
            bytes.read_to_end(&mut found).map_err(|why| why.to_string())?;
            if hash(&found) != row.file {
                return Err("damaged".to_owned());
            }
            whole.push(row.name.clone());
            Ok(())
        })
        .expect("taken in");
    assert_eq!(arrival.photos, whole.len());
    let kept: Vec<PhotoRow> = store.photos().expect("rows");
    assert_eq!(kept.len(), whole.len(), "every row of the index has its photo");
    (whole, arrival.photos_aside.into_iter().map(|(name, _)| name).collect(), arrival.fresh)
}

/// Of no bytes, of one block, of a block and a bit, of exactly two.
fn photos() -> Vec<(&'static str, Vec<u8>)> {
    vec![
        ("empty", Vec::new()),
        ("small", noise(900, 1)),
        ("a block and a bit", noise(MIB + 1, 2)),
        ("two blocks", noise(2 * MIB, 3)),
    ]
}

#[test]
fn photos_come_out_as_they_went_in() {
    let (whole, aside, fresh) = taken_in(&file(&photos()));
    assert_eq!(whole, ["empty", "small", "a block and a bit", "two blocks"]);
    assert_eq!((aside, fresh), (Vec::<String>::new(), 2));
}

#[test]
fn a_reader_of_the_first_release_finds_the_history() {
    // First line; records of kind, length, parts with their lengths; 32 bytes of SHA-256 over all before. Kinds that it
    // does not know it passes over.
    let file = file(&photos());
    let (body, seal) = file.split_at(file.len() - 32);
    assert_eq!(Sha256::digest(body).as_slice(), seal);
    let mut rest = body.strip_prefix(b"Newel site, format 1\n").expect("the first line");
    let mut kinds = String::new();
    while let [kind, a, b, c, d, after @ ..] = rest {
        let length = u32::from_be_bytes([*a, *b, *c, *d]) as usize;
        kinds.push(char::from(*kind));
        rest = &after[length..];
    }
    assert!(rest.is_empty());
    assert_eq!(kinds, "DACCPPPPSBBBBB");
}

#[test]
fn a_damaged_block_spoils_its_own_photo_and_no_other() {
    let whole = file(&photos());
    let blocks: usize = photos().iter().map(|(_, bytes)| bytes.len() + bytes.len().div_ceil(MIB) * 9).sum();
    let first = whole.len() - 32 - blocks;
    let mut spoiled = BTreeMap::<usize, usize>::new();
    for n in 0..200 {
        let mut damaged = whole.clone();
        let at = first + (n * 104_729) % blocks;
        damaged[at] ^= 1 << (n % 8);
        let (came, aside, fresh) = taken_in(&damaged);
        // The head of a block says nothing that is not known from before; damage there does no harm.
        assert!(aside.len() <= 1, "byte {at}: {aside:?}");
        assert_eq!((came.len() + aside.len(), fresh), (4, 2), "byte {at}");
        *spoiled.entry(aside.len()).or_default() += 1;
    }
    assert!(spoiled[&1] > 150, "{spoiled:?}");
}

#[test]
fn damage_within_the_history_is_refused_whole_and_a_cut_takes_only_what_is_behind_it() {
    let whole = file(&photos());
    let blocks: usize = photos().iter().map(|(_, bytes)| bytes.len() + bytes.len().div_ceil(MIB) * 9).sum();
    let first = whole.len() - 32 - blocks;
    let folder = Folder::new();
    let mut store = Store::open(&folder.0, device(2), fresh(2, 1)).expect("a store");
    let mut refused = |file: &[u8]| {
        let said = store.import_from(&mut Cursor::new(file), &mut |_, _| Ok(())).expect_err("damaged").to_string();
        assert!(store.sites().expect("list").is_empty() && store.photos().expect("rows").is_empty());
        said
    };
    for at in (0..first).step_by(7) {
        let mut damaged = whole.clone();
        damaged[at] ^= 0x20;
        let said = refused(&damaged);
        assert!(said.starts_with("this is no whole site file: "), "byte {at}: {said}");
        refused(&whole[..at]);
    }
    for (length, expected) in [(first, 1), (first + 909, 2), (first + 909 + MIB, 2), (whole.len() - 32, 4)] {
        let (came, aside, fresh) = taken_in(&whole[..length]);
        assert_eq!((came.len(), aside.len(), fresh), (expected, 4 - expected, 2), "cut to {length}");
    }
}

/// The records of a file up to its first seal, each as kind and bytes, and what follows the seal.
fn records(file: &[u8]) -> (Vec<(u8, Vec<u8>)>, Vec<u8>) {
    let mut rest = file.strip_prefix(FIRST_LINE).expect("the first line");
    let mut records = Vec::new();
    while let [kind, a, b, c, d, after @ ..] = rest {
        let length = u32::from_be_bytes([*a, *b, *c, *d]) as usize;
        rest = &after[length..];
        if *kind == b'S' {
            break;
        }
        records.push((*kind, after[..length].to_vec()));
    }
    (records, rest[..rest.len() - 32].to_vec())
}

/// A file of these records with both seals as they should be; one part of 32 bytes lies in the first.
fn sealed(records: &[(u8, Vec<u8>)], photos: &[u8]) -> Vec<u8> {
    let mut file = FIRST_LINE.to_vec();
    for (kind, bytes) in records {
        file.push(*kind);
        file.extend((bytes.len() as u32).to_be_bytes());
        file.extend(bytes);
    }
    let seal = Sha256::digest(&file);
    file.extend([b'S', 0, 0, 0, 36, 0, 0, 0, 32]);
    file.extend(seal);
    file.extend(photos);
    let whole = Sha256::digest(&file);
    file.extend(whole);
    file
}

/// One change to one record, or to their order.
fn forge(records: &mut Vec<(u8, Vec<u8>)>, dice: &mut Dice) {
    let at = dice.below(records.len());
    let other = dice.below(records.len());
    match dice.below(8) {
        0 => records.swap(at, other),
        1 => records.push(records[at].clone()),
        2 => drop(records.remove(at)),
        3 => records[at].0 = b"DACPBX"[dice.below(6)],
        what => {
            let bytes = &mut records[at].1;
            let place = dice.below(bytes.len().max(1));
            match what {
                4 => bytes.truncate(place),
                5 => bytes.splice(place..place, [0xff; 5]).for_each(drop),
                // Mostly the lengths of parts, which are four bytes with two or three of zero.
                6 => bytes.iter_mut().skip(place).filter(|byte| **byte == 0).take(1).for_each(|byte| *byte = 0x7f),
                _ => bytes.iter_mut().skip(place).take(1).for_each(|byte| *byte ^= 1 << dice.below(8)),
            }
        }
    }
}

#[test]
fn a_forged_file_with_right_seals_does_no_harm() {
    let (whole, photos) = records(&file(&photos()));
    assert_eq!(sealed(&whole, &photos), file(&self::photos()), "the file is put together as the program does it");
    let folder = Folder::new();
    let mut store = Store::open(&folder.0, device(2), fresh(2, 1)).expect("a store");
    let mut own = one_post();
    own.site.id = survey::Id::new("own").expect("an id");
    let before = store.create(&own, 1).expect("created").history();
    let (mut dice, mut taken, mut refused) = (Dice(11), 0, 0);
    for round in 0..600 {
        let mut forged = whole.clone();
        (0..=dice.below(3)).for_each(|_| {
            if !forged.is_empty() {
                forge(&mut forged, &mut dice)
            }
        });
        let mut named = Vec::new();
        let said = store.import_from(&mut Cursor::new(sealed(&forged, &photos)), &mut |row, bytes| {
            named.push(row.file.clone());
            let mut found = Vec::new();
            bytes.read_to_end(&mut found).map_err(|why| why.to_string())?;
            if hash(&found) == row.file { Ok(()) } else { Err("damaged".to_owned()) }
        });
        match said {
            Ok(_) => taken += 1,
            Err(why) => {
                refused += 1;
                assert!(why.to_string().starts_with("this is no whole site file: "), "round {round}: {why}");
            }
        }
        // What a photo is called becomes a path: nothing but a digest may come through.
        for name in named {
            assert!(
                name.len() == 64 && name.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b)),
                "{name}"
            );
        }
        assert_eq!(store.site("own").expect("opened").history(), before, "round {round}");
        for line in store.sites().expect("listed") {
            // What a forged history says of another site is that site's matter; opening it is no panic.
            let _ = store.site(&line.document);
        }
    }
    assert!(taken > 50 && refused > 50, "{taken} taken in, {refused} refused");
    drop(store);
    let mut store = Store::open(&folder.0, device(2), fresh(2, 2)).expect("opens as before");
    assert_eq!(store.site("own").expect("opened").history(), before);
}

#[test]
fn a_file_that_claims_more_than_it_has_takes_no_memory_for_it() {
    let mut claims = b"Newel site, format 1\n".to_vec();
    claims.push(b'C');
    claims.extend_from_slice(&u32::MAX.to_be_bytes());
    claims.resize(4096, 0);
    let folder = Folder::new();
    let mut store = Store::open(&folder.0, device(2), fresh(2, 1)).expect("a store");
    let said = store.import(&claims).expect_err("it claims too much").to_string();
    assert!(said.contains("cut short"), "{said}");
}

/// So large is the photo that is sent and received with little memory.
const LARGE: u64 = 300 << 20;
const _: () = assert!(LARGE > MOST_HISTORY_BYTES, "the photo alone is more than the bound");

/// The child of the next test: sends and receives a large photo and says how much memory it took.
#[test]
fn child_that_is_measured() {
    let Some(folder) = std::env::var_os("PARCEL_FOLDER") else { return };
    let path = std::path::Path::new(&folder).join("large.newel-site");
    let mut store = Store::open(&std::path::Path::new(&folder).join("a"), device(1), fresh(1, 1)).expect("a store");
    store.create(&one_post(), 1).expect("created");
    let large = PhotoRow { bytes: LARGE as i64, ..row("large", b"") };
    let mut out = io::BufWriter::new(std::fs::File::create(&path).expect("a file"));
    let mut open = |_: &PhotoRow| Ok(Box::new(io::repeat(7).take(LARGE)) as Box<dyn Read>);
    store.export_to(&mut out, SITE, std::slice::from_ref(&large), &mut open).expect("written");
    drop(out);
    let mut store = Store::open(&std::path::Path::new(&folder).join("b"), device(2), fresh(2, 1)).expect("a store");
    let mut seen = 0;
    let mut file = std::fs::File::open(&path).expect("the file");
    store
        .import_from(&mut file, &mut |_, bytes| {
            seen += io::copy(bytes, &mut io::sink()).map_err(|why| why.to_string())?;
            Ok(())
        })
        .expect("taken in");
    assert_eq!(seen, LARGE);
    let status = std::fs::read_to_string("/proc/self/status").expect("status");
    println!("{}", status.lines().find(|line| line.starts_with("VmHWM")).expect("the peak"));
}

#[test]
fn a_photo_larger_than_the_bound_passes_through_in_pieces() {
    let folder = Folder::new();
    let output = Command::new(std::env::current_exe().expect("this test"))
        .args(["--exact", "child_that_is_measured", "--nocapture"])
        .env("PARCEL_FOLDER", &folder.0)
        .output()
        .expect("a child");
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(output.status.success(), "{said}{}", String::from_utf8_lossy(&output.stderr));
    let peak = said.lines().find_map(|line| line.split_once("VmHWM:")).expect("the peak").1;
    let peak_kb: u64 = peak.trim().trim_end_matches(" kB").parse().expect("a number");
    assert!(peak_kb < 64 << 10, "{peak_kb} kB for a photo of {} kB", LARGE >> 10);
}
