//! Whose changes count, judged twice: by this crate as it loads a site, and by the exchange's own rule over all changes at
//! once, on entangled histories of several devices and any team.

mod common;

use std::collections::{BTreeMap, BTreeSet};

use automerge::Change;
use common::dice::Dice;
use common::folder::Folder;
use common::post::{SITE, device, one_post};
use exchange::DeviceId as Id;
use exchange::members::{Item, Member, Newcomer, Removed, Team, Verdict, verdicts};
use record::document::Thing;
use record::edit::Edit;
use record::sign::DeviceId;
use record::store::{Cause, FeedItem, Standing, Store};
use rusqlite::{Connection, params};
use sha2::{Digest, Sha256};

const DEVICES: u8 = 5;

/// A store in which every device's work has come together, each having seen some of the others' before.
fn entangled(d: &mut Dice) -> (Vec<Folder>, Store) {
    let folders: Vec<Folder> = (0..=DEVICES).map(|_| Folder::new()).collect();
    let mut stores: Vec<Store> = (0..=DEVICES)
        .map(|n| Store::open(&folders[usize::from(n)].0, device(n + 1), d.bytes()).expect("a store"))
        .collect();
    stores[0].create(&one_post(), 0).expect("created");
    let first = stores[0].export(SITE).expect("a file");
    for store in &mut stores[1..] {
        take(store, &first);
    }
    for time in 0..30 {
        let n = d.below(usize::from(DEVICES));
        let field = d.pick(&["note", "address", "label"]);
        let mut site = stores[n].site(SITE).expect("opened");
        let words = format!("{time} by {n}");
        site.edit(&mut stores[n], &Edit::set(Thing::site(), field, &words), time).expect("made");
        if d.one_in(2) {
            let file = stores[n].export(SITE).expect("a file");
            let other = d.below(usize::from(DEVICES));
            take(&mut stores[other], &file);
        }
    }
    let mut looker = stores.pop().expect("one that only looks");
    for store in &stores {
        take(&mut looker, &store.export(SITE).expect("a file"));
    }
    (folders, looker)
}

fn take(store: &mut Store, file: &[u8]) {
    for unknown in store.import(file).expect("taken in").unknown {
        store.know(unknown.device).expect("known");
    }
}

/// The changes as the exchange sees them, read from what the store would give to others.
fn items(store: &mut Store) -> Vec<Item> {
    let mut items = Vec::new();
    for item in store.offer(0, usize::MAX).expect("offered") {
        let FeedItem::Data(bytes) = item else { continue };
        if bytes[0] != b'C' {
            continue;
        }
        let (mut parts, mut left) = (Vec::new(), &bytes[1..]);
        while !left.is_empty() {
            let length = u32::from_be_bytes(left[..4].try_into().expect("a length")) as usize;
            parts.push(&left[4..4 + length]);
            left = &left[4 + length..];
        }
        let change = Change::from_bytes(parts[6].to_vec()).expect("a change");
        items.push(Item {
            name: parts[1].try_into().expect("a hash"),
            author: Id(parts[2].try_into().expect("a device")),
            needs: change.deps().iter().map(|dep| dep.0).collect(),
        });
    }
    items
}

/// Any team: members, leavers with any changes accepted, devices that were never let in with any accepted likewise, and
/// devices of which it knows nothing.
fn any_team(d: &mut Dice, items: &[Item], own: DeviceId) -> (Team, Standing) {
    let (mut team, mut standing) = (Team::default(), Standing::default());
    let authors: BTreeSet<Id> = items.iter().map(|item| item.author).collect();
    standing.members.insert(own);
    for author in authors {
        let newcomer = Newcomer { device: author, receives: [0; 32], label: Vec::new() };
        let id = DeviceId(author.0);
        match d.below(5) {
            0 | 1 => {
                standing.members.insert(id);
                team.members.insert(author, Member { newcomer, by: author });
            }
            2 | 3 => {
                let its = items.iter().filter(|item| item.author == author && d.one_in(3)).map(|item| item.name);
                let accepted: BTreeSet<[u8; 32]> = its.collect();
                let newcomer = Some(newcomer).filter(|_| !d.one_in(3));
                if newcomer.is_some() {
                    standing.leavers.insert(id);
                }
                standing.accepted.insert(id, accepted.clone());
                team.removed.insert(author, Removed { newcomer, head: 0, accepted });
            }
            _ => {}
        }
    }
    (team, standing)
}

#[test]
fn a_site_loads_what_the_exchanges_rule_lets_count_and_says_the_same_of_the_rest() {
    let mut d = Dice(0x57A2D);
    let (mut counted, mut waiting, mut refused) = (0, 0, 0);
    for _ in 0..6 {
        let (_folders, mut store) = entangled(&mut d);
        let items = items(&mut store);
        assert_eq!(items.len(), 31, "one that creates the site and thirty edits");
        let own = device(DEVICES + 1).id();
        for _ in 0..20 {
            let (team, standing) = any_team(&mut d, &items, own);
            store.set_standing(&standing).expect("decided");
            let expected = verdicts(&items, &team);
            let site = store.site(SITE).expect("opened");
            let here: BTreeSet<[u8; 32]> = site.history().into_iter().map(|entry| entry.change.0).collect();
            let counts: BTreeSet<[u8; 32]> =
                expected.iter().filter(|(_, verdict)| **verdict == Verdict::Counts).map(|(name, _)| *name).collect();
            assert_eq!(here, counts);
            let mut causes: BTreeMap<Verdict, usize> = BTreeMap::new();
            for aside in site.set_aside() {
                let verdict = match aside.cause {
                    Cause::Unknown(device) => Verdict::Unknown(Id(device.0)),
                    Cause::Refused(device) => Verdict::Refused(Id(device.0)),
                    Cause::Missing => Verdict::Missing,
                    Cause::Damaged => panic!("nothing is damaged: {}", aside.why),
                };
                *causes.entry(verdict).or_default() += 1;
            }
            let mut rest: BTreeMap<Verdict, usize> = BTreeMap::new();
            for verdict in expected.into_values().filter(|verdict| *verdict != Verdict::Counts) {
                *rest.entry(verdict).or_default() += 1;
            }
            assert_eq!(causes, rest);
            counted += counts.len();
            waiting += rest.iter().filter(|(v, _)| matches!(v, Verdict::Unknown(_))).map(|(_, n)| n).sum::<usize>();
            refused += rest.iter().filter(|(v, _)| matches!(v, Verdict::Refused(_))).map(|(_, n)| n).sum::<usize>();
        }
    }
    assert!(counted > 200 && waiting > 200 && refused > 200, "{counted} count, {waiting} wait, {refused} are refused");
}

#[test]
fn what_was_altered_never_stands_in_the_way_of_what_is_true() {
    let (from, to) = (Folder::new(), Folder::new());
    let mut giver = Store::open(&from.0, device(1), [1; 16]).expect("a store");
    giver.create(&one_post(), 0).expect("created");
    let given = giver.offer(0, usize::MAX).expect("offered");
    let forged: Vec<FeedItem> = given
        .iter()
        .map(|item| match item {
            FeedItem::Data(bytes) if matches!(bytes[0], b'A' | b'C') => {
                let mut bytes = bytes.clone();
                let last = bytes.len() - 1;
                bytes[last] ^= 1;
                FeedItem::Data(bytes)
            }
            other => other.clone(),
        })
        .chain([FeedItem::Data(b"Zof a newer release".to_vec()), FeedItem::Data(vec![b'C', 0, 0])])
        .collect();
    let mut taker = Store::open(&to.0, device(2), [2; 16]).expect("a store");
    let own = device(1).id();
    taker.take(own, 0, &forged).expect("taken in");
    taker.catch_up().expect("lists");
    assert_eq!(taker.sites().expect("a list"), []);
    assert_eq!(taker.strange_items().expect("a list").iter().map(|(_, n)| n).sum::<u64>(), 4);
    assert_eq!(taker.feed(own, 0, 99).expect("a feed"), forged, "it is passed on as it came");
    // The true ones take their places.
    taker.take(own, 0, &given).expect("taken in");
    taker.know(own).expect("known");
    taker.catch_up().expect("lists");
    assert_eq!(taker.dump().expect("a dump"), giver.dump().expect("a dump"));
    assert_eq!(taker.feed(own, 0, given.len() as u64).expect("a feed"), given);
    // What lost its place lies in no feed any more and is to be offered; what stands behind keeps its own.
    let offered = taker.offer(0, usize::MAX).expect("offered");
    let (lost, behind) = forged.split_at(given.len());
    assert!(lost.iter().all(|item| given.contains(item) || offered.contains(item)));
    assert!(!behind.iter().any(|item| offered.contains(item)));
    taker.release(own, 0).expect("released");
    let offered = taker.offer(0, usize::MAX).expect("offered");
    assert!(given.iter().chain(&forged).all(|item| offered.contains(item)));
}

/// As a release that knew no kind of row would have kept them: each item of the giver under a kind that nobody knows.
fn of_an_older_release(given: &[FeedItem], home: &Folder) -> Store {
    let open = || Store::open(&home.0, device(2), [2; 16]).expect("a store");
    let hash = |bytes: &[u8]| Sha256::digest(bytes).to_vec();
    let unknown = |item: &FeedItem| {
        let FeedItem::Data(bytes) = item else { return item.clone() };
        FeedItem::Data([b"Z", &bytes[1..]].concat())
    };
    let (mut store, hidden) = (open(), given.iter().map(unknown).collect::<Vec<_>>());
    store.take(device(1).id(), 0, &hidden).expect("taken in");
    drop(store);
    let db = Connection::open(home.0.join("newel.sqlite")).expect("a database");
    for (item, hidden) in given.iter().zip(&hidden) {
        let (FeedItem::Data(bytes), FeedItem::Data(hidden)) = (item, hidden) else { continue };
        let (was, is) = (hash(hidden), hash(bytes));
        db.execute("UPDATE strange SET hash = ?2, bytes = ?3 WHERE hash = ?1", params![was, is, bytes]).expect("set");
        db.execute("UPDATE items SET a = ?2 WHERE kind = '?' AND a = ?1", params![was, is]).expect("set");
    }
    drop(db);
    open()
}

#[test]
fn what_an_older_release_could_not_use_is_looked_at_again_by_a_newer_one() {
    let (from, to) = (Folder::new(), Folder::new());
    let mut giver = Store::open(&from.0, device(1), [1; 16]).expect("a store");
    giver.create(&one_post(), 0).expect("created");
    let mut given = giver.offer(0, usize::MAX).expect("offered");
    let known = given.iter().filter(|item| matches!(item, FeedItem::Data(_))).count();
    // Something that this release does not know either.
    let newer = FeedItem::Data(b"Z\0\0\0\x02of".to_vec());
    given.push(newer);
    let mut taker = of_an_older_release(&given[..given.len() - 1], &to);
    let own = device(1).id();
    taker.take(own, given.len() as u64 - 1, &given[given.len() - 1..]).expect("taken in");
    taker.know(own).expect_err("nothing of it was understood");
    let strange =
        |store: &Store| store.strange_items().expect("a list").iter().map(|(_, n)| *n as usize).sum::<usize>();
    let untold = taker.untold(0).expect("a count");
    assert_eq!((strange(&taker), taker.look_again("2.0").expect("looked")), (known + 1, known as u64));
    taker.know(own).expect("known");
    taker.catch_up().expect("lists");
    assert_eq!(taker.dump().expect("a dump"), giver.dump().expect("a dump"));
    assert_eq!(taker.strange_items().expect("a list"), [("a newer release wrote it; update Newel".to_owned(), 1)]);
    assert_eq!(taker.feed(own, 0, 99).expect("a feed"), given, "it is passed on as it came");
    assert_eq!(taker.untold(0).expect("a count"), untold, "all of it stands in a feed, as before");
    // Once for each release.
    assert_eq!(taker.look_again("2.0").expect("looked"), 0);
    assert_eq!(taker.look_again("3.0").expect("looked"), 0, "nothing of it is known now either");
    assert_eq!(strange(&taker), 1);
}
