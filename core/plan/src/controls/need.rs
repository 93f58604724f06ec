//! What a zone's control has to work on: its drivers and circuits, where they stand, and how they hang together.

use std::collections::{BTreeMap, BTreeSet};

use survey::{Id, Rail, RouteEnd, Setting, Zone};
use units::Length;

use super::coverage;
use super::ways::{Graph, Spot, Way};
use crate::build::canonical::{Inputs, by_id};
use crate::document::{Circuit, ControlPlan, DriverPlan};

/// A driver with its circuits in one zone.
pub(crate) struct DriverNeed<'a> {
    /// The driver.
    pub driver: &'a DriverPlan,
    /// Where it stands.
    pub spot: Spot,
    /// Its circuits in the zone.
    pub circuits: Vec<&'a Circuit>,
    /// Whether it feeds no other zone.
    pub whole: bool,
}

/// A rail whose walkway presence sensors have to see.
pub(crate) struct RailNeed<'a> {
    /// The rail.
    pub rail: &'a Rail,
    /// Chainages where a sensor can be fixed and control cable reaches; all where it reaches none.
    pub fixings: Vec<Length>,
}

/// Drivers of a zone that control cable can join, with the rails that go with them.
pub(crate) struct LineNeed<'a> {
    /// The drivers, in order of reference.
    pub drivers: Vec<DriverNeed<'a>>,
    /// Rails of the zone.
    pub rails: Vec<RailNeed<'a>>,
}

/// A zone with lit rails.
pub(crate) struct ZoneNeed<'a> {
    /// The zone.
    pub zone: &'a Zone,
    /// Groups of drivers that control cable can join.
    pub lines: Vec<LineNeed<'a>>,
    /// Ways for control cable.
    pub graph: Graph,
    /// Decoders that were chosen with the chains of modules.
    pub given: &'a [ControlPlan],
}

impl<'a> ZoneNeed<'a> {
    /// The decoder that was chosen with a circuit, where there is one.
    pub(crate) fn given(&self, circuit: &Circuit) -> Option<&'a ControlPlan> {
        self.given.iter().find(|decoder| decoder.serves.contains(&circuit.id))
    }
}

/// What each zone with fed rails needs, in order of id.
pub(crate) fn zones<'a>(
    inputs: &'a Inputs,
    drivers: &[&'a DriverPlan],
    circuits: &[&'a Circuit],
    given: &'a [ControlPlan],
) -> Vec<ZoneNeed<'a>> {
    let zone_of: BTreeMap<&Id, &Id> =
        inputs.briefs().into_iter().filter_map(|brief| Some((&brief.rail, brief.zone.as_ref()?))).collect();
    let mut of_driver: BTreeMap<&str, Vec<&Circuit>> = BTreeMap::new();
    for circuit in circuits {
        of_driver.entry(&circuit.driver).or_default().push(circuit);
    }
    let mut seen = BTreeSet::new();
    let mut found = Vec::new();
    for zone in inputs.survey.brief.zones.iter().filter(|zone| seen.insert(&zone.id)) {
        let of_zone = |circuit: &&&Circuit| zone_of.get(&circuit.rail) == Some(&&zone.id);
        let mut here: Vec<DriverNeed<'a>> = Vec::new();
        for driver in drivers {
            let all = of_driver.get(driver.id.as_str()).map_or(&[][..], Vec::as_slice);
            let circuits: Vec<&Circuit> = all.iter().filter(of_zone).copied().collect();
            if !circuits.is_empty() {
                let whole = circuits.len() == all.len();
                let spot = match &driver.place {
                    Some(place) => Spot::End(RouteEnd::DriverPlace(place.clone())),
                    None => Spot::Proposed(driver.id.clone()),
                };
                here.push(DriverNeed { driver, spot, circuits, whole });
            }
        }
        if !here.is_empty() {
            found.push(zone_need(inputs, zone, here, given));
        }
    }
    found
}

fn zone_need<'a>(
    inputs: &'a Inputs,
    zone: &'a Zone,
    drivers: Vec<DriverNeed<'a>>,
    given: &'a [ControlPlan],
) -> ZoneNeed<'a> {
    let mut graph = Graph::of(&inputs.survey.routes);
    let ids: BTreeSet<&Id> =
        drivers.iter().flat_map(|need| need.circuits.iter().map(|circuit| &circuit.rail)).collect();
    let rails: Vec<&Rail> = ids.into_iter().filter_map(|id| by_id(&inputs.survey.rails, id, |rail| &rail.id)).collect();
    let sensed = zone.control.kind == survey::Control::PresenceAfterDusk;
    let fixings: Vec<Vec<Length>> = rails.iter().map(|rail| places(inputs, zone, rail, sensed)).collect();
    for (rail, fixings) in rails.iter().zip(&fixings) {
        graph.add_rail(rail, fixings);
    }
    for need in drivers.iter().filter(|need| need.driver.place.is_none()) {
        for circuit in &need.circuits {
            if let Some(way_in) = &circuit.way_in {
                graph.add_proposed(&need.driver.id, &circuit.rail, way_in);
            }
        }
    }
    let mut lines: Vec<(LineNeed<'a>, BTreeMap<Spot, Way>)> = Vec::new();
    for need in drivers {
        match lines.iter_mut().find(|(_, reach)| reach.contains_key(&need.spot)) {
            Some((line, _)) => line.drivers.push(need),
            None => {
                let reach = graph.ways_from(&need.spot);
                lines.push((LineNeed { drivers: vec![need], rails: vec![] }, reach));
            }
        }
    }
    for (rail, fixings) in rails.iter().zip(fixings) {
        let within = |reach: &BTreeMap<Spot, Way>| {
            let there = |at: &&Length| reach.contains_key(&Spot::OnRail(rail.id.clone(), **at));
            fixings.iter().filter(there).copied().collect::<Vec<_>>()
        };
        // The line that reaches most of the rail, of equals the first; where none does, the one that lights it.
        let mut best: Option<(usize, Vec<Length>)> = None;
        for (position, (_, reach)) in lines.iter().enumerate() {
            let here = within(reach);
            if !here.is_empty() && best.as_ref().is_none_or(|(_, most)| here.len() > most.len()) {
                best = Some((position, here));
            }
        }
        let lights = |line: &LineNeed<'_>| {
            line.drivers.iter().any(|need| need.circuits.iter().any(|circuit| circuit.rail == rail.id))
        };
        let (position, need) = match best {
            Some((position, fixings)) => (position, RailNeed { rail, fixings }),
            None => {
                let position = lines.iter().position(|(line, _)| lights(line)).unwrap_or(0);
                (position, RailNeed { rail, fixings })
            }
        };
        lines[position].0.rails.push(need);
    }
    ZoneNeed { zone, lines: lines.into_iter().map(|(line, _)| line).collect(), graph, given }
}

/// Chainages where presence sensors could stand on a rail: its posts and ways in, else evenly spread for each sensor of
/// the catalogue.
fn places(inputs: &Inputs, zone: &Zone, rail: &Rail, sensed: bool) -> Vec<Length> {
    if !sensed {
        return Vec::new();
    }
    let mut at = coverage::fixings(rail);
    if !coverage::has_posts(rail) {
        for (detects, at_height) in sensors(inputs) {
            let seen = coverage::seen_at(detects, at_height, height(zone, rail).unwrap_or(at_height));
            at.extend(coverage::legs(rail).into_iter().flat_map(|leg| coverage::anywhere(leg, seen)));
        }
        at.sort_unstable();
        at.dedup();
    }
    at
}

/// What the catalogue's sensors see, each figure once.
fn sensors(inputs: &Inputs) -> BTreeSet<(Length, Length)> {
    let detection = |control: &catalogue::Control| match control.kind {
        catalogue::ControlKind::Sensor { detects, at_height } => Some((detects, at_height)),
        _ => None,
    };
    inputs.catalogue.controls.iter().filter_map(detection).collect()
}

/// Height of a zone's sensors at a rail.
pub(crate) fn height(zone: &Zone, rail: &Rail) -> Option<Length> {
    zone.control.sensor_height.or_else(|| rail.height.as_ref().map(|height| height.value))
}

/// The weather and wet that a device stands in at a spot. A place that is only proposed is taken to be like the site.
pub(crate) fn setting(inputs: &Inputs, spot: &Spot) -> Setting {
    let survey = &inputs.survey;
    let own = match spot {
        Spot::End(RouteEnd::DriverPlace(id)) => {
            by_id(&survey.driver_places, id, |place| &place.id).and_then(|place| place.exposure.as_ref())
        }
        Spot::End(RouteEnd::MainsPoint(id)) => {
            by_id(&survey.mains_points, id, |point| &point.id).and_then(|point| point.exposure.as_ref())
        }
        Spot::End(RouteEnd::WayIn { rail: id, .. }) | Spot::OnRail(id, _) => {
            by_id(&survey.rails, id, |rail| &rail.id).map(|rail| survey.exposure_of(rail))
        }
        Spot::Proposed(_) => None,
    };
    own.map_or(survey.site.exposure.setting, |exposure| exposure.setting)
}
