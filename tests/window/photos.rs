//! Photos in the real window: taken in from a folder, shown upright, placed on a rail, put right, marked, and there after a
//! restart. The command line says what was kept.

use std::fs;
use std::path::Path;
use std::process::Command;

use serde_json::{Value, json};

use crate::access::{judge_both, with_axe};
use crate::machine::{Machine, built, workspace};
use crate::page::{Page, key};
use crate::stored::sites;

const SCREEN: &str = "1366x820";
/// As a sly sender would name a file; what is in it must never run.
const FRAGMENT: &str = "<img src=x onerror=\"window.hurt=1\">.jpg";

/// The shell's own choosers stand outside the page. What they would answer is answered for them; everything else goes on to
/// the program.
pub const CHOOSE: &str = "const [open, save] = arguments; window.chosen = { open, save }; \
    if (window.asked) return; window.asked = []; const pass = window.fetch; \
    window.fetch = (address, given) => { const name = decodeURIComponent(String(address)).split('/').pop(); \
      const kind = /plugin:dialog\\|(open|save)$/.exec(name)?.[1]; window.asked.push(name); \
      return kind === undefined ? pass(address, given) : Promise.resolve(new Response(JSON.stringify(window.chosen[kind]), \
        { headers: { 'Content-Type': 'application/json', 'Tauri-Response': 'ok' } })); }";

/// A picture of the demo site as another file: with a comment after its first marker (ITU-T T.81, B.2.4.5).
fn photo(folder: &Path, picture: &str, name: &str) {
    let bytes = fs::read(workspace("fixtures/demo/photos").join(picture)).expect("the demo's picture");
    let comment = format!("the picture as {name}");
    let length = u16::try_from(comment.len() + 2).expect("short").to_be_bytes();
    let bytes = [&bytes[..2], &[0xff, 0xfe], &length, comment.as_bytes(), &bytes[2..]].concat();
    fs::write(folder.join(name), bytes).expect("written");
}

/// The photos of the one site, as the command line tells them.
fn stored(home: &Path) -> Vec<Value> {
    let site = sites(home)[0]["id"].as_str().expect("an id").to_owned();
    let mut command = Command::new(built("newel"));
    let output = command.args(["photo", "list", &site, "--json", "--home"]).arg(home).output().expect("it runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let list: Value = serde_json::from_slice(&output.stdout).expect("a list");
    list["photos"].as_array().expect("photos").clone()
}

fn stored_one(home: &Path, name: &str) -> Value {
    stored(home).into_iter().find(|photo| photo["file"] == name).unwrap_or_else(|| panic!("{name} is not kept"))
}

/// The tile of a photo, by its id.
fn tile(photo: &Value) -> String {
    format!("[id='photo-{}']", photo["id"].as_str().expect("an id"))
}

/// Waits until the picture of a tile is drawn, and brings back its width and height [px].
fn drawn(page: &Page, photo: &Value) -> (u64, u64) {
    let script = "const img = document.querySelector(`${arguments[0]} img`); img?.scrollIntoView({ block: 'center' }); \
                  return img?.complete && img.naturalWidth > 0 ? [img.naturalWidth, img.naturalHeight] : null";
    let size = page.wait("the picture", script, &[json!(tile(photo))]);
    (size[0].as_u64().expect("a width"), size[1].as_u64().expect("a height"))
}

/// Shows only the photos that are placed nowhere yet.
fn show_unplaced(page: &Page) {
    page.run(
        "[...document.querySelectorAll('#photos-stage .entry')].find((each) => each.textContent.startsWith('Not placed')) \
         .click()",
        &[],
    );
}

#[test]
fn photos_are_taken_in_shown_placed_put_right_and_marked_and_stay_after_a_restart() {
    let machine = Machine::start("photos", SCREEN);
    let card = machine.folder().join("card");
    fs::create_dir_all(&card).expect("a folder");
    photo(&card, "ramp.jpg", "beside.jpg");
    photo(&card, "landing.jpg", FRAGMENT);
    photo(&card, "deck.jpg", "bend.jpg");
    fs::write(card.join("broken.jpg"), b"\xff\xd8\xff\xe0 cut off").expect("written");

    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.click("#add-demo");
    page.wait_for("#drawing");
    page.click("#screen-photos");
    page.wait_for("#photo-grid");
    with_axe(&page);
    page.run(CHOOSE, &[json!(card), json!(machine.folder().join("log.csv"))]);
    page.click("#add-folder");
    let said = page.wait_for_text("#added", "3 taken in");
    assert!(said.contains("4 files") && said.contains("1 refused") && said.contains("broken.jpg"), "{said}");
    page.click("#close-added");

    let home = machine.store();
    let [ramp, landing, bend] = ["beside.jpg", FRAGMENT, "bend.jpg"].map(|name| stored_one(&home, name));
    show_unplaced(&page);
    assert!(drawn(&page, &ramp).0 > 0);
    // The camera was held turned: the file is upright in its thumbnail.
    let stands = image_size(&card.join(FRAGMENT));
    assert!(stands.0 < stands.1, "the file itself lies turned: {stands:?}");
    let (width, height) = drawn(&page, &landing);
    assert!(width > height, "{width} x {height}");
    // Nothing of a file's name is taken for a part of the page.
    assert_eq!(page.text(&format!("{} .caption", tile(&landing))), FRAGMENT);
    assert_eq!(
        page.run("return [window.hurt ?? null, document.querySelectorAll('img[src=x]').length]", &[]),
        json!([null, 0])
    );
    judge_both(&page, "photos");

    // The ramp's photo stands by one rail; its proposal is taken.
    page.click(&tile(&ramp));
    page.wait_for_text(".proposal", "Ramp at");
    page.click("#accept");
    page.wait_for_text("#accept", "Proposal accepted");
    let placed = stored_one(&home, "beside.jpg");
    assert_eq!((&placed["shows"]["kind"], &placed["shows"]["rail"]), (&json!("rail"), &json!("ramp")));
    assert_eq!(
        placed["shows"]["chainage_mm"].as_f64().expect("a chainage"),
        placed["nearest"]["chainage_mm"].as_f64().expect("one")
    );

    // A batch of two: one step puts their clock right, one step takes it back.
    let times =
        || [&landing, &bend].map(|photo| stored_one(&home, photo["file"].as_str().expect("a name"))["taken"].clone());
    let before = times();
    choose_two(&page, &landing, &bend);
    page.wait_for_text("#shift-clock", "Put 2 times right");
    page.press("#photos-stage form input[placeholder]", "1 h 2 min");
    page.click("#shift-clock");
    wait_for_step(&page, "undo", "times of 2 photos put right");
    let hour = times();
    assert_eq!(hour, ["2026-09-15T07:29:05+02:00", "2026-09-15T12:18:31+02:00"].map(Value::from), "from {before:?}");
    page.click("#undo");
    wait_for_step(&page, "redo", "times of 2 photos put right");
    assert_eq!(times(), before);

    // What is written for others goes where the person says.
    page.click("#photo-log");
    page.wait_for_text("#photo-said", "The photo log is in");
    assert!(fs::read_to_string(machine.folder().join("log.csv")).expect("the log").contains("beside.jpg"));
    page.run(CHOOSE, &[json!(card), json!(home.join("newel.sqlite"))]);
    page.click("#photo-log");
    page.wait_for_text("#photo-refusal", "lies in the folder of the sites");

    // An arrow, drawn by keys.
    page.run("document.querySelector(arguments[0]).scrollIntoView({ block: 'center' })", &[json!(tile(&bend))]);
    page.click(&tile(&bend));
    page.click("#open-photo");
    page.wait("the large picture", "return document.querySelector('#viewer-stage img')?.naturalWidth > 0", &[]);
    page.chord(&["a"]);
    for keys in [&[key::ENTER][..], &[key::ENTER], &[key::RIGHT], &[key::RIGHT], &[key::DOWN], &[key::ENTER]] {
        page.chord(keys);
    }
    wait_for_step(&page, "undo", "mark-up");
    assert_eq!(page.count("#viewer-stage [data-mark='arrow']"), 1);
    judge_both(&page, "an open photo");
    page.close();

    let page = Page::open(machine.port, &built("newel-window"), &[]);
    page.click("[data-site]");
    page.wait_for("#drawing");
    page.click("#screen-photos");
    page.wait_for("#photo-grid");
    show_unplaced(&page);
    page.click(&tile(&bend));
    page.click("#open-photo");
    page.wait_for("#viewer-stage [data-mark='arrow']");
    assert_eq!(stored_one(&home, "bend.jpg")["marks"], 1);
    hostile_addresses(&page, &bend);
    page.close();
    machine.end();
}

/// Waits until undo or redo names a change.
fn wait_for_step(page: &Page, which: &str, change: &str) {
    let script = "return document.getElementById(arguments[0]).getAttribute('aria-label').includes(arguments[1])";
    page.wait(change, script, &[json!(which), json!(change)]);
}

/// Chooses two photos: the first alone, the second by its tick.
fn choose_two(page: &Page, first: &Value, second: &Value) {
    for selector in [tile(first), format!("{} .tick", tile(second))] {
        page.run("document.querySelector(arguments[0]).scrollIntoView({ block: 'center' })", &[json!(selector)]);
        page.click(&selector);
    }
}

/// What an image element gets from the photos' own addresses: a picture for those of the open site, and nothing else.
fn hostile_addresses(page: &Page, photo: &Value) {
    let content = photo["content_sha256"].as_str().expect("a content");
    let other = content.chars().rev().collect::<String>();
    let load = "const [address, done] = arguments; const img = new Image(); img.onload = () => done(true); \
                img.onerror = () => done(false); img.src = address";
    let loads = |address: String| page.run_and_wait(load, &[json!(address)]);
    for size in ["320", "1600", "original"] {
        assert_eq!(loads(format!("photo://localhost/{content}/{size}")), json!(true), "{size}");
    }
    for hostile in [
        format!("photo://localhost/{content}/320?size=original"),
        format!("photo://localhost/{content}/640"),
        format!("photo://localhost/{other}/320"),
        format!("photo://localhost/{content}%2f320"),
        "photo://localhost/../../../../usr/share/pixmaps/debian-logo.png/original".to_owned(),
        format!("photo://other/{content}/320"),
        format!("file://{}", workspace("fixtures/demo/photos/ramp.jpg").display()),
    ] {
        assert_eq!(loads(hostile.clone()), json!(false), "{hostile}");
    }
}

/// Width and height that a JPEG states in its frame header [px] (ITU-T T.81, B.2.2).
fn image_size(path: &Path) -> (u16, u16) {
    let bytes = fs::read(path).expect("the file");
    let mut at = 2;
    loop {
        let word = |at: usize| u16::from_be_bytes([bytes[at], bytes[at + 1]]);
        if (0xffc0..=0xffc2).contains(&word(at)) {
            return (word(at + 7), word(at + 5));
        }
        at += 2 + usize::from(word(at + 2));
    }
}
