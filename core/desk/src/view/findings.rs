//! Findings in words, with the rails they touch.

use survey::{Figure, Finding, Id, Subject, Verdict};

use super::wire::{FindingLine, Mark, Tally};
use super::{Scheme, words};

pub(super) fn lines(scheme: Scheme<'_>) -> Vec<FindingLine> {
    scheme.findings.iter().zip(0..).map(|(finding, index)| line(scheme, finding, index)).collect()
}

fn line(scheme: Scheme<'_>, finding: &Finding, index: u32) -> FindingLine {
    FindingLine {
        index,
        rule: finding.rule.to_owned(),
        about: (&finding.subject).into(),
        subject: subject(scheme, &finding.subject),
        rails: rails(scheme, &finding.subject).into_iter().map(|id| id.to_string()).collect(),
        mark: words::mark(finding.verdict),
        message: finding.message.clone(),
        figures: figures(finding),
        advice: finding.advice.clone(),
        source: finding.source.to_owned(),
    }
}

pub(super) fn tally(findings: &[Finding]) -> Tally {
    let mut tally = Tally::default();
    for finding in findings {
        *match finding.verdict {
            Verdict::Pass => &mut tally.pass,
            Verdict::Caution => &mut tally.caution,
            Verdict::Stop => &mut tally.stop,
            Verdict::NotEvaluated => &mut tally.not_evaluated,
        } += 1;
    }
    tally
}

/// The worst verdict among a rail's findings.
pub(super) fn worst(scheme: Scheme<'_>, rail: &Id) -> Mark {
    of_rail(scheme, rail).map(|finding| words::mark(finding.verdict)).max().unwrap_or(Mark::Pass)
}

/// The findings that touch a rail, in the order in which they are listed.
pub(super) fn of_rail<'a>(scheme: Scheme<'a>, rail: &'a Id) -> impl Iterator<Item = &'a Finding> {
    scheme.findings.iter().filter(move |finding| rails(scheme, &finding.subject).contains(rail))
}

/// What was found against what is allowed.
pub(super) fn figures(finding: &Finding) -> String {
    let text = |figure: &Figure| match figure {
        Figure::Number(number) if finding.unit.is_empty() => words::plain(*number),
        Figure::Number(number) => format!("{}\u{202f}{}", words::plain(*number), finding.unit),
        Figure::Words(words) => words.clone(),
    };
    match (&finding.measured, &finding.limit) {
        (Some(measured), Some(limit)) => format!("Found {}, limit {}.", text(measured), text(limit)),
        (Some(measured), None) => format!("Found: {}.", text(measured)),
        (None, Some(limit)) => format!("Limit: {}.", text(limit)),
        (None, None) => String::new(),
    }
}

pub(super) fn subject(scheme: Scheme<'_>, subject: &Subject) -> String {
    let survey = scheme.survey;
    let rail = |id: &Id| survey.rail(id).map_or_else(|| id.to_string(), |rail| rail.label.clone());
    let place = |id: &Id| {
        survey.driver_places.iter().find(|p| &p.id == id).map_or_else(|| id.to_string(), |place| place.label.clone())
    };
    match subject {
        Subject::Site => "Site".to_owned(),
        Subject::Rail(id) => rail(id),
        Subject::Feature { rail: on, feature } => format!("{}, {}", rail(on), feature_words(scheme, on, feature)),
        Subject::MainsPoint(id) => format!("Mains point {}", scheme.mains_label(id)),
        Subject::DriverPlace(id) => format!("Driver place {}", place(id)),
        Subject::Route(id) => survey
            .routes
            .iter()
            .find(|route| &route.id == id)
            .map_or_else(|| format!("Route {id}"), |route| format!("Route {}", route.label)),
        Subject::Luminaire { luminaire, .. } => format!("Luminaire {luminaire}"),
        Subject::Driver(id) => format!("Driver {id}"),
        Subject::Circuit(id) => format!("Circuit {id}"),
        Subject::Cable(reference) => format!("Cable {reference}"),
        Subject::Zone(id) => format!("Zone {id}"),
        Subject::Part(part) => format!("Part {part}"),
    }
}

fn feature_words(scheme: Scheme<'_>, rail: &Id, feature: &Id) -> String {
    let Some(rail) = scheme.survey.rail(rail) else { return feature.to_string() };
    if let Some(found) = rail.features.iter().find(|f| &f.id == feature) {
        return format!("{} at {}", found.kind.word(), words::mm(found.chainage.value));
    }
    rail.placed_pieces()
        .iter()
        .find(|placed| placed.piece.id() == feature)
        .map_or_else(|| feature.to_string(), |placed| format!("piece from {}", words::mm(placed.start)))
}

/// The rails that a subject touches.
pub(super) fn rails(scheme: Scheme<'_>, subject: &Subject) -> Vec<Id> {
    let plan = scheme.plan;
    let of_circuits = |keep: &dyn Fn(&plan::Circuit) -> bool| {
        let mut rails: Vec<Id> = plan.circuits.iter().filter(|c| keep(c)).map(|c| c.rail.clone()).collect();
        rails.sort();
        rails.dedup();
        rails
    };
    let driver_is = |keep: &dyn Fn(&plan::DriverPlan) -> bool| {
        let ids: Vec<&str> = plan.drivers.iter().filter(|d| keep(d)).map(|d| d.id.as_str()).collect();
        of_circuits(&|circuit| ids.contains(&circuit.driver.as_str()))
    };
    match subject {
        Subject::Rail(id) | Subject::Feature { rail: id, .. } | Subject::Luminaire { rail: id, .. } => vec![id.clone()],
        Subject::Circuit(id) => of_circuits(&|circuit| &circuit.id == id),
        Subject::Driver(id) => of_circuits(&|circuit| &circuit.driver == id),
        Subject::MainsPoint(id) => driver_is(&|driver| driver.mains_point.as_ref() == Some(id)),
        Subject::DriverPlace(id) => driver_is(&|driver| driver.place.as_ref() == Some(id)),
        Subject::Cable(reference) => {
            let circuit = plan.cables.iter().find(|c| &c.reference == reference).and_then(|c| c.circuit.as_ref());
            circuit.map(|id| of_circuits(&|circuit| &circuit.id == id)).unwrap_or_default()
        }
        Subject::Route(id) => {
            let named: Vec<&String> =
                plan.cables.iter().filter(|c| c.routes.contains(id)).filter_map(|c| c.circuit.as_ref()).collect();
            of_circuits(&|circuit| named.contains(&&circuit.id))
        }
        Subject::Site | Subject::Zone(_) | Subject::Part(_) => Vec::new(),
    }
}
