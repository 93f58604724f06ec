//! The cable schedule: mains leads, extension leads and running cores, each with what it joins.

use catalogue::{Lead, Supply};
use survey::Id;
use units::{Amps, Length, SquareMm, Volts};

use super::module_cables;
use crate::build::canonical::{Inputs, by_id};
use crate::build::circuits::pair_volts;
use crate::build::draft::RailDraft;
use crate::build::drivers::PlannedDriver;
use crate::build::feeding::{FeedCase, MAINS_ALLOWANCE};
use crate::build::point_power::PointChain;
use crate::build::power::{Fed, Powered};
use crate::build::say::at;
use crate::build::stock;
use crate::build::supply::name_of;
use crate::document::{Cable, CableKind, DriverPlan};
use crate::feeds::{LeadPieces, Mains};

/// A length to cut from a reel.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Cut {
    /// The cable.
    pub reference: String,
    /// The part.
    pub part: String,
    /// The length.
    pub length: Length,
}

/// The cable schedule and what is cut from reels for it.
#[derive(Debug, Default)]
pub(crate) struct CableSchedule {
    /// Cables in order of reference.
    pub cables: Vec<Cable>,
    /// Cuts in the same order.
    pub cuts: Vec<Cut>,
}

/// Lists every cable of the plan.
pub(crate) fn cable_schedule(inputs: &Inputs, drafts: &[RailDraft<'_>], powered: &Powered<'_>) -> CableSchedule {
    let mut schedule = CableSchedule::default();
    let fed = powered.fed();
    for own in &fed {
        match own {
            Fed::Points(rail, own) => {
                let driver = &powered.drivers[own.driver].plan;
                for chain in &own.chains {
                    extension(inputs, &drafts[rail.draft], &rail.case, driver, chain, &mut schedule);
                }
            }
            Fed::Modules(rail, own) => {
                let driver = &powered.drivers[own.driver].plan;
                module_cables::extensions(inputs, &drafts[rail.draft], &rail.case, driver, &own.chains, &mut schedule);
            }
        }
    }
    for own in &fed {
        if let Fed::Modules(rail, own) = own {
            module_cables::links(&drafts[rail.draft], &rail.case, &own.chains, &mut schedule);
        }
    }
    for own in &fed {
        if let Fed::Modules(rail, own) = own {
            let driver = &powered.drivers[own.driver].plan;
            module_cables::luminaire_leads(inputs, &drafts[rail.draft], &rail.case, driver, &own.chains, &mut schedule);
        }
    }
    for driver in &powered.drivers {
        mains(inputs, driver, &mut schedule);
    }
    for own in &fed {
        if let Fed::Points(rail, own) = own {
            for chain in &own.chains {
                runs(&drafts[rail.draft], &rail.case, chain, &mut schedule);
            }
        }
    }
    schedule
}

/// The reference of a cable of a circuit: the letter, the circuit's figures, and a number where there are several.
pub(crate) fn cable_reference(letter: char, circuit: &str, number: usize, of: usize) -> String {
    let figures = circuit.strip_prefix('D').unwrap_or(circuit);
    if of > 1 { format!("{letter}{figures}-{}", number + 1) } else { format!("{letter}{figures}") }
}

/// Where a driver stands, in words.
pub(crate) fn place_words(inputs: &Inputs, driver: &DriverPlan) -> String {
    let place = driver.place.as_ref().and_then(|id| by_id(&inputs.survey.driver_places, id, |place| &place.id));
    match (place, &driver.proposed) {
        (Some(place), _) => Inputs::name(&place.label, &place.id).to_owned(),
        (None, Some(words)) => words.clone(),
        (None, None) => "place not known".to_owned(),
    }
}

fn way_in_words(draft: &RailDraft<'_>, case: &FeedCase<'_>, chain: &PointChain) -> String {
    let way_in = &case.problem.ways_in[chain.chain.way_in];
    format!("way in {} of {} ({})", name_of(draft.rail, &way_in.id), draft.plan.label, at(way_in.chainage))
}

/// The greatest current of a station's branches over both cases.
fn amps_at(chain: &PointChain, station: usize) -> Option<Amps> {
    chain.network.cases.greatest_branch_amps().get(station).and_then(|amps| amps.iter().max().copied())
}

fn volts_at(chain: &PointChain, station: usize) -> Option<Volts> {
    pair_volts(&chain.network.cases.worst_network, &chain.network.cases.worst, station)
}

pub(super) fn drop_between(near: Option<Volts>, far: Option<Volts>) -> Option<Volts> {
    Some(near? - far?)
}

fn extension(
    inputs: &Inputs,
    draft: &RailDraft<'_>,
    case: &FeedCase<'_>,
    driver: &DriverPlan,
    chain: &PointChain,
    schedule: &mut CableSchedule,
) {
    let lead = case.leads[chain.chain.lead];
    let path = &case.problem.paths[chain.chain.path];
    let (pieces, made_up) = match &chain.chain.pieces {
        LeadPieces::Cut(length) => (vec![*length], false),
        LeadPieces::MadeUp(lengths) => (lengths.clone(), true),
    };
    let name = |number: usize| cable_reference('E', &chain.circuit.id, number, pieces.len());
    let mut left = path.length;
    let mut near = volts_at(chain, 0);
    for (number, piece) in pieces.iter().enumerate() {
        let route = left.min(*piece);
        left -= route;
        let end = chain.network.marks.lead_ends.get(number).copied().unwrap_or(chain.network.marks.feed);
        let far = volts_at(chain, end);
        let last = number + 1 == pieces.len();
        schedule.cables.push(Cable {
            reference: name(number),
            kind: CableKind::Extension,
            part: Some(lead.item.part.clone()),
            circuit: Some(chain.circuit.id.clone()),
            from: if number == 0 {
                format!("driver {} output {}, {}", driver.id, chain.circuit.output, place_words(inputs, driver))
            } else {
                format!("plug of {}", name(number - 1))
            },
            to: if last { way_in_words(draft, case, chain) } else { format!("plug of {}", name(number + 1)) },
            cores: lead.cores,
            area: lead.area,
            route,
            allowance: *piece - route,
            cut: *piece,
            made_up: made_up.then_some(*piece),
            amps: amps_at(chain, end),
            drop: drop_between(near, far),
            end_volts: far,
            connectors: lead_ends(lead, &chain.circuit.id, chain.network.marks.arms.len(), last),
            gland: if last { gland_words(inputs, lead) } else { String::new() },
            routes: path.routes.clone(),
            along: None,
        });
        if !made_up {
            schedule.cuts.push(Cut { reference: name(number), part: lead.item.part.clone(), length: *piece });
        }
        near = far;
    }
}

/// What is at the ends of an extension lead.
fn lead_ends(lead: &Lead, circuit: &str, arms: usize, last: bool) -> String {
    let plugs = match &lead.connector {
        Some(connector) => format!("{}-pole plugs", connector.poles),
        None => "bare ends, made off on site".to_owned(),
    };
    if !last {
        return plugs;
    }
    let runs: Vec<String> = (0..arms).map(|arm| cable_reference('R', circuit, arm, arms)).collect();
    format!("{plugs}; joined to {} at the way in", crate::build::say::list(&runs))
}

pub(super) fn gland_words(inputs: &Inputs, lead: &Lead) -> String {
    match stock::gland(&inputs.catalogue, lead.outside_diameter) {
        Some(gland) => format!("{} ({} cable)", gland.item.part, lead.outside_diameter),
        None => format!("none in the catalogue for {}", lead.outside_diameter),
    }
}

fn mains(inputs: &Inputs, own: &PlannedDriver<'_>, schedule: &mut CableSchedule) {
    // A proposed place has no measured way for its mains, so there is nothing to list yet.
    let Mains::Route { point, length, routes } = &own.mains else { return };
    let (driver, lead) = (&own.plan, own.mains_cable);
    let reference = format!("M{}", driver.id.strip_prefix('D').unwrap_or(&driver.id));
    let from = by_id(&inputs.survey.mains_points, point, |known| &known.id);
    let from = from.map_or_else(|| point.to_string(), |known| Inputs::name(&known.label, &known.id).to_owned());
    let cut = *length + MAINS_ALLOWANCE;
    schedule.cables.push(Cable {
        reference: reference.clone(),
        kind: CableKind::Mains,
        part: lead.map(|lead| lead.item.part.clone()),
        circuit: None,
        from: format!("mains point {from}"),
        to: format!("driver {}, {}", driver.id, place_words(inputs, driver)),
        cores: lead.map_or(3, |lead| lead.cores),
        area: lead.map_or(SquareMm::ZERO, |lead| lead.area),
        route: *length,
        allowance: MAINS_ALLOWANCE,
        cut,
        made_up: None,
        amps: Some(own.part.input),
        drop: None,
        end_volts: None,
        connectors: "made off by a licensed person".to_owned(),
        gland: match lead {
            Some(lead) if own.enclosed => gland_words(inputs, lead),
            _ => String::new(),
        },
        routes: routes.clone(),
        along: None,
    });
    if let Some(lead) = lead
        && matches!(lead.supply, Supply::Reel { .. })
    {
        schedule.cuts.push(Cut { reference, part: lead.item.part.clone(), length: cut });
    }
}

fn runs(draft: &RailDraft<'_>, case: &FeedCase<'_>, chain: &PointChain, schedule: &mut CableSchedule) {
    let run = case.runs[chain.chain.run];
    let arms = &chain.network.marks.arms;
    let near = volts_at(chain, chain.network.marks.feed);
    for (number, arm) in arms.iter().enumerate() {
        let reference = cable_reference('R', &chain.circuit.id, number, arms.len());
        let far = volts_at(chain, arm.end);
        let last: &str = draft.plan.luminaires.get(arm.last).map_or("the last luminaire", |found| &found.id);
        schedule.cables.push(Cable {
            reference: reference.clone(),
            kind: CableKind::Run,
            part: Some(run.item.part.clone()),
            circuit: Some(chain.circuit.id.clone()),
            from: way_in_words(draft, case, chain),
            to: format!(
                "{last} ({})",
                at(draft.plan.luminaires.get(arm.last).map_or(Length::ZERO, |found| found.start))
            ),
            cores: case.behind.conductors,
            area: run.area,
            route: arm.route,
            allowance: arm.cut - arm.route,
            cut: arm.cut,
            made_up: None,
            amps: first_section(chain, arm.end).and_then(|station| amps_at(chain, station)),
            drop: drop_between(near, far),
            end_volts: far,
            connectors: format!(
                "{} taps, uncut; {} end seals at {last}",
                arm.count * usize::from(case.behind.conductors),
                case.behind.conductors
            ),
            gland: String::new(),
            routes: Vec::<Id>::new(),
            along: None,
        });
        for length in 0..stock::lengths_side_by_side(run, case.behind.conductors) {
            let several = stock::lengths_side_by_side(run, case.behind.conductors) > 1;
            let reference = if several { format!("{reference} core {}", length + 1) } else { reference.clone() };
            schedule.cuts.push(Cut { reference, part: run.item.part.clone(), length: arm.cut });
        }
    }
}

/// The first station of an arm beyond the way in: its branches carry the current of the whole arm.
fn first_section(chain: &PointChain, end: usize) -> Option<usize> {
    let network = &chain.network.cases.worst_network;
    let feed = chain.network.marks.feed;
    let mut here = end;
    loop {
        let parent = network.stations.get(here)?.parent?;
        if parent == feed {
            return Some(here);
        }
        here = parent;
    }
}
