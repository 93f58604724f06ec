//! A limit on bytes a second, and that nobody has to wait for it who wishes to stop.

use std::collections::BTreeMap;
use std::sync::Mutex;
use std::thread;
use std::time::{Duration, Instant};

use exchange::place::{Entry, Place, PlaceError, Span, Trouble};
use places::Limited;

/// A place in memory, at once.
#[derive(Default)]
struct Quick(Mutex<BTreeMap<String, Vec<u8>>>);

impl Place for Quick {
    fn list(&self, _: &str) -> Result<Vec<Entry>, PlaceError> {
        Ok(Vec::new())
    }

    fn read(&self, path: &str, _: Span) -> Result<Vec<u8>, PlaceError> {
        Ok(self.0.lock().expect("files").get(path).cloned().unwrap_or_default())
    }

    fn write_new(&self, path: &str, bytes: &[u8]) -> Result<(), PlaceError> {
        self.0.lock().expect("files").insert(path.to_owned(), bytes.to_vec());
        Ok(())
    }

    fn delete(&self, _: &str) -> Result<(), PlaceError> {
        Ok(())
    }
}

#[test]
fn several_threads_together_keep_to_the_limit_both_ways() {
    let place = Limited::new(Quick::default(), 1_000_000);
    let begun = Instant::now();
    thread::scope(|scope| {
        for n in 0..4 {
            let place = &place;
            scope.spawn(move || {
                for k in 0..5 {
                    place.write_new(&format!("objects/{n}-{k}"), &[7; 25_000]).expect("written");
                    place.read(&format!("objects/{n}-{k}"), Span { from: 0, most: 25_000 }).expect("read");
                }
            });
        }
    });
    // A million bytes in all; the last of each thread, 100,000 together, need not have been paid for.
    let took = begun.elapsed();
    assert!(took >= Duration::from_millis(800), "{took:?}");
    assert!(took < Duration::from_secs(8), "{took:?}");
}

#[test]
fn a_stop_ends_the_waiting() {
    let place = Limited::new(Quick::default(), 1);
    place.write_new("objects/x", &[7; 1000]).expect("written");
    let begun = Instant::now();
    thread::scope(|scope| {
        let waiting = scope.spawn(|| place.list("heads").expect_err("stopped"));
        thread::sleep(Duration::from_millis(100));
        place.stop();
        assert_eq!(waiting.join().expect("ended").trouble, Trouble::Away);
    });
    assert!(begun.elapsed() < Duration::from_secs(5), "a thousand seconds would be left to wait");
}
