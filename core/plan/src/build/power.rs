//! Feeds for every rail: the cheapest schemes, drivers and chains with their names, every chain solved.

use std::collections::BTreeMap;

use survey::{Id, RouteEnd};
use units::Money;

use super::behind::Proposed;
use super::canonical::Inputs;
use super::draft::RailDraft;
use super::drivers::{PlannedDriver, PoweredRail, RailDriver, Register};
use super::feeding::{FeedCase, feed_case};
use super::locks;
use super::modules::feeding::{ModuleCase, module_case};
use super::modules::power::{ModuleDriver, ModuleRail};
use super::passage;
use super::point_power::{PointDriver, PointRail};
use super::rail_case::{DriverOfScheme, RailCase};
use super::say::say;
use super::supply::{SiteWays, ways_in};
use super::together::{Chosen, Group, Room, choose};
use crate::document::{Circuit, DriverPlan, Objective, OutputPlan};
use crate::feeds::together::RailProblem;
use crate::feeds::{FedDriver, WayIn};
use crate::memory::Memory;

/// The feeds of a site.
pub(crate) struct Powered<'a> {
    /// Drivers in order of number.
    pub drivers: Vec<PlannedDriver<'a>>,
    /// Rails of points, in order of draft.
    pub points: Vec<PointRail<'a>>,
    /// Rails of modules, in order of draft.
    pub modules: Vec<ModuleRail<'a>>,
    /// Proven lower bound of the cost of all feeds.
    pub lower_bound: Money,
}

/// What a driver feeds on a rail, with the rail.
pub(crate) enum Fed<'p, 'a> {
    /// Points.
    Points(&'p PointRail<'a>, &'p PointDriver),
    /// Modules.
    Modules(&'p ModuleRail<'a>, &'p ModuleDriver),
}

impl<'a> Powered<'a> {
    /// What each driver feeds on each of its rails, in order of driver, then of rail.
    pub(crate) fn fed(&self) -> Vec<Fed<'_, 'a>> {
        let mut all: Vec<((usize, usize), Fed<'_, 'a>)> = Vec::new();
        for rail in &self.points {
            all.extend(rail.drivers.iter().map(|own| ((own.driver, rail.draft), Fed::Points(rail, own))));
        }
        for rail in &self.modules {
            all.extend(rail.drivers.iter().map(|own| ((own.driver, rail.draft), Fed::Modules(rail, own))));
        }
        all.sort_by_key(|own| own.0);
        all.into_iter().map(|own| own.1).collect()
    }

    /// The circuits, in order of driver and output.
    pub(crate) fn circuits(&self) -> Vec<&Circuit> {
        let mut circuits = Vec::new();
        for fed in self.fed() {
            match fed {
                Fed::Points(_, own) => circuits.extend(own.chains.iter().map(|chain| &chain.circuit)),
                Fed::Modules(_, own) => circuits.extend(own.chains.iter().map(|chain| &chain.circuit)),
            }
        }
        circuits
    }

    /// Drivers and circuits as the plan lists them.
    pub(crate) fn into_plan(self) -> (Vec<DriverPlan>, Vec<Circuit>) {
        let mut circuits: Vec<((usize, usize), Circuit)> = Vec::new();
        for rail in self.points {
            for own in rail.drivers {
                circuits.extend(own.chains.into_iter().map(|chain| ((own.driver, rail.draft), chain.circuit)));
            }
        }
        for rail in self.modules {
            for own in rail.drivers {
                circuits.extend(own.chains.into_iter().map(|chain| ((own.driver, rail.draft), chain.circuit)));
            }
        }
        // A stable sort keeps the chains of a driver on a rail in their order.
        circuits.sort_by_key(|own| own.0);
        let drivers = self.drivers.into_iter().map(|driver| driver.plan).collect();
        (drivers, circuits.into_iter().map(|own| own.1).collect())
    }
}

/// Feeds every draft that has luminaires, and writes objective, findings and what holds the drilling back into it.
pub(crate) fn power<'a>(
    inputs: &'a Inputs,
    starts: &'a [RouteEnd],
    drafts: &mut [RailDraft<'a>],
    memory: &Memory,
) -> Powered<'a> {
    let ways = SiteWays::of(&inputs.survey, starts);
    let mut points: Vec<(usize, Option<&Id>, FeedCase<'a>)> = Vec::new();
    let mut modules: Vec<(usize, Option<&Id>, ModuleCase<'a>)> = Vec::new();
    for (position, draft) in drafts.iter_mut().enumerate() {
        if draft.plan.luminaires.is_empty() {
            continue;
        }
        let zone = draft.brief.zone.as_ref();
        if ways_in(draft.rail).is_empty() {
            draft.findings.push(no_way_in(draft));
        } else if let Some(own) = &draft.modules {
            modules.push((position, zone, module_case(inputs, &ways, draft, own)));
        } else if let Some(case) = feed_case(inputs, &ways, draft) {
            points.push((position, zone, case));
        }
    }
    let mut used = Room::new();
    // Rails of modules take the room that rails of points have left.
    let points = choose(points, &mut used, memory);
    let modules = choose(modules, &mut used, memory);
    locks::weigh(inputs, &ways, drafts, &locks::Fed { points: &points, modules: &modules, memory });
    let lower_bound = points.iter().map(Group::lower_bound).chain(modules.iter().map(Group::lower_bound)).sum();
    let (mut points, mut modules) = (by_draft(points), by_draft(modules));
    let mut register = Register::default();
    let mut powered = Powered { drivers: vec![], points: vec![], modules: vec![], lower_bound };
    // Drivers are numbered in order of rail, whatever stands on it.
    for (position, draft) in drafts.iter_mut().enumerate() {
        powered.points.extend(points.remove(&position).map(|rail| finish(inputs, draft, rail, &mut register)));
        powered.modules.extend(modules.remove(&position).map(|rail| finish(inputs, draft, rail, &mut register)));
    }
    powered.drivers = register.drivers;
    powered
}

fn by_draft<'a, C: RailCase<'a>>(groups: Vec<Group<C, C::Outcome>>) -> BTreeMap<usize, Chosen<C, C::Outcome>> {
    groups.into_iter().flat_map(Group::into_rails).map(|rail| (rail.draft, rail)).collect()
}

/// Names the drivers and chains of a rail, solves every chain, and writes objective, findings and what holds the papers
/// back into the draft.
fn finish<'a, C: RailCase<'a>>(
    inputs: &Inputs,
    draft: &mut RailDraft<'a>,
    rail: Chosen<C, C::Outcome>,
    register: &mut Register<'a>,
) -> PoweredRail<C, C::Powered> {
    let Chosen { draft: position, case, outcome, lower_bound, standings } = rail;
    let said = case.findings(inputs, draft, &outcome);
    draft.findings.extend(said);
    if case.behind().proposed == Proposed::Yes {
        draft.findings.push(survey_a_place(draft, case.problem().ways_in()));
    }
    let cost = C::cost(&outcome);
    draft.plan.objective = Objective { cost, lower_bound: lower_bound.min(cost) };
    let mut drawn: Vec<(usize, &FedDriver<C::Chain>)> = C::drawn(&outcome).iter().enumerate().collect();
    drawn.sort_by_key(|(_, own)| {
        let chainages = own.chains.iter().map(|chain| case.feed(chain).chainage);
        (chainages.min(), own.chains.first().map(|chain| case.feed(chain).first))
    });
    let mut drivers = Vec::with_capacity(drawn.len());
    for (index, own) in drawn {
        let fed = DriverOfScheme::from(own);
        let driver = register.open((position, index), &standings[index], &inputs.survey, draft, &case, fed);
        let mut chains = Vec::with_capacity(own.chains.len());
        for chain in &own.chains {
            let names = register.next_names(driver);
            let (circuit, output) = (names.circuit.clone(), names.output.clone());
            let feed = case.feed(chain);
            let unproved = passage::unproved_way(&inputs.survey, draft.rail, feed.way_in, feed.routes);
            let Some((chain, amps)) = case.powered(inputs, draft, fed, chain.clone(), names) else { continue };
            draft.plan.not_ready.extend(unproved);
            let limit = case.problem().drivers()[fed.part].output_limit;
            register.add_output(driver, OutputPlan { id: output, circuits: vec![circuit], amps, limit });
            chains.push(chain);
        }
        drivers.push(RailDriver { driver, chains });
    }
    PoweredRail { draft: position, case, drivers }
}

fn no_way_in(draft: &RailDraft<'_>) -> survey::Finding {
    say(
        survey::Verdict::Stop,
        "way-in",
        survey::Subject::Rail(draft.rail.id.clone()),
        "no way in was surveyed on this rail, so its luminaires are laid out and not fed",
        "find where a cable can enter the tube (an open end, a cap that comes off, a hollow post) and survey it as a \
         way in",
    )
}

fn survey_a_place(draft: &RailDraft<'_>, ways_in: &[WayIn]) -> survey::Finding {
    let near: Vec<String> =
        ways_in.iter().map(|way_in| super::supply::name_of(draft.rail, &way_in.id).to_owned()).collect();
    say(
        survey::Verdict::Stop,
        "driver-place",
        survey::Subject::Rail(draft.rail.id.clone()),
        format!(
            "no surveyed driver place is joined by a route to a way in of this rail; the plan takes one for granted \
             within {} m of a way in, with no mains",
            super::supply::PROPOSED_ROUTE.to_m()
        ),
        format!(
            "survey a place: one that can be reached without dismantling, near the way in {}, with a route to it and \
             a route to a mains point",
            near.join(" or ")
        ),
    )
}
