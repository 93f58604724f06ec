//! Devices that are killed in the middle of rounds, again and again, over real servers: nothing that was acknowledged is
//! lost, and nothing that was left half done is ever taken for data.

use std::collections::BTreeSet;
use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;
use std::time::Duration;

use exchange::engine::{Go, Report, Round, drive};
use exchange::layout::BLOCK_BYTES;
use exchange::memory::Memory;
use exchange::pack::Class;
use exchange::place::Place;
use places::{Opened, Secret, Settings, open};

use crate::chance::bytes;
use crate::dice::Dice;
use crate::disk::Disk;
use crate::servers::Scratch;
use crate::servers::apache::{Apache, Wish};
use crate::servers::store::Store as Server;
use crate::team::home::{Change, name};
use crate::team::{self, Device};

/// So often a device is killed on each of two servers.
const KILLS: u64 = 100;
/// Tells a child what it is to do.
const CHILD: &str = "PLACES_CHILD";

fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

fn round(disk: &mut Disk, device: &Device, place: &dyn Place, seed: u64) -> Result<Report, String> {
    let memory = Memory::from_bytes(&disk.store.memory).expect("what it wrote");
    let random = bytes(seed, 32).try_into().expect("32 bytes");
    let round = Round::new(device.own.clone(), memory, 1_900_000_000_000, random);
    match drive(round, place, disk, &mut |_| Go::On) {
        Ok(done) => Ok(done.expect("nobody stops it").0),
        Err(failure) => Err(failure.to_string()),
    }
}

/// Edits and exchanges without end, and says what it has acknowledged.
fn child(told: &str) {
    let mut words = told.split('\n');
    let mut word = || words.next().expect("a word").to_owned();
    let (file, n, seed) = (word(), word().parse().expect("a device"), word().parse::<u64>().expect("a seed"));
    let settings = settings_of(&mut word);
    let device = Device::new(n);
    let mut disk = Disk::open(Path::new(&file), &device.own);
    let opened = open(&settings, [n; 8]).expect("a place");
    let mut dice = Dice::new(seed);
    let mut last: Option<[u8; 32]> = None;
    loop {
        let salt = dice.next();
        let change = Change { author: device.own.id(), field: (salt % 5) as u8, needs: last.into_iter().collect() };
        let made = change.bytes(salt);
        let key = name(&made);
        disk.edit(made);
        println!("acknowledged {}", hex(&key));
        last = Some(key);
        // Now and then a photo: mostly small, sometimes of two blocks.
        let photo = match salt % 16 {
            0 | 8 => Some((Class::Original, BLOCK_BYTES as usize + 70_000)),
            1..6 => Some((Class::Thumbnail, 9_000)),
            _ => None,
        };
        if let Some((class, many)) = photo {
            let photo = bytes(salt, many);
            let key = name(&photo);
            disk.add(class, photo);
            println!("acknowledged {}", hex(&key));
        }
        round(&mut disk, &device, opened.place(), dice.next()).expect("a round");
        println!("done");
    }
}

fn words_of(settings: &Settings) -> String {
    let text = |text: &Option<String>| text.clone().unwrap_or_default();
    let ca = settings.ca.as_ref().map(|path| path.display().to_string()).unwrap_or_default();
    let password = settings.password.as_ref().map(|password| password.0.clone()).unwrap_or_default();
    [settings.address.clone(), text(&settings.user), password, text(&settings.endpoint), ca].join("\n")
}

fn settings_of(word: &mut dyn FnMut() -> String) -> Settings {
    let mut settings = Settings::at(&word());
    let mut some = || Some(word()).filter(|word| !word.is_empty());
    settings.user = some();
    settings.password = some().map(Secret);
    settings.endpoint = some();
    settings.ca = some().map(PathBuf::from);
    settings
}

/// Runs a device in a process of its own and kills it; gives what that acknowledged.
fn killed(file: &Path, n: u8, seed: u64, settings: &Settings, test: &str) -> Vec<String> {
    let mut child = Command::new(std::env::current_exe().expect("this test"))
        .args(["--exact", test, "--nocapture"])
        .env(CHILD, format!("{}\n{n}\n{seed}\n{}", file.display(), words_of(settings)))
        .stdout(Stdio::piped())
        .spawn()
        .expect("a child");
    let out = BufReader::new(child.stdout.take().expect("its output"));
    let mut lines = out.lines().map_while(Result::ok);
    let mut dice = Dice::new(seed);
    let mut acknowledged = Vec::new();
    // Every third is killed at a moment that may fall into opening its store; the others after a round or two.
    let rounds = if seed.is_multiple_of(3) { 0 } else { 1 + dice.next() % 2 };
    let mut told = |lines: &mut dyn Iterator<Item = String>, rounds: u64| {
        let mut done = 0;
        while done < rounds {
            let Some(line) = lines.next() else { return };
            done += u64::from(line == "done");
            acknowledged.extend(line.split_once("acknowledged ").map(|(_, said)| said.to_owned()));
        }
    };
    told(&mut lines, rounds);
    thread::sleep(Duration::from_micros(dice.next() % 60_000));
    child.kill().expect("killed");
    let ended = child.wait().expect("ended");
    assert!(ended.code().is_none(), "it ended by itself: {ended}");
    told(&mut lines, u64::MAX);
    acknowledged
}

fn all_is_kept(opened: &Opened, settings: &Settings, seed: u64, test: &str) {
    let scratch = Scratch::new();
    let (mut a, b) = team::two(opened.place());
    let files = [scratch.0.join("a"), scratch.0.join("b")];
    Disk::begin(&files[0], &a);
    Disk::begin(&files[1], &b);
    let mut acknowledged = BTreeSet::new();
    for kill in 0..KILLS {
        let which = (kill % 2) as usize;
        acknowledged.extend(killed(&files[which], which as u8 + 1, seed + kill, settings, test));
    }
    assert!(acknowledged.len() as u64 > KILLS / 2, "only {} were acknowledged", acknowledged.len());
    // A quiet while.
    let mut disks = [Disk::open(&files[0], &a.own), Disk::open(&files[1], &b.own)];
    let mut quiet = 0;
    for n in 0..60 {
        let (which, device) = if n % 2 == 0 { (0, &a) } else { (1, &b) };
        let report = round(&mut disks[which], device, opened.place(), seed ^ (n + 1) << 32).expect("a round");
        assert_eq!((report.lacking, report.aside), (0, Vec::new()));
        let still = report.gave == 0 && report.took.is_empty() && report.blobs_gave + report.blobs_took == 0;
        quiet = if still { quiet + 1 } else { 0 };
    }
    assert!(quiet >= 20, "it does not come to rest");
    let kept = |disk: &Disk| (disk.store.changes.clone(), disk.store.named.clone(), disk.store.blobs.clone());
    assert!(kept(&disks[0]) == kept(&disks[1]), "the two are not equal");
    let store = &disks[0].store;
    let large = store.blobs.values().filter(|(class, _)| *class == Class::Original).count();
    assert!(large > 4 && store.blobs.len() - large > 10, "{large} of {} photos are large", store.blobs.len());
    let here: BTreeSet<String> = store.changes.keys().chain(store.blobs.keys()).map(|key| hex(key)).collect();
    let lost: Vec<&String> = acknowledged.difference(&here).collect();
    assert!(lost.is_empty(), "{} of {} are lost: {lost:?}", lost.len(), acknowledged.len());
    for (id, (_, bytes)) in &store.blobs {
        assert_eq!(name(bytes), *id, "a photo is what its name says");
    }
    // A newcomer, who sees the place alone, takes exactly that.
    a.store = disks[0].store.clone();
    let mut late = Device::new(3);
    team::join(opened.place(), &mut a, &mut late, 3);
    let report = late.round(opened.place());
    let missing = |all: &BTreeSet<String>| here.difference(all).count();
    let seen: BTreeSet<String> = late.store.changes.keys().chain(late.store.blobs.keys()).map(|key| hex(key)).collect();
    assert_eq!((missing(&seen), seen.difference(&here).count()), (0, 0), "of {}: {report:?}", here.len());
}

#[test]
fn what_was_acknowledged_survives_being_killed_over_webdav() {
    if let Ok(told) = std::env::var(CHILD) {
        return child(&told);
    }
    let apache = Apache::start(Wish::default());
    let settings = apache.settings();
    let opened = open(&settings, [9; 8]).expect("a place");
    all_is_kept(&opened, &settings, 1_000, "killed::what_was_acknowledged_survives_being_killed_over_webdav");
    // Nothing is left of what was being written.
    let left: Vec<String> = names_below(&apache.shared).into_iter().filter(|name| name.starts_with('.')).collect();
    assert_eq!(left, Vec::<String>::new());
}

fn names_below(folder: &Path) -> Vec<String> {
    let mut names = Vec::new();
    for entry in std::fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry")) {
        names.push(entry.file_name().to_string_lossy().into_owned());
        if entry.file_type().expect("a kind").is_dir() {
            names.extend(names_below(&entry.path()));
        }
    }
    names
}

#[test]
fn what_was_acknowledged_survives_being_killed_over_an_object_store() {
    if let Ok(told) = std::env::var(CHILD) {
        return child(&told);
    }
    let server = Server::start();
    let settings = server.settings("team");
    let opened = open(&settings, [9; 8]).expect("a place");
    all_is_kept(&opened, &settings, 2_000, "killed::what_was_acknowledged_survives_being_killed_over_an_object_store");
}
