//! One rail's page.

use std::collections::BTreeMap;

use plan::{Alternative, Hole, LuminairePlan, Objective, PatternFigures, PatternKind, RailPlan};
use survey::{Control, Rail};
use units::Length;

use super::wire::{Bounded, Figure, LuminaireRow, PatternLine, RailPage};
use super::{Scheme, controls, features, findings, join, locks, power, words};

pub(super) fn page(scheme: Scheme<'_>, rail: &Rail) -> RailPage {
    let planned = scheme.planned(&rail.id);
    let not_ready = planned.map(|plan| plan.not_ready.as_slice()).unwrap_or_default();
    let luminaires = planned.map(|plan| luminaires(scheme, rail, plan)).unwrap_or_default();
    RailPage {
        id: rail.id.to_string(),
        label: rail.label.clone(),
        length_mm: rail.length().to_mm(),
        outside_mm: Some(rail.tube.outside_diameter.value.to_mm()),
        facts: facts(scheme, rail, planned),
        datum: format!("{}, {}", rail.datum.end, rail.datum.mark),
        drilling_waits: not_ready.to_vec(),
        mark: findings::worst(scheme, &rail.id),
        pieces: features::pieces(rail),
        features: features::rows(rail),
        luminaires,
        feeds: power::feeds(scheme, rail),
        chains: power::chains(scheme, rail),
        limits: power::limits(scheme, rail),
        links: join::links(scheme, rail),
        end_caps: join::end_caps(scheme, rail),
        controls: controls::marks(scheme, rail),
        cables: power::cables(scheme, rail),
        cost: planned.filter(|plan| !plan.luminaires.is_empty()).map(|plan| cost(scheme, plan)).unwrap_or_default(),
        objective: bounded(scheme, planned.map(|plan| plan.objective).unwrap_or_default()),
        pattern: planned.and_then(pattern),
        locks: planned.map(|plan| locks::rows(scheme, plan)).unwrap_or_default(),
        alternatives: planned.map(|plan| plan.alternatives.iter().map(alternative).collect()).unwrap_or_default(),
    }
}

fn facts(scheme: Scheme<'_>, rail: &Rail, planned: Option<&RailPlan>) -> Vec<String> {
    let mut facts = vec![words::tube(rail), words::metal(rail)];
    let brief = scheme.survey.brief.rails.iter().find(|brief| brief.rail == rail.id);
    match (planned, brief) {
        (Some(plan), Some(brief)) => {
            if let Some(nominal) = plan.nominal {
                facts.push(format!("{}\u{202f}V DC", words::plain(nominal.get())));
            }
            let zone = brief.zone.as_ref().and_then(|id| scheme.survey.brief.zones.iter().find(|zone| &zone.id == id));
            if let Some(zone) = zone {
                facts.push(format!("zone {}, {}", zone.label, control(zone.control.kind)));
            }
            if let Some(pattern) = &plan.pattern {
                facts.push(pattern_words(pattern));
            }
            if let Some(lit) = &plan.lit {
                facts.push(format!("{} modules, {} lit", lit.pieces, words::metres(lit.lit)));
            }
        }
        _ => facts.push("not to be lit".to_owned()),
    }
    facts
}

/// What the feeds of a rail cost.
fn cost(scheme: Scheme<'_>, planned: &RailPlan) -> String {
    format!("feeds {}", scheme.money(planned.objective.cost))
}

/// A cost of the plan with its bound, in the currency of the catalogue.
pub(super) fn bounded(scheme: Scheme<'_>, objective: Objective) -> Bounded {
    let figure =
        |amount: units::Money| Figure::new(amount.to_ten_thousandths() as f64 / 1e4, &scheme.catalogue.currency, 2);
    Bounded { cost: figure(objective.cost), lower_bound: figure(objective.lower_bound) }
}

fn pattern(planned: &RailPlan) -> Option<PatternLine> {
    let (figures, target) = planned.pattern.as_ref().zip(planned.target)?;
    Some(PatternLine {
        target_mm: target.to_mm(),
        worst_departure_mm: figures.worst_departure.to_mm(),
        worst_at_mm: figures.worst_at.map(Length::to_mm),
    })
}

const fn control(kind: Control) -> &'static str {
    match kind {
        Control::AlwaysOn => "always on",
        Control::Dusk => "dusk to dawn",
        Control::PresenceAfterDusk => "presence after dusk",
        Control::WallStation => "wall station",
        Control::Dimmed => "dimmed",
    }
}

pub(super) fn pattern_words(figures: &PatternFigures) -> String {
    let kind = match figures.kind {
        PatternKind::EvenPattern => "even pattern",
        PatternKind::EvenSpacing => "even spacing",
    };
    match (figures.least_gap, figures.greatest_gap) {
        (Some(least), Some(greatest)) if least != greatest => {
            format!("{kind}, {} to {}", words::bare_mm(least), words::mm(greatest))
        }
        (Some(gap), _) => format!("{kind}, {}", words::mm(gap)),
        _ => kind.to_owned(),
    }
}

fn alternative(other: &Alternative) -> String {
    format!("{}: {} points", pattern_words(&other.figures), other.chainages.len())
}

fn luminaires(scheme: Scheme<'_>, rail: &Rail, planned: &RailPlan) -> Vec<LuminaireRow> {
    let holes: BTreeMap<&str, &Hole> = scheme
        .plan
        .drilling
        .iter()
        .filter(|hole| hole.rail == rail.id)
        .map(|hole| (hole.hole.as_str(), hole))
        .collect();
    let mut fed: BTreeMap<&str, (Option<f64>, &str)> = BTreeMap::new();
    for circuit in scheme.circuits_of(&rail.id) {
        for load in &circuit.loads {
            let volts = load.volts.map(units::Volts::get);
            let known = fed.entry(load.luminaire.as_str()).or_insert((volts, circuit.driver.as_str()));
            // The channel that gets least speaks for a colour luminaire.
            known.0 = known.0.zip(volts).map(|(a, b)| a.min(b));
        }
    }
    let row = |luminaire: &LuminairePlan| {
        let hole = holes.get(luminaire.id.as_str());
        let (volts, driver) = fed.get(luminaire.id.as_str()).copied().unzip();
        LuminaireRow {
            id: luminaire.id.clone(),
            part: luminaire.part.clone(),
            start_mm: luminaire.start.to_mm(),
            end_mm: luminaire.end.to_mm(),
            hole_mm: hole.map(|hole| hole.chainage.to_mm()),
            from_mark_mm: hole.map(|hole| hole.from_mark.to_mm()),
            spacing_mm: hole.and_then(|hole| hole.spacing).map(Length::to_mm),
            diameter_mm: hole.map(|hole| hole.diameter.to_mm()),
            girth_mm: hole.map(|hole| hole.girth.to_mm()),
            fixed: luminaire.fixed,
            volts: volts.flatten(),
            driver: driver.map(str::to_owned),
        }
    };
    planned.luminaires.iter().map(row).collect()
}
