//! What the choice of feeds has to say, in plain words: what was mended, what stands in the way, what would help.

use survey::{Finding, Id, Subject, Verdict};
use units::{Money, Volts};

use super::canonical::Inputs;
use super::draft::RailDraft;
use super::feeding::FeedCase;
use super::say::{at, from_source, list, say, with_figures};
use crate::feeds::{Change, Help, Infeasible, Mend, Outcome};

/// The drop limit's source.
const DROP_SOURCE: &str = "IEC 60364-7-715 clause 715.525 (from memory) and the luminaire's least voltage";

/// The findings about one rail's feeds.
pub(crate) fn outcome_findings(
    inputs: &Inputs,
    draft: &RailDraft<'_>,
    case: &FeedCase<'_>,
    outcome: &Outcome,
) -> Vec<Finding> {
    match outcome {
        Outcome::Solved(solved) => solved.mend.iter().map(|mend| mended(inputs, draft, mend)).collect(),
        Outcome::Infeasible(infeasible) => stopped(inputs, draft, case, infeasible),
        Outcome::Refused(faults) => vec![say(
            Verdict::Stop,
            "feed-possible",
            Subject::Rail(draft.rail.id.clone()),
            format!("the feeds of this rail could not be worked out: {}", faults.join("; ")),
            "correct these values in the survey, the brief or the catalogue",
        )],
    }
}

fn luminaire(draft: &RailDraft<'_>, index: usize) -> String {
    draft.plan.luminaires.get(index).map_or_else(|| format!("luminaire {}", index + 1), |found| found.id.clone())
}

fn volts(volts: Option<Volts>) -> String {
    volts.map_or_else(|| "no stable voltage at all".to_owned(), |volts| format!("{volts:.2}"))
}

/// An amount with its currency.
fn amount(inputs: &Inputs, money: Money) -> String {
    format!("{} {}", money.to_hundredths(), inputs.catalogue.currency)
}

fn mended(inputs: &Inputs, draft: &RailDraft<'_>, mend: &Mend) -> Finding {
    let changes: Vec<String> = mend
        .changes
        .iter()
        .map(|change| {
            match change {
                Change::ThickerLead => "a thicker extension lead",
                Change::ThickerRun => "thicker running cores",
                Change::AnotherFeed => "another feed",
                Change::AnotherPlace => "another driver or place",
                Change::AnotherDriver => "another driver part",
            }
            .to_owned()
        })
        .collect();
    let with = if changes.is_empty() { "another arrangement".to_owned() } else { list(&changes) };
    let cost = if mend.extra < Money::ZERO {
        format!("{} less", amount(inputs, Money::ZERO - mend.extra))
    } else {
        format!("{} more", amount(inputs, mend.extra))
    };
    let subject = Subject::Luminaire { rail: draft.rail.id.clone(), luminaire: luminaire(draft, mend.luminaire) };
    let finding = say(
        Verdict::Pass,
        "voltage-mend",
        subject,
        format!(
            "with the thinnest lead and running cores {} would have {} where {:.2} is needed; the plan has {with}, \
             which costs {cost}, and every luminaire has enough",
            luminaire(draft, mend.luminaire),
            volts(mend.volts),
            mend.limit
        ),
        "",
    );
    from_source(figures(finding, mend.volts, mend.limit), DROP_SOURCE)
}

fn figures(finding: Finding, measured: Option<Volts>, limit: Volts) -> Finding {
    match measured {
        Some(measured) => with_figures(finding, measured.get(), limit.get(), "V"),
        None => finding,
    }
}

fn stopped(inputs: &Inputs, draft: &RailDraft<'_>, case: &FeedCase<'_>, infeasible: &Infeasible) -> Vec<Finding> {
    let help: Vec<String> = infeasible
        .help
        .iter()
        .map(|help| help_words(inputs, draft, case, help))
        .filter(|words| !words.is_empty())
        .collect();
    let advice = if help.is_empty() {
        "look for another way in or driver place, or choose other luminaires".to_owned()
    } else {
        format!("what would help, each by itself as far as it goes: {}", help.join("; "))
    };
    let mut findings = Vec::new();
    if let Some(short) = &infeasible.short_of_volts {
        let name = luminaire(draft, short.luminaire);
        let subject = Subject::Luminaire { rail: draft.rail.id.clone(), luminaire: name.clone() };
        let message = format!(
            "no feed of this rail gives every luminaire enough: at best {name} has {} where {:.2} is needed",
            volts(short.volts),
            short.limit
        );
        let finding = say(Verdict::Stop, "feed-possible", subject, message, advice.clone());
        findings.push(from_source(figures(finding, short.volts, short.limit), DROP_SOURCE));
    }
    if let (Some(first), Some(last)) = (infeasible.unreached.first(), infeasible.unreached.last()) {
        let number = infeasible.unreached.len();
        let message = format!(
            "{number} luminaires are reached by no cable way ({} to {}): the bore is shut between them and every way \
             in that a driver place reaches",
            luminaire(draft, *first),
            luminaire(draft, *last)
        );
        findings.push(say(
            Verdict::Stop,
            "feed-possible",
            Subject::Rail(draft.rail.id.clone()),
            message,
            advice.clone(),
        ));
    }
    if findings.is_empty() {
        let message = "no scheme of drivers, leads and running cores keeps every limit on this rail";
        findings.push(say(Verdict::Stop, "feed-possible", Subject::Rail(draft.rail.id.clone()), message, advice));
    }
    findings
}

fn places(inputs: &Inputs, ids: &[Id]) -> String {
    let names: Vec<String> = ids
        .iter()
        .map(|id| {
            let place = inputs.survey.driver_places.iter().find(|place| &place.id == id);
            place.map_or_else(|| id.to_string(), |place| Inputs::name(&place.label, &place.id).to_owned())
        })
        .collect();
    list(&names)
}

fn help_words(inputs: &Inputs, draft: &RailDraft<'_>, case: &FeedCase<'_>, help: &Help) -> String {
    match help {
        Help::NoPlace => "survey a driver place with a route to this rail".into(),
        Help::NoWayIn => "survey a way in on this rail".into(),
        Help::NoMains { places: ids } => {
            format!("survey a route from a mains point to {}", places(inputs, ids))
        }
        Help::NoDriverFits { places: ids } if case.problem.drivers.is_empty() => {
            format!("add a SELV driver of {} to the catalogue for {}", case.problem.nominal, places(inputs, ids))
        }
        Help::NoDriverFits { places: ids } => format!(
            "find more room or shelter at {}, or add a driver or an enclosure that suits it to the catalogue",
            places(inputs, ids)
        ),
        Help::NoRoute { first, last, from, to } => format!(
            "survey a route wide enough for a lead to a way in that serves {} to {} ({} to {})",
            luminaire(draft, *first),
            luminaire(draft, *last),
            at(*from),
            at(*to)
        ),
        Help::WayInWithin { luminaire: index, distance } => format!(
            "a way in no farther than {:.2} m along the tube from {}",
            distance.to_m(),
            luminaire(draft, *index)
        ),
        Help::WayInBetween { from, to } => format!("a further way in between {} and {}", at(*from), at(*to)),
        Help::RunArea { area } => format!("running cores of {area} or more in the catalogue"),
        Help::LeadArea { area } => format!("extension leads of {area} or more in the catalogue"),
        Help::LeadLength { length } => format!("a made-up extension lead of {:.2} m or more", length.to_m()),
        Help::DriverPower { power } => {
            format!("a driver that gives {power:.1} after derating and reserve, or more of them")
        }
        Help::OutputCurrent { current } => format!("a driver with an output of {current:.2} or more"),
        Help::ConductorCurrent { current } => format!("leads and running cores that carry {current:.2} or more"),
        Help::ShortCircuit => {
            "drivers that hold a short to less, thicker conductors, or a lower fuse in the output".into()
        }
        Help::SourceTooHigh { luminaire: index, greatest, source } => format!(
            "a driver whose voltage stays below {greatest:.2}, which {} stands; the lowest here reaches {source:.2}",
            luminaire(draft, *index)
        ),
        Help::Room { places: ids } => format!("room for another driver at {}", places(inputs, ids)),
        Help::Passing => "room in the bore for running cores to pass the luminaires of another chain".into(),
        Help::Lock { lock } => {
            let place = draft.brief.locks.drivers.get(*lock).map(|lock| lock.place.clone());
            format!(
                "take out the lock that keeps a driver at {}",
                place.map_or_else(|| "a place".to_owned(), |place| places(inputs, &[place]))
            )
        }
    }
}
