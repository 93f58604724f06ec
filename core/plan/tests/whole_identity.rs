//! The same inputs give the same plan, whatever order they are written in, and its identity ignores what changes nothing.

mod whole_support;

use catalogue::Catalogue;
use plan::plan;
use survey::{Photo, Shows, Survey};
use units::Length;
use whole_support::*;

/// Two rails of different length with a place each, and one place that both reach.
fn two_rails() -> Survey {
    let mut survey = ramp_survey();
    let mut second = straight_rail("bridge", "Bridge", 12_000, 1_500);
    second.features.push(way_in("in-end", 11_500));
    survey.rails.push(second);
    survey.driver_places.push(driver_place("dp2"));
    let place = |name: &str| survey::RouteEnd::DriverPlace(id(name));
    survey.routes.push(route("r-mains2", survey::RouteEnd::MainsPoint(id("mp")), place("dp2"), 7_000));
    survey.routes.push(route("r-end", place("dp2"), to_way_in("bridge", "in-end"), 3_000));
    survey.routes.push(route("r-end2", to_way_in("bridge", "in-end"), place("dp"), 8_000));
    survey.brief.rails.push(rail_brief("bridge"));
    survey.brief.rails[0].locks.holes = vec![mm(5_000), mm(2_800)];
    survey
}

fn turned_round(survey: &Survey, catalogue: &Catalogue) -> (Survey, Catalogue) {
    let (mut survey, mut catalogue) = (survey.clone(), catalogue.clone());
    survey.rails.reverse();
    for rail in &mut survey.rails {
        rail.features.reverse();
    }
    survey.routes.reverse();
    survey.mains_points.reverse();
    survey.driver_places.reverse();
    survey.brief.rails.reverse();
    for brief in &mut survey.brief.rails {
        brief.locks.holes.reverse();
    }
    catalogue.luminaires.reverse();
    catalogue.drivers.reverse();
    catalogue.leads.reverse();
    catalogue.fixings.reverse();
    (survey, catalogue)
}

#[test]
fn the_order_of_rails_features_and_parts_changes_nothing() {
    let (survey, catalogue) = (two_rails(), catalogue());
    let one = plan(&survey, &catalogue);
    let (survey, catalogue) = turned_round(&survey, &catalogue);
    let other = plan(&survey, &catalogue);
    assert_eq!(one.plan_id, other.plan_id);
    assert_eq!(one, other);
    assert_eq!(format!("{one:?}"), format!("{other:?}"));
    let ids: Vec<&str> = one.rails.iter().map(|rail| rail.id.as_str()).collect();
    assert_eq!(ids, ["bridge", "ramp"]);
}

#[test]
fn photos_and_notes_change_no_identity_and_no_figure() {
    let survey = two_rails();
    let first = plan(&survey, &catalogue());
    let mut noted = survey.clone();
    noted.photos.push(Photo {
        id: id("ph"),
        file: "a.jpg".into(),
        content: None,
        shows: Shows::General,
        taken: None,
        position: None,
        heading: None,
        camera: None,
        note: "a note".into(),
        marks: vec![],
    });
    noted.rails[0].note = "wet paint".into();
    noted.rails[0].features[0].note = "loose".into();
    noted.site.label = "Another name".into();
    noted.routes[0].note = "behind the hedge".into();
    assert_eq!(plan(&noted, &catalogue()), first);
}

#[test]
fn anything_that_could_change_a_figure_changes_the_identity() {
    let survey = two_rails();
    let first = plan(&survey, &catalogue()).plan_id;
    assert_eq!(first.len(), 64);
    assert!(first.bytes().all(|byte| byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte)));
    let mut moved = survey.clone();
    moved.rails[0].features[0].chainage.value += Length::um(1);
    assert_ne!(plan(&moved, &catalogue()).plan_id, first);
    let mut wished = survey.clone();
    wished.brief.reserve_percent += 1;
    assert_ne!(plan(&wished, &catalogue()).plan_id, first);
    let mut dearer = catalogue();
    dearer.drivers[0].item.price = price(46);
    assert_ne!(plan(&survey, &dearer).plan_id, first);
}

#[test]
fn two_rails_with_one_label_are_told_apart_by_their_ids() {
    let mut survey = two_rails();
    survey.rails[1].label = "Ramp".into();
    let plan = plan(&survey, &catalogue());
    let labels: Vec<&str> = plan.rails.iter().map(|rail| rail.label.as_str()).collect();
    assert_eq!(labels, ["Ramp (bridge)", "Ramp (ramp)"]);
    let mut names: Vec<&str> =
        plan.rails.iter().flat_map(|rail| rail.luminaires.iter().map(|found| found.id.as_str())).collect();
    let all = names.len();
    names.sort_unstable();
    names.dedup();
    assert_eq!(names.len(), all);
}
