//! Control of the zones: which devices, where, on which control cable, with which settings.
//!
//! Everything here is read off the drivers and circuits that are planned already: [`need`] gathers what each zone
//! switches and which drivers control cable can join, [`choose`] takes the cheapest devices and the shortest line through
//! them, [`write`] puts them into the plan and [`remarks`] says what is missing.

mod cabling;
mod choose;
mod contacts;
mod coverage;
mod device;
mod line;
mod need;
mod remarks;
mod settings;
mod tests_due;
mod ways;
mod write;

use std::collections::BTreeMap;

use survey::Finding;

use crate::build::canonical::Inputs;
use crate::document::{Cable, Circuit, ControlPlan, DriverPlan, Objective, TestLine, ZonePlan};
use crate::schedule::cables::Cut;
use choose::{Taken, Ways, cheapest};
use units::Money;
use write::{Numbers, write_line};

/// The control of all zones.
#[derive(Default)]
pub(crate) struct Controls {
    /// Zones, in order of id.
    pub zones: Vec<ZonePlan>,
    /// Devices, by zone and line.
    pub devices: Vec<ControlPlan>,
    /// Control cables and the mains leads of wall stations.
    pub cables: Vec<Cable>,
    /// Cuts from reels for them.
    pub cuts: Vec<Cut>,
    /// Function tests, loss tests and continuity.
    pub tests: Vec<TestLine>,
    /// What there is to say.
    pub findings: Vec<Finding>,
    /// Devices and small parts by part reference.
    pub pieces: BTreeMap<String, u32>,
    /// Small parts that the catalogue lacks.
    pub missing: BTreeMap<String, u32>,
}

/// Plans the control of every zone that has a fed rail.
///
/// `given` are the decoders that were chosen with the chains of modules: they are joined to the line of their zone, and
/// listed as they are where no line takes them up.
pub(crate) fn plan(inputs: &Inputs, drivers: &[&DriverPlan], circuits: &[&Circuit], given: &[ControlPlan]) -> Controls {
    let mut controls = Controls::default();
    let mut taken: Taken = drivers.iter().filter_map(|driver| driver.mains_point.clone()).collect();
    let mut numbers = Numbers::default();
    for zone in need::zones(inputs, drivers, circuits, given) {
        let mut objective = Objective { cost: Money::ZERO, lower_bound: Money::ZERO };
        let mut lines = Vec::new();
        let mut ways = Ways::over(&zone.graph);
        for line in &zone.lines {
            if device::roles(&zone, line).is_empty() {
                continue;
            }
            match cheapest(inputs, &zone, line, &mut ways, &taken) {
                Ok(found) => {
                    taken.extend(found.supply.as_ref().map(|supply| supply.point.clone()));
                    objective.cost += found.cost;
                    objective.lower_bound += found.bound;
                    controls.findings.extend(remarks::line(inputs, &zone, line, &found));
                    lines.extend(write_line(inputs, &zone, line, &found, &mut numbers, &mut controls));
                }
                Err(missing) => controls.findings.push(remarks::missing(&zone, line, &missing)),
            }
        }
        controls.findings.extend(remarks::zone(inputs, &zone));
        controls.zones.push(ZonePlan {
            id: zone.zone.id.clone(),
            label: Inputs::name(&zone.zone.label, &zone.zone.id).to_owned(),
            control: zone.zone.control.kind,
            stairs: zone.zone.stairs,
            lines,
            objective,
        });
    }
    for decoder in given {
        if !controls.devices.iter().any(|device| device.device == decoder.device) {
            controls.devices.push(decoder.clone());
        }
    }
    controls
}
