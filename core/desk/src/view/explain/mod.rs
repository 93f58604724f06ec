//! Why a number is what it is: the steps that lead to it, each with the figures put in and their source.

mod cable;
mod control;
mod cost;
mod driver;
mod end_cap;
mod feature;
mod finding;
mod lock;
mod mains;
mod path;
mod position;
mod rail_length;
mod volts;

use survey::{Finding, Verdict};

use super::wire::{Asked, Explanation, Figure, Note, Step, StepRole};
use super::{Scheme, words};

pub(super) fn explain(scheme: Scheme<'_>, asked: &Asked) -> Option<Explanation> {
    match asked {
        Asked::LuminaireVolts { luminaire } => volts::explain(scheme, luminaire),
        Asked::Position { luminaire } => position::explain(scheme, luminaire),
        Asked::RailLength { rail } => rail_length::explain(scheme, rail),
        Asked::RailCost { rail } => cost::explain(scheme, rail),
        Asked::Lock { rail, index } => lock::explain(scheme, rail, *index),
        Asked::Feature { rail, feature } => feature::explain(scheme, rail, feature),
        Asked::DriverLoad { driver } => driver::explain(scheme, driver),
        Asked::Cable { reference } => cable::explain(scheme, reference),
        Asked::EndCap { circuit } => end_cap::explain(scheme, circuit),
        Asked::Control { device } => control::explain(scheme, device),
        Asked::Mains { id } => mains::explain(scheme, id),
        Asked::Finding { index } => finding::explain(scheme, *index),
    }
}

fn step(role: StepRole, what: impl Into<String>, figure: Figure, note: impl Into<String>) -> Step {
    Step { what: what.into(), role, figure: Some(figure), note: note.into() }
}

fn words_only(what: impl Into<String>, note: impl Into<String>) -> Step {
    Step { what: what.into(), role: StepRole::Given, figure: None, note: note.into() }
}

/// A finding as a remark: what is the matter, and what to do.
fn remark(finding: &Finding) -> Note {
    let text = [finding.message.as_str(), finding.advice.as_str()].join(" ");
    Note { mark: words::mark(finding.verdict), text: text.trim().to_owned() }
}

/// Remarks for the findings that ask for something, worst first, at most a handful: the table has them all.
fn open_remarks<'a>(findings: impl Iterator<Item = &'a Finding>) -> Vec<Note> {
    findings.filter(|finding| finding.verdict != Verdict::Pass).take(4).map(remark).collect()
}
