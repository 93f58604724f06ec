//! The volts at a luminaire, from its driver on, conductor by conductor.

use plan::{BranchKind, Cable, CableKind, Circuit, Load};
use survey::{Subject, Verdict};
use units::Volts;

use super::path::{self, Share};
use super::{Explanation, Figure, Note, Scheme, Step, StepRole, open_remarks, step, words_only};
use crate::view::wire::Mark;
use crate::view::{findings, power, words};

/// The steps must add up to the solved figure this closely; the solver itself is closer still [V].
const CLOSE: f64 = 1e-4;

pub(super) fn explain(scheme: Scheme<'_>, luminaire: &str) -> Option<Explanation> {
    let (rail, planned) = scheme.luminaire(luminaire)?;
    let fed = scheme.plan.circuits.iter().flat_map(|circuit| circuit.loads.iter().map(move |load| (circuit, load)));
    // The channel that gets least speaks for a colour luminaire.
    let least = fed.filter(|(_, load)| load.luminaire == luminaire).min_by_key(|(_, load)| load.volts);
    let Some((circuit, load)) = least else {
        return Some(Explanation {
            figure: None,
            title: format!("Luminaire {luminaire} is not fed by any driver yet."),
            mark: Some(Mark::NotEvaluated),
            steps: Vec::new(),
            notes: open_remarks(findings::of_rail(scheme, &rail.id)),
        });
    };
    let related = scheme.findings.iter().filter(|finding| match &finding.subject {
        Subject::Circuit(id) => id == &circuit.id,
        Subject::Luminaire { luminaire: named, .. } => named == luminaire,
        Subject::Feature { rail: on, .. } => on == &rail.id && finding.verdict == Verdict::NotEvaluated,
        _ => false,
    });
    let mut notes = open_remarks(related);
    let Some(volts) = load.volts else {
        let reason = circuit.reason.clone().unwrap_or_else(|| "its network has no solution".to_owned());
        return Some(Explanation {
            figure: None,
            title: format!("at luminaire {luminaire}: circuit {} has no solution, {reason}", circuit.id),
            mark: Some(Mark::Stop),
            steps: Vec::new(),
            notes,
        });
    };
    let (steps, sum) = steps(scheme, circuit, load, volts);
    if (sum.get() - volts.get()).abs() > CLOSE {
        notes.insert(
            0,
            Note {
                mark: Mark::Caution,
                text: format!(
                    "The steps add up to {:.4}\u{202f}V, not to the solved figure. Please report this.",
                    sum.get()
                ),
            },
        );
    }
    Some(Explanation {
        figure: Some(Figure::new(volts.get(), "V", decimals(volts, circuit.limit()))),
        title: title(scheme, circuit, load, planned),
        mark: Some(if volts >= circuit.limit() { Mark::Pass } else { Mark::Stop }),
        steps,
        notes,
    })
}

/// Two decimals, or three where two would hide on which side of the limit it lies.
fn decimals(volts: Volts, limit: Volts) -> u8 {
    if (volts.get() - limit.get()).abs() < 0.01 { 3 } else { 2 }
}

fn title(scheme: Scheme<'_>, circuit: &Circuit, load: &Load, planned: &plan::LuminairePlan) -> String {
    let channel = load.channel.map(|channel| format!(", channel {channel}")).unwrap_or_default();
    let is_lowest = scheme
        .circuits_of(&circuit.rail)
        .flat_map(|circuit| &circuit.loads)
        .filter_map(|other| other.volts)
        .all(|other| load.volts.is_some_and(|own| own <= other));
    let lowest = if is_lowest { ", the lowest on this rail" } else { "" };
    format!(
        "at luminaire {}{channel}, {} from the datum{lowest}. Allowed: {:.2}\u{202f}V ({}), {:.2}\u{202f}V (the luminaire's least).",
        load.luminaire,
        words::mm(planned.start),
        circuit.limit_by_drop.get(),
        power::drop_name(scheme),
        circuit.limit_by_luminaire.get()
    )
}

/// The steps from the source to the luminaire, and what they add up to.
fn steps(scheme: Scheme<'_>, circuit: &Circuit, load: &Load, volts: Volts) -> (Vec<Step>, Volts) {
    let source = circuit.source.volts;
    let mut steps = vec![step(
        StepRole::Start,
        format!("Driver {} at its low tolerance", circuit.driver),
        Figure::volts(source),
        source_note(scheme, circuit),
    )];
    let out = path::between(circuit, &circuit.source.plus, &load.from);
    let back = path::between(circuit, &load.to, &circuit.source.minus);
    let mut sum = source;
    if let (Some(mut way), Some(back)) = (out, back) {
        way.extend(back);
        for share in path::shares(&way) {
            sum -= share.drop;
            steps.push(step(
                StepRole::Change,
                share_name(scheme, circuit, &share),
                Figure::new(-share.drop.get(), "V", if share.drop.get().abs() < 0.005 { 4 } else { 3 }),
                share_note(scheme, circuit, &share),
            ));
        }
    } else {
        steps.push(words_only("No way through the network", "The plan lists no branches from the driver to here."));
    }
    steps.push(step(
        StepRole::Result,
        "At the luminaire",
        Figure::new(volts.get(), "V", 3),
        format!(
            "All {} luminaires of circuit {} at full output, solved as a network; the steps add up to this.",
            power::luminaires_of(circuit).len(),
            circuit.id
        ),
    ));
    (steps, sum)
}

fn source_note(scheme: Scheme<'_>, circuit: &Circuit) -> String {
    let driver = scheme.plan.drivers.iter().find(|driver| driver.id == circuit.driver);
    let part = driver.and_then(|driver| scheme.catalogue.driver(&driver.part));
    part.map_or_else(String::new, |part| {
        format!(
            "{}\u{202f}V less {}\u{202f}%, part {} (maker's data in the catalogue)",
            words::plain(part.output.get()),
            words::plain(f64::from(part.tolerance_permille) / 10.0),
            part.item.part
        )
    })
}

fn share_name(scheme: Scheme<'_>, circuit: &Circuit, share: &Share) -> String {
    match share.kind {
        BranchKind::Source => "Inside the driver".to_owned(),
        BranchKind::Lead => lead_name(scheme, circuit),
        BranchKind::Run => "In the tube, loops counted".to_owned(),
        BranchKind::Module => "Through modules, half of its own conductors counted".to_owned(),
        BranchKind::Tap => "Tap and luminaire tail".to_owned(),
        BranchKind::Plug => "Plugs and cut joints".to_owned(),
    }
}

/// The leads of a chain, plugged one into the next where one is not long enough.
fn lead_name(scheme: Scheme<'_>, circuit: &Circuit) -> String {
    let cables = scheme.plan.cables.iter().filter(|cable| cable.circuit.as_ref() == Some(&circuit.id));
    let leads: Vec<&Cable> = cables.filter(|cable| is_lead(cable.kind)).collect();
    let names = leads.iter().map(|lead| lead.reference.as_str()).collect::<Vec<_>>().join(" and ");
    let length = leads.iter().map(|lead| lead.made_up.unwrap_or(lead.cut)).sum();
    match leads.len() {
        0 => "Extension lead".to_owned(),
        1 => format!("Extension lead {names}, {}", words::metres(length)),
        _ if leads.iter().any(|lead| lead.kind != CableKind::Extension) => {
            format!("Leads {names}, {}", words::metres(length))
        }
        _ => format!("Extension leads {names}, {}", words::metres(length)),
    }
}

/// The figures put in: conductor, resistance there and back, current, and the source of the resistance.
fn share_note(scheme: Scheme<'_>, circuit: &Circuit, share: &Share) -> String {
    let amps = amps(share);
    let ohms = format!("{}\u{202f}Ω there and back", words::plain_ohms(share.ohms.get()));
    let areas = share.areas.iter().map(|area| words::plain(*area)).collect::<Vec<_>>().join(" and ");
    match share.kind {
        BranchKind::Lead | BranchKind::Run => {
            let cable = cable_class(scheme, circuit, share.kind);
            format!(
                "{} of {areas}\u{202f}mm² conductor, {ohms}, {amps}; {cable}warm at {}\u{202f}°C",
                words::metres(share.length),
                words::plain(circuit.conductor_temperature.get())
            )
        }
        BranchKind::Tap => format!("{ohms}, {amps}; in this luminaire's own branch only"),
        BranchKind::Module => format!("{} conductors in series, {ohms}, {amps}; maker's data", share.branches),
        BranchKind::Plug => format!("{} contacts in series, {ohms}, {amps}; maker's data", share.branches),
        BranchKind::Source => format!("{ohms}, {amps}"),
    }
}

fn amps(share: &Share) -> String {
    let (least, greatest) = (share.least_amps.get(), share.greatest_amps.get());
    if greatest - least < 0.0005 {
        format!("{greatest:.3}\u{202f}A")
    } else {
        format!("{greatest:.3} falling to {least:.3}\u{202f}A")
    }
}

/// Leads in series with a whole chain: extension leads, luminaire leads and link leads.
const fn is_lead(kind: CableKind) -> bool {
    matches!(kind, CableKind::Extension | CableKind::Luminaire | CableKind::Link)
}

/// What the resistance of a cable is taken from.
fn cable_class(scheme: Scheme<'_>, circuit: &Circuit, kind: BranchKind) -> String {
    let wanted = |cable: &&Cable| match kind {
        BranchKind::Lead => is_lead(cable.kind),
        _ => cable.kind == CableKind::Run,
    };
    let cables = scheme.plan.cables.iter().filter(|cable| cable.circuit.as_ref() == Some(&circuit.id));
    let parts: std::collections::BTreeSet<&str> =
        cables.filter(wanted).filter_map(|cable| cable.part.as_deref()).collect();
    if parts.len() > 1 {
        let names = parts.into_iter().collect::<Vec<_>>().join(", ");
        return format!("parts {names}, greatest resistance by IEC 60228, ");
    }
    let Some(lead) = parts.first().and_then(|part| scheme.catalogue.lead(part)) else { return String::new() };
    let class = match lead.class {
        catalogue::ConductorClass::Solid => "class 1",
        catalogue::ConductorClass::Stranded => "class 2",
        catalogue::ConductorClass::Flexible => "class 5",
    };
    format!("part {}, greatest resistance by IEC 60228 {class}, ", lead.item.part)
}
