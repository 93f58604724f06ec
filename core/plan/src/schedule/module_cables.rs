//! Cables of modules: extension leads, luminaire leads and link leads, each with what it joins.

use catalogue::Lead;
use survey::Id;
use units::{Length, Volts};

use super::cables::{CableSchedule, Cut, cable_reference, drop_between, gland_words, place_words};
use crate::build::canonical::Inputs;
use crate::build::circuits::pair_volts;
use crate::build::draft::RailDraft;
use crate::build::modules::feeding::ModuleCase;
use crate::build::modules::network::{amps_at, lengths};
use crate::build::modules::power::ModuleChain;
use crate::build::say::at;
use crate::build::supply::name_of;
use crate::document::{Cable, CableKind, DriverPlan, TubeSpan};
use crate::feeds::LeadPieces;
use crate::series::Heading;

/// A lead that is listed piece by piece.
struct Listed<'a> {
    letter: char,
    kind: CableKind,
    lead: &'a Lead,
    pieces: &'a LeadPieces,
    /// Station where it starts, and the one behind each piece.
    start: usize,
    ends: &'a [usize],
    /// Length along its way.
    way: Length,
    from: String,
    to: String,
    /// What is at its far end.
    far: String,
    gland: String,
    routes: Vec<Id>,
    /// Its number among leads of its kind in the chain, and how many there are.
    number: (usize, usize),
    /// The rail and the chainage where a link lead starts; `None` for other leads.
    along: Option<(&'a Id, Length)>,
}

/// Lists the extension leads of a driver's chains.
pub(super) fn extensions(
    inputs: &Inputs,
    draft: &RailDraft<'_>,
    case: &ModuleCase<'_>,
    driver: &DriverPlan,
    chains: &[ModuleChain],
    schedule: &mut CableSchedule,
) {
    for chain in chains {
        let lead = case.extensions[chain.chain.extension];
        let path = &case.problem.paths[chain.chain.path];
        let decoder = decoder_name(chain);
        let luminaire = cable_reference('L', &chain.circuit.id, 0, 1);
        let (way, to, routes, gland) = match &decoder {
            Some(name) => (Length::ZERO, format!("decoder {name}, beside the driver"), vec![], String::new()),
            None => {
                let to = way_in_words(draft, case, chain);
                (path.length, to, path.routes.clone(), gland_words(inputs, lead))
            }
        };
        let far = match &decoder {
            Some(_) => "joined to the decoder's inlet".to_owned(),
            None => format!("joined to {luminaire} at the way in"),
        };
        let place = place_words(inputs, driver);
        let listed = Listed {
            letter: 'E',
            kind: CableKind::Extension,
            lead,
            pieces: &chain.chain.extension_pieces,
            start: 0,
            ends: &chain.network.marks.extension_ends,
            way,
            from: format!("driver {} output {}, {place}", driver.id, chain.circuit.output),
            to,
            far,
            gland,
            routes,
            number: (0, 1),
            along: None,
        };
        list(chain, listed, schedule);
    }
}

/// Lists the luminaire leads of a driver's chains.
pub(super) fn luminaire_leads(
    inputs: &Inputs,
    draft: &RailDraft<'_>,
    case: &ModuleCase<'_>,
    driver: &DriverPlan,
    chains: &[ModuleChain],
    schedule: &mut CableSchedule,
) {
    for chain in chains {
        let lead = case.luminaire_leads[chain.chain.luminaire_lead];
        let path = &case.problem.paths[chain.chain.path];
        let first = chain.chain.outwards()[0];
        let near = near_end(draft, chain, first);
        let in_tube = (near - case.problem.ways_in[chain.chain.way_in].chainage).abs();
        let way_in = way_in_words(draft, case, chain);
        let (way, from, routes, gland) = match decoder_name(chain) {
            Some(name) => {
                let from = format!("decoder {name}, {}, through the {way_in}", place_words(inputs, driver));
                (path.length + in_tube, from, path.routes.clone(), gland_words(inputs, lead))
            }
            None => (in_tube, way_in, vec![], String::new()),
        };
        let listed = Listed {
            letter: 'L',
            kind: CableKind::Luminaire,
            lead,
            pieces: &chain.chain.luminaire_pieces,
            start: chain.network.marks.outlet,
            ends: &chain.network.marks.luminaire_ends,
            way,
            from,
            to: module_words(draft, chain, first),
            far: "joined to the first module".to_owned(),
            gland,
            routes,
            number: (0, 1),
            along: None,
        };
        list(chain, listed, schedule);
    }
}

/// Lists the link leads of a driver's chains.
pub(super) fn links(
    draft: &RailDraft<'_>,
    case: &ModuleCase<'_>,
    chains: &[ModuleChain],
    schedule: &mut CableSchedule,
) {
    for chain in chains {
        let Some(lead) = chain.chain.link.and_then(|part| case.links.get(part)) else { continue };
        let count = chain.network.marks.links.len();
        for (number, marks) in chain.network.marks.links.iter().enumerate() {
            let Some((_, pieces)) = chain.chain.links.iter().find(|own| own.0 == marks.gap) else { continue };
            let (low, high) = (marks.gap, marks.gap + 1);
            let (before, behind) = match chain.chain.heading {
                Heading::Rising => (low, high),
                Heading::Falling => (high, low),
            };
            let way = draft.plan.luminaires[high].start - draft.plan.luminaires[low].end;
            let listed = Listed {
                letter: 'K',
                kind: CableKind::Link,
                lead,
                pieces,
                start: marks.start,
                ends: &marks.ends,
                way,
                from: far_words(draft, chain, before),
                to: module_words(draft, chain, behind),
                far: "joined to a module at either end".to_owned(),
                gland: String::new(),
                routes: vec![],
                number: (number, count),
                along: Some((&draft.rail.id, far_end(draft, chain, before))),
            };
            list(chain, listed, schedule);
        }
    }
}

/// What a chain's decoder is called: `DC` and the figures of its circuit.
pub(super) fn decoder_name(chain: &ModuleChain) -> Option<String> {
    let figures = chain.circuit.id.strip_prefix('D').unwrap_or(&chain.circuit.id);
    chain.chain.decoder.map(|_| format!("DC{figures}"))
}

fn near_end(draft: &RailDraft<'_>, chain: &ModuleChain, module: usize) -> Length {
    let planned = &draft.plan.luminaires[module];
    match chain.chain.heading {
        Heading::Rising => planned.start,
        Heading::Falling => planned.end,
    }
}

fn module_words(draft: &RailDraft<'_>, chain: &ModuleChain, module: usize) -> String {
    format!("{} ({})", draft.plan.luminaires[module].id, at(near_end(draft, chain, module)))
}

/// Chainage of a module's end away from the source.
pub(super) fn far_end(draft: &RailDraft<'_>, chain: &ModuleChain, module: usize) -> Length {
    let planned = &draft.plan.luminaires[module];
    match chain.chain.heading {
        Heading::Rising => planned.end,
        Heading::Falling => planned.start,
    }
}

fn far_words(draft: &RailDraft<'_>, chain: &ModuleChain, module: usize) -> String {
    format!("{} ({})", draft.plan.luminaires[module].id, at(far_end(draft, chain, module)))
}

/// The stretch of rail that a piece of a lead lies along, `gone` behind the lead's start as the chain's current runs.
fn stretch(rail: &Id, heading: Heading, start: Length, gone: Length, length: Length) -> TubeSpan {
    let (from, to) = match heading {
        Heading::Rising => (start + gone, start + gone + length),
        Heading::Falling => (start - gone - length, start - gone),
    };
    TubeSpan { rail: rail.clone(), from, to }
}

fn way_in_words(draft: &RailDraft<'_>, case: &ModuleCase<'_>, chain: &ModuleChain) -> String {
    let way_in = &case.problem.ways_in[chain.chain.way_in];
    format!("way in {} of {} ({})", name_of(draft.rail, &way_in.id), draft.plan.label, at(way_in.chainage))
}

fn volts_at(chain: &ModuleChain, station: usize) -> Option<Volts> {
    pair_volts(&chain.network.cases.worst_network, &chain.network.cases.worst, station)
}

/// Lists a lead: one line for each piece, numbered where there are several of its kind.
fn list(chain: &ModuleChain, listed: Listed<'_>, schedule: &mut CableSchedule) {
    let pieces = lengths(listed.pieces);
    let made_up = matches!(listed.pieces, LeadPieces::MadeUp(_));
    let (number, of) = listed.number;
    let base = cable_reference(listed.letter, &chain.circuit.id, number, of);
    // A link is numbered among the links of its chain, so its pieces carry a letter behind that number.
    let name = |piece: usize| match (pieces.len() > 1, of > 1) {
        (false, _) => base.clone(),
        (true, false) => format!("{base}-{}", piece + 1),
        (true, true) => format!("{base}.{}", piece + 1),
    };
    let plugs = match &listed.lead.connector {
        Some(connector) => format!("{}-pole plugs", connector.poles),
        None => "bare ends, made off on site".to_owned(),
    };
    let mut left = listed.way;
    let mut near = volts_at(chain, listed.start);
    for (piece, length) in pieces.iter().enumerate() {
        let last = piece + 1 == pieces.len();
        let route = left.min(*length);
        let gone = listed.way - left;
        left -= route;
        let end = listed.ends.get(piece).copied().unwrap_or(listed.start);
        let far = volts_at(chain, end);
        schedule.cables.push(Cable {
            reference: name(piece),
            kind: listed.kind,
            part: Some(listed.lead.item.part.clone()),
            circuit: Some(chain.circuit.id.clone()),
            from: if piece == 0 { listed.from.clone() } else { format!("plug of {}", name(piece - 1)) },
            to: if last { listed.to.clone() } else { format!("plug of {}", name(piece + 1)) },
            cores: listed.lead.cores,
            area: listed.lead.area,
            route,
            allowance: *length - route,
            cut: *length,
            made_up: made_up.then_some(*length),
            amps: amps_at(&chain.network, end),
            drop: drop_between(near, far),
            end_volts: far,
            connectors: if last { format!("{plugs}; {}", listed.far) } else { plugs.clone() },
            gland: if last { listed.gland.clone() } else { String::new() },
            routes: listed.routes.clone(),
            along: listed.along.map(|(rail, start)| stretch(rail, chain.chain.heading, start, gone, route)),
        });
        if !made_up {
            schedule.cuts.push(Cut { reference: name(piece), part: listed.lead.item.part.clone(), length: *length });
        }
        near = far;
    }
}
