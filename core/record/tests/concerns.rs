//! What the record has to say of a site: disputes, values that cannot be read, stages, devices that wait.

mod common;

use common::folder::Folder;
use common::post::{SITE, device, move_to, one_post, open};
use record::document::{Stage, Thing};
use record::edit::Edit;
use record::store::{Site, Store};
use survey::{Answer, Finding, Passage, Subject, Verdict};

/// Two devices, each having the site and knowing the other.
fn two(a: &Folder, b: &Folder) -> (Store, Store) {
    let (mut store_a, mut store_b) = (open(a, 1, 1), open(b, 2, 1));
    store_a.create(&one_post(), 1).expect("created");
    give(&store_a, &mut store_b);
    (store_a, store_b)
}

fn give(from: &Store, to: &mut Store) -> Site {
    let arrival = to.import(&from.export(SITE).expect("file")).expect("taken in");
    for device in arrival.unknown {
        to.know(device.device).expect("known");
    }
    to.site(SITE).expect("opened")
}

fn say(found: &[Finding]) -> Vec<(Verdict, String)> {
    found.iter().map(|f| (f.verdict, f.message.clone())).collect()
}

#[test]
fn a_disputed_safety_answer_stops_until_it_is_settled() {
    let (a, b) = (Folder::new(), Folder::new());
    let (mut store_a, mut store_b) = two(&a, &b);
    let (mut site_a, mut site_b) = (store_a.site(SITE).expect("opened"), store_b.site(SITE).expect("opened"));
    assert_eq!(say(&site_a.concerns()), []);
    site_a.edit(&mut store_a, &Edit::set(Thing::rail("R1"), "bonded", &Answer::Yes), 2).expect("set");
    site_b.edit(&mut store_b, &Edit::set(Thing::rail("R1"), "bonded", &Answer::No), 3).expect("set");
    site_a.edit(&mut store_a, &move_to(4320), 2).expect("moved");
    site_b.edit(&mut store_b, &move_to(4330), 3).expect("moved");
    let before = store_b.sites().expect("list")[0].stops;
    let mut site_b = give(&store_a, &mut store_b);
    let found = site_b.concerns();
    assert_eq!(found.len(), 2, "{found:?}");
    assert_eq!((found[0].verdict, found[1].verdict), (Verdict::Stop, Verdict::Caution));
    assert!(found[0].message.starts_with("bonded to earth of rail stair is disputed: "), "{}", found[0].message);
    assert!(found[0].message.contains("Invented Person 1 says yes"), "{}", found[0].message);
    assert!(found[0].message.contains("Invented Person 2 says no"), "{}", found[0].message);
    assert!(matches!(&found[0].subject, Subject::Rail(id) if id.as_str() == "R1"));
    assert_eq!(store_b.sites().expect("list")[0].stops, before + 1);
    // Nobody relies on either answer meanwhile.
    assert_eq!(site_b.reading().survey.expect("readable").rails[0].bonding.bonded, Answer::Unknown);
    let dispute = site_b.disagreements().into_iter().find(|d| d.field == "bonded").expect("disputed");
    let value = dispute.positions[0].value.clone();
    site_b.settle(&mut store_b, &dispute, &value, 9).expect("settled");
    assert!(site_b.concerns().iter().all(|f| f.verdict != Verdict::Stop));
    assert_eq!(store_b.sites().expect("list")[0].stops, before);
}

#[test]
fn a_thing_that_cannot_be_read_stops_the_reader() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut survey = one_post();
    survey.rails[0].features[0].bore = Passage::Unknown;
    let site = store.create(&survey, 1).expect("created");
    assert_eq!(say(&site.concerns()), []);
    // What a newer release would write: a kind of feature that this one has never heard of.
    let file = common::newer::with_unknown_kind(&store, SITE);
    drop(store);
    let other = Folder::new();
    let mut store = open(&other, 2, 1);
    let site = {
        let arrival = store.import(&file).expect("taken in");
        for device in arrival.unknown {
            store.know(device.device).expect("known");
        }
        store.site(SITE).expect("opened")
    };
    let found = site.concerns();
    let left_out = found.iter().find(|f| f.rule == "unreadable").expect("a finding");
    assert_eq!(left_out.verdict, Verdict::Stop);
    assert!(left_out.message.contains("P7") && left_out.message.contains("left out"), "{}", left_out.message);
    assert!(left_out.message.contains("hologram"), "{}", left_out.message);
    assert!(left_out.advice.contains("update Newel"));
    assert!(matches!(&left_out.subject, Subject::Feature { feature, .. } if feature.as_str() == "f7"));
    assert!(found.iter().any(|f| f.rule == "newer-document" && f.verdict == Verdict::Caution));
    assert!(store.sites().expect("list")[0].stops >= 1);
}

#[test]
fn the_stage_is_in_the_list_and_can_be_taken_back() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut site = store.create(&one_post(), 1).expect("created");
    assert_eq!((site.stage(), store.sites().expect("list")[0].stage), (Stage::Survey, Stage::Survey));
    let said = site.put_stage(&mut store, Stage::Price, 2).expect("put");
    assert_eq!(said, "stage of the site changed from not stated to price");
    assert_eq!((site.stage(), store.sites().expect("list")[0].stage), (Stage::Price, Stage::Price));
    assert_eq!(site.reading().unreadable, vec![]);
    site.undo(&mut store, 3).expect("taken back");
    assert_eq!(store.sites().expect("list")[0].stage, Stage::Survey);
}

#[test]
fn changes_of_a_stranger_wait_until_a_person_accepts_the_device() {
    let (a, b) = (Folder::new(), Folder::new());
    let (mut store_a, mut store_b) = (open(&a, 1, 1), open(&b, 2, 1));
    let mut site = store_a.create(&one_post(), 1).expect("created");
    site.edit(&mut store_a, &move_to(4325), 2).expect("moved");
    store_b.import(&store_a.export(SITE).expect("file")).expect("taken in");
    let waiting = store_b.waiting().expect("list");
    assert_eq!(waiting.len(), 1);
    assert_eq!((waiting[0].device.person.as_str(), waiting[0].device.name.as_str()), ("Invented Person 1", "tablet 1"));
    assert_eq!(waiting[0].changes.get(SITE), Some(&2));
    assert_eq!(store_b.site(SITE).expect("opened").set_aside().len(), 2);
    let stranger = store_b.know(device(9).id()).expect_err("never heard of").to_string();
    assert!(stranger.contains("was never heard of here"), "{stranger}");
    store_b.know(device(1).id()).expect("accepted");
    assert_eq!(store_b.waiting().expect("list"), []);
    assert_eq!(store_b.site(SITE).expect("opened").set_aside(), []);
}
