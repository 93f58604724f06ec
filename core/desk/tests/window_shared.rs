//! The shared folder in the window: rounds begin by themselves beside a person's work, make way for what is done with the
//! team, and go on once a folder that was away is there again.

mod common;

use std::time::{Duration, Instant};

use common::home::Home;
use common::open::{Open, until};
use common::team::{Device, Shared};
use desk::wire::exchange::{ExchangeState, PlaceForm};
use serde_json::json;

fn place(folder: &Shared) -> PlaceForm {
    PlaceForm::at(&folder.address())
}

#[test]
fn a_device_alone_is_told_so_and_runs_no_round() {
    let home = Home::of("Invented Anna");
    let open = Open::of(&home);
    let sign = open.wait("how it stands", |_| true);
    assert_eq!((sign.state, sign.sharing, sign.last_round), (ExchangeState::Alone, None, None));
    assert!(open.window.invite().is_err_and(|why| !why.message.contains("newel ")));
}

#[test]
fn what_is_done_here_and_elsewhere_arrives_by_itself_and_the_page_is_told() {
    let (home, folder) = (Home::of("Invented Anna"), Shared::new());
    let open = Open::of(&home);
    let began = open.window.start_team(&place(&folder), true).expect("begun");
    assert_eq!((began.status.state, began.status.sealed), (ExchangeState::Member, Some(true)));
    open.up_to_date();

    let mut ben = Device::of("Invented Ben");
    let code = open.window.invite().expect("invited").code;
    open.up_to_date();
    ben.sites.join_team(&folder.address(), Some(&code)).expect("asks");
    ben.round();
    open.window.share_now();
    open.wait("that somebody asks", |sign| sign.asking == 1);
    let asking = open.window.shared().expect("a page").status.asking;
    assert_eq!(asking[0].person.as_deref(), Some("Invented Ben"));
    assert_eq!(asking[0].invited_by, Some(began.status.device), "whose invitation it is");
    open.window.approve_device(&asking[0].id).expect("let in");
    let id = open.window.new_site("Quay steps", "Invented Quay 3").expect("made").site.expect("an id");
    until("Ben is in the team and has the site", || {
        let state = ben.round().state;
        state == ExchangeState::Member
            && ben.sites.list().expect("a list").sites.iter().any(|line| line.label == "Quay steps")
    });

    // The open site learns what another did, and an edit on top of it loses neither.
    let before = open.window.open_site(&id).expect("opened");
    assert_eq!(before.survey.site.note, "");
    let said = json!({"kind": "set_site", "change": {"kind": "note", "value": "the key is with Ben"}});
    ben.sites.edit(&id, said.to_string().as_bytes(), "edit").expect("made");
    ben.round();
    let arrivals = open.last().map_or(0, |sign| sign.arrivals);
    open.window.share_now();
    open.wait("that something came", |sign| sign.arrivals > arrivals);
    let edited = open
        .window
        .edit(&json!([{"kind": "set_site", "change": {"kind": "label", "value": "Quay steps, upper"}}]))
        .expect("made");
    assert_eq!(
        (edited.survey.site.note.as_str(), edited.page.title.as_str()),
        ("the key is with Ben", "Quay steps, upper")
    );

    let removed = open.window.remove_device(&asking[0].id).expect("removed");
    assert_eq!((removed.status.members.len(), removed.status.removed.len()), (1, 1));
    until("Ben is shut out", || ben.round().state == ExchangeState::Removed);
}

#[test]
fn an_edit_is_shared_soon_after_without_being_asked() {
    let (home, folder) = (Home::of("Invented Anna"), Shared::new());
    let open = Open::of(&home);
    open.window.start_team(&place(&folder), false).expect("begun");
    open.up_to_date();
    open.window.new_site("Mill", "").expect("made");
    open.wait("that something is not shared yet", |sign| sign.unshared_items > 0);
    let (began, before) = (Instant::now(), folder.files().len());
    open.up_to_date();
    // Ten seconds after the last edit; the look of every minute would come much later.
    assert!(began.elapsed() < Duration::from_secs(25), "{:?}", began.elapsed());
    assert!(folder.files().len() > before);
}

#[test]
fn a_folder_that_is_away_is_told_and_the_rounds_go_on_by_themselves_once_it_is_back() {
    let (home, folder) = (Home::of("Invented Anna"), Shared::new());
    let open = Open::of(&home);
    open.window.start_team(&place(&folder), true).expect("begun");
    open.up_to_date();
    let away = folder.0.with_extension("away");
    std::fs::rename(&folder.0, &away).expect("taken away");
    open.window.share_now();
    let sign = open.wait("that it is away", |sign| sign.failing_since.is_some());
    assert!(sign.passing && sign.failure.is_some_and(|why| !why.contains("newel ")), "in the window's own words");
    // Work goes on meanwhile.
    open.window.new_site("Mill", "").expect("made");
    open.wait("that something waits", |sign| sign.unshared_items > 0);
    std::fs::rename(&away, &folder.0).expect("put back");
    open.up_to_date();
}

#[test]
fn what_is_done_with_the_team_in_the_middle_of_rounds_is_not_lost() {
    let (home, folder) = (Home::of("Invented Anna"), Shared::new());
    let open = Open::of(&home);
    open.window.start_team(&place(&folder), true).expect("begun");
    let mut codes = Vec::new();
    for n in 0..12 {
        open.window.new_site(&format!("Site {n}"), "").expect("made");
        open.window.share_now();
        codes.push(open.window.invite().expect("invited").code);
    }
    open.up_to_date();
    // Every one of the invitations is known to the team: each lets a device ask by its name.
    let mut asking: Vec<Device> = Vec::new();
    for (n, code) in codes.iter().enumerate().step_by(4) {
        let mut device = Device::of(&format!("Invented Guest {n}"));
        device.sites.join_team(&folder.address(), Some(code)).expect("asks");
        device.round();
        asking.push(device);
    }
    open.window.share_now();
    open.wait("that three ask", |sign| sign.asking == 3);
    let lines = open.window.shared().expect("a page").status.asking;
    assert!(lines.iter().all(|line| line.person.is_some()), "{lines:?}");
}

#[test]
fn a_window_that_only_reads_shares_nothing_and_says_so() {
    let (home, folder) = (Home::of("Invented Anna"), Shared::new());
    let mut first = home.open();
    first.start_team(&folder.address(), desk::exchange::Seal::Sealed).expect("begun");
    let open = Open::of(&home);
    open.window.share_now();
    let sign = open.wait("that it only reads", |sign| sign.read_only);
    assert_eq!((sign.state, sign.sharing, sign.last_round), (ExchangeState::Member, None, None));
    let page = open.window.shared().expect("a page");
    assert!(page.read_only.is_some_and(|why| why.contains("Another Newel")));
    assert!(open.window.invite().is_err());
}
