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
