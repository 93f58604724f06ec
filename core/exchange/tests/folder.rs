//! Rounds over a real folder: what they cost, what another program reads, what a hostile folder can do, and how what was
//! cut off goes on. The bounds are those that people were promised.

#[path = "places/scratch.rs"]
mod scratch;
#[allow(dead_code)]
mod team;

use std::fs;
use std::process::Command;
use std::sync::atomic::{AtomicU64, Ordering};

use exchange::engine::{Go, Note};
use exchange::layout::BLOCK_BYTES;
use exchange::pack::Class;
use exchange::place::{Entry, Folder, Place, PlaceError, Span};
use scratch::Scratch;
use team::home::name;
use team::{Device, join};

/// A folder that counts what it is asked.
struct Counting {
    folder: Folder,
    requests: AtomicU64,
    written: AtomicU64,
}

impl Counting {
    fn at(scratch: &Scratch) -> Self {
        let folder = Folder::open(&scratch.0, [1; 8]).expect("a folder");
        Self { folder, requests: AtomicU64::new(0), written: AtomicU64::new(0) }
    }

    /// Requests and bytes written since the last call.
    fn since(&self) -> (u64, u64) {
        (self.requests.swap(0, Ordering::Relaxed), self.written.swap(0, Ordering::Relaxed))
    }

    fn count(&self) {
        self.requests.fetch_add(1, Ordering::Relaxed);
    }
}

impl Place for Counting {
    fn list(&self, folder: &str) -> Result<Vec<Entry>, PlaceError> {
        self.count();
        self.folder.list(folder)
    }

    fn read(&self, path: &str, span: Span) -> Result<Vec<u8>, PlaceError> {
        self.count();
        self.folder.read(path, span)
    }

    fn write_new(&self, path: &str, bytes: &[u8]) -> Result<(), PlaceError> {
        self.count();
        self.written.fetch_add(bytes.len() as u64, Ordering::Relaxed);
        self.folder.write_new(path, bytes)
    }

    fn delete(&self, path: &str) -> Result<(), PlaceError> {
        self.count();
        self.folder.delete(path)
    }
}

/// A team of two in a folder, both up to date.
fn two(scratch: &Scratch) -> (Counting, Device, Device) {
    let place = Counting::at(scratch);
    let (a, b) = team::two(&place);
    place.since();
    (place, a, b)
}

#[test]
fn an_idle_round_asks_once_and_an_edit_travels_in_little() {
    let scratch = Scratch::new();
    let (place, mut a, mut b) = two(&scratch);
    let mut last = a.edit(Vec::new());
    for n in 0..200 {
        a.round(&place);
        let (requests, written) = place.since();
        assert!(requests <= 6, "edit {n} took {requests} requests");
        // Now and then older packs are merged into a larger one.
        let files = fs::read_dir(scratch.0.join("heads")).expect("heads").count();
        assert!(files <= 5, "{files} heads");
        if n % 4 == 1 {
            assert!(written < 2000, "edit {n} wrote {written} bytes");
        }
        b.round(&place);
        assert!(place.since().0 <= 4, "taking it took more than a list, a head and a pack");
        assert!(b.store.changes.contains_key(&last));
        last = a.edit(vec![last]);
    }
    a.round(&place);
    for _ in 0..8 {
        a.round(&place);
        b.round(&place);
    }
    place.since();
    a.round(&place);
    b.round(&place);
    assert_eq!(place.since(), (2, 0), "an idle round lists the heads and no more");
}

#[test]
fn a_device_that_was_away_for_two_years_comes_back_in_one_round() {
    let scratch = Scratch::new();
    let (place, mut a, mut b) = two(&scratch);
    let mut gone = Device::new(3);
    join(&place, &mut a, &mut gone, 3);
    b.round(&place);
    // What it made on its last day it has shown to nobody.
    let own = [b.edit(Vec::new()), b.edit(Vec::new())];
    let photo = b"an invented photo".to_vec();
    b.store.blobs.insert(name(&photo), (Class::Original, photo.clone()));
    for day in 0..730 {
        a.edit(Vec::new());
        a.round(&place);
        match day {
            200 => {
                // Somebody leaves, and the team seals with a key that this device has never seen.
                let mut memory = a.memory();
                let (id, me) = (gone.own.id(), a.own.clone());
                memory.remove(&me, id, Vec::new(), &mut || a.random(), 0).expect("removed");
                a.store.memory = memory.to_bytes();
            }
            400 => {
                let mut late = Device::new(4);
                join(&place, &mut a, &mut late, 4);
            }
            _ => {}
        }
    }
    place.since();
    let report = b.round(&place);
    let (requests, _) = place.since();
    assert_eq!((report.lacking, report.aside, report.waits), (0, Vec::new(), false));
    assert_eq!(b.store.changes.len(), 730 + own.len());
    // Packs grow by merging, so that their number follows the bytes and the logarithm of the rounds.
    assert!(requests <= 60, "two years took {requests} requests");
    a.round(&place);
    assert!(a.store.changes == b.store.changes && a.store.blobs.contains_key(&name(&photo)));
    b.round(&place);
    a.round(&place);
    place.since();
    b.round(&place);
    assert_eq!(place.since(), (1, 0), "it is as idle as any other afterwards");
}

#[test]
fn a_newcomer_reads_few_files_however_long_the_history() {
    let scratch = Scratch::new();
    let (place, mut a, _) = two(&scratch);
    for _ in 0..400 {
        for _ in 0..3 {
            a.edit(Vec::new());
        }
        a.round(&place);
    }
    let mut late = Device::new(3);
    join(&place, &mut a, &mut late, 3);
    assert_eq!(late.store.changes.len(), 1200);
    let folders = fs::read_dir(scratch.0.join("objects")).expect("objects").map(|entry| entry.expect("one").path());
    let packs: usize = folders.map(|folder| fs::read_dir(folder).expect("packs").count()).sum();
    assert!(packs <= 24, "{packs} packs are left of 400");
}

#[test]
fn a_large_blob_goes_on_where_it_was_cut_off_both_ways() {
    let scratch = Scratch::new();
    let (place, mut a, mut b) = two(&scratch);
    let bytes: Vec<u8> =
        (0..(5 * BLOCK_BYTES + 77) as u32).map(|n| n.wrapping_mul(2_654_435_761).to_be_bytes()[0]).collect();
    let id = name(&bytes);
    a.store.blobs.insert(id, (Class::Original, bytes.clone()));
    let stop_after = |blocks: u64| {
        move |notes: &[Note]| {
            let far = |note: &Note| matches!(note, Note::Carried { done, .. } if *done >= blocks * BLOCK_BYTES);
            if notes.iter().any(far) { Go::Stop } else { Go::On }
        }
    };
    assert_eq!(a.round_until(&place, &mut stop_after(3)), None);
    let sent = place.since().1;
    assert!((3 * BLOCK_BYTES..6 * BLOCK_BYTES).contains(&sent), "{sent}");
    assert_eq!(a.round(&place).blobs_gave, 1);
    let rest = place.since().1;
    assert!(rest < 3 * BLOCK_BYTES, "{rest} bytes were written where {sent} were there already");
    assert_eq!(b.round_until(&place, &mut stop_after(4)), None);
    place.since();
    assert_eq!(b.round(&place).blobs_took, 1);
    // A list, and the two blocks that were left.
    assert!(place.since().0 <= 3);
    assert_eq!(b.store.blobs[&id].1, bytes);
}

#[test]
fn behind_a_damaged_block_nothing_of_its_blob_is_kept_until_it_is_mended() {
    let scratch = Scratch::new();
    let (place, mut a, mut b) = two(&scratch);
    let bytes: Vec<u8> =
        (0..(6 * BLOCK_BYTES + 5) as u32).map(|n| n.wrapping_mul(2_246_822_519).to_be_bytes()[0]).collect();
    let id = name(&bytes);
    a.store.blobs.insert(id, (Class::Original, bytes.clone()));
    assert_eq!(a.round(&place).blobs_gave, 1);
    let block = a.store.named[&id].blocks[2].to_string();
    let path = scratch.0.join("objects").join(&block[..2]).join(&block);
    let mut file = fs::read(&path).expect("a block");
    file[1_000_000] ^= 1;
    fs::write(&path, file).expect("damaged");
    // Those behind it come first, as they are read by others at the same time; the store sees to the order itself.
    for _ in 0..2 {
        let report = b.round(&place);
        assert_eq!((report.blobs_took, report.aside.len()), (0, 1), "{report:?}");
        assert!(report.aside[0].path.ends_with(&block) && report.aside[0].why.contains("damaged"), "{report:?}");
    }
    place.since();
    a.round(&place);
    let report = b.round(&place);
    assert_eq!((report.blobs_took, report.aside.len()), (1, 0), "{report:?}");
    assert_eq!(b.store.blobs[&id].1, bytes);
}

#[cfg(unix)]
#[test]
fn a_hostile_folder_is_named_and_the_round_goes_on() {
    use std::os::unix::fs::symlink;
    let scratch = Scratch::new();
    let (place, mut a, mut b) = two(&scratch);
    let (heads, device) = (scratch.0.join("heads"), hex(&a.own.id().0));
    symlink("/etc/passwd", heads.join(format!("{device}.900"))).expect("a link");
    fs::create_dir(heads.join(format!("{device}.901"))).expect("a folder");
    let gigantic = fs::File::create(heads.join(format!("{device}.902"))).expect("a file");
    // A terabyte that takes no room on the drive.
    gigantic.set_len(1 << 40).expect("a long file");
    fs::write(heads.join(format!("{device}.903")), b"\x01not sealed by the team").expect("a file");
    fs::write(heads.join("..%2f..%2fescape"), b"x").expect("a file");
    fs::write(heads.join("desktop.ini"), b"x").expect("a file");
    fs::write(scratch.0.join("notes.docx"), b"somebody's").expect("a file");
    let edit = a.edit(Vec::new());
    a.round(&place);
    let report = b.round(&place);
    assert!(b.store.changes.contains_key(&edit), "{report:?}");
    let why = |end: &str| {
        let found = report.aside.iter().find(|aside| aside.path.ends_with(end));
        found.unwrap_or_else(|| panic!("{end} is not named: {:?}", report.aside)).why.clone()
    };
    assert!(why(".900").contains("never followed"));
    assert!(why(".901").contains("never followed"));
    assert!(why(".902").contains("more than any head"));
    assert!(why("escape").contains("no file of this team"));
    assert!(why("desktop.ini").contains("left alone"));
    assert!(scratch.0.join("notes.docx").exists());
    // A pack swapped for a link, and one cut short: named, and brought back by whoever has it.
    let (cut, swapped) = (a.edit(Vec::new()), b.edit(Vec::new()));
    let packs = || -> Vec<std::path::PathBuf> {
        let folders = fs::read_dir(scratch.0.join("objects")).expect("objects").map(|entry| entry.expect("one").path());
        folders
            .flat_map(|folder| fs::read_dir(folder).expect("packs").map(|entry| entry.expect("one").path()))
            .collect()
    };
    let before = packs();
    a.round(&place);
    let fresh: Vec<_> = packs().into_iter().filter(|path| !before.contains(path)).collect();
    for path in &fresh {
        fs::write(path, b"\x01cut").expect("cut short");
    }
    let report = b.round(&place);
    assert_eq!(report.lacking, fresh.len() as u64, "{report:?}");
    for _ in 0..3 {
        b.round(&place);
        a.round(&place);
    }
    b.round(&place);
    assert!(b.store.changes.contains_key(&cut) && a.store.changes.contains_key(&swapped));
}

#[test]
fn another_program_reads_the_folder_by_its_description() {
    let scratch = Scratch::new();
    let (place, mut a, mut b) = two(&scratch);
    let mut expected = Vec::new();
    for n in 0..9 {
        let device = if n % 2 == 0 { &mut a } else { &mut b };
        expected.push(hex(&device.edit(Vec::new())));
        device.round(&place);
    }
    let bytes: Vec<u8> = (0..BLOCK_BYTES as u32 + 5).map(|n| n.wrapping_mul(40_503).to_be_bytes()[1]).collect();
    expected.push(hex(&name(&bytes)));
    b.store.blobs.insert(name(&bytes), (Class::Original, bytes));
    b.round(&place);
    let python = ["python3", "/usr/bin/python3"].into_iter().find(|python| {
        let tried = Command::new(python).args(["-c", "import cryptography"]).output();
        tried.is_ok_and(|output| output.status.success())
    });
    let python = python.expect("python3 with cryptography (Debian: python3-cryptography)");
    for secret in [[1; 32], [2; 32]] {
        let output = Command::new(python)
            .arg(concat!(env!("CARGO_MANIFEST_DIR"), "/tests/layout/reader.py"))
            .arg(&scratch.0)
            .arg(hex(&secret))
            .output()
            .expect("python3");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        let text = String::from_utf8_lossy(&output.stdout);
        let mut found: Vec<String> =
            text.lines().filter_map(|line| line.rsplit(' ').next().map(str::to_owned)).collect();
        found.sort();
        expected.sort();
        assert_eq!(found, expected);
    }
}

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
