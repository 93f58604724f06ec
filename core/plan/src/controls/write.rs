//! Devices and cables of a line as the plan's schedules list them.
//!
//! References are a letter after IEC 81346-2 (from memory) and a number: sensors `B1`, relays `K1`, dimmers and decoders
//! `T1`, wall stations `S1`. Control cables are `C1`, `C2`, …; the mains lead of station `S1` is `MS1`.

use catalogue::{ControlKind, Supply};
use survey::{FeatureKind, RouteEnd};
use units::Length;

use super::cabling::{End, Laid, plug};
use super::choose::{LinePlan, StationSupply, mains_cable};
use super::coverage;
use super::device::Device;
use super::need::{LineNeed, ZoneNeed, height};
use super::settings::settings;
use super::ways::Spot;
use super::{Controls, tests_due};
use crate::build::canonical::{Inputs, by_id};
use crate::build::feeding::MAINS_ALLOWANCE;
use crate::build::say::{at, list};
use crate::build::stock;
use crate::build::supply::name_of;
use crate::document::{Cable, CableKind, ControlDevice, ControlLine, ControlPlan, SensorReach};
use crate::schedule::cables::Cut;

/// The next number of each letter.
#[derive(Default)]
pub(crate) struct Numbers {
    sensor: u32,
    relay: u32,
    transformer: u32,
    station: u32,
    cable: u32,
}

impl Numbers {
    fn device(&mut self, device: &Device<'_>) -> String {
        if let Some(given) = device.given {
            return given.device.clone();
        }
        let (letter, number) = match device.kind {
            ControlDevice::Sensor | ControlDevice::DuskSensor => ('B', &mut self.sensor),
            ControlDevice::Relay => ('K', &mut self.relay),
            ControlDevice::Dimmer | ControlDevice::Decoder => ('T', &mut self.transformer),
            ControlDevice::WallStation => ('S', &mut self.station),
        };
        *number += 1;
        format!("{letter}{number}")
    }

    fn cable(&mut self) -> String {
        self.cable += 1;
        format!("C{}", self.cable)
    }
}

/// Adds the devices and cables of a line to the schedules; the lines that cable really makes of it.
pub(crate) fn write_line(
    inputs: &Inputs,
    zone: &ZoneNeed<'_>,
    line: &LineNeed<'_>,
    plan: &LinePlan<'_>,
    numbers: &mut Numbers,
    controls: &mut Controls,
) -> Vec<ControlLine> {
    let named: Vec<(String, &Device<'_>)> =
        plan.devices.iter().chain(&plan.loose).map(|device| (numbers.device(device), device)).collect();
    let cables: Vec<String> = plan.cables.iter().map(|_| numbers.cable()).collect();
    for (position, laid) in plan.cables.iter().enumerate() {
        let (from, to) = (&named[position], &named[position + 1]);
        control_cable(inputs, &cables[position], laid, from, to, controls);
    }
    for (position, (name, device)) in named.iter().enumerate() {
        // The last device of a line has the cable that comes from the one before it.
        let own = if plan.cables.is_empty() || position >= plan.devices.len() {
            None
        } else {
            Some(position.min(plan.cables.len() - 1))
        };
        if device.given.is_none() {
            add(&mut controls.pieces, &device.part.item.part, 1);
        }
        if device.enclosed
            && device.given.is_none()
            && let Some(enclosure) = stock::enclosure(&inputs.catalogue)
        {
            add(&mut controls.pieces, &enclosure.item.part, 1);
        }
        let supply = plan.supply.as_ref().filter(|_| device.kind == ControlDevice::WallStation);
        if let Some(supply) = supply {
            station_mains(inputs, name, device, supply, controls);
        }
        controls.devices.push(ControlPlan {
            zone: zone.zone.id.clone(),
            device: name.clone(),
            part: device.part.item.part.clone(),
            kind: device.kind,
            place: device.given.map_or_else(|| place_words(inputs, device), |given| given.place.clone()),
            at_rail: match &device.spot {
                Spot::OnRail(rail, chainage) => Some((rail.clone(), *chainage)),
                _ => None,
            },
            cable_ref: own
                .map(|own| cables[own].clone())
                .or_else(|| device.given.and_then(|given| given.cable_ref.clone())),
            serves: device.serves.clone(),
            load: device.load,
            inrush: device.inrush,
            // Each stretch is listed once: the last device has no cable of its own.
            in_tube: match own {
                Some(own) if own == position => plan.cables[own].way.tube.clone(),
                _ => Vec::new(),
            },
            sees: sees(inputs, zone, device),
            settings: (device.given.into_iter().flat_map(|given| given.settings.clone()))
                .chain(settings(inputs, zone, device, supply, position))
                .collect(),
        });
    }
    let names: Vec<String> = named[..plan.devices.len()].iter().map(|(name, _)| name.clone()).collect();
    let lines = if cables.is_empty() {
        let alone = |name| ControlLine { devices: vec![name], cables: vec![], length: Length::ZERO, limit: plan.limit };
        names.into_iter().map(alone).collect()
    } else {
        vec![ControlLine { devices: names, cables: cables.clone(), length: plan.length, limit: plan.limit }]
    };
    controls.tests.extend(tests_due::tests(zone, line, plan, &named, &cables));
    lines
}

/// What a presence sensor that stands on a rail sees of it.
fn sees(inputs: &Inputs, zone: &ZoneNeed<'_>, device: &Device<'_>) -> Option<SensorReach> {
    let ControlKind::Sensor { detects, at_height } = device.part.kind else { return None };
    let Spot::OnRail(rail, at) = &device.spot else { return None };
    let rail = by_id(&inputs.survey.rails, rail, |rail| &rail.id)?;
    let height = height(zone.zone, rail).unwrap_or(at_height);
    Some(coverage::reach(rail, *at, coverage::seen_at(detects, at_height, height), height))
}

pub(super) fn add(pieces: &mut std::collections::BTreeMap<String, u32>, name: &str, count: u32) {
    if count > 0 {
        let known = pieces.entry(name.to_owned()).or_default();
        *known = known.saturating_add(count);
    }
}

/// Where a device stands and what it stands between.
pub(crate) fn place_words(inputs: &Inputs, device: &Device<'_>) -> String {
    let place = spot_words(inputs, &device.spot);
    let serves = list(&device.serves);
    match device.kind {
        ControlDevice::Sensor | ControlDevice::DuskSensor | ControlDevice::WallStation => place,
        _ if device.inrush.is_some() => format!("{place}, in the mains lead of {serves} (licensed person)"),
        ControlDevice::Decoder => format!("{place}, between driver and chain {serves}"),
        _ => format!("{place}, between driver output and {serves}"),
    }
}

/// A spot in words.
pub(crate) fn spot_words(inputs: &Inputs, spot: &Spot) -> String {
    let survey = &inputs.survey;
    match spot {
        Spot::End(RouteEnd::DriverPlace(id)) => by_id(&survey.driver_places, id, |place| &place.id)
            .map_or_else(|| id.to_string(), |place| Inputs::name(&place.label, &place.id).to_owned()),
        Spot::End(RouteEnd::MainsPoint(id)) => {
            let point = by_id(&survey.mains_points, id, |point| &point.id);
            let name = point.map_or(id.as_str(), |point| Inputs::name(&point.label, &point.id));
            format!("beside mains point {name}")
        }
        Spot::End(RouteEnd::WayIn { rail, feature }) => {
            let found = by_id(&survey.rails, rail, |rail| &rail.id);
            let name = found.map_or(feature.as_str(), |rail| name_of(rail, feature));
            format!("way in {name} of {}", inputs.label(rail))
        }
        Spot::OnRail(id, chainage) => {
            let rail = by_id(&survey.rails, id, |rail| &rail.id);
            let feature = rail.and_then(|rail| {
                let here = |kind: fn(&FeatureKind) -> bool| {
                    rail.features.iter().find(move |feature| feature.chainage.value == *chainage && kind(&feature.kind))
                };
                here(|kind| matches!(kind, FeatureKind::WayIn { .. }))
                    .or_else(|| here(|kind| matches!(kind, FeatureKind::Post { .. })))
            });
            let label = inputs.label(id);
            match feature {
                Some(feature) => {
                    let name = Inputs::name(&feature.label, &feature.id);
                    format!("{} {name} of {label} ({})", feature.kind.word(), at(*chainage))
                }
                None => format!("{label} at {}", at(*chainage)),
            }
        }
        Spot::Proposed(driver) => format!("beside {driver}, place not surveyed"),
    }
}

fn control_cable(
    inputs: &Inputs,
    reference: &str,
    laid: &Laid<'_>,
    from: &(String, &Device<'_>),
    to: &(String, &Device<'_>),
    controls: &mut Controls,
) {
    let end = |(name, device): &(String, &Device<'_>)| format!("{name}, {}", spot_words(inputs, &device.spot));
    let part = laid.lead.map(|lead| lead.item.part.clone());
    if let Some(lead) = laid.lead {
        if !laid.made_up {
            controls.cuts.push(Cut { reference: reference.to_owned(), part: lead.item.part.clone(), length: laid.cut });
        }
        match stock::gland(&inputs.catalogue, lead.outside_diameter) {
            Some(gland) => add(&mut controls.pieces, &gland.item.part, laid.glands),
            None => add(&mut controls.missing, &format!("gland for a cable of {}", lead.outside_diameter), laid.glands),
        }
    }
    for poles in laid.site_plugs() {
        match plug(inputs, poles) {
            Some(plug) => add(&mut controls.pieces, &plug.item.part, 1),
            None => add(&mut controls.missing, &format!("control plug of {poles} poles to make off on site"), 1),
        }
    }
    controls.cables.push(Cable {
        reference: reference.to_owned(),
        kind: CableKind::Control,
        part,
        circuit: None,
        from: end(from),
        to: end(to),
        cores: laid.lead.map_or(super::cabling::CONDUCTORS, |lead| lead.cores),
        area: laid.lead.map_or(units::SquareMm::ZERO, |lead| lead.area),
        route: laid.way.length,
        allowance: laid.cut - laid.way.length,
        cut: laid.cut,
        made_up: laid.made_up.then_some(laid.cut),
        amps: None,
        drop: None,
        end_volts: None,
        connectors: connectors(laid, &from.0, &to.0),
        gland: glands(inputs, laid),
        routes: laid.way.routes.clone(),
        along: None,
    });
}

fn connectors(laid: &Laid<'_>, from: &str, to: &str) -> String {
    let end = |end: End, name: &str| match (end, laid.made_up) {
        (End::Plug(poles), true) => format!("{poles}-pole plug at {name}"),
        (End::Plug(poles), false) => format!("{poles}-pole plug made off at {name}"),
        (End::Terminals, _) => format!("screw terminals at {name}"),
    };
    format!("{}, {}", end(laid.ends[0], from), end(laid.ends[1], to))
}

fn glands(inputs: &Inputs, laid: &Laid<'_>) -> String {
    let Some(lead) = laid.lead.filter(|_| laid.glands > 0) else { return String::new() };
    match stock::gland(&inputs.catalogue, lead.outside_diameter) {
        Some(gland) => format!("{} × {} ({} cable)", laid.glands, gland.item.part, lead.outside_diameter),
        None => format!("none in the catalogue for {}", lead.outside_diameter),
    }
}

/// The mains lead of a wall station with its own supply.
fn station_mains(inputs: &Inputs, name: &str, device: &Device<'_>, supply: &StationSupply, controls: &mut Controls) {
    let lead = mains_cable(inputs, &device.spot);
    let reference = format!("M{name}");
    let point = by_id(&inputs.survey.mains_points, &supply.point, |point| &point.id);
    let point = point.map_or_else(|| supply.point.to_string(), |p| Inputs::name(&p.label, &p.id).to_owned());
    let cut = supply.way.length + MAINS_ALLOWANCE;
    if let Some(lead) = lead
        && matches!(lead.supply, Supply::Reel { .. })
    {
        controls.cuts.push(Cut { reference: reference.clone(), part: lead.item.part.clone(), length: cut });
    }
    controls.cables.push(Cable {
        reference,
        kind: CableKind::Mains,
        part: lead.map(|lead| lead.item.part.clone()),
        circuit: None,
        from: format!("mains point {point}"),
        to: format!("wall station {name}, {}", spot_words(inputs, &device.spot)),
        cores: lead.map_or(3, |lead| lead.cores),
        area: lead.map_or(units::SquareMm::ZERO, |lead| lead.area),
        route: supply.way.length,
        allowance: MAINS_ALLOWANCE,
        cut,
        made_up: None,
        amps: None,
        drop: None,
        end_volts: None,
        connectors: "made off by a licensed person".to_owned(),
        gland: String::new(),
        routes: supply.way.routes.iter().rev().cloned().collect(),
        along: None,
    });
}
