//! Homes that share a folder: what is done on one arrives on the others, whoever is not in the team waits, whoever was
//! removed is shut out.

mod common;

use std::collections::BTreeSet;
use std::io::Cursor;

use common::card;
use common::home::Home;
use common::team::{Device, Shared, settle, team};
use desk::exchange::{Follow, Go, Seal, SoFar};
use desk::photos::Unwatched;
use desk::wire::exchange::{ExchangeState, WaitsFor};
use desk::wire::photos::PhotoState;
use serde_json::json;
use survey::Verdict;

fn note(words: &str) -> serde_json::Value {
    json!({"kind": "set_site", "change": {"kind": "note", "value": words}})
}

fn guard(answer: &str) -> serde_json::Value {
    json!({"kind": "set_rail", "rail": "r1", "change": {"kind": "guard", "value": answer}})
}

fn add_site(device: &mut Device) {
    device.sites.add_file(common::SURVEY.as_bytes(), "s.json", None).expect("added");
}

fn the_note(device: &mut Device) -> String {
    device.sites.survey("yard", None).expect("a survey").site.note
}

#[test]
fn surveys_photos_and_catalogues_arrive() {
    let folder = Shared::new();
    let mut a = Device::of("Invented Anna");
    add_site(&mut a);
    let shots = card::fill(&a.home.0.join("card"), 3, "anna");
    a.sites.add_photos("yard", &shots, None, &Unwatched).expect("added");
    a.sites.add_catalogue(desk::demo::CATALOGUE, "catalogue.toml", "ours").expect("kept");
    a.sites.put_in_force("ours").expect("in force");
    // Work that was done before the team began travels like any other.
    a.sites.start_team(&folder.address(), Seal::Sealed).expect("begun");
    a.round();
    let mut b = Device::of("Invented Ben");
    b.join(&mut a, &folder.0);
    let mut both = [a, b];
    settle(&mut both);
    let [a, b] = &mut both;
    let (here, there) = (a.sites.history("yard").expect("history"), b.sites.history("yard").expect("history"));
    assert_eq!(there, here);
    assert_eq!(a.dump(), b.dump());
    assert!(b.sites.catalogue_in_force().expect("a look").is_some());
    // Both smaller copies are there, and no original yet. The survey also names a photo of which nobody has the file.
    let taken = |device: &mut Device| {
        let photos = device.sites.photos("yard").expect("photos").photos;
        photos.into_iter().filter(|photo| photo.state != PhotoState::Named).collect::<Vec<_>>()
    };
    assert_eq!(taken(b).len(), 3);
    for photo in taken(b) {
        assert_eq!((photo.state, photo.has_picture), (PhotoState::Missing, true));
        assert_eq!(photo.width_px, a.sites.photo("yard", &photo.id).expect("a photo").photo.width_px);
        for (there, here) in [(&photo.thumbnail_320, "-320"), (&photo.thumbnail_1600, "-1600")] {
            let path = there.as_ref().expect("a copy");
            assert!(path.contains(here), "{path}");
            let name = std::path::Path::new(path).file_name().expect("a name").to_owned();
            let shelf = a.home.0.join("photos/thumbnails").join(&photo.content_sha256.as_ref().expect("content")[..2]);
            assert_eq!(std::fs::read(path).expect("a copy"), std::fs::read(shelf.join(name)).expect("the copy"));
        }
    }
    b.sites.keep_site(Some("yard"), true).expect("kept");
    assert_eq!(b.round().photo_files_took, 3);
    for photo in taken(b) {
        assert_eq!(photo.state, PhotoState::Here);
        let shown = b.sites.photo("yard", &photo.id).expect("a photo").original.expect("an original");
        let n = shots.iter().position(|shot| shot.ends_with(&photo.file)).expect("one of the card");
        assert_eq!(std::fs::read(shown).expect("the original"), std::fs::read(&shots[n]).expect("the file"));
    }
    // Nothing is given back of what came.
    assert_eq!(b.round().photo_files_gave, 0);
    let status = b.sites.exchange_status().expect("a status");
    assert_eq!((status.unshared_items, status.unshared_photo_files), (0, 0), "{}", status.to_text());
}

#[test]
fn concurrent_edits_are_heard_at_both_ends_and_settled_once() {
    let folder = Shared::new();
    let mut both = team(&folder, &["Invented Anna", "Invented Ben"]);
    add_site(&mut both[0]);
    settle(&mut both);
    both[0].edit(&guard("yes"));
    both[1].edit(&guard("no"));
    settle(&mut both);
    let catalogue = || desk::read_catalogue(desk::demo::CATALOGUE, "catalogue.toml").expect("the demo catalogue");
    for device in &mut both {
        let heard = device.sites.disagreements("yard").expect("a list").disagreements;
        assert_eq!(heard.len(), 1);
        assert_eq!((heard[0].name.as_str(), heard[0].stops), ("rails/r1/guard", true));
        let people: BTreeSet<&str> = heard[0].positions.iter().map(|p| p.person.as_str()).collect();
        assert_eq!(people, BTreeSet::from(["Invented Anna", "Invented Ben"]));
        let planned = device.sites.show("yard", None, catalogue()).expect("planned");
        let found = planned.findings.iter().find(|f| f.rule == "disagreement").expect("a finding");
        assert_eq!(found.verdict, Verdict::Stop, "a disputed safety answer stops the job on every device");
    }
    let heard = both[1].sites.disagreements("yard").expect("a list").disagreements;
    let number = heard[0].positions.iter().find(|p| p.value == "no").expect("his").number;
    both[1].sites.settle("yard", "rails/r1/guard", number).expect("settled");
    settle(&mut both);
    for device in &mut both {
        assert_eq!(device.sites.disagreements("yard").expect("a list").disagreements, []);
        assert!(device.sites.survey("yard", None).expect("a survey").rails[0].guard == survey::Answer::No);
    }
    assert_eq!(both[0].dump(), both[1].dump());
}

#[test]
fn a_round_that_is_stopped_does_not_say_that_the_folder_is_there_again() {
    struct AtOnce;
    impl Follow for AtOnce {
        fn step(&mut self, _: &SoFar) -> Go {
            Go::Stop
        }
    }
    let folder = Shared::new();
    let mut both = team(&folder, &["Invented Anna", "Invented Ben"]);
    let away = folder.0.with_extension("away");
    std::fs::rename(&folder.0, &away).expect("taken away");
    both[0].sites.exchange(&mut desk::exchange::Unfollowed).expect_err("it is away");
    std::fs::rename(&away, &folder.0).expect("put back");
    add_site(&mut both[0]);
    let since = |device: &mut Device| device.sites.exchange_status().expect("a status").failing_since;
    assert!(both[0].sites.exchange(&mut AtOnce).expect("stopped").stopped);
    assert!(since(&mut both[0]).is_some());
    both[0].round();
    assert!(since(&mut both[0]).is_none());
}

#[test]
fn a_catalogue_of_which_people_differ_is_settled_before_it_is_changed() {
    let folder = Shared::new();
    let mut both = team(&folder, &["Invented Anna", "Invented Ben"]);
    both[0].sites.add_catalogue(desk::demo::CATALOGUE, "catalogue.toml", "ours").expect("kept");
    settle(&mut both);
    let take = |device: &mut Device, price: &str| {
        let list = format!("part,price\nPT-18-W30,{price}\n");
        device.sites.import_parts(Some("ours"), list.as_bytes(), "prices.csv", None)
    };
    for (device, price) in both.iter_mut().zip(["18.10", "18.20"]) {
        take(device, price).expect("taken in");
    }
    settle(&mut both);
    let id = both[0].sites.catalogues().expect("a list").catalogues[0].id.clone();
    for device in &mut both {
        let why = take(device, "18.30").expect_err("there is no one version to change").to_string();
        assert!(why.contains("people changed catalogue ours at once") && why.contains("settle that first"), "{why}");
        let versions = device.sites.catalogue_dispute(&id).expect("a look").expect("still in dispute").positions;
        assert_eq!(versions.len(), 2, "both are heard still");
    }
    both[0].sites.settle_catalogue(&id, 1).expect("settled");
    take(&mut both[0], "18.30").expect("taken in");
}

/// The site as one file, taken in on another device.
fn hand_over(from: &mut Device, to: &mut Device) {
    let mut file = Vec::new();
    from.sites.send("yard", &mut file).expect("a file");
    to.sites.receive(&mut Cursor::new(file)).expect("taken in");
}

#[test]
fn an_unknown_device_waits_with_whatever_builds_on_it_until_it_is_accepted() {
    let folder = Shared::new();
    let mut both = team(&folder, &["Invented Anna"]);
    let (mut ben, mut cem) = (Device::of("Invented Ben"), Device::of("Invented Cem"));
    // Cem, whom nobody of the team knows, began the site; Ben vouched for him and went on from there.
    add_site(&mut cem);
    hand_over(&mut cem, &mut ben);
    ben.sites.know(&cem.id()[..16]).expect("known");
    ben.edit(&note("gate code with the porter"));
    ben.join(&mut both[0], &folder.0);
    both.push(ben);
    settle(&mut both);
    for device in &mut both {
        let waiting = device.sites.exchange_status().expect("a status").waiting;
        assert_eq!(waiting.len(), 1, "{waiting:?}");
        assert_eq!(
            (waiting[0].waits_for, waiting[0].person.as_deref()),
            (WaitsFor::UnknownDevice, Some("Invented Cem"))
        );
        assert_eq!(
            (waiting[0].device.clone(), waiting[0].changes),
            (Some(cem.id()), 2),
            "his and the one on top of it"
        );
        assert_eq!((waiting[0].sites[0].id.as_str(), waiting[0].sites[0].changes), ("yard", 2));
        assert!(device.sites.survey("yard", None).is_err(), "none of it counts yet");
        assert!(device.sites.know(&cem.id()[..16]).expect_err("a team decides").to_string().contains("accept"));
    }
    assert_eq!(both[0].dump(), both[1].dump());
    both[0].sites.accept_device("Invented Cem").expect("accepted");
    settle(&mut both);
    for device in &mut both {
        assert_eq!(the_note(device), "gate code with the porter");
        assert_eq!(device.sites.exchange_status().expect("a status").waiting, []);
    }
    // What he writes later waits again.
    cem.edit(&note("changed afterwards"));
    hand_over(&mut cem, &mut both[1]);
    settle(&mut both);
    for device in &mut both {
        assert_eq!(the_note(device), "gate code with the porter");
        assert_eq!(device.sites.exchange_status().expect("a status").waiting[0].changes, 1);
    }
    assert_eq!(both[0].dump(), both[1].dump());
}

#[test]
fn a_removed_device_is_shut_out_of_what_comes_after() {
    let folder = Shared::new();
    let mut all = team(&folder, &["Invented Anna", "Invented Ben", "Invented Cem"]);
    add_site(&mut all[0]);
    settle(&mut all);
    all[2].edit(&note("from Cem before"));
    settle(&mut all);
    let before: BTreeSet<String> = folder.files().into_iter().map(|(name, _)| name).collect();
    let gone = all[2].id();
    all[0].sites.remove_device("Invented Cem").expect("removed");
    all[2].edit(&note("from Cem after"));
    all[0].round();
    all[1].round();
    all[0].edit(&note("not for Cem"));
    all[0].round();
    assert_eq!(all[2].round().state, ExchangeState::Removed);
    assert_eq!(the_note(&mut all[2]), "from Cem after", "his own work is never hidden from him");
    let mut cem = all.pop().expect("three");
    settle(&mut all);
    // What was written since opens with no key that he has.
    let own = exchange::seal::Identity::new(key(&cem.home));
    let memory = exchange::memory::Memory::from_bytes(&memory(&all[0].home)).expect("what it remembers");
    let ring = exchange::members::Ring::new(memory.log(), &memory.log().team(), &own);
    let fresh = folder.files().into_iter().filter(|(name, _)| name.starts_with("objects/") && !before.contains(name));
    let opened: Vec<_> = fresh.map(|(_, file)| ring.open(exchange::seal::Purpose::Object, &[], &file)).collect();
    assert!(!opened.is_empty() && opened.iter().all(|found| found == &Err(exchange::seal::SealError::OtherKey)));
    // Somebody hands his later change over by stick: it does not count, and neither does anything on top of it.
    hand_over(&mut cem, &mut all[1]);
    settle(&mut all);
    for device in &mut all {
        assert_eq!(the_note(device), "not for Cem");
        let waiting = device.sites.exchange_status().expect("a status").waiting;
        assert_eq!(
            (waiting[0].waits_for, waiting[0].device.as_deref()),
            (WaitsFor::RemovedDevice, Some(gone.as_str()))
        );
    }
    assert_eq!(all[0].dump(), all[1].dump());
    // Until a member looks at it and accepts it: then both notes are heard, on both devices.
    all[1].sites.accept_device(&gone).expect("accepted");
    settle(&mut all);
    for device in &mut all {
        assert_eq!(device.sites.disagreements("yard").expect("a list").disagreements.len(), 1);
    }
    assert_eq!(all[0].dump(), all[1].dump());
}

fn key(home: &Home) -> [u8; 32] {
    let text = std::fs::read_to_string(home.0.join("device.json")).expect("the device file");
    let file: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    let digits = file["key_hex"].as_str().expect("digits").to_owned();
    std::array::from_fn(|n| u8::from_str_radix(&digits[n * 2..n * 2 + 2], 16).expect("digits"))
}

fn memory(home: &Home) -> Vec<u8> {
    let device = record::sign::Device::new("Looker", "test", [9; 32]);
    let store = record::store::Store::open_read_only(&home.0, device).expect("a store");
    store.memory().expect("a look").expect("some")
}

#[test]
fn the_folder_says_neither_what_sites_nor_what_files_are_called() {
    // Three letters alone stand somewhere in a megabyte of sealed bytes once in sixteen times.
    let words = ["yard", "Invented", "joint-secret", ".jpg", "rail"];
    let reveals = |files: &[(String, Vec<u8>)]| -> BTreeSet<&str> {
        let told = |(name, bytes): &(String, Vec<u8>)| {
            let bytes = if name == "newel-exchange.txt" { Vec::new() } else { bytes.clone() };
            words
                .into_iter()
                .filter(move |word| {
                    name.contains(word) || bytes.windows(word.len()).any(|part| part == word.as_bytes())
                })
                .collect::<Vec<_>>()
        };
        files.iter().flat_map(told).collect()
    };
    for seal in [Seal::Sealed, Seal::Open] {
        let folder = Shared::new();
        let mut a = Device::of("Invented Anna");
        add_site(&mut a);
        let shots = card::fill(&a.home.0.join("card"), 1, "joint-secret");
        a.sites.add_photos("yard", &shots, None, &Unwatched).expect("added");
        let said = a.sites.start_team(&folder.address(), seal).expect("begun").sentence;
        a.round();
        let files = folder.files();
        assert!(files.len() > 5, "{files:?}");
        for (name, _) in &files {
            let bare = name.chars().all(|sign| sign.is_ascii_hexdigit() || "/.".contains(sign));
            let rest = name.strip_prefix("objects").or(name.strip_prefix("heads")).or(name.strip_prefix("members"));
            let bare_rest = rest.is_some_and(|r| r.chars().all(|s| s.is_ascii_hexdigit() || "/.".contains(s)));
            assert!(bare || bare_rest || name == "newel-exchange.txt", "{name}");
        }
        let text = String::from_utf8(files.iter().find(|(n, _)| n == "newel-exchange.txt").expect("it").1.clone());
        let text = text.expect("text");
        match seal {
            Seal::Sealed => {
                assert_eq!(reveals(&files), BTreeSet::new());
                assert!(text.contains("sealed") && said.contains("sealed"), "{text}");
            }
            Seal::Open => {
                assert!(reveals(&files).contains("joint-secret"), "an open folder hides nothing");
                assert!(text.contains("whoever can open this folder can read everything") && said.contains("open"));
            }
        }
    }
}

/// Stops a round after so many steps.
struct After(usize);

impl Follow for After {
    fn step(&mut self, _: &SoFar) -> Go {
        self.0 = self.0.saturating_sub(1);
        if self.0 == 0 { Go::Stop } else { Go::On }
    }
}

#[test]
fn a_round_that_is_stopped_anywhere_goes_on_from_there() {
    let folder = Shared::new();
    let mut both = team(&folder, &["Invented Anna", "Invented Ben"]);
    add_site(&mut both[0]);
    let shots = card::fill(&both[0].home.0.join("card"), 2, "anna");
    both[0].sites.add_photos("yard", &shots, None, &Unwatched).expect("added");
    both[1].sites.keep_site(None, true).expect("kept");
    // A round has more than a hundred questions here; each is a place to stop at.
    let mut stopped = 0;
    for steps in 1..60 {
        for device in &mut both {
            stopped += usize::from(device.sites.exchange(&mut After(steps)).expect("a round").stopped);
        }
    }
    assert!(stopped > 20, "only {stopped} rounds were stopped");
    settle(&mut both);
    assert_eq!(both[0].dump(), both[1].dump());
    let photos = both[1].sites.photos("yard").expect("photos").photos;
    assert_eq!(photos.iter().filter(|photo| photo.state == PhotoState::Here).count(), 2);
}

#[test]
fn a_device_that_left_and_one_that_lost_its_store_come_back() {
    let folder = Shared::new();
    let mut both = team(&folder, &["Invented Anna", "Invented Ben", "Invented Cem"]);
    add_site(&mut both[0]);
    settle(&mut both);
    // What one wrote who is no member any more counted until now and goes on to count.
    both[2].edit(&note("kept"));
    settle(&mut both);
    both[0].sites.remove_device("Invented Cem").expect("removed");
    both.pop();
    settle(&mut both);
    assert_eq!(the_note(&mut both[1]), "kept");
    // Ben leaves: what is here stays, and counts by his own word.
    both[1].sites.leave_team().expect("left");
    assert_eq!(the_note(&mut both[1]), "kept");
    assert!(both[1].sites.exchange(&mut After(9)).expect_err("alone").to_string().contains("newel exchange start"));
    both[1].edit(&note("while away"));
    let ben = both[1].id();
    let (anna, others) = both.split_at_mut(1);
    anna[0].sites.remove_device(&ben).expect("removed");
    anna[0].round();
    others[0].join(&mut anna[0], &folder.0);
    settle(&mut both);
    assert_eq!(the_note(&mut both[0]), "while away");
    // A new device of the same team has everything from the folder alone.
    let mut new = Device::of("Invented Dora");
    new.join(&mut both[0], &folder.0);
    both.push(new);
    settle(&mut both);
    assert_eq!(both[2].dump(), both[0].dump());
}

#[test]
fn what_counted_in_one_team_counts_in_the_next_that_the_device_begins() {
    let (folder, next) = (Shared::new(), Shared::new());
    let mut both = team(&folder, &["Invented Anna", "Invented Ben"]);
    add_site(&mut both[0]);
    settle(&mut both);
    both[1].edit(&note("from Ben"));
    settle(&mut both);
    both[0].sites.remove_device("Invented Ben").expect("removed");
    both[0].sites.leave_team().expect("left");
    both[0].sites.start_team(&next.address(), Seal::Sealed).expect("begun");
    both[0].round();
    assert_eq!(the_note(&mut both[0]), "from Ben");
    let mut dora = Device::of("Invented Dora");
    dora.join(&mut both[0], &next.0);
    assert_eq!(the_note(&mut dora), "from Ben");
}

/// A clock that stands ninety years ahead.
fn ahead() -> i64 {
    common::home::clock() + 90 * 365 * 86_400_000
}

#[test]
fn a_clock_far_off_is_named_and_decides_nothing() {
    let folder = Shared::new();
    let mut both = team(&folder, &["Invented Anna", "Invented Ben"]);
    add_site(&mut both[0]);
    settle(&mut both);
    let ben = both.pop().expect("two");
    let home = ben.home;
    drop(ben.sites);
    let sites = desk::sites::Sites::open(&home.0, ahead).expect("a store");
    both.push(Device { sites, home });
    both[1].edit(&note("from the year to come"));
    both[1].round();
    let round = both[0].round();
    let clock = round.clock.as_deref().expect("a remark");
    assert!(clock.contains("Invented Ben on a tablet") && clock.contains("days ahead"), "{clock}");
    assert!(round.to_text().contains(clock) && clock.contains("set them right"));
    assert_eq!(both[1].round().clock, None, "whoever is ahead cannot tell");
    both[0].edit(&note("later, by an honest clock"));
    settle(&mut both);
    for device in &mut both {
        assert_eq!(the_note(device), "later, by an honest clock");
    }
    assert_eq!(both[0].dump(), both[1].dump());
}
