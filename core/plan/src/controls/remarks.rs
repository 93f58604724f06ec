//! What there is to say about a zone's control, and what to do next.

use catalogue::ControlKind;
use survey::{Answer, Control, Finding, Subject, Verdict};

use super::choose::LinePlan;
use super::device::{Role, coverages, needs_hole};
use super::need::{LineNeed, ZoneNeed, height, setting};
use super::write::spot_words;
use crate::build::canonical::Inputs;
use crate::build::say::{at, list, say, with_figures};
use crate::build::stock::Weather;
use crate::document::ControlDevice;
use crate::ingress;

fn name<'a>(zone: &'a ZoneNeed<'_>) -> &'a str {
    Inputs::name(&zone.zone.label, &zone.zone.id)
}

fn of_zone(zone: &ZoneNeed<'_>, verdict: Verdict, rule: &'static str, message: String, advice: &str) -> Finding {
    say(verdict, rule, Subject::Zone(zone.zone.id.clone()), message, advice)
}

/// A finding for roles that no part of the catalogue can play.
pub(crate) fn missing(zone: &ZoneNeed<'_>, line: &LineNeed<'_>, roles: &[Role]) -> Finding {
    let circuits = || line.drivers.iter().flat_map(|need| &need.circuits);
    let mut volts: Vec<String> = circuits().map(|circuit| circuit.nominal.to_string()).collect();
    volts.sort();
    volts.dedup();
    let words: Vec<String> = roles
        .iter()
        .map(|role| match role {
            Role::Presence => "presence sensor".to_owned(),
            Role::Dusk => "dusk sensor".to_owned(),
            Role::Station => match zone.zone.control.supply {
                Some(supply) => format!("wall station with an own supply of {supply}"),
                None => "wall station".to_owned(),
            },
            Role::Relay => format!("relay for {} or for the mains lead", list(&volts)),
            Role::Dimmer => format!("dimmer for {}", list(&volts)),
            Role::Decoder => {
                let channels =
                    circuits().flat_map(|circuit| circuit.loads.iter().filter_map(|load| load.channel)).max();
                let poles = channels.unwrap_or(0).saturating_add(1);
                format!("decoder for {} with two poles at its inlet and {poles} at its outlet", list(&volts))
            }
        })
        .collect();
    of_zone(
        zone,
        Verdict::NotEvaluated,
        "control-part",
        format!("the control of zone {} is not planned: the catalogue has no {}", name(zone), list(&words)),
        "add the part to the catalogue",
    )
}

/// What a finished line leaves to say.
pub(crate) fn line(inputs: &Inputs, zone: &ZoneNeed<'_>, line: &LineNeed<'_>, plan: &LinePlan<'_>) -> Vec<Finding> {
    let mut found = Vec::new();
    coverage(inputs, zone, line, plan, &mut found);
    for device in &plan.loose {
        found.push(of_zone(
            zone,
            Verdict::Stop,
            "control-route",
            format!(
                "no measured route joins {} to the drivers of zone {}",
                spot_words(inputs, &device.spot),
                name(zone)
            ),
            "survey a route for a control cable from there to the driver's place",
        ));
    }
    if plan.cables.iter().any(|laid| laid.lead.is_none()) {
        found.push(of_zone(
            zone,
            Verdict::NotEvaluated,
            "control-part",
            format!("the catalogue has no control cable that suits every length of zone {}", name(zone)),
            "add control cable of three conductors or more, outdoor where it sees the weather, by the reel",
        ));
    }
    let devices = || plan.devices.iter().chain(&plan.loose);
    for device in devices().filter(|device| !device.enclosed) {
        if !ingress::suits(&device.part.ingress, setting(inputs, &device.spot)) {
            found.push(of_zone(
                zone,
                Verdict::Stop,
                "control-ingress",
                format!("{} does not stand the wet at {}", device.part.item.part, spot_words(inputs, &device.spot)),
                "add one with a higher second numeral, or an enclosure, to the catalogue",
            ));
        }
    }
    let holes: Vec<String> = devices()
        .filter(|device| needs_hole(inputs, &device.spot))
        .map(|device| spot_words(inputs, &device.spot))
        .collect();
    if !holes.is_empty() {
        found.push(of_zone(
            zone,
            Verdict::Caution,
            "control-cable-exit",
            format!("the control cable leaves the tube where no way in was surveyed: {}", list(&holes)),
            "agree each exit and its gland with whoever answers for the rail; these holes are not in the drilling schedule",
        ));
    }
    dusk_and_station(inputs, zone, plan, &mut found);
    if plan.cables.is_empty() && zone.zone.control.kind == Control::AlwaysOn && !plan.devices.is_empty() {
        found.push(of_zone(
            zone,
            Verdict::Caution,
            "control-colour",
            format!("zone {} is always on: its colour is what is set up in each decoder", name(zone)),
            "control the zone from a wall station if the colour is to change in use",
        ));
    }
    found
}

/// What presence sensors see and what they don't.
fn coverage(inputs: &Inputs, zone: &ZoneNeed<'_>, line: &LineNeed<'_>, plan: &LinePlan<'_>, found: &mut Vec<Finding>) {
    if zone.zone.control.kind != Control::PresenceAfterDusk {
        return;
    }
    let sensor = plan.devices.iter().chain(&plan.loose).find(|device| device.kind == ControlDevice::Sensor);
    // Without a sensor nothing was reached; what one would have seen is said with the first of the catalogue.
    let part = sensor.map(|device| device.part).or_else(|| {
        inputs.catalogue.controls.iter().find(|control| matches!(control.kind, ControlKind::Sensor { .. }))
    });
    let Some(ControlKind::Sensor { detects, at_height }) = part.map(|part| part.kind.clone()) else { return };
    for (rail, coverage) in coverages(zone, line, detects, at_height) {
        let label = inputs.label(&rail.id);
        let subject = || Subject::Rail(rail.id.clone());
        let mounted = height(zone.zone, rail);
        if mounted.is_none() {
            found.push(say(
                Verdict::NotEvaluated,
                "sensor-height",
                subject(),
                format!(
                    "nobody has said how high the sensors on {label} stand; the plan takes them at {at_height}, where they \
                     see {detects}"
                ),
                "measure the rail's height above the walking surface, or state the sensors' height in the brief",
            ));
        }
        let seen = super::coverage::seen_at(detects, at_height, mounted.unwrap_or(at_height));
        if coverage.unseen.is_empty() {
            let count = coverage.sensors.len();
            found.push(say(
                Verdict::Pass,
                "presence-coverage",
                subject(),
                format!(
                    "{count} sensor{} see{} all of {label}, {seen} each; fewer can't from its posts and ways in",
                    if count == 1 { "" } else { "s" },
                    if count == 1 { "s" } else { "" }
                ),
                "",
            ));
            continue;
        }
        let stretches: Vec<String> =
            coverage.unseen.iter().map(|(from, to)| format!("{} to {}", at(*from), at(*to))).collect();
        let longest = coverage.unseen.iter().map(|(from, to)| *to - *from).max().unwrap_or_default();
        let verdict = if zone.zone.stairs == Answer::No { Verdict::Caution } else { Verdict::Stop };
        found.push(with_figures(
            say(
                verdict,
                "presence-coverage",
                subject(),
                format!("no sensor sees {label} from {}", list(&stretches)),
                "add a sensor that sees farther to the catalogue, mount the sensors higher, or survey a post or way in there",
            ),
            longest.to_mm(),
            0.0,
            "mm",
        ));
    }
}

fn dusk_and_station(inputs: &Inputs, zone: &ZoneNeed<'_>, plan: &LinePlan<'_>, found: &mut Vec<Finding>) {
    for device in plan.devices.iter().chain(&plan.loose) {
        let here = spot_words(inputs, &device.spot);
        match device.kind {
            ControlDevice::DuskSensor if Weather::of(setting(inputs, &device.spot)) == Weather::Indoors => {
                found.push(of_zone(
                    zone,
                    Verdict::NotEvaluated,
                    "dusk-sensor-sky",
                    format!(
                        "no place outdoors is joined by a route to the drivers, so the dusk sensor stands at {here}"
                    ),
                    "survey a place that sees the open sky and none of the zone's own light, with a route to it",
                ));
            }
            ControlDevice::DuskSensor => found.push(of_zone(
                zone,
                Verdict::Caution,
                "dusk-sensor-sky",
                format!("the dusk sensor stands at {here}, where its cable is shortest"),
                "make sure on site that it sees the open sky and none of the zone's own light",
            )),
            ControlDevice::WallStation => {
                let stated = zone.zone.control.station.is_some();
                if !stated {
                    found.push(of_zone(
                        zone,
                        Verdict::NotEvaluated,
                        "wall-station-place",
                        format!("nobody has said where the wall station hangs; the plan takes it {here}"),
                        "survey the place with a route to it, and name it in the brief of the zone",
                    ));
                }
                if device.part.own_supply.is_some() && plan.supply.is_none() {
                    found.push(of_zone(
                        zone,
                        Verdict::Stop,
                        "wall-station-supply",
                        format!(
                            "{} needs a mains point of its own, and none that feeds nothing else is joined by a route to {here}",
                            device.part.item.part
                        ),
                        "survey a mains point for it and a route from there to where it hangs, or choose a wall station \
                         without a supply of its own",
                    ));
                }
            }
            _ => {}
        }
    }
}

/// What the brief leaves open.
pub(crate) fn zone(inputs: &Inputs, zone: &ZoneNeed<'_>) -> Vec<Finding> {
    let wish = &zone.zone.control;
    let (dusk, hold) = match wish.kind {
        Control::Dusk => (true, false),
        Control::PresenceAfterDusk => (true, true),
        _ => (false, false),
    };
    let mut open = Vec::new();
    if dusk && wish.dusk_lux.is_none() {
        open.push("dusk threshold".to_owned());
    }
    if hold && wish.hold_seconds.is_none() {
        open.push("hold time".to_owned());
    }
    let mut found = Vec::new();
    if !open.is_empty() {
        found.push(of_zone(
            zone,
            Verdict::NotEvaluated,
            "control-settings",
            format!("the brief of zone {} gives no {}", name(zone), list(&open)),
            "ask the client and write it in the brief",
        ));
    }
    let sensed = dusk || wish.kind == Control::WallStation || wish.kind == Control::Dimmed;
    if sensed && zone.lines.len() > 1 {
        let places: Vec<String> = zone
            .lines
            .iter()
            .filter_map(|line| line.drivers.first())
            .map(|need| spot_words(inputs, &need.spot))
            .collect();
        found.push(with_figures(
            of_zone(
                zone,
                Verdict::Caution,
                "control-lines",
                format!(
                    "no route joins all drivers of zone {}, so each group has control of its own: at {}",
                    name(zone),
                    list(&places)
                ),
                "survey a route between them if they are to switch as one",
            ),
            zone.lines.len() as f64,
            1.0,
            "",
        ));
    }
    found
}
