//! From survey and catalogue to a whole plan, step by step.
//!
//! 1. [`canonical`]: everything in one order, so that no order of a file changes a figure.
//! 2. [`points`] and [`modules`]: which luminaires each rail gets and where they are.
//! 3. [`power`]: the cheapest feeds of each rail, with every chain solved as a network.
//! 4. [`controls`]: sensors, relays and the like for the zones, on their control cable.
//! 5. The schedules, read off all of them.
//!
//! What a person could mend on site is a finding and the plan is still drawn; nothing in here fails or panics.

mod behind;
pub(crate) mod canonical;
pub(crate) mod circuits;
pub(crate) mod draft;
pub(crate) mod drivers;
pub(crate) mod feeding;
mod locks;
pub(crate) mod modules;
mod network;
mod outcome;
pub(crate) mod passage;
pub(crate) mod point_power;
pub(crate) mod points;
pub(crate) mod power;
mod rail_case;
mod remarks;
mod room;
mod routes;
pub(crate) mod say;
mod selection;
pub(crate) mod stock;
pub(crate) mod stretches;
pub(crate) mod supply;
mod together;
mod warmth;
mod zones;

use std::collections::BTreeSet;

use catalogue::Catalogue;
use survey::{Finding, Survey, Verdict};

use crate::controls;
use crate::document::{DriverPlan, Objective, Plan};
use crate::identity::{ENGINE_VERSION, plan_id};
use crate::ingress;
use crate::memory::Memory;
use crate::schedule::{
    cables::cable_schedule, decoders::decoders, drilling::drilling, end_caps::end_caps, parts::parts, reels::reels,
    tests_due::tests_due,
};
use canonical::Inputs;
use draft::RailDraft;
use power::power;
use supply::SiteWays;

/// Plans a site: luminaires, feeds, circuits and schedules for every rail that the brief names.
///
/// The same inputs give the same plan on every machine, whatever order their lists have. Findings are the planning's
/// own; the rules judge the plan afterwards.
///
/// The objective is the least cost of all drivers, mains leads, extension leads and running cores (of modules: luminaire
/// leads, link leads and decoders) with the labour for them. A driver may serve several rails of points where they are of one
/// voltage, in one zone, and have a place in common; of modules it serves one rail. Such rails are chosen for together, and
/// the whole's lower bound is the sum of what is proved for each group of them. The cost of a rail counts a driver that it
/// shares where it is the first of the driver's rails; its own bound is what it costs by itself at least, whatever the others
/// do. Where groups want more room at a place than it has, they choose in order of their first rail, those of points before
/// those of modules, and the gap to the bound says what that may cost.
/// Nothing is proved for a rail that no scheme feeds within every limit: its bound is zero.
#[must_use]
pub fn plan(survey: &Survey, catalogue: &Catalogue) -> Plan {
    plan_with(survey, catalogue, &Memory::default())
}

/// The same with what earlier plans have worked out, for whoever plans again after every change. The plan is the same with
/// any memory; it is made sooner.
#[must_use]
pub fn plan_with(survey: &Survey, catalogue: &Catalogue, memory: &Memory) -> Plan {
    memory.begin();
    let inputs = Inputs::of(survey, catalogue);
    let (mut drafts, mut findings) = points::drafts(&inputs);
    let starts = SiteWays::starts(&inputs.survey);
    let powered = power(&inputs, &starts, &mut drafts, memory);
    for draft in &mut drafts {
        hold_back(draft);
    }
    findings.extend(zones::mixed_voltages(&inputs, &drafts));

    let given = decoders(&inputs, &drafts, &powered);
    let drivers: Vec<&DriverPlan> = powered.drivers.iter().map(|driver| &driver.plan).collect();
    let circuits = powered.circuits();
    let mut controls = controls::plan(&inputs, &drivers, &circuits, &given);
    findings.append(&mut controls.findings);

    let mut cables = cable_schedule(&inputs, &drafts, &powered);
    cables.cables.append(&mut controls.cables);
    cables.cuts.append(&mut controls.cuts);
    let (reels, said) = reels(&inputs.catalogue, &cables.cuts);
    findings.extend(said);
    let (parts, said) = parts(&inputs, &drafts, &powered, &controls, &cables, &reels);
    findings.extend(said);
    let drilling = drilling(&drafts);
    let end_caps = end_caps(&drafts, &powered);
    let mut tests = tests_due(&powered);
    tests.append(&mut controls.tests);
    let lower_bound = powered.lower_bound;
    let (drivers, circuits) = powered.into_plan();

    let mut rails = Vec::with_capacity(drafts.len());
    for draft in drafts {
        findings.extend(draft.findings);
        rails.push(draft.plan);
    }
    findings.sort_by(Finding::order);
    let objective = Objective { cost: rails.iter().map(|rail| rail.objective.cost).sum(), lower_bound };
    Plan {
        plan_id: plan_id(&inputs.survey, &inputs.catalogue),
        engine_version: ENGINE_VERSION,
        rails,
        drivers,
        circuits,
        zones: controls.zones,
        controls: controls.devices,
        cables: cables.cables,
        end_caps,
        reels,
        drilling,
        parts,
        tests,
        findings,
        objective,
    }
}

/// Names everything that keeps a rail's holes from being drilled: unproved passages, and stops of the planning itself.
fn hold_back(draft: &mut RailDraft<'_>) {
    if draft.plan.luminaires.is_empty() {
        draft.plan.not_ready = vec!["no luminaires are planned on this rail".to_owned()];
        return;
    }
    let mut words = passage::unproved_bore(draft.rail);
    words.append(&mut draft.plan.not_ready);
    let stops = draft.findings.iter().filter(|finding| finding.verdict == Verdict::Stop);
    words.extend(stops.map(|finding| finding.message.clone()));
    let mut seen = BTreeSet::new();
    words.retain(|word| seen.insert(word.clone()));
    draft.plan.not_ready = words;
}
