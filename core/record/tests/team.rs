//! The team document: settings, members, catalogues by content, and numbers that no two devices issue alike.

mod common;

use std::collections::BTreeSet;

use common::post::{device, fresh, one_post, open};
use common::{dice::Dice, folder::Folder};
use proptest::prelude::*;
use record::store::{Store, StoreError, TEAM, Team};

#[test]
fn what_is_put_into_the_team_is_there_after_reopening() {
    let folder = Folder::new();
    let hash = {
        let mut store = open(&folder, 1, 1);
        let mut team = store.team(1).expect("begun");
        team.put_setting(&mut store, "currency", "EUR", 2).expect("set");
        team.put_setting(&mut store, "currency", "GBP", 3).expect("set");
        let hash = team.add_catalogue(&mut store, "spring", b"invented catalogue", 4).expect("added");
        team.put_in_force(&mut store, &hash, 5).expect("in force");
        let missing = team.put_in_force(&mut store, "00", 6).expect_err("no such catalogue").to_string();
        assert!(missing.starts_with("there is no catalogue 00 here"), "{missing}");
        hash
    };
    // The SHA-256 of these bytes as coreutils' sha256sum gives it.
    assert_eq!(hash, "1cd13cf4a0b0c7824da58f4af46461913e38126d72dbbdb817d32774e3b2bca1");
    let mut store = open(&folder, 1, 2);
    let team = store.team(9).expect("opened");
    assert_eq!(team.settings().get("currency").map(String::as_str), Some("GBP"));
    assert_eq!(team.in_force(), Some(hash.clone()));
    assert_eq!(store.catalogue(&hash).expect("read").as_deref(), Some(&b"invented catalogue"[..]));
    let said: Vec<String> = team.history().into_iter().map(|entry| entry.sentence).collect();
    let expected = [
        "team document begun",
        "setting currency is EUR",
        "setting currency is GBP",
        "catalogue spring added",
        "catalogue spring put in force",
    ];
    assert_eq!(said, expected);
    // It is no site: not in the list, not opened as one, and no site may take its name.
    assert_eq!(store.sites().expect("list"), []);
    assert!(matches!(store.site(TEAM), Err(StoreError::Missing(_))));
    let mut survey = one_post();
    survey.site.id = survey::Id::new(TEAM).expect("an id");
    assert!(matches!(store.create(&survey, 1), Err(StoreError::Reserved)));
    store.rebuild().expect("rebuilt");
    assert_eq!(store.sites().expect("list"), []);
}

#[test]
fn a_catalogue_keeps_its_id_while_what_it_holds_is_revised_and_goes_back() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut team = store.team(1).expect("begun");
    let id = team.add_catalogue(&mut store, "spring", b"first", 2).expect("added");
    team.put_in_force(&mut store, &id, 3).expect("in force");
    team.put_setting(&mut store, "currency", "EUR", 4).expect("set");
    team.revise_catalogue(&mut store, &id, ("summer", b"second"), "catalogue summer: changed".to_owned(), 5)
        .expect("revised");
    let now = |team: &Team| {
        let rows = team.catalogues();
        let row = rows.first().expect("one");
        (rows.len(), row.id.clone(), row.name.clone(), row.hash.clone(), row.in_force)
    };
    let second = now(&team);
    assert_eq!((second.0, &second.1, second.2.as_str(), second.4), (1, &id, "summer", true));
    assert_eq!(store.catalogue(&second.3).expect("read").as_deref(), Some(&b"second"[..]));
    // The same bytes as it was added with are another catalogue by now.
    let other = team.add_catalogue(&mut store, "spring", b"first", 6).expect("added");
    assert_ne!(other, id);
    assert_eq!(team.add_catalogue(&mut store, "spring", b"first", 7).expect("there already"), other);
    // A setting is not a catalogue's to take back.
    assert_eq!(team.undo_catalogues(&mut store, 8).expect("back"), "taken back: catalogue spring added");
    assert_eq!(team.undo_catalogues(&mut store, 9).expect("back"), "taken back: catalogue summer: changed");
    assert_eq!(now(&team), (1, id.clone(), "spring".to_owned(), id.clone(), true));
    assert_eq!(team.settings().get("currency").map(String::as_str), Some("EUR"));
    team.redo_catalogues(&mut store, 10).expect("again");
    assert_eq!(now(&team), second);
    assert!(team.revise_catalogue(&mut store, "none", ("x", b"y"), String::new(), 11).is_err());
}

#[test]
fn two_who_revise_a_catalogue_at_once_are_both_heard() {
    let folders = [Folder::new(), Folder::new()];
    let mut first = open(&folders[0], 1, 1);
    let mut team = first.team(1).expect("begun");
    let id = team.add_catalogue(&mut first, "spring", b"first", 2).expect("added");
    let mut second = open(&folders[1], 2, 2);
    let send = |from: &Store, to: &mut Store| {
        let arrival = to.import(&from.export(TEAM).expect("file")).expect("taken in");
        for device in arrival.unknown {
            to.know(device.device).expect("known");
        }
    };
    send(&first, &mut second);
    for (store, bytes) in [(&mut first, b"ones"), (&mut second, b"twos")] {
        let mut team = store.team(5).expect("there");
        team.revise_catalogue(store, &id, ("spring", bytes), "changed".to_owned(), 6).expect("revised");
    }
    send(&second, &mut first);
    let team = first.team(9).expect("there");
    assert!(team.catalogues()[0].disputed);
    // Both travelled, whichever is settled on.
    for hash in team.catalogue_contents() {
        assert!(first.catalogue(&hash).expect("read").is_some(), "{hash}");
    }
    assert_eq!(team.catalogue_contents().len(), 3);
    let (about, hashes) = team.disputed_catalogue(&id).expect("two versions");
    let mut team = team;
    team.settle(&mut first, &about, &about.positions[1].value, 12).expect("settled");
    let row = team.catalogues().remove(0);
    assert_eq!((row.disputed, row.hash), (false, hashes[1].clone()));
}

#[test]
fn a_device_that_only_reads_changes_nothing() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut team = store.team(1).expect("begun");
    team.put_setting(&mut store, "currency", "EUR", 2).expect("set");
    let mut reader = Store::open_read_only(&folder.0, device(2)).expect("beside it");
    let mut seen = reader.team(3).expect("read");
    assert_eq!(seen.settings().len(), 1);
    assert!(matches!(seen.next_number(&mut reader, "Q", 4), Err(StoreError::ReadOnly(_))));
}

struct Party {
    store: Store,
    team: Team,
    _folder: Folder,
}

fn party(n: u8) -> Party {
    let folder = Folder::new();
    let mut store = Store::open(&folder.0, device(n), fresh(n, 1)).expect("a store");
    let team = store.team(0).expect("begun");
    Party { store, team, _folder: folder }
}

fn exchange(all: &mut [Party], from: usize, to: usize) {
    let file = all[from].store.export(TEAM).expect("file");
    let arrival = all[to].store.import(&file).expect("taken in");
    for device in arrival.unknown {
        all[to].store.know(device.device).expect("known");
    }
    let Party { store, team, .. } = &mut all[to];
    team.catch_up(store).expect("up to date");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, max_shrink_iters: 0, ..ProptestConfig::with_cases(8) })]

    /// Devices that each begin a team document, and write into it without having met, agree once they have.
    #[test]
    fn teams_that_merge_in_any_order_agree(seed in any::<u64>()) {
        let mut d = Dice(seed);
        let mut all: Vec<Party> = (1..=3).map(party).collect();
        let (mut numbers, mut settings) = (Vec::new(), BTreeSet::new());
        let mut catalogues = BTreeSet::new();
        for n in 0..24 {
            let at = d.below(3);
            let Party { store, team, .. } = &mut all[at];
            match d.below(5) {
                0 | 1 => numbers.push(team.next_number(store, "Q", n).expect("a number")),
                2 => {
                    let name = format!("setting {}", d.below(4));
                    team.put_setting(store, &name, &format!("value {n}"), n).expect("set");
                    settings.insert(name);
                }
                3 => {
                    let bytes = format!("catalogue {}", d.below(3));
                    let hash = team.add_catalogue(store, &bytes, bytes.as_bytes(), n).expect("added");
                    team.put_in_force(store, &hash, n).expect("in force");
                    catalogues.insert(hash);
                }
                _ => {
                    let (from, to) = (d.below(3), d.below(3));
                    exchange(&mut all, from, to);
                }
            }
        }
        for _ in 0..2 {
            for (from, to) in [(0, 1), (1, 2), (2, 0), (2, 1), (1, 0), (0, 2)] {
                exchange(&mut all, from, to);
            }
        }
        let distinct: BTreeSet<&String> = numbers.iter().collect();
        prop_assert_eq!(distinct.len(), numbers.len(), "two devices issued one number: {:?}", numbers);
        for party in &all {
            let (first, this) = (&all[0].team, &party.team);
            prop_assert_eq!(this.settings(), first.settings());
            prop_assert_eq!(this.settings().into_keys().collect::<BTreeSet<_>>(), settings.clone());
            prop_assert_eq!(this.members(), first.members());
            prop_assert_eq!(this.catalogues(), first.catalogues());
            prop_assert_eq!(this.in_force(), first.in_force());
            let fields = |team: &Team| team.disagreements().into_iter().map(|d| (d.thing, d.field)).collect::<Vec<_>>();
            prop_assert_eq!(fields(this), fields(first));
            prop_assert_eq!(this.history().len(), first.history().len());
            // Catalogues travelled by their contents.
            for hash in &catalogues {
                prop_assert!(party.store.catalogue(hash).expect("read").is_some());
            }
            // A contested catalogue is in force nowhere until it is settled.
            let contested = this.disagreements().iter().any(|d| d.field == "catalogue_in_force");
            prop_assert_eq!(this.in_force().is_none(), contested || catalogues.is_empty());
        }
        // Numbers go on where each device stopped.
        for party in &mut all {
            let next = party.team.next_number(&mut party.store, "Q", 99).expect("a number");
            prop_assert!(!numbers.contains(&next));
            numbers.push(next);
        }
        if let Some(dispute) = all[0].team.disagreements().first().cloned() {
            let value = dispute.positions[0].value.clone();
            let Party { store, team, .. } = &mut all[0];
            team.settle(store, &dispute, &value, 100).expect("settled");
            prop_assert!(!team.disagreements().iter().any(|d| (&d.thing, &d.field) == (&dispute.thing, &dispute.field)));
        }
    }
}
