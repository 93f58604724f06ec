//! `newel catalogue`: what the firm keeps, and the one in force, from which sites are planned.
//!
//! The contract is ours and has no outside source.

mod place;

use place::{Place, code, text};
use serde_json::Value;

const CATALOGUE: &str = include_str!("../../desk/tests/files/catalogue.toml");

#[test]
fn a_list_of_prices_is_looked_at_and_taken_in_and_what_is_exported_changes_nothing() {
    let place = Place::new("catalogue", "import");
    std::fs::write(place.file("spring.toml"), CATALOGUE).expect("written");
    place.done(&["catalogue", "add", &place.file("spring.toml")]);
    let prices = place.file("prices.csv");
    std::fs::write(&prices, "part;price\r\nP12;19,25\r\n").expect("written");
    let seen = place.json(&["catalogue", "import", "spring", &prices, "--preview", "--json"]);
    assert_eq!(seen["changed"][0]["fields"][0]["after"].as_str(), Some("19.25"));
    let out = |name: &str, more: &[&str]| {
        let file = place.file(name);
        place.done(&[&["catalogue", "export", "spring", &file], more].concat());
        file
    };
    let toml = |name: &str| std::fs::read_to_string(out(name, &[])).expect("text");
    assert_eq!(toml("before.toml"), CATALOGUE, "looking changes nothing, and a catalogue is written as it was kept");
    let said = place.done(&["catalogue", "import", "spring", &prices]);
    assert!(said.contains("changed: P12, price: \"18.50\" -> \"19.25\""), "{said}");
    assert_eq!(toml("after.toml"), CATALOGUE.replace("price = 18.50", "price = 19.25"));
    for list in ["luminaires", "drivers"] {
        for more in [&["--csv", list][..], &["--csv", list, "--semicolons"]] {
            let seen = place.done(&["catalogue", "import", "spring", &out("list.csv", more), "--preview"]);
            assert!(seen.starts_with("0 added, 0 changed, 1 the same already"), "{seen}");
        }
    }
    let head = std::fs::read_to_string(out("t.csv", &["--csv", "leads", "--template"])).expect("text");
    assert_eq!(head.lines().count(), 1);
    // What is refused is named, and the exit says so.
    std::fs::write(&prices, "part,price\nP12,cheap\n").expect("written");
    let refused = place.run(&["catalogue", "import", "spring", &prices]);
    assert_eq!(code(&refused), 2);
    assert!(text(&refused.stderr).contains("line 2, column 2, P12, price: cheap is no amount of money"));
    assert!(place.refused(&["catalogue", "import", "demo", &place.file("spring.toml")]).contains("make a copy of it"));
}

#[test]
fn nothing_that_is_written_stands_in_the_place_of_the_store() {
    let place = Place::new("catalogue", "outside");
    place.done(&["site", "add", &place.file("yard.json")]);
    std::fs::write(place.file("spring.toml"), CATALOGUE).expect("written");
    place.done(&["catalogue", "add", &place.file("spring.toml")]);
    let store = place.file("home/newel.sqlite");
    let before = std::fs::read(&store).expect("the store");
    for args in [
        &["catalogue", "export", "spring", &store][..],
        &["catalogue", "export", "spring", &store, "--csv", "leads", "--template"],
        &["site", "export", "yard", "--out", &store],
        &["photo", "log", "yard", "--out", &store],
        &["photo", "geojson", "yard", "--out", &store],
    ] {
        assert!(place.refused(args).contains("outside the folder in which the sites are kept"), "{args:?}");
    }
    assert_eq!(std::fs::read(&store).expect("the store"), before);
}

#[test]
fn a_catalogue_that_is_kept_already_keeps_its_name() {
    let place = Place::new("catalogue", "again");
    std::fs::write(place.file("spring.toml"), CATALOGUE).expect("written");
    place.done(&["catalogue", "add", &place.file("spring.toml")]);
    let said = place.done(&["catalogue", "add", &place.file("spring.toml"), "--name", "summer"]);
    assert_eq!(said, "catalogue summer is there already as spring\n");
    let list = place.json(&["catalogue", "list", "--json"]);
    let names: Vec<&str> =
        list["catalogues"].as_array().expect("a list").iter().flat_map(|c| c["name"].as_str()).collect();
    assert_eq!(names, ["spring"]);
}

#[test]
fn sites_are_planned_from_the_catalogue_in_force() {
    let place = Place::new("catalogue", "in_force");
    place.done(&["site", "add", &place.file("yard.json")]);
    std::fs::write(place.file("spring.toml"), CATALOGUE).expect("written");
    let show = |more: &[&str]| place.run(&[&["site", "show", "yard", "--json"], more].concat());
    let demo = show(&[]);
    assert!(text(&demo.stderr).contains("demo catalogue"));
    assert_eq!(place.done(&["catalogue", "list"]), "", "looking makes nothing");
    assert_eq!(place.done(&["catalogue", "add", &place.file("spring.toml")]), "catalogue spring added\n");
    assert!(text(&show(&[]).stderr).contains("demo catalogue"), "none is in force yet");
    assert_eq!(place.done(&["catalogue", "use", "spring"]), "catalogue spring is in force\n");
    let list = place.json(&["catalogue", "list", "--json"]);
    assert_eq!(
        (list["catalogues"][0]["name"].as_str(), list["catalogues"][0]["in_force"].as_bool()),
        (Some("spring"), Some(true))
    );
    let (in_force, named) = (show(&[]), show(&["--catalogue", &place.file("spring.toml")]));
    assert_eq!((code(&in_force), text(&in_force.stderr).as_str()), (0, ""));
    assert_eq!(text(&in_force.stdout), text(&named.stdout));
    let plan_id = |bytes: &[u8]| serde_json::from_slice::<Value>(bytes).expect("JSON")["plan_id"].clone();
    assert_ne!(plan_id(&in_force.stdout), plan_id(&demo.stdout));
    assert!(place.refused(&["catalogue", "use", "autumn"]).contains("is no catalogue of the firm; accepted: spring ("));
    std::fs::write(place.file("bad.toml"), "parts = 3").expect("written");
    assert!(place.refused(&["catalogue", "add", &place.file("bad.toml")]).contains("bad.toml"));
}
