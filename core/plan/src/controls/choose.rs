//! The cheapest devices and cables of one control line.
//!
//! Every role of a line is played by one part. All choices of parts, and of the spot for a dusk sensor or wall station,
//! are weighed with the shortest line through their spots; the one that breaks fewest constraints is taken, of those the
//! cheapest, of those the one whose parts come first. That is exact where the line has no more spots than
//! [`super::line`] weighs exactly; beyond that the bound leaves the cables out.

use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use catalogue::ControlKind;
use survey::{Id, RouteEnd, Setting};
use units::{Length, Money};

use super::cabling::{Laid, Want, lay};
use super::device::{Choice, Device, Role, choices, given, roles};
use super::line::{Line, shortest};
use super::need::{LineNeed, ZoneNeed, setting};
use super::ways::{Graph, Spot, Way};
use crate::build::canonical::Inputs;
use crate::build::feeding::MAINS_ALLOWANCE;
use crate::build::stock::{self, Weather};
use crate::document::ControlDevice;

/// The mains lead of a wall station.
#[derive(Clone, Debug)]
pub(crate) struct StationSupply {
    /// The mains point.
    pub point: Id,
    /// The way from the station to it.
    pub way: Way,
}

/// A line with its devices in order.
#[derive(Clone, Debug)]
pub(crate) struct LinePlan<'a> {
    /// The devices that cable joins, in order.
    pub devices: Vec<Device<'a>>,
    /// Devices that no way reaches.
    pub loose: Vec<Device<'a>>,
    /// The cables between the devices, one fewer; none where nothing sends anything.
    pub cables: Vec<Laid<'a>>,
    /// Where a wall station has its own supply from.
    pub supply: Option<StationSupply>,
    /// Control cable in it.
    pub length: Length,
    /// Least of the greatest lengths that its parts state.
    pub limit: Option<Length>,
    /// Cost.
    pub cost: Money,
    /// No choice costs less.
    pub bound: Money,
}

/// Ways from spots, each worked out once.
pub(crate) struct Ways<'g> {
    graph: &'g Graph,
    known: BTreeMap<Spot, Rc<BTreeMap<Spot, Way>>>,
    lines: BTreeMap<Vec<Spot>, Rc<Line>>,
}

impl<'g> Ways<'g> {
    /// None worked out yet.
    pub(crate) fn over(graph: &'g Graph) -> Self {
        Self { graph, known: BTreeMap::new(), lines: BTreeMap::new() }
    }

    /// The ways from a spot.
    pub(crate) fn from(&mut self, spot: &Spot) -> Rc<BTreeMap<Spot, Way>> {
        if let Some(known) = self.known.get(spot) {
            return Rc::clone(known);
        }
        let found = Rc::new(self.graph.ways_from(spot));
        self.known.insert(spot.clone(), Rc::clone(&found));
        found
    }

    fn line(&mut self, spots: &[Spot]) -> Rc<Line> {
        if let Some(known) = self.lines.get(spots) {
            return Rc::clone(known);
        }
        let distance: Vec<Vec<i64>> = spots
            .iter()
            .map(|from| {
                let ways = self.from(from);
                spots.iter().map(|to| ways.get(to).map_or(i64::MAX / 4, |way| way.length.to_um())).collect()
            })
            .collect();
        let found = Rc::new(shortest(&distance));
        self.lines.insert(spots.to_vec(), Rc::clone(&found));
        found
    }
}

/// Mains points that feed a driver or another wall station already.
pub(crate) type Taken = BTreeSet<Id>;

/// The cheapest plan of a line, or the roles that no part of the catalogue can play.
pub(crate) fn cheapest<'a>(
    inputs: &'a Inputs,
    zone: &ZoneNeed<'a>,
    line: &LineNeed<'a>,
    ways: &mut Ways<'_>,
    taken: &Taken,
) -> Result<LinePlan<'a>, Vec<Role>> {
    let reach = ways.from(&line.drivers[0].spot);
    let mut lists: Vec<Vec<Choice<'a>>> = Vec::new();
    let mut missing = Vec::new();
    for role in roles(zone, line) {
        let spots = match role {
            Role::Dusk => dusk_spots(inputs, line, &reach),
            Role::Station => station_spots(inputs, zone, line, &reach, taken),
            _ => Vec::new(),
        };
        let found = choices(inputs, zone, line, role, &spots);
        if found.is_empty() {
            missing.push(role);
        }
        lists.push(found);
    }
    if !missing.is_empty() {
        return Err(missing);
    }
    let settled = given(inputs, zone, line);
    let mut best: Option<(Rank, LinePlan<'a>)> = None;
    let mut bound: Option<(u32, Money)> = None;
    let mut counter = vec![0_usize; lists.len()];
    loop {
        let picked: Vec<&Choice<'a>> = lists.iter().zip(&counter).map(|(list, i)| &list[*i]).collect();
        let (broken, plan) = weigh(inputs, &picked, &settled, &reach, ways, taken);
        let parts = picked.iter().map(|choice| choice.part.item.part.clone()).collect();
        let low = (broken, plan.bound);
        bound = Some(bound.map_or(low, |bound| bound.min(low)));
        let key = (broken, plan.cost, parts);
        if best.as_ref().is_none_or(|(known, _)| key < *known) {
            best = Some((key, plan));
        }
        // The next choice, the last list turning fastest.
        let Some(turn) = (0..lists.len()).rev().find(|i| counter[*i] + 1 < lists[*i].len()) else { break };
        counter[turn] += 1;
        counter[turn + 1..].fill(0);
    }
    let (_, mut plan) = best.ok_or_else(Vec::new)?;
    plan.bound = bound.map_or(plan.cost, |(_, low)| low.min(plan.cost));
    Ok(plan)
}

/// How good a line is, the least being best: rules broken, cost, then the names of its parts.
type Rank = (u32, Money, Vec<String>);

/// One choice of parts with the shortest line through it.
fn weigh<'a>(
    inputs: &'a Inputs,
    picked: &[&Choice<'a>],
    settled: &[Device<'a>],
    reach: &BTreeMap<Spot, Way>,
    ways: &mut Ways<'_>,
    taken: &Taken,
) -> (u32, LinePlan<'a>) {
    let mut broken: u32 = picked.iter().map(|choice| choice.broken).sum();
    let mut cost: Money = picked.iter().map(|choice| choice.cost).sum();
    let all = picked.iter().flat_map(|choice| &choice.devices).chain(settled).cloned();
    let (mut devices, loose): (Vec<Device<'a>>, Vec<Device<'a>>) =
        all.partition(|device| reach.contains_key(&device.spot));
    broken += u32::try_from(loose.len()).unwrap_or(u32::MAX / 2);
    let spots: BTreeSet<Spot> = devices.iter().map(|device| device.spot.clone()).collect();
    let spots: Vec<Spot> = spots.into_iter().collect();
    let line = ways.line(&spots);
    let mut place = vec![0; spots.len()];
    for (position, spot) in line.order.iter().enumerate() {
        place[*spot] = position;
    }
    devices.sort_by_key(|device| {
        let position = spots.binary_search(&device.spot).map_or(usize::MAX, |spot| place[spot]);
        (position, device.kind, device.serves.clone())
    });
    let limit = devices.iter().filter_map(|device| device.part.greatest_control_cable).min();
    let mut cables = join(inputs, &devices, ways, Want::Cheapest);
    let sum = |cables: &[Laid<'_>]| cables.iter().map(|laid| laid.cut).sum::<Length>();
    if limit.is_some_and(|limit| sum(&cables) > limit) {
        cables = join(inputs, &devices, ways, Want::Shortest);
    }
    let length = sum(&cables);
    broken += u32::from(limit.is_some_and(|limit| length > limit));
    broken += cables.iter().filter(|laid| laid.lead.is_none()).count() as u32;
    broken += short_of_sockets(&devices);
    let laid: Money = cables.iter().map(|laid| laid.cost).sum();
    let mut supply = None;
    let station = devices.iter().chain(&loose).find(|device| device.kind == ControlDevice::WallStation);
    if let Some(station) = station.filter(|station| station.part.own_supply.is_some()) {
        supply = own_supply(&ways.from(&station.spot), taken);
        match &supply {
            Some(supply) => cost += mains_cost(inputs, supply, &station.spot),
            None => broken += 1,
        }
    }
    let exact = line.bound == line.length;
    let bound = if exact { cost + laid } else { cost };
    (broken, LinePlan { devices, loose, cables, supply, length, limit, cost: cost + laid, bound })
}

fn join<'a>(inputs: &'a Inputs, devices: &[Device<'a>], ways: &mut Ways<'_>, want: Want) -> Vec<Laid<'a>> {
    let tells = |device: &Device<'_>| {
        matches!(device.kind, ControlDevice::Sensor | ControlDevice::DuskSensor | ControlDevice::WallStation)
    };
    if !devices.iter().any(tells) {
        // Nothing sends anything: each device keeps what was set up in it.
        return Vec::new();
    }
    devices
        .windows(2)
        .map(|pair| {
            let way = ways.from(&pair[0].spot).get(&pair[1].spot).cloned().unwrap_or_default();
            lay(inputs, &pair[0], &pair[1], &way, want)
        })
        .collect()
}

/// Decoders that have fewer control sockets than cables come to them.
fn short_of_sockets(devices: &[Device<'_>]) -> u32 {
    let last = devices.len().saturating_sub(1);
    let short = devices.iter().enumerate().filter(|(position, device)| {
        let cables = u8::from(*position > 0) + u8::from(*position < last);
        matches!(device.part.kind, ControlKind::Decoder { control_sockets, .. } if control_sockets < cables)
    });
    u32::try_from(short.count()).unwrap_or(u32::MAX / 2)
}

/// The nearest mains point that feeds nothing else.
fn own_supply(ways: &BTreeMap<Spot, Way>, taken: &Taken) -> Option<StationSupply> {
    let points = ways.iter().filter_map(|(end, way)| match end {
        Spot::End(RouteEnd::MainsPoint(point)) if !taken.contains(point) => Some((way, point)),
        _ => None,
    });
    points.min().map(|(way, point)| StationSupply { point: point.clone(), way: way.clone() })
}

/// The mains cable for a wall station.
pub(crate) fn mains_cable<'a>(inputs: &'a Inputs, spot: &Spot) -> Option<&'a catalogue::Lead> {
    let outdoors = [setting(inputs, spot), inputs.survey.site.exposure.setting];
    let weather = if outdoors.into_iter().all(indoors) { Weather::Indoors } else { Weather::Outdoors };
    stock::mains_cable(&inputs.catalogue, weather)
}

fn indoors(setting: Setting) -> bool {
    Weather::of(setting) == Weather::Indoors
}

fn mains_cost(inputs: &Inputs, supply: &StationSupply, spot: &Spot) -> Money {
    let labour = &inputs.catalogue.labour;
    let length = supply.way.length + MAINS_ALLOWANCE;
    let cable = mains_cable(inputs, spot).map_or(Money::ZERO, |lead| lead.item.price.per_metre(length));
    let laid = labour.minutes(i64::from(labour.lead_minutes_per_10_m));
    cable
        + laid.per_metre(Length::um(supply.way.length.to_um() / 10))
        + labour.minutes(i64::from(labour.connection_minutes) * 2)
}

/// Where a dusk sensor can see the sky: driver places and ways in of the zone's rails in the open; where there is none,
/// sheltered ones, else beside the drivers.
fn dusk_spots(inputs: &Inputs, line: &LineNeed<'_>, reach: &BTreeMap<Spot, Way>) -> Vec<Spot> {
    let ours = |rail: &Id| line.rails.iter().any(|need| &need.rail.id == rail);
    let outdoors: Vec<Spot> = reach
        .keys()
        .filter(|spot| match spot {
            Spot::End(RouteEnd::DriverPlace(_)) => true,
            Spot::End(RouteEnd::WayIn { rail, .. }) => ours(rail),
            _ => false,
        })
        .filter(|spot| !indoors(setting(inputs, spot)))
        .cloned()
        .collect();
    let sheltered = |spot: &&Spot| setting(inputs, spot) == Setting::OutdoorSheltered;
    let open: Vec<Spot> = outdoors.iter().filter(|spot| !sheltered(spot)).cloned().collect();
    match (open.is_empty(), outdoors.is_empty()) {
        (false, _) => open,
        (true, false) => outdoors,
        (true, true) => beside(line),
    }
}

fn beside(line: &LineNeed<'_>) -> Vec<Spot> {
    let spots: BTreeSet<Spot> = line.drivers.iter().map(|need| need.spot.clone()).collect();
    spots.into_iter().collect()
}

/// Where a wall station may hang: at the place that the brief names, else at a mains point that feeds nothing else or
/// beside a driver.
fn station_spots(
    inputs: &Inputs,
    zone: &ZoneNeed<'_>,
    line: &LineNeed<'_>,
    reach: &BTreeMap<Spot, Way>,
    taken: &Taken,
) -> Vec<Spot> {
    let known = |place: &&Id| inputs.survey.driver_places.iter().any(|found| &found.id == *place);
    if let Some(place) = zone.zone.control.station.as_ref().filter(known) {
        return vec![Spot::End(RouteEnd::DriverPlace(place.clone()))];
    }
    let mains = reach.keys().filter(|spot| match spot {
        Spot::End(RouteEnd::MainsPoint(point)) => {
            !taken.contains(point) && inputs.survey.mains_points.iter().any(|known| &known.id == point)
        }
        _ => false,
    });
    mains.cloned().chain(beside(line)).collect()
}
