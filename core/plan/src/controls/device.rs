//! Control devices to choose from for each part that a line plays: with how many of them, where, and at what price.

use std::collections::BTreeMap;

use catalogue::{Control, ControlKind, LoadModel, WhenLost};
use survey::{Answer, RouteEnd};
use units::{Amps, Length, Money, Volts};

use super::contacts::{ContactLoad, fewest};
use super::coverage;
use super::need::{DriverNeed, LineNeed, ZoneNeed, height, setting};
use super::ways::Spot;
use crate::build::canonical::Inputs;
use crate::build::stock;
use crate::document::{Circuit, ControlDevice, ControlPlan};
use crate::ingress;

/// Voltages from here on belong to a mains lead: the limit of extra-low voltage, 50 V AC (IEC 61140, from memory).
const MAINS_FROM: f64 = 50.0;

/// A device of a line.
#[derive(Clone, Debug)]
pub(crate) struct Device<'a> {
    /// Its part.
    pub part: &'a Control,
    /// What it is.
    pub kind: ControlDevice,
    /// Where it stands.
    pub spot: Spot,
    /// What it switches or dims.
    pub serves: Vec<String>,
    /// Greatest current of its contact or busiest channel.
    pub load: Option<Amps>,
    /// Sum of inrush peaks on its contact.
    pub inrush: Option<Amps>,
    /// Whether an enclosure is bought for it.
    pub enclosed: bool,
    /// What was settled for it already, with the chain that it is in.
    pub given: Option<&'a ControlPlan>,
}

/// The devices of one part for one role of a line.
#[derive(Clone, Debug)]
pub(crate) struct Choice<'a> {
    /// The part.
    pub part: &'a Control,
    /// The devices.
    pub devices: Vec<Device<'a>>,
    /// Price of the devices and their enclosures, and the holes that their cables need.
    pub cost: Money,
    /// Constraints that it breaks.
    pub broken: u32,
}

/// What a device does in a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Role {
    /// Says that somebody is there.
    Presence,
    /// Says that it is dark.
    Dusk,
    /// Is worked by hand.
    Station,
    /// Switches.
    Relay,
    /// Dims.
    Dimmer,
    /// Sets the colour of a chain.
    Decoder,
}

/// Whether a circuit has light of variable colour.
pub(crate) fn is_colour(circuit: &Circuit) -> bool {
    circuit.loads.iter().any(|load| load.channel.is_some())
}

/// The roles that a line needs.
pub(crate) fn roles(zone: &ZoneNeed<'_>, line: &LineNeed<'_>) -> Vec<Role> {
    let kind = zone.zone.control.kind;
    let circuits = || line.drivers.iter().flat_map(|need| &need.circuits);
    let mut roles = Vec::new();
    match kind {
        survey::Control::AlwaysOn => {}
        survey::Control::Dusk => roles.extend([Role::Dusk, Role::Relay]),
        survey::Control::PresenceAfterDusk => roles.extend([Role::Presence, Role::Relay]),
        survey::Control::WallStation | survey::Control::Dimmed => {
            roles.push(Role::Station);
            if circuits().any(|circuit| !is_colour(circuit)) {
                roles.push(if kind == survey::Control::Dimmed { Role::Dimmer } else { Role::Relay });
            }
        }
    }
    if circuits().any(|circuit| is_colour(circuit) && zone.given(circuit).is_none()) {
        roles.push(Role::Decoder);
    }
    roles
}

/// Every choice for a role, the ones left out that another with the same spots undercuts in every respect.
pub(crate) fn choices<'a>(
    inputs: &'a Inputs,
    zone: &ZoneNeed<'a>,
    line: &LineNeed<'a>,
    role: Role,
    spots: &[Spot],
) -> Vec<Choice<'a>> {
    let mut found: Vec<Choice<'a>> = Vec::new();
    for part in &inputs.catalogue.controls {
        match (role, &part.kind) {
            (Role::Presence, ControlKind::Sensor { detects, at_height }) => {
                found.push(sensors(inputs, zone, line, part, *detects, *at_height));
            }
            (Role::Dusk, ControlKind::DuskSensor) => {
                found.extend(spots.iter().map(|spot| single(inputs, part, ControlDevice::DuskSensor, spot)));
            }
            (Role::Station, ControlKind::WallStation)
                if zone.zone.control.supply.is_none() || zone.zone.control.supply == part.own_supply =>
            {
                let fits = |spot: &&Spot| {
                    // A station without a supply of its own has no business at a mains point.
                    part.own_supply.is_some() || !matches!(spot, Spot::End(RouteEnd::MainsPoint(_)))
                };
                let here = spots.iter().filter(fits);
                found.extend(here.map(|spot| single(inputs, part, ControlDevice::WallStation, spot)));
            }
            (Role::Relay, ControlKind::Relay) => found.extend(switches(inputs, zone, line, part, ControlDevice::Relay)),
            (Role::Dimmer, ControlKind::Dimmer) => {
                found.extend(switches(inputs, zone, line, part, ControlDevice::Dimmer));
            }
            (Role::Decoder, ControlKind::Decoder { inlet_poles: 2, outlet_poles, .. }) => {
                found.extend(decoders(inputs, zone, line, part, *outlet_poles));
            }
            _ => {}
        }
    }
    undercut(found)
}

/// Leaves out what another choice with the same spots undercuts or equals in price, length and constraints.
fn undercut(mut found: Vec<Choice<'_>>) -> Vec<Choice<'_>> {
    found.sort_by(|a, b| (a.broken, a.cost, &a.part.item.part).cmp(&(b.broken, b.cost, &b.part.item.part)));
    let reach = |choice: &Choice<'_>| choice.part.greatest_control_cable.map_or(i64::MAX, Length::to_um);
    let plugs = |choice: &Choice<'_>| match choice.part.kind {
        ControlKind::Decoder { control_sockets, control_poles, .. } => (control_sockets, control_poles),
        _ => (0, 0),
    };
    let mut kept: Vec<Choice<'_>> = Vec::new();
    for choice in found {
        let same = |other: &Choice<'_>| {
            reach(other) >= reach(&choice)
                && plugs(other) == plugs(&choice)
                && other.part.own_supply.is_some() == choice.part.own_supply.is_some()
                && other.devices.iter().map(|device| &device.spot).eq(choice.devices.iter().map(|device| &device.spot))
        };
        if !kept.iter().any(same) {
            kept.push(choice);
        }
    }
    kept
}

fn priced<'a>(inputs: &Inputs, part: &'a Control, mut devices: Vec<Device<'a>>, mut broken: u32) -> Choice<'a> {
    let enclosure = stock::enclosure(&inputs.catalogue);
    let mut cost = Money::ZERO;
    for device in &mut devices {
        cost += part.item.price;
        if !ingress::suits(&part.ingress, setting(inputs, &device.spot)) {
            // A sensor and a wall station must stand in the open; the rest can have an enclosure.
            let open =
                matches!(device.kind, ControlDevice::Sensor | ControlDevice::DuskSensor | ControlDevice::WallStation);
            device.enclosed = !open && enclosure.is_some();
            if device.enclosed {
                cost += stock::price(enclosure);
            } else {
                broken += 1;
            }
        }
        // A sensor on a rail has an exit for its cable to make, or a way in to fit with a second gland.
        if matches!(device.spot, Spot::OnRail(..)) {
            cost += inputs.catalogue.labour.minutes(i64::from(inputs.catalogue.labour.hole_minutes));
        }
    }
    Choice { part, devices, cost, broken }
}

/// Whether the cable of a device on a rail leaves the tube where no way in was surveyed.
pub(crate) fn needs_hole(inputs: &Inputs, spot: &Spot) -> bool {
    let Spot::OnRail(rail, at) = spot else { return false };
    let rail = inputs.survey.rails.iter().find(|known| &known.id == rail);
    !rail.is_some_and(|rail| crate::build::supply::ways_in(rail).iter().any(|way_in| way_in.chainage == *at))
}

fn single<'a>(inputs: &Inputs, part: &'a Control, kind: ControlDevice, spot: &Spot) -> Choice<'a> {
    let spot = spot.clone();
    let device = Device { part, kind, spot, serves: vec![], load: None, inrush: None, enclosed: false, given: None };
    priced(inputs, part, vec![device], 0)
}

/// What sensors of a part on the rails of a line see, by rail.
pub(crate) fn coverages<'a>(
    zone: &ZoneNeed<'_>,
    line: &LineNeed<'a>,
    detects: Length,
    at_height: Length,
) -> Vec<(&'a survey::Rail, coverage::Coverage)> {
    line.rails
        .iter()
        .map(|need| {
            let seen = coverage::seen_at(detects, at_height, height(zone.zone, need.rail).unwrap_or(at_height));
            let mut whole = coverage::Coverage::default();
            let ways_in = crate::build::supply::ways_in(need.rail);
            let entries: Vec<Length> = ways_in.iter().map(|way_in| way_in.chainage).collect();
            for leg in coverage::legs(need.rail) {
                let anywhere = coverage::anywhere(leg, seen);
                let reached = |at: &Length| need.fixings.contains(at);
                let part = if !coverage::has_posts(need.rail) && anywhere.iter().all(reached) && !anywhere.is_empty() {
                    coverage::nearest(leg, &anywhere, seen, &entries)
                } else {
                    coverage::nearest(leg, &need.fixings, seen, &entries)
                };
                whole.sensors.extend(part.sensors);
                whole.unseen.extend(part.unseen);
            }
            (need.rail, whole)
        })
        .collect()
}

fn sensors<'a>(
    inputs: &Inputs,
    zone: &ZoneNeed<'_>,
    line: &LineNeed<'_>,
    part: &'a Control,
    detects: Length,
    at_height: Length,
) -> Choice<'a> {
    let mut devices = Vec::new();
    let mut broken = 0;
    for (rail, coverage) in coverages(zone, line, detects, at_height) {
        broken += u32::try_from(coverage.unseen.len()).unwrap_or(u32::MAX);
        devices.extend(coverage.sensors.into_iter().map(|at| Device {
            part,
            kind: ControlDevice::Sensor,
            spot: Spot::OnRail(rail.id.clone(), at),
            serves: vec![],
            load: None,
            inrush: None,
            enclosed: false,
            given: None,
        }));
    }
    priced(inputs, part, devices, broken)
}

/// Whether a part leaves stairs lit when control is lost.
pub(crate) fn stays_lit(part: &Control) -> bool {
    matches!(part.when_lost, Some(WhenLost::Lit | WhenLost::Settable))
}

fn loses_stairs(zone: &ZoneNeed<'_>, part: &Control) -> u32 {
    u32::from(zone.zone.stairs != Answer::No && !stays_lit(part))
}

fn micro(amps: Amps) -> i64 {
    (amps.get() * 1e6).round() as i64
}

/// Relays in the mains leads of drivers, or relays and dimmers between the outputs and their chains.
fn switches<'a>(
    inputs: &Inputs,
    zone: &ZoneNeed<'_>,
    line: &LineNeed<'_>,
    part: &'a Control,
    kind: ControlDevice,
) -> Option<Choice<'a>> {
    let by_hand = matches!(zone.zone.control.kind, survey::Control::WallStation | survey::Control::Dimmed);
    let switched = |circuit: &&&Circuit| !(by_hand && is_colour(circuit));
    let limit = ContactLoad { amps: micro(part.contact), inrush: part.contact_inrush.map_or(i64::MAX, micro) };
    let mut devices = Vec::new();
    let mut broken = loses_stairs(zone, part);
    if part.nominal.get() >= MAINS_FROM {
        if kind == ControlDevice::Dimmer {
            return None;
        }
        let mut groups: BTreeMap<(&Spot, Option<&survey::Id>), Vec<&DriverNeed<'_>>> = BTreeMap::new();
        for need in &line.drivers {
            // A contact in the mains lead switches all of a driver.
            let all = need.circuits.iter().filter(switched).count() == need.circuits.len();
            if !need.whole || !all {
                return None;
            }
            groups.entry((&need.spot, need.driver.mains_point.as_ref())).or_default().push(need);
        }
        for ((spot, _), needs) in groups {
            let data = |need: &&DriverNeed<'_>| {
                let driver = inputs.catalogue.driver(&need.driver.part);
                driver.map_or((Amps::ZERO, Amps::ZERO), |driver| (driver.input, driver.inrush))
            };
            let loads: Vec<ContactLoad> = needs
                .iter()
                .map(|need| {
                    let (amps, inrush) = data(need);
                    ContactLoad { amps: micro(amps), inrush: micro(inrush) }
                })
                .collect();
            for contact in fewest(&loads, limit) {
                broken += u32::from(contact.len() == 1 && !loads[contact[0]].within(limit));
                let sum = |of: fn((Amps, Amps)) -> Amps| {
                    contact.iter().map(|i| of(data(&needs[*i]))).fold(Amps::ZERO, |sum, amps| sum + amps)
                };
                devices.push(Device {
                    part,
                    kind,
                    spot: spot.clone(),
                    serves: contact.iter().map(|i| needs[*i].driver.id.clone()).collect(),
                    load: Some(sum(|data| data.0)),
                    inrush: Some(sum(|data| data.1)),
                    enclosed: false,
                    given: None,
                });
            }
        }
    } else {
        for need in &line.drivers {
            let mut outputs: BTreeMap<&str, Vec<&Circuit>> = BTreeMap::new();
            for circuit in need.circuits.iter().filter(switched) {
                if circuit.nominal != part.nominal {
                    return None;
                }
                broken += u32::from(!bears_drop(circuit, part.drop));
                outputs.entry(&circuit.output).or_default().push(circuit);
            }
            for circuits in outputs.into_values() {
                let loads: Vec<ContactLoad> = circuits
                    .iter()
                    .map(|circuit| ContactLoad { amps: micro(circuit.amps.max(circuit.amps_high)), inrush: 0 })
                    .collect();
                for contact in fewest(&loads, limit) {
                    broken += u32::from(contact.len() == 1 && !loads[contact[0]].within(limit));
                    let load = |i: &usize| circuits[*i].amps.max(circuits[*i].amps_high);
                    devices.push(Device {
                        part,
                        kind,
                        spot: need.spot.clone(),
                        serves: contact.iter().map(|i| circuits[*i].id.clone()).collect(),
                        load: Some(contact.iter().map(load).fold(Amps::ZERO, |sum, amps| sum + amps)),
                        inrush: None,
                        enclosed: false,
                        given: None,
                    });
                }
            }
        }
    }
    Some(priced(inputs, part, devices, broken))
}

/// Whether a circuit has volts enough left for a drop at its source.
///
/// Loads of constant current pass the drop on as it is, resistive ones less of it. Loads of constant power draw more as
/// the volts fall; while three quarters of the source's volts reach them that adds less than the drop itself once more
/// (dV/dVs = V/(2V − Vs) for one load behind one resistance), so twice the drop is asked for.
pub(crate) fn bears_drop(circuit: &Circuit, drop: Volts) -> bool {
    let Some(least) = circuit.least_load_volts else { return false };
    let power = circuit.loads.iter().any(|load| matches!(load.model, LoadModel::Power(_)));
    let far = least.get() < 0.75 * circuit.source.volts.get();
    let asked = if power { drop.get() * 2.0 } else { drop.get() };
    drop.get() <= 0.0 || (!(power && far) && least.get() - asked >= circuit.limit().get() - 1e-9)
}

/// One decoder for each circuit of variable colour.
fn decoders<'a>(
    inputs: &Inputs,
    zone: &ZoneNeed<'_>,
    line: &LineNeed<'_>,
    part: &'a Control,
    outlet_poles: u8,
) -> Option<Choice<'a>> {
    let mut devices = Vec::new();
    let mut broken = loses_stairs(zone, part);
    for need in &line.drivers {
        for circuit in need.circuits.iter().filter(|circuit| is_colour(circuit) && zone.given(circuit).is_none()) {
            let channels = circuit.loads.iter().filter_map(|load| load.channel).max().unwrap_or(0);
            if circuit.nominal != part.nominal || outlet_poles != channels.saturating_add(1) {
                return None;
            }
            let busiest = busiest_channel(circuit);
            broken += u32::from(busiest > part.contact) + u32::from(!bears_drop(circuit, part.drop));
            devices.push(Device {
                part,
                kind: ControlDevice::Decoder,
                spot: need.spot.clone(),
                serves: vec![circuit.id.clone()],
                load: Some(busiest),
                inrush: None,
                enclosed: false,
                given: None,
            });
        }
    }
    Some(priced(inputs, part, devices, broken))
}

/// The decoders that were chosen with the chains of a line; their price is in the feeds.
pub(crate) fn given<'a>(inputs: &'a Inputs, zone: &ZoneNeed<'a>, line: &LineNeed<'_>) -> Vec<Device<'a>> {
    let mut devices = Vec::new();
    for need in &line.drivers {
        for circuit in &need.circuits {
            let Some(given) = zone.given(circuit) else { continue };
            let part = inputs.catalogue.controls.iter().find(|control| control.item.part == given.part);
            devices.extend(part.map(|part| Device {
                part,
                kind: ControlDevice::Decoder,
                spot: need.spot.clone(),
                serves: given.serves.clone(),
                load: Some(busiest_channel(circuit)),
                inrush: None,
                // Its enclosure, where it needs one, is bought with the feeds.
                enclosed: true,
                given: Some(given),
            }));
        }
    }
    devices
}

/// Current of the busiest channel at the high end of the tolerance.
fn busiest_channel(circuit: &Circuit) -> Amps {
    let mut channels: BTreeMap<u8, f64> = BTreeMap::new();
    for load in &circuit.loads {
        if let (Some(channel), Some(amps)) = (load.channel, load.amps) {
            *channels.entry(channel).or_default() += amps.get();
        }
    }
    let growth = if circuit.amps.get() > 0.0 { (circuit.amps_high / circuit.amps).max(1.0) } else { 1.0 };
    Amps::checked(channels.into_values().fold(0.0, f64::max) * growth).unwrap_or(Amps::ZERO)
}
