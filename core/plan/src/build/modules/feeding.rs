//! The feed problem of one rail's modules: everything that the choice of feeds is made from.

use catalogue::{Catalogue, ColourKind, Control, ControlKind, Fixing, Lead, LeadUse};
use survey::{FeatureKind, Survey};
use units::{Amps, Celsius, Length, Money, Ohms, Volts};

use super::ModulesDraft;
use super::leads::{Asked, From, extension, leads, link, luminaire_lead};
use crate::build::behind::Behind;
use crate::build::canonical::{Inputs, by_id};
use crate::build::draft::RailDraft;
use crate::build::feeding::{costs, driver_option, narrower, opening, place_options, setting_at, widest};
use crate::build::ingress;
use crate::build::passage;
use crate::build::stock;
use crate::build::supply::{PlaceForRail, SiteWays, ways_in};
use crate::feeds::Costs;
use crate::series::{DecoderOption, Feeding, Gap, Module, Path, Problem};

/// Length of the extension lead between a driver and the decoder beside it (common practice, no source).
const BESIDE: Length = Length::mm(300);

/// A feed problem with what its numbers stand for.
#[derive(Clone)]
pub(crate) struct ModuleCase<'a> {
    /// The problem.
    pub problem: Problem,
    /// What else stands behind its numbers.
    pub behind: Behind<'a>,
    /// The extension leads behind it.
    pub extensions: Vec<&'a Lead>,
    /// The luminaire leads behind it.
    pub luminaire_leads: Vec<&'a Lead>,
    /// The link leads behind it.
    pub links: Vec<&'a Lead>,
    /// The decoders behind it.
    pub decoders: Vec<&'a Control>,
    /// The end cap for a chain.
    pub end_cap: Option<&'a Fixing>,
    /// What modules ask of leads.
    pub poles: u8,
    /// Resistance of one pole where two modules meet.
    pub contact: Ohms,
}

impl ModuleCase<'_> {
    /// Channels of a chain.
    pub(crate) fn channels(&self) -> u8 {
        self.problem.channels
    }
}

/// Poles of a decoder's inlet and outlet.
pub(crate) fn poles(control: &Control) -> Option<(u8, u8)> {
    match control.kind {
        ControlKind::Decoder { inlet_poles, outlet_poles, .. } => Some((inlet_poles, outlet_poles)),
        _ => None,
    }
}

/// The feed problem of a rail with modules and a way in.
pub(crate) fn module_case<'a>(
    inputs: &'a Inputs,
    ways: &SiteWays<'a>,
    draft: &RailDraft<'a>,
    modules: &ModulesDraft<'a>,
) -> ModuleCase<'a> {
    let (survey, catalogue) = (&inputs.survey, &inputs.catalogue);
    let entries = ways_in(draft.rail);
    let first = modules.chosen.luminaire(0);
    let connector = &modules.chosen.module(0).connector;
    let channels = match first.colour {
        ColourKind::Variable { channels } => channels.max(1),
        ColourKind::White { .. } | ColourKind::Colour(_) => 1,
    };
    let variable = matches!(first.colour, ColourKind::Variable { .. });
    let contact = Ohms::new(f64::from(connector.milliohms) / 1000.0);
    let behind = Behind::of(inputs, ways, draft, first.nominal, channels);
    let warm = behind.warm;
    let asked = Asked { conductors: behind.conductors, poles: connector.poles, contact, warm, weather: behind.weather };
    let extensions = leads(catalogue, asked, LeadUse::Extension, 2, Some(2));
    let luminaire_leads = leads(catalogue, asked, LeadUse::Luminaire, asked.conductors, Some(asked.poles));
    let links = leads(catalogue, asked, LeadUse::Link, asked.conductors, Some(asked.poles));
    let decoders: Vec<&Control> = if variable { decoders(catalogue, first.nominal, asked.poles) } else { vec![] };
    let end_cap = stock::end_cap(catalogue, connector.poles);
    let from = if variable { From::Decoder } else { From::Extension };
    let feeding = if variable {
        let options =
            decoders.iter().map(|part| decoder_option(part, survey, draft, catalogue, &behind.places)).collect();
        Feeding::Decoded { beside: BESIDE, decoders: options }
    } else {
        Feeding::Plain
    };
    let problem = Problem {
        nominal: first.nominal,
        drop_permille: survey.brief.drop_permille,
        channels,
        modules: module_list(draft, modules, warm),
        gaps: gaps(draft, modules),
        contact,
        connector_carries: connector.limit,
        longest_chain: modules.chosen.longest_chain(),
        blocked: passage::blocked(draft.rail),
        ways_in: entries,
        places: place_options(survey, draft, catalogue, &behind),
        paths: paths(survey, draft, &behind.places, &extensions, &luminaire_leads, variable),
        drivers: behind.drivers.iter().map(|driver| driver_option(driver, survey.brief.reserve_percent)).collect(),
        feeding,
        extensions: extensions.iter().filter_map(|lead| extension(lead, catalogue, warm)).collect(),
        luminaire_leads: luminaire_leads
            .iter()
            .filter_map(|lead| luminaire_lead(lead, catalogue, asked, from))
            .collect(),
        passes_behind: luminaire_leads.iter().map(|lead| passes_behind(draft, modules, lead)).collect(),
        links: links.iter().filter_map(|lead| link(lead, catalogue, asked)).collect(),
        costs: Costs {
            per_chain: stock::price(stock::gland(catalogue, Length::ZERO)) + stock::price(end_cap),
            ..costs(catalogue, behind.mains, asked.conductors)
        },
        wish: draft.brief.feed,
        locks: draft.brief.locks.drivers.clone(),
    };
    ModuleCase { problem, behind, extensions, luminaire_leads, links, decoders, end_cap, poles: asked.poles, contact }
}

/// Decoders of a voltage whose inlet takes an extension lead and whose outlet a luminaire lead of this make.
fn decoders(catalogue: &Catalogue, nominal: Volts, outlet: u8) -> Vec<&Control> {
    catalogue
        .controls
        .iter()
        .filter(|control| poles(control) == Some((2, outlet)) && (control.nominal.get() - nominal.get()).abs() < 1e-9)
        .filter(|control| control.contact > Amps::ZERO)
        .collect()
}

fn decoder_option(
    control: &Control,
    survey: &Survey,
    draft: &RailDraft<'_>,
    catalogue: &Catalogue,
    places: &[PlaceForRail<'_>],
) -> DecoderOption {
    let work = catalogue.labour.minutes(2 * i64::from(catalogue.labour.connection_minutes));
    DecoderOption {
        part: control.item.part.clone(),
        cost: control.item.price + work,
        ohms: decoder_ohms(control),
        carries: control.contact,
        enclosure: places
            .iter()
            .map(|place| {
                if ingress::suits(&control.ingress, setting_at(survey, draft, place)) {
                    Some(Money::ZERO)
                } else {
                    stock::enclosure(catalogue).map(|fixing| fixing.item.price)
                }
            })
            .collect(),
    }
}

/// The drop of a decoder as a resistance in each channel: its volts at the current that they are stated for.
pub(crate) fn decoder_ohms(control: &Control) -> Ohms {
    let ohms = control.drop.get().max(0.0) / control.contact.get();
    Ohms::checked(ohms).unwrap_or(Ohms::ZERO)
}

/// Resistance of one through-conductor of a module at a temperature. The maker's figure is taken for 20 °C.
pub(crate) fn through_ohms(module: &catalogue::LinearModule, at: Celsius) -> Ohms {
    let factor = crate::circuit::conductor::temperature_factor(at).unwrap_or(1.0);
    Ohms::checked(module.through.get().max(0.0) * factor).unwrap_or(Ohms::ZERO)
}

fn module_list(draft: &RailDraft<'_>, modules: &ModulesDraft<'_>, warm: Celsius) -> Vec<Module> {
    draft
        .plan
        .luminaires
        .iter()
        .zip(&modules.kinds)
        .map(|(planned, kind)| {
            let luminaire = modules.chosen.luminaire(*kind);
            Module {
                start: planned.start,
                end: planned.end,
                load: luminaire.load,
                through: through_ohms(modules.chosen.module(*kind), warm),
                least: luminaire.least,
                greatest: luminaire.greatest,
            }
        })
        .collect()
}

/// Whether a lead has room in the bore behind every module of the make. As for any bundle that passes a body, it is given a
/// circle of twice its area (common practice, no source); where the wall was not measured a rule asks for it.
fn passes_behind(draft: &RailDraft<'_>, modules: &ModulesDraft<'_>, lead: &Lead) -> bool {
    let Some(wall) = draft.rail.tube.wall.as_ref().map(|wall| wall.value) else { return true };
    let bore = draft.rail.tube.outside_diameter.value - wall * 2;
    let deepest = modules.kinds.iter().map(|kind| modules.chosen.module(*kind).depth).max().unwrap_or(Length::ZERO);
    // The wall counts towards the depth only outside the bore, so it is given back.
    let left = bore - (deepest - wall).max(Length::ZERO);
    lead.outside_diameter.scaled(std::f64::consts::SQRT_2) <= left
}

/// What lies between neighbours: a plug within a room; a link lead between rooms, with the whole range of every movement
/// joint that it crosses, so that it is never strained; nothing where the bore is shut.
fn gaps(draft: &RailDraft<'_>, modules: &ModulesDraft<'_>) -> Vec<Gap> {
    let blocked = passage::blocked(draft.rail);
    let luminaires = &draft.plan.luminaires;
    (1..luminaires.len())
        .map(|index| {
            let (from, to) = (luminaires[index - 1].end, luminaires[index].start);
            if modules.rooms[index - 1] == modules.rooms[index] {
                return Gap::Plugged;
            }
            if blocked.iter().any(|shut| shut.from < to && shut.to > from) {
                return Gap::Shut;
            }
            let ranges: Length = draft
                .rail
                .features
                .iter()
                .filter(|feature| feature.chainage.value >= from && feature.chainage.value <= to)
                .map(|feature| match feature.kind {
                    FeatureKind::MovementJoint { range, .. } => range.max(Length::ZERO),
                    _ => Length::ZERO,
                })
                .sum();
            Gap::Linked { length: to - from + ranges }
        })
        .collect()
}

/// The ways from places to ways in, each with the leads that go through what they must: behind a decoder the luminaire
/// lead lies along the routes and goes through the way in; otherwise the extension lead does, up to the way in.
fn paths(
    survey: &Survey,
    draft: &RailDraft<'_>,
    places: &[PlaceForRail<'_>],
    extensions: &[&Lead],
    luminaire_leads: &[&Lead],
    variable: bool,
) -> Vec<Path> {
    let entries = ways_in(draft.rail);
    let mut paths = Vec::new();
    for (place, source) in places.iter().enumerate() {
        for (way_in, way) in &source.ways {
            let mut clear = opening(draft.rail, &entries[*way_in].id);
            for route in way.routes.iter().filter_map(|id| by_id(&survey.routes, id, |route| &route.id)) {
                clear = narrower(clear, route.clear);
                clear = narrower(clear, widest(&route.passage));
            }
            let fitting = |leads: &[&Lead]| {
                (0..leads.len())
                    .filter(|lead| clear.is_none_or(|clear| leads[*lead].outside_diameter <= clear))
                    .collect::<Vec<usize>>()
            };
            paths.push(Path {
                place,
                way_in: *way_in,
                length: way.length,
                routes: way.routes.clone(),
                extensions: if variable { (0..extensions.len()).collect() } else { fitting(extensions) },
                luminaire_leads: if variable { fitting(luminaire_leads) } else { (0..luminaire_leads.len()).collect() },
            });
        }
    }
    paths
}
