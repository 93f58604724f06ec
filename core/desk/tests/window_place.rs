//! How a drive is reached is changed at the window: a new password, another address, a limit; and what is kept about it and
//! cannot be read keeps nobody in.
#![cfg(target_os = "linux")]

mod common;
#[path = "../../places/tests/servers/mod.rs"]
#[allow(dead_code, reason = "the tests of places use the rest")]
mod servers;

use common::home::Home;
use common::open::Open;
use common::team::Shared;
use desk::view::Window;
use desk::wire::exchange::{ExchangeState, Password, PlaceForm};
use servers::apache::{Apache, PASSWORD, USER, Wish};

fn place(apache: &Apache) -> PlaceForm {
    PlaceForm {
        user: Some(USER.to_owned()),
        password: Some(Password(PASSWORD.to_owned())),
        ca: Some(apache.certificates.ca.display().to_string()),
        ..PlaceForm::at(&format!("https://127.0.0.1:{}/team", apache.port()))
    }
}

/// A place as the page tells it back: what is secret about it is not in it.
fn told(window: &Window) -> PlaceForm {
    let place = window.shared().expect("a page").status.place.expect("a place");
    PlaceForm {
        address: place.address,
        user: place.user,
        password: None,
        server: place.server,
        region: place.region,
        ca: place.ca,
        proxy: place.proxy,
        bytes_per_second: place.bytes_per_second,
        only_on: place.only_on,
    }
}

fn password(text: &str) -> Option<Password> {
    Some(Password(text.to_owned()))
}

#[test]
fn a_new_password_and_a_limit_are_told_at_the_window() {
    let (home, apache) = (Home::of("Invented Anna"), Apache::start(Wish::default()));
    let open = Open::of(&home);
    open.window.start_team(&place(&apache), true).expect("begun");
    open.up_to_date();
    let changed = open.window.change_place(&PlaceForm { password: password("outdated"), ..told(&open.window) });
    assert!(changed.expect("kept").status.place.expect("a place").has_password);
    let sign = open.wait("that it is refused", |sign| sign.failing_since.is_some());
    let why = sign.failure.expect("a reason");
    assert!(why.contains("the name or the password is refused") && !why.contains("newel "), "{why}");
    assert!(!sign.passing, "somebody has to do something");
    open.window.change_place(&PlaceForm { password: password(PASSWORD), ..told(&open.window) }).expect("kept");
    open.up_to_date();
    // What is not said anew stays.
    let slower = PlaceForm { bytes_per_second: Some(2_000_000), ..told(&open.window) };
    let kept = open.window.change_place(&slower).expect("kept").status.place.expect("a place");
    assert_eq!((kept.bytes_per_second, kept.has_password), (Some(2_000_000), true));
    open.window.new_site("Mill", "").expect("made");
    open.window.share_now();
    open.up_to_date();
    let refused = |form: &PlaceForm| open.window.change_place(form).expect_err("refused").message;
    let why = refused(&PlaceForm { bytes_per_second: Some(3), ..told(&open.window) });
    assert!(why.contains("accepted: 1000 B/s or more"), "{why}");
    let why = refused(&PlaceForm { ca: Some("none.pem".to_owned()), ..told(&open.window) });
    assert!(why.contains("give a file of certificates in PEM form"), "{why}");
    assert_eq!(told(&open.window), slower);
}

#[test]
fn a_drive_that_has_moved_is_named_at_the_window() {
    let (home, files) = (Home::of("Invented Anna"), Shared::new());
    let serve = || Apache::start(Wish { shared: Some(files.0.clone()), ..Wish::default() });
    let first = serve();
    let open = Open::of(&home);
    open.window.start_team(&place(&first), true).expect("begun");
    open.up_to_date();
    // The same files behind another port, with another authority; the old server's password does not go there by itself.
    let second = serve();
    let there = PlaceForm { password: None, ..place(&second) };
    let why = open.window.change_place(&there).expect_err("refused").message;
    assert!(why.contains("the name or the password is refused"), "{why}");
    let moved = open.window.change_place(&place(&second)).expect("moved");
    assert_eq!(moved.status.address, Some(there.address));
    drop(first);
    open.window.new_site("Mill", "").expect("made");
    open.window.share_now();
    open.up_to_date();
    // A folder of another team is none of ours, and what was there before stays.
    let (other, folder) = (Home::of("Invented Cem"), Shared::new());
    other.open().start_team(&folder.address(), desk::exchange::Seal::Open).expect("begun");
    let why = open.window.change_place(&PlaceForm::at(&folder.address())).expect_err("refused").message;
    assert!(why.contains("belongs to another team"), "{why}");
    // The drive is mounted as a folder now: no password is needed, and none is kept.
    let mounted = PlaceForm::at(&second.shared.display().to_string());
    let moved = open.window.change_place(&mounted).expect("moved").status.place.expect("a place");
    assert_eq!((moved.address, moved.has_password, moved.user), (mounted.address, false, None));
    assert!(!home.0.join("place.json").exists(), "a password that nothing needs is forgotten");
}

#[test]
fn a_password_that_cannot_be_read_is_told_anew_or_left_behind() {
    let (home, apache) = (Home::of("Invented Anna"), Apache::start(Wish::default()));
    let open = Open::of(&home);
    open.window.start_team(&place(&apache), true).expect("begun");
    open.up_to_date();
    let damage = || std::fs::write(home.0.join("place.json"), "{\"password\": ").expect("damaged");
    damage();
    open.window.share_now();
    let sign = open.wait("what is the matter", |sign| sign.failing_since.is_some());
    let why = sign.failure.expect("a reason");
    assert!(why.contains("place.json") && why.contains("the password is to be entered again"), "{why}");
    let page = open.window.shared().expect("a page");
    assert!(!page.status.place.expect("a place").has_password);
    // Without a password nothing is changed that would forget the one in the file.
    open.window.change_place(&told(&open.window)).expect_err("it cannot be read");
    open.window.change_place(&PlaceForm { password: password(PASSWORD), ..told(&open.window) }).expect("kept");
    open.up_to_date();
    damage();
    let left = open.window.leave_team().expect("left");
    assert_eq!(left.status.state, ExchangeState::Alone);
    assert!(!home.0.join("place.json").exists());
}
