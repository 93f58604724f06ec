//! Where a cable passes along a rail's bore, and what nobody has proved yet.

use survey::{Feature, FeatureKind, Passage, Piece, PostKind, Rail, RouteKind, Survey};
use units::Length;

use super::canonical::{Inputs, by_id};
use super::say::at;
use super::stretches::on_rail;
use crate::feeds::Blocked;

/// Stretches of the bore that no cable passes, by chainage: features and bends known to be shut.
pub(crate) fn blocked(rail: &Rail) -> Vec<Blocked> {
    let length = rail.length();
    let mut found: Vec<Blocked> = rail
        .features
        .iter()
        .filter(|feature| feature.bore.is_blocked() && on_rail(feature.chainage.value, length))
        .map(|feature| {
            let half = feature.half_width().max(Length::ZERO);
            Blocked { from: feature.chainage.value - half, to: feature.chainage.value + half }
        })
        .collect();
    for piece in rail.placed_pieces() {
        if let Piece::Bend(bend) = piece.piece
            && bend.bore.is_blocked()
        {
            found.push(Blocked { from: piece.start, to: piece.end.max(piece.start) });
        }
    }
    found.sort_by_key(|blocked| (blocked.from, blocked.to));
    found
}

/// Every passage of a rail that a cable may need and nobody has proved, in words that name it.
///
/// A hole or a low point does not narrow the bore and is not asked about.
pub(crate) fn unproved_bore(rail: &Rail) -> Vec<String> {
    let length = rail.length();
    let mut words = Vec::new();
    let asked = |feature: &&Feature| {
        on_rail(feature.chainage.value, length)
            && !matches!(feature.kind, FeatureKind::ExistingHole { .. } | FeatureKind::LowPoint)
    };
    for feature in rail.features.iter().filter(asked) {
        if let Some(state) = unproved(&feature.bore) {
            let name = Inputs::name(&feature.label, &feature.id);
            words.push(format!(
                "the bore at {} {name} ({}) is {state}",
                feature.kind.word(),
                at(feature.chainage.value)
            ));
        }
    }
    for piece in rail.placed_pieces() {
        if let Piece::Bend(bend) = piece.piece
            && let Some(state) = unproved(&bend.bore)
        {
            words.push(format!("the bore at bend {} ({}) is {state}", bend.id, at(piece.start)));
        }
    }
    words
}

/// What is unproved on the way of one chain: the post that its way in leads through, and its routes.
pub(crate) fn unproved_way(survey: &Survey, rail: &Rail, way_in: &survey::Id, routes: &[survey::Id]) -> Vec<String> {
    let mut words = Vec::new();
    let feature = rail.features.iter().find(|feature| &feature.id == way_in);
    if let Some(FeatureKind::WayIn { post: Some(post), .. }) = feature.map(|feature| &feature.kind)
        && let Some(feature) = rail.features.iter().find(|feature| &feature.id == post)
        && let FeatureKind::Post { into_post, kind, .. } = &feature.kind
        && *kind != PostKind::SideBracket
        && let Some(state) = unproved(into_post)
    {
        let name = Inputs::name(&feature.label, &feature.id);
        words.push(format!("the passage from the bore into post {name} is {state}"));
    }
    for id in routes {
        let Some(route) = by_id(&survey.routes, id, |route| &route.id) else { continue };
        if let Some(state) = unproved(&route.passage) {
            // A cable clipped to a surface needs no bore.
            if route.kind != RouteKind::Surface {
                words.push(format!("the route {} is {state}", Inputs::name(&route.label, &route.id)));
            }
        }
    }
    words
}

fn unproved(passage: &Passage) -> Option<&'static str> {
    match passage {
        Passage::Unknown => Some("not looked at yet"),
        Passage::Assumed => Some("only assumed to be open"),
        Passage::Proved { .. } | Passage::Blocked { .. } => None,
    }
}
