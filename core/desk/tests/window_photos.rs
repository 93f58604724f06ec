//! Photos in the window: adding them while other things are done, what of them has an address, clocks, and copies.

mod common;

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};

use common::card::{fill, photo};
use common::home::Home;
use desk::view::{CopiesTell, Opened, Refusal, Window};
use desk::wire::photos::ImportOutcome;
use serde_json::json;

/// A window on a new site of its own in the store, open.
fn open(home: &Home) -> (Window, String) {
    let window = Window::new(None, Some(home.0.clone()));
    let site = window.new_site("Quay stair (invented)", "nowhere").expect("made").site.expect("an id");
    window.open_site(&site).expect("opened");
    (window, site)
}

/// An empty folder for the photos of a test.
fn card(name: &str) -> PathBuf {
    let card = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("window-photos-{name}"));
    let _ = fs::remove_dir_all(&card);
    fs::create_dir_all(&card).expect("a folder");
    card
}

fn add(window: &Window, folder: &Path) -> desk::wire::photos::PhotoImport {
    window.add_photos(&[folder.to_owned()], None, |_| ()).expect("added")
}

/// The addresses of small pictures of the site's photos, with the names of their files.
fn small(opened: &Opened) -> Vec<(String, String)> {
    let survey = serde_json::to_value(&opened.survey).expect("a survey");
    let text = |photo: &serde_json::Value, field: &str| photo[field].as_str().expect("a text").to_owned();
    let one = |photo| (format!("photo://localhost/{}/320", text(photo, "content_sha256")), text(photo, "file"));
    survey["photos"].as_array().expect("photos").iter().map(one).collect()
}

fn times(opened: &Opened) -> Vec<Option<String>> {
    let survey = serde_json::to_value(&opened.survey).expect("a survey");
    let photos = survey["photos"].as_array().expect("photos").clone();
    photos.iter().map(|photo| photo["taken"].as_str().map(str::to_owned)).collect()
}

fn refused<T: std::fmt::Debug>(answer: Result<T, Refusal>, why: &str) {
    let message = answer.expect_err("refused").message;
    assert!(message.contains(why), "{message}");
}

#[test]
fn a_folder_is_taken_in_and_each_photo_of_the_open_site_alone_has_an_address() {
    let home = Home::of("Invented Anna");
    let (window, site) = open(&home);
    let card = card("taken-in");
    fill(&card, 3, "quay");
    fs::write(card.join("broken.jpg"), b"\xff\xd8\xff\xe0 cut off").expect("written");
    let seen = Mutex::new(Vec::new());
    let import = window
        .add_photos(std::slice::from_ref(&card), Some("+02:00"), |step| {
            seen.lock().expect("seen").push((step.done, step.all))
        })
        .expect("added");
    assert_eq!((import.added, import.refused, import.stopped), (3, 1, false));
    let seen = seen.into_inner().expect("seen");
    assert_eq!((seen.first(), seen.last()), (Some(&(0, 0)), Some(&(4, 4))), "{seen:?}");

    let list = window.photos().expect("a list");
    assert_eq!((list.id.as_str(), list.files.len()), (site.as_str(), 3));
    let addresses = small(&window.open_site(&site).expect("opened"));
    for (address, file) in &addresses {
        let sent = window.picture(address).expect("a picture");
        assert_eq!((sent.mime, &sent.bytes[..2]), ("image/jpeg", &[0xff, 0xd8][..]));
        let original = address.replace("/320", "/original");
        assert_eq!(fs::read(card.join(file)).expect("the file"), window.picture(&original).expect("it").bytes);
    }
    let address = addresses[0].0.clone();
    let large = window.picture(&address.replace("/320", "/1600")).expect("a picture").bytes;
    assert!(large.len() > window.picture(&address).expect("a picture").bytes.len());
    // An edit, an undo and a redo go on from what was added.
    let id = &list.files[0].id;
    let note = json!([{"kind": "set_photo", "id": id, "change": {"kind": "note", "value": "by the steps"}}]);
    assert_eq!(times(&window.edit(&note).expect("edited")).len(), 3);
    window.undo().expect("the note");
    assert_eq!(times(&window.undo().expect("the import")).len(), 0);
    assert_eq!(window.picture(&address), None, "the site has no such photo any more");
    assert_eq!(times(&window.redo().expect("again")).len(), 3);
    assert!(window.picture(&address).is_some());

    let file = card.join("survey.json");
    window.export_site(&site, &file.to_string_lossy(), desk::view::ExportForm::Survey).expect("written");
    let other = window.new_site("Another (invented)", "nowhere").expect("made").site.expect("an id");
    window.open_site(&other).expect("opened");
    assert_eq!(window.picture(&address), None, "it is a photo of another site");
    assert_eq!(window.photos().expect("a list").files.len(), 0);
    // A file that names the same contents is merely looked at.
    window.open_file(&file.to_string_lossy()).expect("looked at");
    assert_eq!(window.picture(&address), None);
    refused(window.photos(), "no site is open");
    refused(window.add_photos(&[card], None, |_| ()), "no site is open");
}

#[test]
fn thumbnails_are_made_when_they_are_looked_at_and_not_by_listing() {
    let home = Home::of("Invented Anna");
    let (window, site) = open(&home);
    let card = card("lost");
    fill(&card, 2, "lost");
    add(&window, &card);
    let thumbnails = home.0.join("photos/thumbnails");
    fs::remove_dir_all(&thumbnails).expect("removed");
    let list = window.photos().expect("a list");
    assert!(list.files.len() == 2 && list.files.iter().all(|file| file.has_picture));
    assert!(!thumbnails.exists(), "listing made none");
    let (address, _) = small(&window.open_site(&site).expect("opened"))[0].clone();
    let made = window.picture(&address).expect("made");
    let content = address.split('/').nth(3).expect("a content");
    let kept = thumbnails.join(&content[..2]).join(format!("{content}-320.jpg"));
    assert_eq!(fs::read(kept).expect("the file"), made.bytes);
    // Where none can be kept it is shown all the same.
    fs::remove_dir_all(&thumbnails).expect("removed");
    fs::write(&thumbnails, "a file stands in the way of the folder").expect("written");
    assert_eq!(window.picture(&address).expect("made for once").bytes, made.bytes);
}

#[test]
fn one_import_runs_at_a_time_and_a_stop_is_for_the_running_one() {
    let home = Home::of("Invented Anna");
    let (window, _) = open(&home);
    let card = card("stopped");
    fill(&card, 5, "stopped");
    // Where none runs there is nothing to stop, and the next is not touched.
    window.cancel_photos();
    let (asked, second) = (AtomicBool::new(false), Mutex::new(None));
    let import = window
        .add_photos(std::slice::from_ref(&card), None, |step| {
            if step.all > 0 && !asked.swap(true, Ordering::SeqCst) {
                *second.lock().expect("second") = Some(window.add_photos(std::slice::from_ref(&card), None, |_| ()));
                window.cancel_photos();
            }
        })
        .expect("stopped");
    refused(second.into_inner().expect("second").expect("asked"), "photos are being added already");
    assert!(import.stopped && import.not_reached > 0, "{import:?}");
    assert_eq!(import.added + import.not_reached, 5);
    let again = add(&window, &card);
    assert_eq!((again.added, again.duplicates, again.stopped), (import.not_reached, import.added, false));
    assert_eq!(window.photos().expect("a list").files.len(), 5);
}

#[test]
fn photos_lie_in_the_site_while_more_are_still_coming() {
    let home = Home::of("Invented Anna");
    let (window, _) = open(&home);
    let card = card("soon");
    fill(&card, 30, "soon");
    let seen = Mutex::new(Vec::new());
    let import = window
        .add_photos(&[card], None, |step| {
            if step.kept > 0 && step.name.is_empty() {
                let listed = window.photos().expect("a list").files.len();
                seen.lock().expect("seen").push((step.kept as usize, listed));
            }
        })
        .expect("added");
    assert_eq!(import.added, 30);
    // The first are soon there, and what is told to be kept can be listed.
    assert_eq!(seen.into_inner().expect("seen"), [(8, 8), (24, 24), (30, 30)]);
}

#[test]
fn copies_tell_how_far_they_are_and_can_be_stopped() {
    let home = Home::of("Invented Anna");
    let (window, _) = open(&home);
    let card = card("told");
    fill(&card, 4, "told");
    add(&window, &card);
    let photos: Vec<String> = window.photos().expect("a list").files.into_iter().map(|photo| photo.id).collect();
    let tell = CopiesTell { position: false, camera: false, owner: false };
    let out = |name: &str| card.join(name).to_string_lossy().into_owned();
    let (told, second) = (Mutex::new(Vec::new()), Mutex::new(None));
    // Where none are written there is nothing to stop, and the next is not touched.
    window.cancel_copies();
    let copies = window
        .export_client(&photos, tell, false, &out("some"), |step| {
            told.lock().expect("told").push((step.done, step.all));
            if step.done == 2 {
                *second.lock().expect("second") =
                    Some(window.export_client(&photos, tell, false, &out("other"), |_| ()));
                window.cancel_copies();
            }
        })
        .expect("stopped");
    refused(second.into_inner().expect("second").expect("asked"), "copies are being written already");
    assert_eq!(told.into_inner().expect("told"), [(1, 4), (2, 4)]);
    assert!(copies.stopped);
    let written = copies.copies.iter().filter(|copy| copy.copy.is_some()).count();
    assert_eq!((written, copies.copies.len()), (2, 4));
    assert!(copies.copies[3].reason.as_deref().is_some_and(|why| why.contains("stopped before it")));
    assert_eq!(fs::read_dir(card.join("some")).expect("a folder").count(), 2, "nothing else was written");
    let all = window.export_client(&photos, tell, false, &out("all"), |_| ()).expect("written");
    assert!(!all.stopped && all.copies.iter().all(|copy| copy.copy.is_some()));
}

#[test]
fn photos_go_to_the_site_they_were_added_to_whatever_is_opened_meanwhile() {
    let home = Home::of("Invented Anna");
    let (window, site) = open(&home);
    let other = window.new_site("Another (invented)", "nowhere").expect("made").site.expect("an id");
    window.open_site(&site).expect("opened");
    let card = card("away");
    fill(&card, 70, "away");
    let import = window
        .add_photos(&[card], None, |step| {
            if step.done == 0 && step.all == 0 {
                window.open_site(&other).expect("opened");
            }
        })
        .expect("added");
    assert_eq!((import.id.as_str(), import.added), (site.as_str(), 70));
    assert_eq!(window.photos().expect("a list").id, other, "the other one is still open");
    assert_eq!(window.photos().expect("a list").files.len(), 0);
    window.open_site(&site).expect("opened");
    assert_eq!(window.photos().expect("a list").files.len(), 70);
}

#[test]
fn a_clock_is_put_right_as_one_step_and_the_past_is_only_looked_at() {
    let home = Home::of("Invented Anna");
    let (window, site) = open(&home);
    let before = window.history().expect("history").changes[0].change.clone();
    let card = card("clock");
    fill(&card, 3, "clock");
    add(&window, &card);
    let taken = |at: &str| json!({"kind": "taken", "value": at});
    let photos: Vec<String> = window.photos().expect("a list").files.into_iter().map(|photo| photo.id).collect();
    let dated: Vec<_> = ["2026-09-15T09:00:00+02:00", "2026-12-31T23:59:30"]
        .iter()
        .zip(&photos)
        .map(|(at, id)| json!({"kind": "set_photo", "id": id, "change": taken(at)}))
        .chain([json!({"kind": "set_photo", "id": photos[2], "change": taken("2026-09-15T10:00:00+02:00")})])
        .collect();
    window.edit(&json!(dated)).expect("dated");
    let was = times(&window.open_site(&site).expect("opened"));
    let shifted = window.shift_clock(&photos[..2], -60).expect("put right");
    assert_eq!(
        times(&shifted),
        [
            Some("2026-09-15T09:01:00+02:00".to_owned()),
            Some("2027-01-01T00:00:30".to_owned()),
            Some("2026-09-15T10:00:00+02:00".to_owned())
        ]
    );
    assert_eq!(shifted.undo.as_deref(), Some("times of 2 photos put right, the clock was 60 s behind"));
    assert_eq!(times(&window.undo().expect("taken back")), was);
    refused(window.shift_clock(&[], 60), "no photo is chosen");
    refused(window.shift_clock(&["nobody".to_owned()], 60), "is no photo of this site");

    window.view_at(&before).expect("looked back");
    assert_eq!(window.photos().expect("a list").files.len(), 0, "there were none yet");
    refused(window.shift_clock(&photos, 60), "go back to now");
    let import = window.add_photos(&[card], None, |_| ());
    refused(import, "go back to now");
    refused(window.add_photos(&[], Some("two o'clock"), |_| ()), "accepted: an offset");
}

#[test]
fn nothing_is_written_into_the_folder_of_the_sites() {
    let home = Home::of("Invented Anna");
    let (window, _) = open(&home);
    let card = card("copies");
    fs::write(card.join("one.jpg"), photo("ramp.jpg", "copies")).expect("written");
    add(&window, &card);
    let photos: Vec<String> = window.photos().expect("a list").files.into_iter().map(|photo| photo.id).collect();
    let tell = CopiesTell { position: false, camera: false, owner: false };
    let database = fs::read(home.0.join("newel.sqlite")).expect("the store");
    for inside in [home.0.join("newel.sqlite"), home.0.join("photos/originals/new.jpg"), card.join("..").join(&home.0)]
    {
        let inside = inside.to_string_lossy();
        let why = "lies in the folder of the sites";
        refused(window.render_marked(&photos[0], &inside), why);
        refused(window.export_client(&photos, tell, false, &inside, |_| ()), why);
        refused(window.export_photo_log(&inside), why);
        refused(window.export_geojson(&inside), why);
    }
    assert_eq!(fs::read(home.0.join("newel.sqlite")).expect("the store"), database);
    let out = |name: &str| card.join(name).to_string_lossy().into_owned();
    assert!(window.render_marked(&photos[0], &out("m.jpg")).expect("written").contains("m.jpg"));
    window.export_photo_log(&out("log.csv")).expect("written");
    window.export_geojson(&out("map.geojson")).expect("written");
    let copies = window.export_client(&photos, tell, false, &out("client"), |_| ()).expect("written").copies;
    assert!(copies.iter().all(|copy| copy.copy.as_deref().is_some_and(|path| fs::exists(path).expect("looked for"))));
    assert!(fs::read_to_string(card.join("log.csv")).expect("the log").contains("one.jpg"));
    assert!(fs::read_to_string(card.join("map.geojson")).expect("the map").starts_with('{'));
    refused(window.export_client(&[], tell, false, &out("none"), |_| ()), "no photo is chosen");
    let states: Vec<ImportOutcome> = add(&window, &card).files.into_iter().map(|file| file.outcome).collect();
    assert!(states.contains(&ImportOutcome::Duplicate), "{states:?}");
}
