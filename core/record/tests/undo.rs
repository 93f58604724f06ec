//! Taking back and making again, for every kind of edit; settling, and opening a dispute again.

mod common;

use common::post::{SITE, chainage, device, move_to, one_post, open};
use common::{dice::Dice, edits, folder::Folder, things};
use record::document::{Kind, Stage, Thing};
use record::edit::{Edit, NewThing};
use record::store::{Shelf, Site, Store, StoreError};
use survey::{DriverLock, Locks};
use units::Length;

fn give(from: &Store, to: &mut Store) -> Site {
    let arrival = to.import(&from.export(SITE).expect("file")).expect("taken in");
    for device in arrival.unknown {
        to.know(device.device).expect("known");
    }
    to.site(SITE).expect("opened")
}

/// The values in dispute, as said, in order.
fn disputed(site: &Site, field: &str) -> Vec<String> {
    let found = site.disagreements().into_iter().find(|d| d.field == field);
    let mut said: Vec<String> = found.into_iter().flat_map(|d| d.positions).map(|p| p.said).collect();
    said.sort();
    said
}

#[test]
fn restoring_and_locking_are_taken_back_and_made_again() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut survey = one_post();
    survey.brief.rails = vec![things::wish(&mut Dice(3), "R1")];
    survey.brief.rails[0].locks = Locks { holes: vec![], drivers: vec![] };
    let mut site = store.create(&survey, 1).expect("created");
    let driver = DriverLock { place: things::id("D0"), part: None };
    let locks = Locks { holes: vec![Length::mm(500)], drivers: vec![driver] };
    let post = Thing::feature("R1", "f7");
    let edits = [
        Edit::Remove(post.clone()),
        Edit::Restore(post.clone()),
        Edit::Lock { rail: "R1".into(), locks },
        Edit::Remove(Thing::rail("R1")),
        Edit::set(post, "note", &"written while its rail was removed".to_owned()),
        Edit::Restore(Thing::rail("R1")),
    ];
    let mut states = vec![site.reading()];
    for edit in &edits {
        site.edit(&mut store, edit, 2).expect("made");
        states.push(site.reading());
    }
    assert_eq!(states[2], states[0], "restoring brings back all of it");
    for n in (0..edits.len()).rev() {
        let said = site.undo(&mut store, 3).expect("taken back");
        assert!(said.starts_with("taken back: "), "{said}");
        assert_eq!(site.reading(), states[n], "after taking back {:?}", edits[n]);
    }
    for n in 0..edits.len() {
        site.redo(&mut store, 4).expect("made again");
        assert_eq!(site.reading(), states[n + 1], "after making again {:?}", edits[n]);
    }
    // The same after closing and opening again.
    drop((site, store));
    let mut store = open(&folder, 1, 2);
    let mut site = store.site(SITE).expect("opened");
    site.undo(&mut store, 5).expect("taken back");
    assert_eq!(site.reading(), states[edits.len() - 1]);
}

#[test]
fn any_row_of_edits_is_taken_back_to_the_start_and_made_again() {
    for seed in 0..6 {
        let (folder, mut d) = (Folder::new(), Dice(seed));
        let donor = edits::donor(&mut d);
        let mut store = open(&folder, 1, 1);
        let mut site = store.create(&things::survey(&mut d), 1).expect("created");
        let mut states = vec![(site.reading(), site.stage(), site.shelf())];
        for n in 0..30 {
            let changes = site.history().len();
            match d.below(8) {
                0 => drop(site.put_stage(&mut store, d.pick(&Stage::ALL), n).expect("put")),
                1 => site.archive(&mut store, d.pick(&[Shelf::Work, Shelf::Archive]), n).expect("put"),
                2..=4 => {
                    if let Some(edit) = edits::any_field(&mut d, site.content(), &donor) {
                        site.edit(&mut store, &edit, n).expect("made");
                    }
                }
                _ => {
                    let edit = edits::edit(&mut d, site.content());
                    site.edit(&mut store, &edit, n).expect("made");
                }
            }
            if site.history().len() > changes {
                states.push((site.reading(), site.stage(), site.shelf()));
            }
        }
        for state in states.iter().rev().skip(1) {
            let said = site.undo(&mut store, 99).expect("taken back");
            let now = (site.reading(), site.stage(), site.shelf());
            assert!(now == *state, "seed {seed}: {said}");
        }
        assert!(matches!(site.undo(&mut store, 99), Err(StoreError::Nothing(_))));
        for state in &states[1..] {
            site.redo(&mut store, 99).expect("made again");
            assert!((site.reading(), site.stage(), site.shelf()) == *state, "seed {seed}");
        }
        let kept = store.dump().expect("dump");
        store.rebuild().expect("rebuilt");
        assert_eq!(store.dump().expect("dump"), kept);
    }
}

#[test]
fn taking_back_what_settled_a_dispute_opens_it_again() {
    let (a, b) = (Folder::new(), Folder::new());
    let (mut store_a, mut store_b) = (open(&a, 1, 1), open(&b, 2, 1));
    let mut site_a = store_a.create(&one_post(), 1).expect("created");
    let mut site_b = give(&store_a, &mut store_b);
    site_a.edit(&mut store_a, &move_to(4320), 2).expect("moved");
    site_b.edit(&mut store_b, &move_to(4330), 3).expect("moved");
    let mut site_b = give(&store_a, &mut store_b);
    let both = ["4,320 mm, tape, class II", "4,330 mm, tape, class II"];
    assert_eq!(disputed(&site_b, "chainage"), both);
    let shown = chainage(&site_b.reading().survey);
    let dispute = site_b.disagreements().remove(0);
    let other = dispute.positions[1].value.clone();
    site_b.settle(&mut store_b, &dispute, &other, 4).expect("settled");
    assert_eq!(disputed(&site_b, "chainage"), Vec::<String>::new());
    site_b.undo(&mut store_b, 5).expect("taken back");
    assert_eq!(disputed(&site_b, "chainage"), both);
    assert_eq!(chainage(&site_b.reading().survey), shown, "the same value is shown meanwhile as before");
    site_b.redo(&mut store_b, 6).expect("made again");
    assert_eq!(disputed(&site_b, "chainage"), Vec::<String>::new());
    // Writing over a dispute settles it as well, and is taken back in the same way.
    site_b.undo(&mut store_b, 7).expect("taken back");
    site_b.edit(&mut store_b, &move_to(4444), 8).expect("moved");
    assert_eq!(disputed(&site_b, "chainage"), Vec::<String>::new());
    site_b.undo(&mut store_b, 9).expect("taken back");
    assert_eq!(disputed(&site_b, "chainage"), both);
    // The other device sees the same, and so does a store that checks every signature anew.
    let site_a = give(&store_b, &mut store_a);
    assert_eq!(disputed(&site_a, "chainage"), both);
    assert!(site_a.set_aside().is_empty());
    assert_eq!(site_a.reading(), site_b.reading());
    let kept = store_b.dump().expect("dump");
    store_b.rebuild().expect("rebuilt");
    assert_eq!(store_b.dump().expect("dump"), kept);
    assert!(store_b.site(SITE).expect("opened").set_aside().is_empty());
    // Once the other has moved it on, there is nothing of this device's to take back.
    let mut site_a = site_a;
    site_a.edit(&mut store_a, &move_to(4500), 10).expect("moved");
    let mut site_b = give(&store_a, &mut store_b);
    site_b.redo(&mut store_b, 11).expect_err("changed since");
    assert_eq!(chainage(&site_b.reading().survey), Length::mm(4500));
}

#[test]
fn an_added_thing_of_every_kind_is_taken_back() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut site = store.create(&one_post(), 1).expect("created");
    let before = site.reading();
    let mut d = Dice(8);
    let d = &mut d;
    let all = [
        NewThing::Rail(things::rail(d, "new")),
        NewThing::Piece { rail: "R1".into(), piece: things::piece(d, "new") },
        NewThing::Feature { rail: "R1".into(), feature: things::feature(d, "new") },
        NewThing::MainsPoint(things::mains_point(d, "new")),
        NewThing::DriverPlace(things::driver_place(d, "new")),
        NewThing::Route(things::route(d, "new")),
        NewThing::Photo(things::photo(d, "new")),
        NewThing::Wish(things::wish(d, "new")),
        NewThing::Zone(things::zone(d, "new")),
    ];
    for new in all {
        let thing = new.thing();
        site.edit(&mut store, &Edit::Add(Box::new(new)), 2).expect("added");
        let with = site.reading();
        assert_ne!(with, before, "{thing}");
        site.undo(&mut store, 3).expect("taken back");
        assert_eq!(site.reading(), before, "{thing}");
        site.redo(&mut store, 4).expect("made again");
        assert_eq!(site.reading(), with, "{thing}");
        site.undo(&mut store, 5).expect("taken back");
    }
    assert!(matches!(site.edit(&mut store, &Edit::Remove(Thing::new(Kind::Site, "")), 6), Err(StoreError::Edit(_))));
    assert_eq!(device(1).id(), site.history()[0].device);
}
