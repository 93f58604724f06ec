//! Rounds of two devices over real servers: they end equal, and cost what people were promised.

use std::sync::atomic::{AtomicU64, Ordering};

use exchange::layout::BLOCK_BYTES;
use exchange::pack::Class;
use exchange::place::{Entry, Place, PlaceError, Span};
use places::{Opened, Settings, open};

use crate::chance::bytes;
use crate::servers::apache::{Apache, Wish};
use crate::servers::store::Store as Server;
use crate::team::home::name;
use crate::team::{self, Device};

/// Each device by a connection of its own.
fn both(settings: &Settings) -> [Opened; 2] {
    [1, 2].map(|n| open(settings, [n; 8]).expect("a place"))
}

/// Changes and photos go both ways, also while both work at once.
fn two_end_equal(settings: &Settings) {
    let places = both(settings);
    let (mut a, mut b) = team::two(places[0].place());
    let mut last = Vec::new();
    for n in 0..12 {
        let (device, place) = if n % 2 == 0 { (&mut a, &places[0]) } else { (&mut b, &places[1]) };
        last = vec![device.edit(last)];
        let thumbnail = bytes(n, 20_000);
        device.store.blobs.insert(name(&thumbnail), (Class::Thumbnail, thumbnail));
        if n % 6 == 0 {
            let original = bytes(n + 100, 2 * BLOCK_BYTES as usize + 4_321);
            device.store.blobs.insert(name(&original), (Class::Original, original));
        }
        device.round(place.place());
    }
    // Both at the same time.
    for _ in 0..3 {
        a.edit(last.clone());
        b.edit(last.clone());
        std::thread::scope(|scope| {
            scope.spawn(|| a.round(places[0].place()));
            scope.spawn(|| b.round(places[1].place()));
        });
    }
    for _ in 0..2 {
        for (device, place) in [(&mut a, &places[0]), (&mut b, &places[1])] {
            let report = device.round(place.place());
            assert_eq!((report.lacking, report.aside), (0, Vec::new()));
        }
    }
    assert_eq!(a.store.changes.len(), 12 + 6);
    assert!(a.store.changes == b.store.changes && a.store.blobs == b.store.blobs && a.store.named == b.store.named);
    assert_eq!(a.store.blobs.len(), 12 + 2);
}

#[test]
fn two_devices_end_equal_over_webdav() {
    let apache = Apache::start(Wish::default());
    two_end_equal(&apache.settings());
}

#[test]
fn two_devices_end_equal_over_an_object_store() {
    let server = Server::start();
    two_end_equal(&server.settings("work/rails"));
}

/// A place that counts the bytes of files that are written.
struct Weighing<'a>(&'a Opened, AtomicU64);

impl Place for Weighing<'_> {
    fn list(&self, folder: &str) -> Result<Vec<Entry>, PlaceError> {
        self.0.place().list(folder)
    }

    fn read(&self, path: &str, span: Span) -> Result<Vec<u8>, PlaceError> {
        self.0.place().read(path, span)
    }

    fn write_new(&self, path: &str, bytes: &[u8]) -> Result<(), PlaceError> {
        self.1.fetch_add(bytes.len() as u64, Ordering::Relaxed);
        self.0.place().write_new(path, bytes)
    }

    fn delete(&self, path: &str) -> Result<(), PlaceError> {
        self.0.place().delete(path)
    }
}

/// What the server itself counts; its log is written a moment after each answer.
fn requests_since(apache: &Apache, before: &mut usize) -> Vec<String> {
    let mut all = apache.requests();
    loop {
        std::thread::sleep(std::time::Duration::from_millis(15));
        let now = apache.requests();
        if now.len() == all.len() {
            break;
        }
        all = now;
    }
    let fresh = all.split_off((*before).min(all.len()));
    *before += fresh.len();
    fresh
}

#[test]
fn an_idle_round_asks_once_and_an_edit_takes_six_requests_at_most() {
    let apache = Apache::start(Wish::default());
    let places = both(&apache.settings());
    let (mut a, mut b): (Device, Device) = team::two(places[0].place());
    let weighing = Weighing(&places[0], AtomicU64::new(0));
    // The first change of a team makes the folders for objects.
    let mut last = vec![a.edit(Vec::new())];
    a.round(places[0].place());
    b.round(places[1].place());
    let mut before = 0;
    requests_since(&apache, &mut before);
    for n in 0..100 {
        last = vec![a.edit(last)];
        a.round(&weighing);
        let asked = requests_since(&apache, &mut before);
        assert!(asked.len() <= 6, "edit {n}: {asked:?}");
        let written = weighing.1.swap(0, Ordering::Relaxed);
        if n % 4 == 0 {
            // Every fourth merges older packs into a larger one, as it must for newcomers.
            assert!(written < 2000, "edit {n} wrote {written} bytes");
        }
        b.round(places[1].place());
        let asked = requests_since(&apache, &mut before);
        assert!(asked.len() <= 4, "taking edit {n}: {asked:?}");
    }
    assert_eq!(a.store.changes, b.store.changes);
    for _ in 0..8 {
        a.round(places[0].place());
        b.round(places[1].place());
    }
    requests_since(&apache, &mut before);
    a.round(places[0].place());
    assert_eq!(requests_since(&apache, &mut before), ["PROPFIND /team/heads/ 207"]);
    // Nor does a device ask for more that has just been started.
    let fresh = open(&apache.settings(), [7; 8]).expect("a place");
    b.round(fresh.place());
    assert_eq!(requests_since(&apache, &mut before), ["PROPFIND /team/heads/ 207"]);
}
