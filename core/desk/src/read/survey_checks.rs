//! What lies between the fields of a survey: ids, references and limits in order.

use std::collections::BTreeMap;

use super::look::{At, Look};
use super::tree::Place;

type Known<'a> = BTreeMap<&'a str, Place>;

const ONCE: &str = "each id once";

/// Checks a walked survey.
pub fn check(look: &mut Look<'_>) {
    let whole = look.whole();
    let rails = whole.items("rails");
    let rail_ids = look.unique(&rails, "id", ONCE);
    look.unique(&rails, "label", "each rail's label once, since luminaires are named after it");
    let mains = whole.items("mains_points");
    let mains_ids = look.unique(&mains, "id", ONCE);
    let places = whole.items("driver_places");
    let place_ids = look.unique(&places, "id", ONCE);
    let routes = whole.items("routes");
    let route_ids = look.unique(&routes, "id", ONCE);
    let photos = whole.items("photos");
    let photo_ids = look.unique(&photos, "id", ONCE);

    let mut features = BTreeMap::new();
    for rail in &rails {
        let found = check_rail(look, rail);
        if let Some(id) = rail.text("id") {
            features.entry(id).or_insert(found);
        }
    }
    for point in &mains {
        look.refers(point, "photo", &photo_ids, "photo");
        check_exposure(look, point);
    }
    for place in &places {
        check_exposure(look, place);
    }
    for route in &routes {
        for end in ["from", "to"] {
            let Some(end) = route.field(end) else { continue };
            match end.kind() {
                "mains_point" => look.refers(&end, "id", &mains_ids, "mains point"),
                "driver_place" => look.refers(&end, "id", &place_ids, "driver place"),
                _ => check_way_in(look, &end, &rail_ids, &features),
            }
        }
    }
    for photo in &photos {
        let Some(shows) = photo.field("shows") else { continue };
        match shows.kind() {
            "rail" => look.refers(&shows, "rail", &rail_ids, "rail"),
            "mains_point" => look.refers(&shows, "id", &mains_ids, "mains point"),
            "route" => look.refers(&shows, "id", &route_ids, "route"),
            _ => {}
        }
    }
    if let Some(site) = whole.field("site") {
        check_exposure(look, &site);
    }
    if let Some(brief) = whole.field("brief") {
        check_brief(look, &brief, &rail_ids, &place_ids);
    }
}

fn check_exposure<'a>(look: &mut Look<'a>, item: &At<'a>) {
    if let Some(exposure) = item.field("exposure") {
        look.in_order(&exposure, "least_temperature_c", "greatest_temperature_c");
    }
}

/// Checks one rail and returns its features by id, with their kinds.
fn check_rail<'a>(look: &mut Look<'a>, rail: &At<'a>) -> BTreeMap<&'a str, &'a str> {
    check_exposure(look, rail);
    let features = rail.items("features");
    let mut parts = rail.items("pieces");
    parts.extend(features.iter().cloned());
    look.unique(&parts, "id", "each id once among the pieces and features of a rail");
    let kinds: BTreeMap<&str, &str> = features.iter().filter_map(|f| Some((f.text("id")?, f.kind()))).collect();
    for feature in features.iter().filter(|f| f.kind() == "way_in") {
        refers_to_kind(look, feature, "post", &kinds, "post");
    }
    kinds
}

/// Refuses a reference to a feature that is not there or is something else.
fn refers_to_kind<'a>(look: &mut Look<'a>, item: &At<'a>, field: &str, kinds: &BTreeMap<&str, &str>, wanted: &str) {
    let (Some(text), Some(at)) = (item.text(field), item.field(field)) else { return };
    let word = wanted.replace('_', " ");
    let accepted: Vec<&str> = kinds.iter().filter(|(_, kind)| **kind == wanted).map(|(id, _)| *id).take(8).collect();
    let accepted =
        if accepted.is_empty() { format!("nothing, since the rail has no {word}") } else { accepted.join(", ") };
    match kinds.get(text) {
        Some(kind) if *kind == wanted => {}
        // A feature whose kind could not be read has a fault of its own.
        Some(&"") => {}
        Some(kind) => look.refuse(&at, &format!("is a {}, not a {word}", kind.replace('_', " ")), &accepted),
        None => look.refuse(&at, &format!("refers to no {word} of the rail"), &accepted),
    }
}

fn check_way_in<'a>(
    look: &mut Look<'a>,
    end: &At<'a>,
    rails: &Known<'a>,
    features: &BTreeMap<&'a str, BTreeMap<&'a str, &'a str>>,
) {
    look.refers(end, "rail", rails, "rail");
    if let Some(kinds) = end.text("rail").and_then(|rail| features.get(rail)) {
        refers_to_kind(look, end, "feature", kinds, "way_in");
    }
}

fn check_brief<'a>(look: &mut Look<'a>, brief: &At<'a>, rails: &Known<'a>, places: &Known<'a>) {
    let zones = brief.items("zones");
    let zone_ids = look.unique(&zones, "id", ONCE);
    for control in zones.iter().filter_map(|zone| zone.field("control")) {
        look.refers(&control, "station", places, "driver place");
    }
    let wishes = brief.items("rails");
    look.unique(&wishes, "rail", "one brief for each rail");
    for wish in &wishes {
        look.refers(wish, "rail", rails, "rail");
        look.refers(wish, "match_rail", rails, "rail");
        if let (Some(own), Some(other), Some(at)) =
            (wish.text("rail"), wish.text("match_rail"), wish.field("match_rail"))
            && own == other
        {
            look.refuse(&at, "is the rail itself", "another rail");
        }
        look.refers(wish, "zone", &zone_ids, "zone");
        look.in_order(wish, "end_margin_least_mm", "end_margin_greatest_mm");
        if let Some(locks) = wish.field("locks") {
            for lock in locks.items("drivers") {
                look.refers(&lock, "place", places, "driver place");
            }
        }
    }
}
