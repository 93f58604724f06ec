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
fn each_thing_takes_one_request_and_a_new_folder_one_more() {
    let apache = Apache::start(Wish::default());
    let opened = open(&apache.settings(), [1; 8]).expect("a place");
    let place = opened.place();
    place.write_new("objects/ab/one", b"one").expect("written");
    place.write_new("objects/ab/two", b"two").expect("written");
    place.list("objects/ab").expect("a list");
    place.read("objects/ab/one", Span { from: 0, most: 99 }).expect("read");
    place.delete("objects/ab/one").expect("deleted");
    // Another device finds the folder there, by a listing or by being told so.
    let other = open(&apache.settings(), [2; 8]).expect("a place");
    other.place().write_new("objects/ab/three", b"three").expect("written");
    let another = open(&apache.settings(), [3; 8]).expect("a place");
    another.place().list("objects/ab").expect("a list");
    another.place().write_new("objects/ab/four", b"four").expect("written");
    // Somebody removes the folder while a device knows it.
    std::fs::remove_dir_all(apache.shared.join("objects")).expect("removed");
    place.write_new("objects/ab/five", b"five").expect("written");
    // The log is written after the answer.
    std::thread::sleep(std::time::Duration::from_millis(200));
    let expected = [
        "MKCOL /team/objects/ab 409",
        "MKCOL /team/objects 201",
        "MKCOL /team/objects/ab 201",
        "PUT /team/objects/ab/one 201",
        "PUT /team/objects/ab/two 201",
        "PROPFIND /team/objects/ab/ 207",
        "GET /team/objects/ab/one 200",
        "DELETE /team/objects/ab/one 204",
        "MKCOL /team/objects/ab 405",
        "PUT /team/objects/ab/three 201",
        "PROPFIND /team/objects/ab/ 207",
        "PUT /team/objects/ab/four 201",
        "PUT /team/objects/ab/five 409",
        "MKCOL /team/objects/ab 409",
        "MKCOL /team/objects 201",
        "MKCOL /team/objects/ab 201",
        "PUT /team/objects/ab/five 201",
    ];
    assert_eq!(apache.requests(), expected);
}
