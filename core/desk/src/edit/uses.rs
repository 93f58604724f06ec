//! Who refers to a thing: what is referred to is not removed, so that no reference comes to lead nowhere.

use survey::{FeatureKind, Id, RouteEnd, Shows, Survey};

use super::ThingName;

/// The users of a thing, in words.
pub fn users(survey: &Survey, thing: &ThingName) -> Vec<String> {
    let mut users = Vec::new();
    let mut add = |is_user: bool, kind: &str, id: &Id| {
        if is_user {
            users.push(format!("{kind} {id}"));
        }
    };
    for rail in &survey.rails {
        for feature in &rail.features {
            let leads_through =
                |post: &Id| matches!(&feature.kind, FeatureKind::WayIn { post: Some(p), .. } if p == post);
            let used = matches!(thing, ThingName::Feature { rail: of, id } if of.0 == rail.id && leads_through(&id.0));
            add(used, "way in", &feature.id);
        }
    }
    for point in &survey.mains_points {
        add(matches!(thing, ThingName::Photo { id } if point.photo.as_ref() == Some(&id.0)), "mains point", &point.id);
    }
    for route in &survey.routes {
        add([&route.from, &route.to].into_iter().any(|end| ends_at(end, thing)), "route", &route.id);
    }
    for photo in &survey.photos {
        let used = match (&photo.shows, thing) {
            (Shows::Rail { rail, .. }, ThingName::Rail { rail: of }) => *rail == of.0,
            (Shows::MainsPoint(point), ThingName::MainsPoint { id }) => *point == id.0,
            (Shows::Route(route), ThingName::Route { id }) => *route == id.0,
            _ => false,
        };
        add(used, "photo", &photo.id);
    }
    for wish in &survey.brief.rails {
        let used = match thing {
            ThingName::Rail { rail } => wish.rail == rail.0 || wish.match_rail.as_ref() == Some(&rail.0),
            ThingName::Zone { id } => wish.zone.as_ref() == Some(&id.0),
            ThingName::DriverPlace { id } => wish.locks.drivers.iter().any(|lock| lock.place == id.0),
            _ => false,
        };
        add(used, "the brief for rail", &wish.rail);
    }
    users
}

fn ends_at(end: &RouteEnd, thing: &ThingName) -> bool {
    match (end, thing) {
        (RouteEnd::MainsPoint(point), ThingName::MainsPoint { id }) => *point == id.0,
        (RouteEnd::DriverPlace(place), ThingName::DriverPlace { id }) => *place == id.0,
        (RouteEnd::WayIn { rail, .. }, ThingName::Rail { rail: of }) => *rail == of.0,
        (RouteEnd::WayIn { rail, feature }, ThingName::Feature { rail: of, id }) => *rail == of.0 && *feature == id.0,
        _ => false,
    }
}
