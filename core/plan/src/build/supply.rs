//! What a rail can be fed from: ways in, driver places with their mains, and the ways between them.

use std::collections::BTreeMap;

use survey::{DriverPlace, FeatureKind, Id, Rail, RouteEnd, Survey};
use units::Length;

use super::canonical::Inputs;
use super::routes::{Network, Way};
use super::say::at;
use super::stretches::on_rail;
use crate::feeds::{Mains, WayIn};

/// Length assumed between a way in and a driver place that is only proposed (common practice, no source).
pub(crate) const PROPOSED_ROUTE: Length = Length::mm(3_000);

/// Where a driver may stand.
#[derive(Clone, Debug)]
pub(crate) enum PlaceSource<'a> {
    /// A place that was surveyed.
    Surveyed(&'a DriverPlace),
    /// A place near a way in that nobody has found yet.
    Proposed {
        /// Where, in words.
        words: String,
    },
}

/// A place as one rail sees it.
#[derive(Clone, Debug)]
pub(crate) struct PlaceForRail<'a> {
    /// The place.
    pub source: PlaceSource<'a>,
    /// Its id, made up for a proposed one.
    pub id: Id,
    /// How mains gets there.
    pub mains: Mains,
    /// The ways to the rail's ways in, by position.
    pub ways: Vec<(usize, Way)>,
}

/// The ways from every driver place of a site, worked out once.
pub(crate) struct SiteWays<'a> {
    survey: &'a Survey,
    /// For each driver place of the survey what routes reach from there.
    reach: Vec<Reach<'a>>,
    /// Positions of the places that reach a way in of a rail.
    by_rail: BTreeMap<&'a Id, Vec<usize>>,
}

struct Reach<'a> {
    mains: Mains,
    ways_in: BTreeMap<(&'a Id, &'a Id), Way>,
}

impl<'a> SiteWays<'a> {
    /// Follows the routes of a survey from every driver place.
    pub(crate) fn of(survey: &'a Survey, starts: &'a [RouteEnd]) -> Self {
        let network = Network::of(&survey.routes);
        let mut by_rail: BTreeMap<&Id, Vec<usize>> = BTreeMap::new();
        let mut reach = Vec::with_capacity(survey.driver_places.len());
        for (position, start) in starts.iter().enumerate() {
            let mut nearest: Option<(&Way, &Id)> = None;
            let found = network.ways_from(start);
            let mut ways_in = BTreeMap::new();
            for (end, way) in &found {
                match end {
                    RouteEnd::MainsPoint(point) if survey.mains_points.iter().any(|known| &known.id == point) => {
                        if nearest.is_none_or(|best| (way, point) < best) {
                            nearest = Some((way, point));
                        }
                    }
                    RouteEnd::WayIn { rail, feature } => {
                        let rails = by_rail.entry(rail).or_default();
                        if rails.last() != Some(&position) {
                            rails.push(position);
                        }
                        ways_in.insert((rail, feature), way.clone());
                    }
                    RouteEnd::MainsPoint(_) | RouteEnd::DriverPlace(_) => {}
                }
            }
            let mains = nearest.map_or(Mains::Unreached, |(way, point)| Mains::Route {
                point: point.clone(),
                length: way.length,
                // A mains lead is listed from the mains point on.
                routes: way.routes.iter().rev().cloned().collect(),
            });
            reach.push(Reach { mains, ways_in });
        }
        Self { survey, reach, by_rail }
    }

    /// The nodes that ways start from: one for each driver place, in order.
    pub(crate) fn starts(survey: &Survey) -> Vec<RouteEnd> {
        survey.driver_places.iter().map(|place| RouteEnd::DriverPlace(place.id.clone())).collect()
    }

    /// The surveyed places that routes join to a rail's ways in.
    pub(crate) fn places_for(&self, rail: &Rail, ways_in: &[WayIn]) -> Vec<PlaceForRail<'a>> {
        let mut places = Vec::new();
        for position in self.by_rail.get(&rail.id).into_iter().flatten() {
            let (place, reach) = (&self.survey.driver_places[*position], &self.reach[*position]);
            let ways: Vec<(usize, Way)> = ways_in
                .iter()
                .enumerate()
                .filter_map(|(i, way_in)| Some((i, reach.ways_in.get(&(&rail.id, &way_in.id))?.clone())))
                .collect();
            if !ways.is_empty() {
                let source = PlaceSource::Surveyed(place);
                places.push(PlaceForRail { source, id: place.id.clone(), mains: reach.mains.clone(), ways });
            }
        }
        places
    }
}

/// A place proposed at each way in, with a route of [`PROPOSED_ROUTE`] and mains taken for granted.
pub(crate) fn proposed_places<'a>(inputs: &Inputs, rail: &Rail, ways_in: &[WayIn]) -> Vec<PlaceForRail<'a>> {
    ways_in
        .iter()
        .enumerate()
        .filter_map(|(i, way_in)| {
            let words = format!(
                "proposed: within {} m of the way in {} of {} ({})",
                PROPOSED_ROUTE.to_m(),
                name_of(rail, &way_in.id),
                inputs.label(&rail.id),
                at(way_in.chainage)
            );
            Some(PlaceForRail {
                source: PlaceSource::Proposed { words },
                id: Id::new(&format!("proposed {}", i + 1))?,
                mains: Mains::Assumed,
                ways: vec![(i, Way { length: PROPOSED_ROUTE, routes: vec![] })],
            })
        })
        .collect()
}

/// What people call a feature.
pub(crate) fn name_of<'a>(rail: &'a Rail, feature: &'a Id) -> &'a str {
    rail.features
        .iter()
        .find(|known| &known.id == feature)
        .map_or(feature.as_str(), |known| Inputs::name(&known.label, &known.id))
}

/// Ways in of a rail, by chainage. Only what was surveyed as a way in is one: an open end is not, until somebody has
/// said that a cable can enter there. One that leads through a post whose passage is known to be shut is none.
pub(crate) fn ways_in(rail: &Rail) -> Vec<WayIn> {
    let length = rail.length();
    let shut = |post: &Id| {
        rail.features.iter().any(|feature| {
            &feature.id == post
                && matches!(&feature.kind, FeatureKind::Post { into_post, .. } if into_post.is_blocked())
        })
    };
    let mut found: Vec<WayIn> = rail
        .features
        .iter()
        .filter(|feature| on_rail(feature.chainage.value, length))
        .filter_map(|feature| match &feature.kind {
            FeatureKind::WayIn { post, .. } if !post.as_ref().is_some_and(shut) => {
                Some(WayIn { id: feature.id.clone(), chainage: feature.chainage.value })
            }
            _ => None,
        })
        .collect();
    found.sort_by(|a, b| (a.chainage, &a.id).cmp(&(b.chainage, &b.id)));
    found
}
