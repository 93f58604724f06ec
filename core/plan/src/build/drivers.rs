//! Drivers of the plan, each once however many rails it serves, and what of them hangs on each rail.

use std::collections::BTreeMap;

use catalogue::{Driver, Lead};
use survey::Survey;
use units::Watts;

use super::circuits::CircuitNames;
use super::draft::RailDraft;
use super::feeding::needs_box;
use super::rail_case::{DriverOfScheme, RailCase};
use super::supply::PlaceSource;
use crate::document::{DriverPlan, OutputPlan};
use crate::feeds::Mains;
use crate::feeds::together::RailProblem;

/// A driver of the plan, with what the schedules need to know beside it.
pub(crate) struct PlannedDriver<'a> {
    /// The driver of the plan.
    pub plan: DriverPlan,
    /// Its part.
    pub part: &'a Driver,
    /// How mains gets to it.
    pub mains: Mains,
    /// The cable of its mains lead, where the catalogue has one.
    pub mains_cable: Option<&'a Lead>,
    /// Whether an enclosure is bought for it.
    pub enclosed: bool,
}

/// A rail with its feeds.
pub(crate) struct PoweredRail<Case, Chain> {
    /// Position of its draft.
    pub draft: usize,
    /// What the feeds were chosen from.
    pub case: Case,
    /// What each of its drivers feeds here, in order of the chainage of their first way in.
    pub drivers: Vec<RailDriver<Chain>>,
}

/// What a driver feeds on one rail.
pub(crate) struct RailDriver<Chain> {
    /// Position of the driver among those of the plan.
    pub driver: usize,
    /// Its chains on the rail.
    pub chains: Vec<Chain>,
}

/// Where a driver stands in the schemes: the position of the rail's draft, and the driver's own in the rail's scheme.
pub(crate) type Standing = (usize, usize);

/// The drivers that have been named so far, in order of rail.
#[derive(Default)]
pub(crate) struct Register<'a> {
    /// The drivers, in order of number.
    pub drivers: Vec<PlannedDriver<'a>>,
    /// Drivers that serve several rails, by where they stand in the schemes of those rails.
    known: BTreeMap<Standing, usize>,
}

impl<'a> Register<'a> {
    /// The position of a driver of a rail's scheme: one that an earlier rail has opened, else a new one. `all` are the
    /// places in the schemes where this driver stands, where there are several.
    pub(crate) fn open<C: RailCase<'a>>(
        &mut self,
        here: Standing,
        all: &[Standing],
        survey: &Survey,
        draft: &RailDraft<'_>,
        case: &C,
        fed: DriverOfScheme,
    ) -> usize {
        let position = self.known.get(&here).copied().unwrap_or_else(|| {
            let position = self.drivers.len();
            self.known.extend(all.iter().map(|standing| (*standing, position)));
            self.drivers.push(new_driver(format!("D{}", position + 1), survey, draft, case, fed));
            position
        });
        let plan = &mut self.drivers[position].plan;
        plan.load = Watts::checked(plan.load.get() + fed.load.get()).unwrap_or(plan.load);
        plan.rails.push(draft.rail.id.clone());
        position
    }

    /// Names of the next chain of a driver. Its outputs are counted on from rail to rail.
    pub(crate) fn next_names(&self, driver: usize) -> CircuitNames {
        let plan = &self.drivers[driver].plan;
        let output = format!("{}.{}", plan.id, plan.outputs.len() + 1);
        CircuitNames { circuit: format!("{output}a"), driver: plan.id.clone(), output }
    }

    /// Adds an output to a driver.
    pub(crate) fn add_output(&mut self, driver: usize, output: OutputPlan) {
        self.drivers[driver].plan.outputs.push(output);
    }
}

fn new_driver<'a, C: RailCase<'a>>(
    id: String,
    survey: &Survey,
    draft: &RailDraft<'_>,
    case: &C,
    fed: DriverOfScheme,
) -> PlannedDriver<'a> {
    let (problem, behind) = (case.problem(), case.behind());
    let (option, part) = (&problem.drivers()[fed.part], behind.drivers[fed.part]);
    let (place, source) = (&problem.places()[fed.place], &behind.places[fed.place]);
    let (surveyed, proposed) = match &source.source {
        PlaceSource::Surveyed(found) => (Some(found.id.clone()), None),
        PlaceSource::Proposed { words } => (None, Some(words.clone())),
    };
    PlannedDriver {
        plan: DriverPlan {
            id,
            part: option.part.clone(),
            place: surveyed,
            proposed,
            mains_point: match &place.mains {
                Mains::Route { point, .. } => Some(point.clone()),
                Mains::Assumed | Mains::Unreached => None,
            },
            rails: Vec::new(),
            outputs: Vec::new(),
            load: Watts::ZERO,
            rated: option.rated,
            usable: fed.usable,
            derating: place.fits.iter().find(|fit| fit.driver == fed.part).map_or(0.0, |fit| fit.share),
            reserve_percent: option.reserve_percent,
        },
        part,
        mains: place.mains.clone(),
        mains_cable: behind.mains,
        enclosed: needs_box(&part.ingress, survey, draft, source),
    }
}
