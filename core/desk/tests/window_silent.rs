//! A place that never answers, or takes its time: whoever begins a team there, joins one or moves one there waits alone, until they stop it.
//! Every other work of the window goes on meanwhile, rounds among it.

mod common;
#[path = "../../places/tests/servers/mod.rs"]
#[allow(dead_code, reason = "the tests of places use the rest")]
mod servers;

use std::io::Write;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::sync::Arc;
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

use common::home::Home;
use common::open::{Open, until};
use common::team::{Device, Shared};
use desk::view::{Refusal, SharedPage, Window};
use desk::wire::exchange::{ExchangeState, PlaceForm};
use serde_json::json;
use servers::drive::{Drive, Mood};

/// Each piece of work is far quicker; whoever waited for the place would wait half a minute and more.
const AT_ONCE: Duration = Duration::from_secs(3);

/// Something that is done while the place is silent.
fn at_once<T>(what: &str, work: impl FnOnce() -> T) -> T {
    let begun = Instant::now();
    let done = work();
    assert!(begun.elapsed() < AT_ONCE, "{what} waited {:?}", begun.elapsed());
    done
}

/// A command of the window on a thread of its own, as the page asks for it.
fn beside<T: Send + 'static>(window: &Arc<Window>, work: impl FnOnce(&Window) -> T + Send + 'static) -> JoinHandle<T> {
    let window = Arc::clone(window);
    thread::spawn(move || work(&window))
}

/// Everything else that a person does.
fn work_goes_on(window: &Window, label: &str) {
    let id = at_once("a new site", || window.new_site(label, "")).expect("made").site.expect("an id");
    at_once("opening it", || window.open_site(&id)).expect("opened");
    let change = json!([{"kind": "set_site", "change": {"kind": "note", "value": "the key is next door"}}]);
    let edited = at_once("an edit", || window.edit(&change)).expect("made");
    assert_eq!(edited.survey.site.note, "the key is next door");
    at_once("the list", || window.list_sites()).expect("a list");
    at_once("the page of the shared folder", || window.shared()).expect("a page");
    at_once("the sign in the head", || window.shared_sign());
}

fn is_stopped(window: &Window, asked: JoinHandle<Result<SharedPage, Refusal>>) {
    assert!(!asked.is_finished(), "nobody has answered");
    let done = at_once("the stop", || {
        window.stop_looking();
        asked.join().expect("ended")
    });
    assert_eq!(done.expect_err("stopped").message, "it was stopped; on this device everything is as it was");
}

#[test]
fn work_goes_on_while_a_team_begins_or_is_joined_on_a_drive_that_never_answers() {
    let (home, drive, folder) = (Home::of("Invented Anna"), Drive::start(Mood::Silent), Shared::new());
    let open = Open::of(&home);
    let place = PlaceForm::at(&drive.address());
    let begins = {
        let place = place.clone();
        beside(&open.window, move |window| window.start_team(&place, true))
    };
    until("the drive is asked", || drive.requests() > 0);
    work_goes_on(&open.window, "Mill");
    let twice = open.window.start_team(&place, true).expect_err("one at a time");
    assert!(twice.message.contains("a folder is being looked at already"), "{}", twice.message);
    is_stopped(&open.window, begins);
    assert_eq!(open.window.shared().expect("a page").status.state, ExchangeState::Alone);

    // Joining, with the code of a team that shares elsewhere.
    let mut ben = Device::of("Invented Ben");
    ben.sites.start_team(&folder.address(), desk::exchange::Seal::Sealed).expect("begun");
    let code = ben.sites.invite().expect("invited").code;
    let asked = drive.requests();
    let joins = beside(&open.window, move |window| window.join_team(&place, &code));
    until("the drive is asked", || drive.requests() > asked);
    work_goes_on(&open.window, "Quay steps");
    is_stopped(&open.window, joins);

    // Nothing of it is left: a team begins elsewhere.
    let elsewhere = Shared::new();
    open.window.start_team(&PlaceForm::at(&elsewhere.address()), true).expect("begun");
    open.up_to_date();
}

#[test]
fn a_team_that_is_to_move_to_a_silent_drive_goes_on_sharing_where_it_is() {
    let (home, folder, drive) = (Home::of("Invented Anna"), Shared::new(), Drive::start(Mood::Silent));
    let open = Open::of(&home);
    open.window.start_team(&PlaceForm::at(&folder.address()), true).expect("begun");
    open.up_to_date();
    let there = PlaceForm::at(&drive.address());
    let moves = beside(&open.window, move |window| window.change_place(&there));
    until("the drive is asked", || drive.requests() > 0);
    work_goes_on(&open.window, "Mill");
    at_once("an invitation", || open.window.invite()).expect("invited");
    open.up_to_date();
    is_stopped(&open.window, moves);
    assert_eq!(open.window.shared().expect("a page").status.address, Some(folder.address()));
}

#[test]
fn a_round_on_a_drive_that_falls_silent_is_stopped_at_once_and_makes_way_at_once() {
    let (home, drive) = (Home::of("Invented Anna"), Drive::start(Mood::Quick));
    let open = Open::of(&home);
    open.window.start_team(&PlaceForm::at(&drive.address()), true).expect("begun");
    open.up_to_date();
    drive.turn(Mood::Silent);
    let hangs = || {
        let asked = drive.requests();
        open.window.share_now();
        until("the drive is asked", || drive.requests() > asked);
        open.wait("that a round is on its way", |sign| sign.sharing.is_some());
    };
    hangs();
    work_goes_on(&open.window, "Mill");
    at_once("an invitation", || open.window.invite()).expect("invited");
    open.wait("that the round goes on", |sign| sign.sharing.is_some());
    at_once("the stop", || {
        open.window.stop_sharing();
        open.wait("that it is stopped", |sign| sign.stopped && sign.sharing.is_none())
    });
    // What is stopped is no failure of the drive, and what was done is shared once it speaks again.
    assert_eq!(open.last().expect("a sign").failing_since, None);
    drive.turn(Mood::Quick);
    open.window.share_now();
    open.up_to_date();
    drive.turn(Mood::Silent);
    hangs();
    at_once("closing the window", || open.window.end_sharing(AT_ONCE * 10));
}

#[test]
fn a_round_over_a_slow_drive_tells_how_far_it_is_beside_other_work_and_is_stopped_at_once() {
    const LATE: Duration = Duration::from_secs(2);
    let (home, drive) = (Home::of("Invented Anna"), Drive::start(Mood::Quick));
    let open = Open::of(&home);
    open.window.start_team(&PlaceForm::at(&drive.address()), true).expect("begun");
    open.up_to_date();
    drive.turn(Mood::Slow(LATE));
    for n in 0..3 {
        work_goes_on(&open.window, &format!("Site {n}"));
    }
    let asked = drive.requests();
    open.window.share_now();
    open.wait("that a round is on its way", |sign| sign.sharing.is_some());
    // Between its requests, seconds apart, work goes on.
    until("the drive was asked", || drive.requests() > asked);
    work_goes_on(&open.window, "Mill");
    // In the middle of a request.
    let asked = drive.requests();
    until("the drive is asked again", || drive.requests() > asked);
    let begun = Instant::now();
    open.window.stop_sharing();
    open.wait("that it is stopped", |sign| sign.stopped && sign.sharing.is_none());
    assert!(begun.elapsed() < LATE, "it waited for the drive: {:?}", begun.elapsed());
    // Left alone it comes to its end, however slow, and tells on its way what it has given.
    drive.turn(Mood::Slow(LATE / 4));
    open.window.share_now();
    open.wait("that something was given", |sign| sign.sharing.is_some_and(|so_far| so_far.gave > 0));
    open.up_to_date();
}

#[test]
fn a_team_that_was_stopped_while_its_first_file_was_written_begins_there_all_the_same() {
    let (home, drive) = (Home::of("Invented Anna"), Drive::start(Mood::Slow(Duration::from_millis(300))));
    let open = Open::of(&home);
    let place = PlaceForm::at(&drive.address());
    let begins = {
        let place = place.clone();
        beside(&open.window, move |window| window.start_team(&place, true))
    };
    // Two requests look, the third writes.
    until("the first file is written", || drive.requests() > 2);
    drive.turn(Mood::Mute);
    let first = drive.shared.join("newel-exchange.txt");
    until("the drive has it", || first.exists());
    is_stopped(&open.window, begins);
    drive.turn(Mood::Quick);
    // For others somebody has the folder; whoever began it there begins anew, as they like it now.
    let mut ben = Device::of("Invented Ben");
    let taken = ben.sites.start_team(&drive.address(), desk::exchange::Seal::Sealed).expect_err("it is Anna's");
    assert!(taken.in_window().contains("a team shares"), "{}", taken.in_window());
    let begun = open.window.start_team(&place, false).expect("begun");
    assert_eq!(begun.status.sealed, Some(false));
    let told = std::fs::read_to_string(&first).expect("a file");
    assert!(told.contains(&begun.status.team.expect("a team")), "{told}");
    open.up_to_date();
}

/// A file system that answers nothing: nobody reads what the kernel asks of it. Once nobody has it any more, whoever waits
/// for it is told that it has ended.
struct Hung {
    holder: Child,
    at: Shared,
}

impl Hung {
    /// `None` where this machine does not let the test mount one.
    fn mount() -> Option<Self> {
        let at = Shared::new();
        let script = "exec 3<>/dev/fuse && \
             mount -i -t fuse -o fd=3,rootmode=040000,user_id=0,group_id=0 hung \"$0\" && echo mounted && exec sleep 600";
        let mut holder = Command::new("sh")
            .args(["-c", script, &at.address()])
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("sh");
        let mut said = String::new();
        let out = holder.stdout.take().expect("an output");
        std::io::BufRead::read_line(&mut std::io::BufReader::new(out), &mut said).expect("read");
        if said == "mounted\n" {
            return Some(Self { holder, at });
        }
        let _ = holder.wait();
        None
    }

    fn path(&self) -> &Path {
        &self.at.0
    }
}

impl Drop for Hung {
    fn drop(&mut self) {
        let _ = self.holder.kill();
        let _ = self.holder.wait();
        let _ = Command::new("umount").arg("-l").arg(self.path()).status();
    }
}

#[test]
fn work_goes_on_while_a_mounted_share_hangs() {
    let Some(hung) = Hung::mount() else {
        // Past the harness, which keeps to itself what a test prints that does not fail. `places` tries work that never comes
        // back without a mount.
        let _ = writeln!(std::io::stderr(), "not tried here, for nothing can be mounted: a share that hangs");
        return;
    };
    let home = Home::of("Invented Anna");
    let open = Open::of(&home);
    let place = PlaceForm::at(&hung.at.address());
    let begins = beside(&open.window, move |window| window.start_team(&place, true));
    thread::sleep(Duration::from_millis(500));
    work_goes_on(&open.window, "Mill");
    is_stopped(&open.window, begins);
}
