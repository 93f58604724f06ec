//! `newel catalogue`: what the firm keeps, and the one in force, from which sites are planned.
//!
//! The contract is ours and has no outside source.

mod place;

use place::{Place, code, text};
use serde_json::Value;

const CATALOGUE: &str = include_str!("../../desk/tests/files/catalogue.toml");

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
