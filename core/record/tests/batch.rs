//! Edits made together are one change: signed once, taken back at once, and either all of them or none.

mod common;

use common::post::{SITE, chainage, move_to, one_post, open};
use common::{dice::Dice, edits, folder::Folder, things};
use record::document::Thing;
use record::edit::{Edit, NewThing};
use record::store::StoreError;
use units::Length;

fn note(thing: Thing, text: &str) -> Edit {
    Edit::set(thing, "note", &text.to_owned())
}

#[test]
fn edits_made_together_are_one_change_and_one_step_back() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut site = store.create(&one_post(), 1).expect("created");
    let before = site.reading();
    let all = [move_to(4320), note(Thing::site(), "gate code at the lodge"), move_to(4350)];
    let said = site.edit_all(&mut store, &all, 2).expect("made");
    assert_eq!(
        said,
        "post P7 moved from 4,310 to 4,320 mm; note of the site changed from “two\nlines” to “gate code at the lodge”; \
         post P7 moved from 4,320 to 4,350 mm"
    );
    assert_eq!(site.history().len(), 2, "the site, and one change");
    assert_eq!(chainage(&site.reading().survey), Length::mm(4350));
    let with = site.reading();
    // The same after closing and opening again, as the chunk was signed and kept once.
    drop((site, store));
    let mut store = open(&folder, 1, 2);
    let mut site = store.site(SITE).expect("opened");
    assert_eq!((site.reading(), site.set_aside().len()), (with.clone(), 0));
    site.undo(&mut store, 3).expect("taken back");
    assert_eq!(site.reading(), before);
    assert!(matches!(site.undo(&mut store, 3), Err(StoreError::Nothing(_))));
    site.redo(&mut store, 4).expect("made again");
    assert_eq!(site.reading(), with);
    let kept = store.dump().expect("dump");
    store.rebuild().expect("rebuilt");
    assert_eq!(store.dump().expect("dump"), kept);
}

#[test]
fn an_edit_may_build_on_what_an_earlier_one_of_them_added() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut site = store.create(&one_post(), 1).expect("created");
    let before = site.reading();
    let d = &mut Dice(5);
    let rail = things::rail(d, "new");
    let posts = ["a", "b", "c"].map(|id| things::feature(d, id));
    let mut all = vec![Edit::Add(Box::new(NewThing::Rail(rail)))];
    all.extend(posts.clone().map(|feature| Edit::Add(Box::new(NewThing::Feature { rail: "new".into(), feature }))));
    all.push(note(Thing::feature("new", "b"), "leans"));
    site.edit_all(&mut store, &all, 2).expect("made");
    let survey = site.reading().survey.expect("a survey");
    let made = survey.rails.iter().find(|rail| rail.id.as_str() == "new").expect("the rail");
    for post in &posts {
        assert!(made.features.iter().any(|feature| feature.id == post.id), "{}", post.id);
    }
    assert!(made.features.iter().any(|feature| feature.id.as_str() == "b" && feature.note == "leans"));
    site.undo(&mut store, 3).expect("taken back");
    assert_eq!(site.reading(), before);
}

#[test]
fn where_one_does_not_fit_none_is_made() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut site = store.create(&one_post(), 1).expect("created");
    let before = (site.reading(), site.history());
    let all = [move_to(4320), note(Thing::feature("R1", "nowhere"), "x")];
    assert!(matches!(site.edit_all(&mut store, &all, 2), Err(StoreError::Edit(_))));
    assert_eq!((site.reading(), site.history()), before);
    // What stands there already is no change, and no edits are none either.
    let said = site.edit_all(&mut store, &[move_to(4310), move_to(4310)], 2).expect("nothing to do");
    assert!(said.starts_with("nothing to change"), "{said}");
    assert!(site.edit_all(&mut store, &[], 2).expect("nothing to do").starts_with("nothing to change"));
    assert_eq!((site.reading(), site.history()), before);
    // The site goes on as before.
    site.edit(&mut store, &move_to(4330), 3).expect("made");
    assert_eq!(chainage(&site.reading().survey), Length::mm(4330));
}

#[test]
fn a_rehearsal_says_what_would_be_and_leaves_nothing() {
    for seed in 0..8 {
        let (folder, mut d) = (Folder::new(), Dice(seed));
        let mut store = open(&folder, 1, 1);
        let mut site = store.create(&things::survey(&mut d), 1).expect("created");
        for n in 0..6 {
            let batch: Vec<Edit> = (0..4).map(|_| edits::edit(&mut d, site.content())).collect();
            let before = (site.reading(), site.history(), store.dump().expect("dump"));
            let rehearsed = site.rehearse(&store, &batch);
            assert!((site.reading(), site.history(), store.dump().expect("dump")) == before, "seed {seed}");
            match (rehearsed, site.edit_all(&mut store, &batch, n)) {
                (Ok(rehearsed), Ok(_)) => assert!(rehearsed == site.reading(), "seed {seed}: {batch:?}"),
                // Two of them may add the same thing; then both refuse.
                (Err(_), Err(_)) => {}
                (rehearsed, made) => panic!("seed {seed}: {} against {made:?}", rehearsed.is_ok()),
            }
        }
    }
}

#[test]
fn like_additions_are_counted_and_long_lists_are_cut() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut site = store.create(&one_post(), 1).expect("created");
    let post = &one_post().rails[0].features[0];
    let mut all: Vec<Edit> = Vec::new();
    for n in 0..12_i64 {
        let mut feature = post.clone();
        (feature.id, feature.label) = (things::id(&format!("p{n}")), String::new());
        feature.chainage.value = Length::mm(5000 + 1100 * n);
        all.push(Edit::Add(Box::new(NewThing::Feature { rail: "R1".into(), feature })));
    }
    let said = site.edit_all(&mut store, &all, 2).expect("made");
    assert!(said.starts_with("12 × post added to rail "), "{said}");
    let notes: Vec<Edit> = (0..12).map(|n| note(Thing::feature("R1", &format!("p{n}")), "leans")).collect();
    let said = site.edit_all(&mut store, &notes, 3).expect("made");
    assert!(said.ends_with("; and 10 changes more"), "{said}");
}

#[test]
fn where_a_program_made_the_id_the_place_tells_which_is_meant() {
    let folder = Folder::new();
    let mut store = open(&folder, 1, 1);
    let mut site = store.create(&one_post(), 1).expect("created");
    let mut feature = one_post().rails[0].features[0].clone();
    feature.label = String::new();
    feature.id = things::id("01920000-0000-7000-8000-00000000abcd");
    feature.chainage.value = Length::mm(1250);
    let add = Edit::Add(Box::new(NewThing::Feature { rail: "R1".into(), feature: feature.clone() }));
    let said = site.edit(&mut store, &add, 2).expect("added");
    assert!(said.starts_with("post at 1,250 mm added to rail "), "{said}");
    let said = site.edit(&mut store, &Edit::Remove(Thing::feature("R1", feature.id.as_str())), 3).expect("removed");
    assert_eq!(said, "post at 1,250 mm removed");
}
