//! WebDAV, by Apache's mod_dav over TLS.

use exchange::place::Span;
use places::open;

use crate::servers::apache::{Apache, Wish};
use crate::suite;

#[test]
fn a_webdav_drive_does_what_every_place_does() {
    let apache = Apache::start(Wish::default());
    let opened = open(&apache.settings(), [1; 8]).expect("a place");
    suite::all(opened.place());
}

#[test]
fn each_thing_takes_one_request_once_its_folder_is_there() {
    let apache = Apache::start(Wish::default());
    let opened = open(&apache.settings(), [1; 8]).expect("a place");
    let place = opened.place();
    let asked = |before: usize| {
        // The log is written after the answer.
        std::thread::sleep(std::time::Duration::from_millis(300));
        apache.requests().split_off(before)
    };
    place.write_new("heads/a.1", b"one").expect("written");
    place.write_new("heads/a.2", b"two").expect("written");
    place.list("heads").expect("a list");
    place.read("heads/a.1", Span { from: 0, most: 99 }).expect("read");
    place.delete("heads/a.1").expect("deleted");
    let expected = [
        "PUT /team/heads/a.1 409",
        "MKCOL /team/heads 201",
        "PUT /team/heads/a.1 201",
        "PUT /team/heads/a.2 201",
        "PROPFIND /team/heads/ 207",
        "GET /team/heads/a.1 200",
        "DELETE /team/heads/a.1 204",
    ];
    assert_eq!(asked(0), expected);
    // The first object brings all folders for objects along, so that none is missing later, whoever writes.
    place.write_new("objects/ab/abcd", b"one").expect("written");
    let made = asked(expected.len());
    assert_eq!(made[..3], ["PUT /team/objects/ab/abcd 409", "MKCOL /team/objects 201", "MKCOL /team/objects/ab 201"]);
    assert_eq!(made.iter().filter(|line| line.starts_with("MKCOL") && line.ends_with("201")).count(), 257);
    let before = expected.len() + made.len();
    let other = open(&apache.settings(), [2; 8]).expect("a place");
    other.place().write_new("objects/cd/cdef", b"two").expect("written");
    assert_eq!(asked(before), ["PUT /team/objects/cd/cdef 201"]);
    // Somebody removes one of them.
    std::fs::remove_dir_all(apache.shared.join("objects/cd")).expect("removed");
    place.write_new("objects/cd/cdef", b"two").expect("written");
    assert_eq!(place.read("objects/cd/cdef", Span { from: 0, most: 99 }).expect("read"), b"two");
}
