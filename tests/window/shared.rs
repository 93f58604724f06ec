//! The shared folder in the window: a team begins, somebody joins, work goes both ways by itself, and a folder that is away
//! is told and used again once it is back. The second device is desk without a window.

use std::net::TcpListener;
use std::path::Path;
use std::time::{Duration, Instant};

use desk::exchange::Unfollowed;
use desk::sites::{Sites, now_ms, rename_device};
use desk::wire::exchange::{ExchangeRound, ExchangeState};
use serde_json::{Value, json};

use crate::access::{judge_both, with_axe};
use crate::machine::{Machine, built};
use crate::page::{Page, key};
use crate::sites::rename;
use crate::stored::{exported, sites};

const SCREEN: &str = "1366x820";
/// Far more than a round takes.
const PATIENCE: Duration = Duration::from_secs(20);
/// Somebody's name, as hostile as a name can be.
const PERSON: &str = "<img src=x onerror='window.hurt = 1'><b>Ben</b>";

fn round(of: &mut Sites) -> ExchangeRound {
    of.exchange(&mut Unfollowed).expect("a round")
}

fn second_device(home: &Path) -> Sites {
    rename_device(home, Some(PERSON), Some("laptop")).expect("a device");
    Sites::open(home, now_ms).expect("a store")
}

fn set_site(kind: &str, value: &str) -> String {
    json!({"kind": "set_site", "change": {"kind": kind, "value": value}}).to_string()
}

#[test]
fn a_team_begins_somebody_joins_and_work_goes_both_ways_by_itself() {
    let machine = Machine::start("shared", SCREEN);
    let folder = machine.folder().join("team drive");
    std::fs::create_dir_all(&folder).expect("a folder");
    let address = folder.display().to_string();
    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.wait_for("#first-run");
    with_axe(&page);

    // From the list of sites, by keys; nothing in the head claims a team.
    page.chord(&[key::ALT, "6"]);
    page.wait_for_text("#what-it-is", "come together");
    assert_eq!(page.count("#share-sign"), 0);
    judge_both(&page, "shared folder, alone");
    page.press("#begin-address", &machine.store().display().to_string());
    page.press("#begin-address", key::ENTER);
    // What others write never lies beside the sites; the refusal says so and names no command.
    let refusal = page.wait_for_text("#shared-refusal", "newel");
    assert!(!refusal.contains("newel exchange") && !refusal.contains("--"), "{refusal}");
    let empty = "const field = document.querySelector('#begin-address'); \
         field.value = ''; field.dispatchEvent(new Event('input', { bubbles: true }))";
    page.run(empty, &[]);
    // A drive that takes calls and never answers: other work goes on, until somebody stops the waiting.
    let silent = TcpListener::bind("127.0.0.1:0").expect("a port");
    let port = silent.local_addr().expect("an address").port();
    page.press("#begin-address", &format!("http://127.0.0.1:{port}/team"));
    page.press("#begin-address", key::ENTER);
    page.wait_for("#stop-looking");
    judge_both(&page, "shared folder, a drive that never answers");
    page.click("#to-sites");
    page.click("#add-demo");
    page.wait_for("#drawing");
    rename(&page, "rail-name", "Rail of the quay");
    page.click("#screen-shared");
    page.click("#stop-looking");
    page.wait("that it is stopped", "return document.querySelector('#stop-looking, #shared-refusal') === null", &[]);
    page.run(empty, &[]);
    page.press("#begin-address", &address);
    page.press("#begin-address", key::ENTER);
    page.wait_for_text("#share-state[data-shape='done']", "Up to date as of");
    let id = sites(&machine.store())[0]["id"].as_str().expect("an id").to_owned();
    page.click("#screen-shared");
    page.click("#invite");
    page.wait_for("#invite-code");
    judge_both(&page, "shared folder, an invitation");
    let code = page.run("return document.querySelector('#invite-code').value", &[]);
    page.click("#invite-done");
    page.wait_for_text("#share-state[data-shape='done']", "Up to date as of");

    let mut ben = second_device(&machine.folder().join("second"));
    ben.join_team(&address, code.as_str()).expect("asks");
    assert_eq!(round(&mut ben).state, ExchangeState::Waiting);
    page.click("#share-now");
    page.wait_for_text("[data-asks] b", &format!("{PERSON} on laptop"));
    judge_both(&page, "shared folder, somebody asks");
    page.click("[data-approve]");
    page.wait("two devices", "return document.querySelectorAll('[data-member]').length === 2", &[]);
    assert_eq!(
        page.run("return [window.hurt ?? null, document.querySelectorAll('img[src=x]').length]", &[]),
        json!([null, 0])
    );
    // The window carries that into the folder by itself.
    let began = Instant::now();
    while round(&mut ben).state != ExchangeState::Member || ben.list().expect("a list").sites.is_empty() {
        assert!(began.elapsed() < PATIENCE, "Ben is let in and has the site");
        std::thread::sleep(Duration::from_millis(200));
    }

    // An edit here is shared some seconds later, and with it comes what Ben did meanwhile: the window shows it by itself.
    ben.edit(&id, set_site("label", "Quay steps, north").as_bytes(), "edit").expect("made");
    round(&mut ben);
    page.click("#screen-scheme");
    page.wait_for("#drawing");
    rename(&page, "rail-name", "First rail");
    page.wait_for_text("#share-sign", "not yet shared");
    page.wait_for_text("#site-name", "Quay steps, north");
    assert_eq!(page.text("#rail-name"), "First rail");
    page.wait_for_text("#share-sign", "up to date");

    // The folder goes away and comes back; work goes on meanwhile.
    let away = machine.folder().join("taken away");
    std::fs::rename(&folder, &away).expect("taken away");
    page.click("#screen-shared");
    page.click("#share-now");
    let state = page.wait_for_text("#share-state[data-shape='away']", "cannot be reached since");
    assert!(!state.contains("newel") && !page.text("#share-why").contains("newel exchange"), "{state}");
    assert!(page.text("#share-sign").contains("offline since"));
    judge_both(&page, "shared folder, away");
    page.click("#screen-scheme");
    rename(&page, "site-name", "Quay steps, south");
    std::fs::rename(&away, &folder).expect("put back");
    page.wait_for_text("#share-sign", "up to date");

    // A password file that somebody damaged: the page tells it, and lets this device leave.
    std::fs::write(machine.store().join("place.json"), "{").expect("damaged");
    page.click("#screen-shared");
    page.click("#share-now");
    page.wait_for_text("#share-why", "place.json");
    page.click("#place summary");
    page.wait_for("#change-place");
    judge_both(&page, "shared folder, how the place is reached");
    page.run("document.querySelector('#leave-team').closest('details').open = true", &[]);
    page.click("#leave-team");
    page.wait_for("#what-it-is");
    machine.close(page);

    round(&mut ben);
    let (here, there) = (exported(&machine.store(), &id), ben.export(&id, None).expect("a survey"));
    assert_eq!(here["site"]["label"], "Quay steps, south");
    assert_eq!(serde_json::from_str::<Value>(&there).expect("a survey"), here, "both devices hold the same");
    drop(ben);
    machine.end();
}
