//! Simulated devices edit one site at once and merge in any order: all equal, nothing lost.

mod common;

use automerge::ScalarValue;
use common::{dice::Dice, edits, folder::Folder, things};
use proptest::prelude::*;
use record::document::{Content, REMOVED, Thing};
use record::edit::{Edit, puts};
use record::sign::Device;
use record::store::{Site, Store};

const SITE: &str = "invented-site";

/// Every value of every field, without the operations behind them, which differ in nothing that people see.
fn values(content: &Content) -> Vec<(Thing, String, Vec<String>)> {
    let mut all = Vec::new();
    for (thing, fields) in &content.things {
        for (name, cell) in &fields.cells {
            let mut said: Vec<String> = cell.distinct().iter().map(|w| w.value.to_string()).collect();
            // The winner stays first; the others are a set.
            said[1..].sort();
            all.push((thing.clone(), name.clone(), said));
        }
    }
    all
}

struct Party {
    store: Store,
    site: Site,
    /// What this device wrote last into each field, and after which exchange.
    written: Vec<(Thing, String, ScalarValue)>,
    _folder: Folder,
}

fn parties(d: &mut Dice, count: u8) -> Vec<Party> {
    let mut all: Vec<Party> = Vec::new();
    for n in 0..count {
        let folder = Folder::new();
        let device = Device::new(&format!("Invented Person {n}"), "tablet", [n + 1; 32]);
        let mut store = Store::open(&folder.0, device, d.bytes()).expect("a store");
        let site = if let Some(first) = all.first() {
            store.import(&first.store.export(SITE).expect("file")).expect("taken in");
            store.know(Device::new("", "", [1; 32]).id()).expect("known");
            store.site(SITE).expect("opened")
        } else {
            store.create(&things::survey(d), 0).expect("created")
        };
        all.push(Party { store, site, written: Vec::new(), _folder: folder });
    }
    all
}

/// Whether a field held a value already: writing it once more is no change.
fn is_so(before: &Content, put: &record::edit::Put) -> bool {
    match before.things[&put.thing].cells.get(&put.field) {
        Some(cell) => *cell.value() == put.value,
        None => put.field == REMOVED && put.value == ScalarValue::Boolean(false),
    }
}

fn exchange(all: &mut [Party], from: usize, to: usize) {
    let file = all[from].store.export(SITE).expect("file");
    let arrival = all[to].store.import(&file).expect("taken in");
    for device in arrival.unknown {
        all[to].store.know(device.device).expect("known");
    }
    all[to].site = all[to].store.site(SITE).expect("opened");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, max_shrink_iters: 0, ..ProptestConfig::with_cases(8) })]

    #[test]
    fn devices_that_merge_in_any_order_agree_and_lose_nothing(seed in any::<u64>()) {
        let mut d = Dice(seed);
        let mut all = parties(&mut d, 3);
        for n in 0..10 {
            for party in &mut all {
                let edit = edits::edit(&mut d, party.site.content());
                let writes = puts(party.site.content(), &edit).expect("fits");
                let before = party.site.content().clone();
                party.site.edit(&mut party.store, &edit, n).expect("made");
                for put in writes.into_iter().filter(|put| !is_so(&before, put)) {
                    party.written.retain(|(thing, field, _)| (thing, field) != (&put.thing, &put.field));
                    party.written.push((put.thing, put.field, put.value));
                }
                if let Edit::Add(new) = &edit {
                    // A thing that was added is there with all its fields.
                    for (name, cell) in &party.site.content().things[&new.thing()].cells {
                        party.written.retain(|(thing, field, _)| (thing, field) != (&new.thing(), name));
                        party.written.push((new.thing(), name.clone(), cell.value().clone()));
                    }
                }
            }
        }
        // Merge in a random order; then every way round once more, so that everybody has everything.
        for _ in 0..3 {
            let (from, to) = (d.below(3), d.below(3));
            exchange(&mut all, from, to);
        }
        for (from, to) in [(0, 1), (1, 2), (2, 0), (2, 1)] {
            exchange(&mut all, from, to);
        }
        let first = values(all[0].site.content());
        for party in &all {
            prop_assert_eq!(&values(party.site.content()), &first);
            prop_assert_eq!(party.site.reading(), all[0].site.reading());
            prop_assert_eq!(party.site.disagreements().len(), all[0].site.disagreements().len());
            prop_assert!(party.site.set_aside().is_empty());
        }
        // Nobody had seen a colleague's edits while making their own: every last write is a value of its field.
        for (thing, field, value) in all.iter().flat_map(|party| &party.written) {
            let found = first.iter().find(|(t, f, _)| (t, f) == (thing, field));
            let said = found.map(|(_, _, said)| said.clone()).unwrap_or_default();
            prop_assert!(said.contains(&value.to_string()), "{} {} {:?} is in {:?}", thing, field, value, said);
        }
        // Restoring everything brings back what was written under removed things.
        let mut party = all.remove(0);
        let removed: Vec<Thing> = party.site.content().things.iter().filter(|(_, f)| f.is_removed()).map(|(t, _)| t.clone()).collect();
        for thing in removed {
            party.site.edit(&mut party.store, &Edit::Restore(thing), 99).expect("restored");
        }
        let content = party.site.content();
        prop_assert!(content.things.keys().all(|thing| content.is_visible(thing)));
        let after = values(content);
        for (thing, field, said) in first.iter().filter(|(_, field, _)| field != REMOVED) {
            prop_assert!(after.iter().any(|(t, f, s)| (t, f, s) == (thing, field, said)));
        }
        let reading = party.site.reading();
        prop_assert_eq!(&reading.unreadable, &vec![]);
        let rails = content.things.keys().filter(|t| t.kind == record::document::Kind::Rail).count();
        prop_assert_eq!(reading.survey.map(|s| s.rails.len()), Some(rails));
    }
}
