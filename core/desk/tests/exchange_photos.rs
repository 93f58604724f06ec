//! Photos on their way into the folder from a library that somebody altered, that cannot be read for a while, or that is large.

mod common;

use std::fs;
use std::path::{Path, PathBuf};

use common::card;
use common::team::{Device, Shared, team};
use desk::exchange::{Follow, Go, Seal, SoFar, Unfollowed};
use desk::photos::Unwatched;
use desk::wire::exchange::ExchangeState;

/// All photos of a card show the same picture, so that all have the same two copies.
const COPIES: u64 = 2;

/// A device with some photos, and the team that it begins.
fn with_photos(folder: &Shared, many: usize) -> Device {
    let mut a = Device::of("Invented Anna");
    a.sites.add_file(common::SURVEY.as_bytes(), "s.json", None).expect("added");
    let shots = card::fill(&a.home.0.join("card"), many, "anna");
    a.sites.add_photos("yard", &shots, None, &Unwatched).expect("added");
    a.sites.start_team(&folder.address(), Seal::Sealed).expect("begun");
    a
}

/// The files below a folder of the library, in order.
fn files_in(folder: &Path) -> Vec<PathBuf> {
    let within = |folder: &Path| {
        let entries = fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path());
        entries.collect::<Vec<_>>()
    };
    let shelves = within(folder).into_iter().filter(|path| path.is_dir());
    let mut files: Vec<PathBuf> = shelves.flat_map(|shelf| within(&shelf)).collect();
    files.sort();
    files
}

fn unshared(device: &mut Device) -> u64 {
    device.sites.exchange_status().expect("a status").unshared_photo_files
}

#[test]
fn an_altered_original_stays_back_and_travels_once_it_is_put_back() {
    let folder = Shared::new();
    let mut a = with_photos(&folder, 2);
    let original = files_in(&a.home.0.join("photos/originals")).remove(0);
    let sound = fs::read(&original).expect("the original");
    fs::write(&original, [sound.as_slice(), b"altered"].concat()).expect("altered");
    assert_eq!(a.round().photo_files_gave, COPIES + 1, "all but the altered one");
    assert_eq!(a.round().photo_files_gave, 0, "altered as it is");
    fs::write(&original, &sound).expect("put back");
    assert_eq!(a.round().photo_files_gave, 1);
    let mut b = Device::of("Invented Ben");
    b.join(&mut a, &folder.0);
    b.sites.keep_site(Some("yard"), true).expect("kept");
    b.round();
    let arrived = files_in(&b.home.0.join("photos/originals"));
    assert_eq!(arrived.len(), 2);
    assert!(arrived.iter().any(|path| fs::read(path).expect("an original") == sound));
}

/// Reading `/proc/self/mem` at its start fails as a bad spot of a drive does: with an I/O error.
#[cfg(target_os = "linux")]
#[test]
fn an_original_that_cannot_be_read_now_is_not_given_up() {
    let folder = Shared::new();
    let mut a = with_photos(&folder, 2);
    let original = files_in(&a.home.0.join("photos/originals")).remove(0);
    let aside = a.home.0.join("aside");
    fs::rename(&original, &aside).expect("set aside");
    std::os::unix::fs::symlink("/proc/self/mem", &original).expect("a link");
    for _ in 0..2 {
        let why = a.sites.exchange(&mut Unfollowed).expect_err("it cannot be read").to_string();
        assert!(why.contains(&original.display().to_string()), "{why}");
    }
    fs::remove_file(&original).expect("mended");
    fs::rename(&aside, &original).expect("mended");
    a.round();
    assert_eq!(unshared(&mut a), 0);
    let mut b = Device::of("Invented Ben");
    b.join(&mut a, &folder.0);
    b.sites.keep_site(Some("yard"), true).expect("kept");
    b.round();
    assert_eq!(files_in(&b.home.0.join("photos/originals")).len(), 2);
}

#[test]
fn copies_that_could_not_be_written_are_made_in_the_next_round() {
    let folder = Shared::new();
    let mut a = with_photos(&folder, 2);
    let thumbnails = a.home.0.join("photos/thumbnails");
    fs::remove_dir_all(&thumbnails).expect("cleared away");
    fs::write(&thumbnails, b"in the way").expect("a file");
    let why = a.sites.exchange(&mut Unfollowed).expect_err("nothing can be written there").to_string();
    assert!(why.contains(&thumbnails.display().to_string()), "{why}");
    fs::remove_file(&thumbnails).expect("out of the way");
    assert_eq!(a.round().photo_files_gave, COPIES + 2);
}

/// Stops a round at the first photo that is on its way.
struct FirstPhoto;

impl Follow for FirstPhoto {
    fn step(&mut self, so_far: &SoFar) -> Go {
        if so_far.photo_bytes > 0 { Go::Stop } else { Go::On }
    }
}

#[test]
fn copies_of_many_photos_are_made_a_few_at_a_time() {
    let folder = Shared::new();
    let mut a = with_photos(&folder, 20);
    let done = a.sites.exchange(&mut FirstPhoto).expect("a round");
    assert!(done.stopped);
    let device = record::sign::Device::new("Looker", "test", [9; 32]);
    let store = record::store::Store::open_read_only(&a.home.0, device).expect("a store");
    assert_eq!(store.photos_to_copy(99).expect("a list").len(), 12, "eight were looked at when the stop was heard");
    drop(store);
    a.round();
    assert_eq!(unshared(&mut a), 0);
}

#[test]
fn a_photo_that_is_on_another_device_alone_is_fetched_by_whoever_keeps_the_site() {
    let folder = Shared::new();
    let mut both = team(&folder, &["Invented Anna", "Invented Ben"]);
    let (anna, ben) = both.split_at_mut(1);
    anna[0].sites.add_file(common::SURVEY.as_bytes(), "s.json", None).expect("added");
    let shots = card::fill(&anna[0].home.0.join("card"), 1, "anna");
    anna[0].sites.add_photos("yard", &shots, None, &Unwatched).expect("added");
    anna[0].round();
    assert_eq!(ben[0].round().state, ExchangeState::Member);
    // A file under the photo's name that is something else is not taken for it.
    let name = files_in(&anna[0].home.0.join("photos/originals")).remove(0);
    let place = ben[0].home.0.join(name.strip_prefix(&anna[0].home.0).expect("within"));
    fs::create_dir_all(place.parent().expect("a shelf")).expect("a folder");
    fs::write(&place, b"something else").expect("a file");
    ben[0].sites.keep_site(Some("yard"), true).expect("kept");
    assert_eq!(ben[0].round().photo_files_took, 1);
    assert_eq!(fs::read(&place).expect("the original"), fs::read(&name).expect("the original"));
}
