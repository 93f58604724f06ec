//! Findings about what is stored: disagreements, values that cannot be read, changes that do not count.

use record::document::{Kind, Reading, Thing, field};
use record::store::{Cause, Disagreement, Site};
use survey::{Finding, Id, Subject, Survey, Verdict};

use super::disagreements::{Weight, weight};
use crate::read::read_survey;
use crate::wire::{self, Mirror};

const PRACTICE: &str = "common practice, no source";

/// What must be known of the stored site besides its survey, and besides what is [`refused`].
pub fn of(site: &Site, reading: &Reading, moment: Moment) -> Vec<Finding> {
    let mut found = Vec::new();
    match moment {
        Moment::Now => {
            found.extend(site.concerns().into_iter().filter(|finding| finding.rule != "disagreement"));
            // A dispute over a thing that is removed asks for nothing; it comes back with the thing.
            let heard = site.disagreements();
            let seen =
                |about: &&Disagreement| about.thing.kind == Kind::Site || site.content().is_visible(&about.thing);
            found.extend(heard.iter().filter(seen).map(disagreement));
            found.extend(set_aside(site));
        }
        Moment::Past => {
            let unread = reading.unreadable.iter().map(|value| format!("{} of {}", value.field, value.thing));
            let unread: Vec<String> = unread.collect();
            if !unread.is_empty() {
                let said = format!("this release cannot read {}", unread.join(", "));
                found.push(plain("unreadable", Subject::Site, Verdict::Stop, said, "Update Newel on this device."));
            }
            let said = "this is the site as it was, not as it is".to_owned();
            let advice = "Drill from the site as it is now.";
            found.push(plain("past-moment", Subject::Site, Verdict::Stop, said, advice));
        }
    }
    found
}

/// Whether the site is shown as it is or as it was.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moment {
    /// As it is.
    Now,
    /// As it was: who disagreed then cannot be told any more, and nobody drills from it.
    Past,
}

fn plain(rule: &'static str, about: Subject, verdict: Verdict, message: String, advice: &str) -> Finding {
    Finding::new(rule, about, verdict, PRACTICE).says(message).advises(advice)
}

/// A disputed answer about safety stops; a disputed figure is not evaluated and holds the drilling back; words wait.
fn disagreement(about: &Disagreement) -> Finding {
    let verdict = match weight(about) {
        Weight::Safety => Verdict::Stop,
        Weight::Figures => Verdict::NotEvaluated,
        Weight::Words => Verdict::Caution,
    };
    let heard: Vec<String> =
        about.positions.iter().map(|position| format!("{} says {}", position.person, position.said)).collect();
    let message = format!("people disagree about {}: {}.", about.about, heard.join("; "));
    plain("disagreement", subject(&about.thing), verdict, message, "Ask both, look again on site, and settle it.")
}

fn set_aside(site: &Site) -> Option<Finding> {
    let aside = site.set_aside();
    let first = aside.first()?;
    let do_not = if aside.len() == 1 { "does not" } else { "do not" };
    let number = super::say::count(aside.len(), "change");
    let message = format!("{number} {do_not} count, the first by {}: {}", first.person, first.why);
    let advice = match first.cause {
        Cause::Unknown(_) => "Ask whether the device is theirs; if so, let it in, or say that it is known.",
        Cause::Refused(_) => "If it should count all the same, accept what is here of the removed device.",
        Cause::Missing => "Share with the others again, so that what it builds on comes.",
        Cause::Damaged => "Ask whoever wrote it to send it again.",
    };
    Some(plain("set-aside", Subject::Site, Verdict::NotEvaluated, message, advice))
}

/// What a survey file would be refused for can come about by edits that meet: it is a stop here, and the site is shown.
pub fn refused(survey: &Survey) -> Vec<Finding> {
    let text = crate::json_text(&wire::survey::Survey::from_plain(survey));
    let Err(faults) = read_survey(text.as_bytes(), "site.json") else { return Vec::new() };
    let found = faults.list.into_iter().map(|fault| {
        let message = format!("{}: {} {}", fault.path, fault.value, fault.matter);
        plain("stored-value", Subject::Site, Verdict::Stop, message, &format!("Accepted: {}.", fault.accepted))
    });
    found.collect()
}

/// Whether an answer of a thing is about somebody's safety, as the record has it.
pub fn is_safety(about: &Disagreement) -> bool {
    field(about.thing.kind, &about.field).is_some_and(|field| field.safety)
}

/// What a finding about a thing is about.
fn subject(thing: &Thing) -> Subject {
    let (Some(id), rail) = (Id::new(&thing.id), Id::new(&thing.rail)) else { return Subject::Site };
    match (thing.kind, rail) {
        (Kind::Rail | Kind::Wish, _) => Subject::Rail(id),
        (Kind::Piece | Kind::Feature, Some(rail)) => Subject::Feature { rail, feature: id },
        (Kind::MainsPoint, _) => Subject::MainsPoint(id),
        (Kind::DriverPlace, _) => Subject::DriverPlace(id),
        (Kind::Route, _) => Subject::Route(id),
        (Kind::Zone, _) => Subject::Zone(id),
        // The rest is of the whole site, or of no site at all.
        _ => Subject::Site,
    }
}
