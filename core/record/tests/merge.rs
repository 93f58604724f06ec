//! Simulated devices edit one site at once and merge in any order: all equal, nothing lost.
//!
//! What must be there is worked out apart from the record, by the rule for a value that several may write (Shapiro and
//! others, "A comprehensive study of convergent and commutative replicated data types", 2011, multi-value register): a
//! write is replaced only by a write of somebody who had seen it.

mod common;

use std::collections::{BTreeMap, BTreeSet};

use common::{dice::Dice, edits, folder::Folder, things};
use proptest::prelude::*;
use record::document::{Content, Kind, REMOVED, Stage, Thing};
use record::edit::Edit;
use record::sign::Device;
use record::store::{Shelf, Site, Store};

const SITE: &str = "invented-site";
const DEVICES: usize = 3;

type Field = (Thing, String);

/// Every value of every field, without the operations behind them, which differ in nothing that people see.
fn values(content: &Content) -> BTreeMap<Field, BTreeSet<String>> {
    let mut all = BTreeMap::new();
    for (thing, fields) in &content.things {
        for (name, cell) in &fields.cells {
            let said = cell.0.iter().map(|w| w.value.to_string()).collect();
            all.insert((thing.clone(), name.clone()), said);
        }
    }
    all
}

/// A write that was acknowledged.
struct Write {
    values: BTreeSet<String>,
    replaced: bool,
}

/// Every write to every field, by a running number.
#[derive(Default)]
struct Oracle {
    writes: BTreeMap<Field, BTreeMap<usize, Write>>,
    count: usize,
}

impl Oracle {
    /// Notes what a device wrote, which had seen these writes; gives the numbers of the new ones.
    fn note(&mut self, before: &Content, after: &Content, seen: &mut BTreeSet<usize>) {
        for (thing, fields) in &after.things {
            for (name, cell) in &fields.cells {
                let old = before.things.get(thing).and_then(|fields| fields.cells.get(name));
                if old == Some(cell) {
                    continue;
                }
                let writes = self.writes.entry((thing.clone(), name.clone())).or_default();
                writes.iter_mut().filter(|(number, _)| seen.contains(number)).for_each(|(_, w)| w.replaced = true);
                self.count += 1;
                let values = cell.0.iter().map(|w| w.value.to_string()).collect();
                writes.insert(self.count, Write { values, replaced: false });
                seen.insert(self.count);
            }
        }
    }

    fn values(&self) -> BTreeMap<Field, BTreeSet<String>> {
        let alive = |writes: &BTreeMap<usize, Write>| {
            writes.values().filter(|w| !w.replaced).flat_map(|w| w.values.iter().cloned()).collect()
        };
        self.writes.iter().map(|(field, writes)| (field.clone(), alive(writes))).collect()
    }
}

struct Party {
    store: Store,
    site: Site,
    seen: BTreeSet<usize>,
    _folder: Folder,
}

fn parties(d: &mut Dice, oracle: &mut Oracle) -> Vec<Party> {
    let mut all: Vec<Party> = Vec::new();
    for n in 0..DEVICES {
        let folder = Folder::new();
        let secret = u8::try_from(n + 1).expect("few");
        let device = Device::new(&format!("Invented Person {n}"), "tablet", [secret; 32]);
        let mut store = Store::open(&folder.0, device, d.bytes()).expect("a store");
        let mut seen = BTreeSet::new();
        let site = if let Some(first) = all.first() {
            seen.clone_from(&first.seen);
            store.import(&first.store.export(SITE).expect("file")).expect("taken in");
            store.know(Device::new("", "", [1; 32]).id()).expect("known");
            store.site(SITE).expect("opened")
        } else {
            let site = store.create(&things::survey(d), 0).expect("created");
            oracle.note(&Content::default(), site.content(), &mut seen);
            site
        };
        all.push(Party { store, site, seen, _folder: folder });
    }
    all
}

fn exchange(all: &mut [Party], from: usize, to: usize) {
    let file = all[from].store.export(SITE).expect("file");
    let arrival = all[to].store.import(&file).expect("taken in");
    for device in arrival.unknown {
        all[to].store.know(device.device).expect("known");
    }
    all[to].site = all[to].store.site(SITE).expect("opened");
    let seen = all[from].seen.clone();
    all[to].seen.extend(seen);
}

impl Party {
    /// Does anything that a person can do to a site.
    fn act(&mut self, d: &mut Dice, donor: &Content, time_ms: i64) {
        let Self { store, site, .. } = self;
        match d.below(12) {
            // There may be nothing to take back or to make again, or somebody changed it since.
            0 => drop(site.undo(store, time_ms)),
            1 => drop(site.redo(store, time_ms)),
            2 => {
                let disputes = site.disagreements();
                if !disputes.is_empty() {
                    let dispute = d.pick(&disputes);
                    let value = d.pick(&dispute.positions).value;
                    site.settle(store, &dispute, &value, time_ms).expect("settled");
                }
            }
            3 => drop(site.put_stage(store, d.pick(&Stage::ALL), time_ms).expect("put")),
            4 => site.archive(store, d.pick(&[Shelf::Work, Shelf::Archive]), time_ms).expect("put"),
            5..=7 => {
                if let Some(edit) = edits::any_field(d, site.content(), donor) {
                    site.edit(store, &edit, time_ms).expect("made");
                }
            }
            _ => {
                let edit = edits::edit(d, site.content());
                site.edit(store, &edit, time_ms).expect("made");
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, max_shrink_iters: 0, ..ProptestConfig::with_cases(10) })]

    #[test]
    fn devices_that_merge_in_any_order_agree_and_lose_nothing(seed in any::<u64>()) {
        let mut d = Dice(seed);
        let mut oracle = Oracle::default();
        let donor = edits::donor(&mut d);
        let mut all = parties(&mut d, &mut oracle);
        for n in 0..40 {
            if d.one_in(10) {
                let (from, to) = (d.below(DEVICES), d.below(DEVICES));
                exchange(&mut all, from, to);
            }
            let party = d.below(DEVICES);
            let party = &mut all[party];
            let before = party.site.content().clone();
            party.act(&mut d, &donor, n);
            oracle.note(&before, party.site.content(), &mut party.seen);
        }
        // Merge in a random order; then every way round once more, so that everybody has everything.
        for _ in 0..3 {
            let (from, to) = (d.below(DEVICES), d.below(DEVICES));
            exchange(&mut all, from, to);
        }
        for (from, to) in [(0, 1), (1, 2), (2, 0), (2, 1)] {
            exchange(&mut all, from, to);
        }
        // No acknowledged write is absent: it is the value, or one of those in dispute, unless somebody who had seen it
        // wrote another.
        let expected = oracle.values();
        for party in &mut all {
            let found = values(party.site.content());
            for (field, values) in &expected {
                prop_assert_eq!(found.get(field), Some(values), "{:?}", field);
            }
            prop_assert_eq!(found.len(), expected.len());
            prop_assert!(party.site.set_aside().is_empty());
        }
        for party in &all {
            prop_assert_eq!(party.site.reading(), all[0].site.reading());
            prop_assert_eq!(party.site.stage(), all[0].site.stage());
            prop_assert_eq!(party.site.concerns(), all[0].site.concerns());
            prop_assert_eq!(party.store.dump().expect("dump"), all[0].store.dump().expect("dump"));
            let disputes = expected.values().filter(|values| values.len() > 1).count();
            prop_assert_eq!(party.site.disagreements().len(), disputes);
        }
        // Restoring everything brings back what was written under removed things.
        let mut party = all.remove(0);
        let removed = |(thing, fields): (&Thing, &record::document::Fields)| {
            (fields.is_removed() && !thing.kind.is_single()).then(|| thing.clone())
        };
        let removed: Vec<Thing> = party.site.content().things.iter().filter_map(removed).collect();
        for thing in removed {
            party.site.edit(&mut party.store, &Edit::Restore(thing), 99).expect("restored");
        }
        let content = party.site.content();
        prop_assert!(content.things.keys().all(|thing| thing.kind.is_single() || content.is_visible(thing)));
        let after = values(content);
        for (field, values) in expected.iter().filter(|((_, name), _)| name != REMOVED) {
            prop_assert_eq!(after.get(field), Some(values), "{:?} after restoring", field);
        }
        let reading = party.site.reading();
        prop_assert_eq!(&reading.unreadable, &vec![]);
        let rails = content.things.keys().filter(|t| t.kind == Kind::Rail).count();
        prop_assert_eq!(reading.survey.map(|s| s.rails.len()), Some(rails));
    }
}
