//! A drive that never answers: whoever stops waiting for it is let go at once, and it is sent nothing more.

use std::thread;
use std::time::{Duration, Instant};

use exchange::place::{PlaceError, Span, Trouble};
use places::{Fault, Settings, Stop, open_until};

use crate::servers::drive::{Drive, Mood};

/// So long a drive is waited for before somebody has had enough.
const ENOUGH: Duration = Duration::from_millis(300);
/// A stop is heard long before this, and patience ends long after it.
const AT_ONCE: Duration = Duration::from_secs(3);

/// What is asked of a drive, stopped after a while.
fn stopped<T>(stop: &Stop, work: impl FnOnce() -> T) -> T {
    let begun = Instant::now();
    let stopper = {
        let stop = stop.clone();
        thread::spawn(move || {
            thread::sleep(ENOUGH);
            stop.stop();
        })
    };
    let done = work();
    assert!(begun.elapsed() < AT_ONCE, "it waited for {:?}", begun.elapsed());
    stopper.join().expect("ended");
    done
}

fn is_stop<T: std::fmt::Debug>(how: Result<T, PlaceError>) {
    let error = how.expect_err("nobody answers");
    assert!(error.trouble == Trouble::Away && error.why.contains("it was stopped"), "{error}");
}

#[test]
fn whoever_stops_waits_no_longer_for_a_silent_drive() {
    let drive = Drive::start(Mood::Silent);
    let open = || {
        let stop = Stop::default();
        (open_until(&Settings::at(&drive.address()), [1; 8], &stop).expect("nothing is asked yet"), stop)
    };
    let (place, stop) = open();
    assert_eq!(stopped(&stop, || place.look(0)), Err(Fault::Stopped));
    let asked = drive.requests();
    assert_eq!(place.look(0), Err(Fault::Stopped), "what is stopped stays so");
    let all = Span { from: 0, most: 9 };
    is_stop(place.place().read("heads/a", all));
    assert_eq!(drive.requests(), asked, "and nothing more is asked");
    let (place, stop) = open();
    is_stop(stopped(&stop, || place.place().list("heads")));
    let (place, stop) = open();
    is_stop(stopped(&stop, || place.place().read("heads/a", all)));
    let (place, stop) = open();
    is_stop(stopped(&stop, || place.place().write_new("heads/a", b"one")));
    let (place, stop) = open();
    is_stop(stopped(&stop, || place.place().delete("heads/a")));
}

#[test]
fn a_slow_drive_is_waited_for() {
    let drive = Drive::start(Mood::Slow(Duration::from_millis(700)));
    let place = places::open(&Settings::at(&drive.address()), [1; 8]).expect("a place");
    let begun = Instant::now();
    place.place().write_new("heads/a", b"one").expect("written");
    assert_eq!(place.place().read("heads/a", Span { from: 0, most: 9 }).expect("read"), b"one");
    assert!(begun.elapsed() > Duration::from_millis(1400), "{:?}", begun.elapsed());
}
