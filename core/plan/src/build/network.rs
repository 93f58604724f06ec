//! A chain as a network: source, extension lead with its plugs, running cores with a loop at each hole, taps, loads.
//!
//! Stations have stable names: `s` the driver's output, `lead1` the end of the first piece of the lead, `feed` the way
//! in, `run12` the running cores at luminaire 12 of the rail, `lum12` that luminaire's terminals. A connection without
//! resistance is no branch: both sides are then one station, so that the lists can be rebuilt in any simulator.

use catalogue::LoadModel as Catalogued;
use units::{Amps, Length, Ohms, SquareMm};

use super::draft::RailDraft;
use super::feeding::{FeedCase, contact_ohms};
use super::stock;
use crate::circuit::case::CaseSolutions;
use crate::circuit::{
    Branch, BranchKind, CommonSide, Conditions, Conductor, LoadModel, Network, Place, SourceTolerance, Temperatures,
    Wiring,
};
use crate::feeds::{Chain, LeadPieces};

/// A chain solved in its two cases, with the stations that the schedules ask about.
pub(crate) struct ChainNetwork {
    /// Networks and solutions.
    pub cases: CaseSolutions,
    /// Where things are in them; the same in both.
    pub marks: Marks,
}

/// Stations of interest.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Marks {
    /// The end of each piece of the lead, from the driver on.
    pub lead_ends: Vec<usize>,
    /// The way in.
    pub feed: usize,
    /// The arms, the one towards the datum first.
    pub arms: Vec<Arm>,
}

/// An arm of a chain.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Arm {
    /// Its farthest luminaire, by position in the rail.
    pub last: usize,
    /// Luminaires on it.
    pub count: usize,
    /// The station of the running cores at the farthest one.
    pub end: usize,
    /// Length along the tube from the way in.
    pub route: Length,
    /// Length of the running cores, loops counted.
    pub cut: Length,
}

/// Builds and solves a chain of a rail.
pub(crate) fn solve_chain(
    case: &FeedCase<'_>,
    draft: &RailDraft<'_>,
    chain: &Chain,
    driver: usize,
) -> Option<ChainNetwork> {
    let part = case.behind.drivers.get(driver)?;
    let point = draft.chosen?.point;
    let percent = f64::from(part.tolerance_permille) / 10.0;
    let tolerance = SourceTolerance::new(part.output, percent.min(100.0), percent)?;
    let temperatures = Temperatures { cold: case.behind.cold, warm: case.behind.warm };
    let mut marks = Marks::default();
    let cases = CaseSolutions::of(tolerance, temperatures, |conditions| {
        let (network, found) = build(case, draft, point, chain, conditions);
        marks = found;
        network
    });
    Some(ChainNetwork { cases, marks })
}

/// The conductors of a chain of `conductors` cores: a pair, or a common and its channels.
pub(crate) fn wiring(conductors: u8) -> Wiring {
    if conductors <= 2 {
        return Wiring::Pair;
    }
    let channels = (1..conductors).map(|channel| format!("channel{channel}")).collect();
    Wiring::Colour { common: CommonSide::Plus, channels }
}

/// One core of something: what it is made of, how long, and its resistance.
#[derive(Clone, Copy)]
pub(crate) struct Core {
    /// What it is made of.
    pub kind: BranchKind,
    /// Length of conductor.
    pub length: Length,
    /// Area, where it has one.
    pub area: Option<SquareMm>,
    /// Resistance.
    pub ohms: Ohms,
    /// Current that it stands.
    pub stands: Option<Amps>,
}

impl Core {
    /// A connection.
    pub(crate) fn joint(kind: BranchKind, ohms: Ohms, stands: Option<Amps>) -> Self {
        Self { kind, length: Length::ZERO, area: None, ohms, stands }
    }

    /// A length of a lead at a temperature.
    pub(crate) fn of_lead(kind: BranchKind, lead: &catalogue::Lead, length: Length, conditions: Conditions) -> Self {
        let per_m = stock::ohms_per_m(lead, conditions.conductors).unwrap_or(0.0);
        let ohms = Ohms::checked(per_m * length.to_m()).unwrap_or(Ohms::ZERO);
        Self { kind, length, area: Some(lead.area), ohms, stands: Some(lead.carries) }
    }
}

/// Adds a station behind one core of each conductor, or stays where it is if there is no resistance between.
fn beyond(network: &mut Network, id: String, place: Option<Place>, parent: usize, core: Core) -> usize {
    let all = network.conductors();
    beyond_on(network, id, place, parent, core, &all)
}

/// The same for some of the conductors: those that a lead has.
pub(crate) fn beyond_on(
    network: &mut Network,
    id: String,
    place: Option<Place>,
    parent: usize,
    core: Core,
    conductors: &[Conductor],
) -> usize {
    if core.ohms <= Ohms::ZERO {
        return parent;
    }
    let branches = conductors
        .iter()
        .map(|conductor| Branch {
            conductor: *conductor,
            kind: core.kind,
            length: core.length,
            area: core.area,
            ohms: core.ohms,
            stands: core.stands,
        })
        .collect();
    network.add_station(id, place, parent, branches)
}

fn build(
    case: &FeedCase<'_>,
    draft: &RailDraft<'_>,
    point: &catalogue::PointLuminaire,
    chain: &Chain,
    conditions: Conditions,
) -> (Network, Marks) {
    let mut network = Network::new(wiring(case.behind.conductors), conditions.source, "s");
    let mut marks = Marks::default();
    let at = |chainage: Length| Some(Place { rail: draft.rail.id.to_string(), chainage });
    let (lead, run) = (case.leads[chain.lead], case.runs[chain.run]);
    let way_in = &case.problem.ways_in[chain.way_in];

    let pieces = match &chain.pieces {
        LeadPieces::Cut(length) => vec![*length],
        LeadPieces::MadeUp(lengths) => lengths.clone(),
    };
    let plug =
        Core::joint(BranchKind::Plug, contact_ohms(lead), lead.connector.as_ref().map(|connector| connector.limit));
    let mut here = beyond(&mut network, "plug1".into(), None, 0, plug);
    for (index, piece) in pieces.iter().enumerate() {
        let core = Core::of_lead(BranchKind::Lead, lead, *piece, conditions);
        // The last plug, or the end of a lead without plugs, is where the running cores start.
        let last = index + 1 == pieces.len();
        let feed = || ("feed".to_owned(), at(way_in.chainage));
        let (id, place) = if last && plug.ohms <= Ohms::ZERO { feed() } else { (format!("lead{}", index + 1), None) };
        here = beyond(&mut network, id, place, here, core);
        let (id, place) = if last { feed() } else { (format!("plug{}", index + 2), None) };
        here = beyond(&mut network, id, place, here, plug);
        marks.lead_ends.push(here);
    }
    marks.feed = here;

    let left: Vec<usize> = (chain.first..chain.split).rev().collect();
    let right: Vec<usize> = (chain.split..chain.last + 1).collect();
    let own = stock::tap_ohms(case.tap) + stock::tail_ohms(point, conditions.conductors);
    for arm in [left, right].into_iter().filter(|arm| !arm.is_empty()) {
        let mut station = marks.feed;
        let mut from = way_in.chainage;
        let mut cut = Length::ZERO;
        for index in &arm {
            let luminaire = &case.problem.luminaires[*index];
            let length = (luminaire.chainage - from).abs() + case.problem.loop_per_hole;
            let core = Core::of_lead(BranchKind::Run, run, length, conditions);
            let place = at(luminaire.chainage);
            station = beyond(&mut network, format!("run{}", index + 1), place.clone(), station, core);
            let mut tap = Core::joint(BranchKind::Tap, own, tap_stands(case));
            tap.length = point.tail;
            tap.area = Some(SquareMm::new(f64::from(point.tail_hundredths_mm2) / 100.0));
            let terminals = beyond(&mut network, format!("lum{}", index + 1), place, station, tap);
            for (channel, model) in luminaire.channels.iter().enumerate() {
                let name = draft.plan.luminaires.get(*index).map_or_else(String::new, |found| found.id.clone());
                network.add_load(name, terminals, channel, load_model(*model));
            }
            from = luminaire.chainage;
            cut += length;
        }
        if let Some(last) = arm.last() {
            marks.arms.push(Arm {
                last: *last,
                count: arm.len(),
                end: station,
                route: (case.problem.luminaires[*last].chainage - way_in.chainage).abs(),
                cut,
            });
        }
    }
    (network, marks)
}

/// What a tap stands.
fn tap_stands(case: &FeedCase<'_>) -> Option<Amps> {
    match case.tap.map(|tap| &tap.kind) {
        Some(catalogue::FixingKind::Tap { tenths_amp, .. }) => Some(Amps::new(f64::from(*tenths_amp) / 10.0)),
        _ => None,
    }
}

pub(crate) fn load_model(model: Catalogued) -> LoadModel {
    match model {
        Catalogued::Current(amps) => LoadModel::Current(amps),
        Catalogued::Power(watts) => LoadModel::Power(watts),
        Catalogued::Resistance(ohms) => LoadModel::Resistance(ohms),
    }
}
