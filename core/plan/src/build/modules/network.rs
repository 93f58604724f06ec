//! A chain of modules as a network: source, extension lead, decoder, luminaire lead, modules with their links.
//!
//! Stations have stable names: `s` the driver's output, `lead1` the end of the first piece of the extension lead, `decoder`
//! its outlet, `luminaire1` the end of the first piece of the luminaire lead, `in7` where current enters module 7 of the
//! rail, `mid7` the middle of its through-conductors with its load, `out7` where they end. A connection without resistance
//! is no branch: both sides are then one station.

use catalogue::{Lead, LoadModel as Catalogued};
use units::{Amps, Length, Ohms};

use super::ModulesDraft;
use super::feeding::{ModuleCase, decoder_ohms, through_ohms};
use super::leads::carries;
use crate::build::draft::RailDraft;
use crate::build::feeding::contact_ohms;
use crate::build::network::{Core, beyond_on as beyond, load_model, wiring};
use crate::circuit::case::CaseSolutions;
use crate::circuit::{
    Branch, BranchKind, Conditions, Conductor, Network, Place, SourceTolerance, Temperatures, Wiring,
};
use crate::feeds::LeadPieces;
use crate::series::{Chain, Feeding, Gap, Heading};

/// A chain solved in its two cases, with the stations that the schedules ask about.
pub(crate) struct ModuleNetwork {
    /// Networks and solutions.
    pub cases: CaseSolutions,
    /// Where things are in them; the same in both.
    pub marks: Marks,
}

/// Stations of interest.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Marks {
    /// The end of each piece of the extension lead, from the driver on.
    pub extension_ends: Vec<usize>,
    /// The decoder's outlet, or where the extension lead ends.
    pub outlet: usize,
    /// The end of each piece of the luminaire lead.
    pub luminaire_ends: Vec<usize>,
    /// For each link, in the order in which current reaches them: where it starts, the end of each of its pieces.
    pub links: Vec<LinkMarks>,
    /// The far end.
    pub end: usize,
}

/// Stations of a link.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct LinkMarks {
    /// The gap that it crosses.
    pub gap: usize,
    /// Where it starts.
    pub start: usize,
    /// The end of each of its pieces.
    pub ends: Vec<usize>,
}

/// Builds and solves a chain of modules.
pub(crate) fn solve_chain(
    case: &ModuleCase<'_>,
    draft: &RailDraft<'_>,
    modules: &ModulesDraft<'_>,
    chain: &Chain,
    driver: usize,
) -> Option<ModuleNetwork> {
    let part = case.behind.drivers.get(driver)?;
    let percent = f64::from(part.tolerance_permille) / 10.0;
    let tolerance = SourceTolerance::new(part.output, percent.min(100.0), percent)?;
    let temperatures = Temperatures { cold: case.behind.cold, warm: case.behind.warm };
    let mut marks = Marks::default();
    let cases = CaseSolutions::of(tolerance, temperatures, |conditions| {
        let (network, found) = build(case, draft, modules, chain, conditions);
        marks = found;
        network
    });
    Some(ModuleNetwork { cases, marks })
}

/// Lengths of the pieces of a lead, in order.
pub(crate) fn lengths(pieces: &LeadPieces) -> Vec<Length> {
    match pieces {
        LeadPieces::Cut(length) => vec![*length],
        LeadPieces::MadeUp(lengths) => lengths.clone(),
    }
}

/// Where a lead is in the network: names of its stations and contacts at its ends.
struct Run<'a> {
    word: &'a str,
    lead: &'a Lead,
    first: Ohms,
    last: Ohms,
    end: (String, Option<Place>),
}

/// Adds a lead piece by piece and gives the station behind each.
fn add_lead(
    network: &mut Network,
    from: usize,
    conductors: &[Conductor],
    pieces: &LeadPieces,
    run: Run<'_>,
    conditions: Conditions,
) -> Vec<usize> {
    let plug = |ohms: Ohms| Core::joint(BranchKind::Plug, ohms, Some(carries(run.lead)));
    let own = contact_ohms(run.lead);
    let mut here = beyond(network, format!("{}0", run.word), None, from, plug(run.first), conductors);
    let mut ends = Vec::new();
    let pieces = lengths(pieces);
    for (index, piece) in pieces.iter().enumerate() {
        let last = index + 1 == pieces.len();
        let core = Core::of_lead(BranchKind::Lead, run.lead, *piece, conditions);
        let joint = if last { run.last } else { own };
        let named = || (format!("{}{}", run.word, index + 1), None);
        let (id, place) = if last && joint <= Ohms::ZERO { run.end.clone() } else { named() };
        here = beyond(network, id, place, here, core, conductors);
        let (id, place) = if last { run.end.clone() } else { (format!("{}plug{}", run.word, index + 1), None) };
        here = beyond(network, id, place, here, plug(joint), conductors);
        ends.push(here);
    }
    ends
}

fn build(
    case: &ModuleCase<'_>,
    draft: &RailDraft<'_>,
    modules: &ModulesDraft<'_>,
    chain: &Chain,
    conditions: Conditions,
) -> (Network, Marks) {
    let mut network = Network::new(wiring(case.behind.conductors), conditions.source, "s");
    let mut marks = Marks::default();
    let at = |chainage: Length| Some(Place { rail: draft.rail.id.to_string(), chainage });
    let all = network.conductors();
    let decoded = matches!(case.problem.feeding, Feeding::Decoded { .. });
    let first_cores = if decoded && matches!(network.wiring, Wiring::Colour { .. }) {
        vec![Conductor::Trunk, Conductor::Common]
    } else {
        all.clone()
    };
    let extension = case.extensions[chain.extension];
    let contact = contact_ohms(extension);
    let way_in = case.problem.ways_in[chain.way_in].chainage;
    let end = if decoded { ("decoder-in".to_owned(), None) } else { ("feed".to_owned(), at(way_in)) };
    let run = Run { word: "lead", lead: extension, first: contact, last: contact, end };
    marks.extension_ends = add_lead(&mut network, 0, &first_cores, &chain.extension_pieces, run, conditions);
    let mut here = marks.extension_ends.last().copied().unwrap_or(0);
    if let Some(decoder) = chain.decoder.and_then(|index| case.decoders.get(index)) {
        here = add_decoder(&mut network, here, decoder, case.channels());
    }
    marks.outlet = here;

    let lead = case.luminaire_leads[chain.luminaire_lead];
    let order = chain.outwards();
    let near = |module: usize| match chain.heading {
        Heading::Rising => draft.plan.luminaires[module].start,
        Heading::Falling => draft.plan.luminaires[module].end,
    };
    let far = |module: usize| match chain.heading {
        Heading::Rising => draft.plan.luminaires[module].end,
        Heading::Falling => draft.plan.luminaires[module].start,
    };
    let entry = |module: usize| (format!("in{}", module + 1), at(near(module)));
    let run = Run {
        word: "luminaire",
        lead,
        first: if decoded { contact_ohms(lead) } else { Ohms::ZERO },
        last: contact_ohms(lead).max(case.contact),
        end: entry(order[0]),
    };
    marks.luminaire_ends = add_lead(&mut network, here, &all, &chain.luminaire_pieces, run, conditions);
    here = marks.luminaire_ends.last().copied().unwrap_or(here);
    for (position, module) in order.iter().enumerate() {
        if position > 0 {
            here = add_gap(
                case,
                chain,
                &mut network,
                here,
                order[position - 1].min(*module),
                entry(*module),
                conditions,
                &mut marks,
            );
        }
        here = add_module(case, draft, modules, &mut network, here, *module, at(far(*module)), conditions);
    }
    marks.end = here;
    (network, marks)
}

/// Adds a decoder: one contact in each channel, the common goes through.
fn add_decoder(network: &mut Network, from: usize, decoder: &catalogue::Control, channels: u8) -> usize {
    let branch = |conductor, ohms, stands| Branch {
        conductor,
        kind: BranchKind::Plug,
        length: Length::ZERO,
        area: None,
        ohms,
        stands: Some(stands),
    };
    let branches = network
        .conductors()
        .into_iter()
        .map(|conductor| match conductor {
            Conductor::Common => branch(conductor, Ohms::ZERO, decoder.contact * f64::from(channels)),
            _ => branch(conductor, decoder_ohms(decoder), decoder.contact),
        })
        .collect();
    network.add_station("decoder", None, from, branches)
}

/// Adds what lies between two modules: their plug, or a link lead.
#[allow(clippy::too_many_arguments, reason = "one step of one walk, which has no other state")]
fn add_gap(
    case: &ModuleCase<'_>,
    chain: &Chain,
    network: &mut Network,
    from: usize,
    gap: usize,
    end: (String, Option<Place>),
    conditions: Conditions,
    marks: &mut Marks,
) -> usize {
    let all = network.conductors();
    let link = chain.links.iter().find(|own| own.0 == gap).zip(chain.link.and_then(|part| case.links.get(part)));
    match (case.problem.gaps.get(gap), link) {
        (Some(Gap::Linked { .. }), Some(((_, pieces), lead))) => {
            let contact = contact_ohms(lead).max(case.contact);
            let word = format!("link{}-", marks.links.len() + 1);
            let run = Run { word: &word, lead, first: contact, last: contact, end };
            let ends = add_lead(network, from, &all, pieces, run, conditions);
            let here = ends.last().copied().unwrap_or(from);
            marks.links.push(LinkMarks { gap, start: from, ends });
            here
        }
        _ => {
            let plug = Core::joint(BranchKind::Plug, case.contact, Some(case.problem.connector_carries));
            beyond(network, end.0, end.1, from, plug, &all)
        }
    }
}

/// Adds a module: half of its through-conductors, its load, the other half.
#[allow(clippy::too_many_arguments, reason = "one step of one walk, which has no other state")]
fn add_module(
    case: &ModuleCase<'_>,
    draft: &RailDraft<'_>,
    modules: &ModulesDraft<'_>,
    network: &mut Network,
    from: usize,
    module: usize,
    far: Option<Place>,
    conditions: Conditions,
) -> usize {
    let all = network.conductors();
    let planned = &draft.plan.luminaires[module];
    let kind = modules.kinds[module];
    let data = modules.chosen.module(kind);
    let half = Core {
        kind: BranchKind::Module,
        length: data.length.half(),
        area: None,
        ohms: through_ohms(data, conditions.conductors) / 2.0,
        stands: Some(case.problem.connector_carries),
    };
    let middle = far.as_ref().map(|place| Place {
        rail: place.rail.clone(),
        chainage: planned.start + (planned.end - planned.start).half(),
    });
    let middle = beyond(network, format!("mid{}", module + 1), middle, from, half, &all);
    let load: Catalogued = modules.chosen.luminaire(kind).load;
    for channel in 0..network.wiring.channels() {
        network.add_load(planned.id.clone(), middle, channel, load_model(load));
    }
    beyond(network, format!("out{}", module + 1), far, middle, half, &all)
}

/// The greatest current of a station's branches over both cases.
pub(crate) fn amps_at(network: &ModuleNetwork, station: usize) -> Option<Amps> {
    network.cases.greatest_branch_amps().get(station).and_then(|amps| amps.iter().max().copied())
}
