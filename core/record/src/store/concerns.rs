//! What the record itself has to say of a site before anybody relies on its survey: values in dispute, and values that
//! this release cannot read.

use survey::{Finding, Id, Subject, Verdict};

use super::Site;
use crate::document::{Effect, Kind, REMOVED, Reading, Thing, Unreadable, field};
use crate::edit::name;

const SOURCE: &str = "common practice, no source";

impl Site {
    /// Findings of the record, in the order of [`Finding::order`]: a disputed safety answer and a thing that this release
    /// cannot read say stop; other disputes and values that count as not stated say caution.
    #[must_use]
    pub fn concerns(&self) -> Vec<Finding> {
        self.concerns_of(&self.reading())
    }

    pub(crate) fn concerns_of(&self, reading: &Reading) -> Vec<Finding> {
        let mut found: Vec<Finding> = reading.unreadable.iter().filter_map(|what| self.unread(what)).collect();
        if let Some(newer) = reading.newer {
            found.push(
                Finding::new("newer-document", Subject::Site, Verdict::Caution, SOURCE)
                    .says(format!("the site was written by a newer release (shape {newer}); what this one does not know is kept but not shown"))
                    .advises("update Newel on this device"),
            );
        }
        for dispute in self.disagreements() {
            // A thing that is removed without dispute asks for nothing; its disputes come back with it.
            if dispute.thing.kind != Kind::Site && !self.content().is_visible(&dispute.thing) {
                continue;
            }
            let safety =
                dispute.field != REMOVED && field(dispute.thing.kind, &dispute.field).is_some_and(|f| f.safety);
            let said: Vec<String> =
                dispute.positions.iter().map(|p| format!("{} says {}", or_somebody(&p.person), p.said)).collect();
            let meanwhile = if safety { "; until it is settled it counts as stop" } else { "" };
            let verdict = if safety { Verdict::Stop } else { Verdict::Caution };
            found.push(
                Finding::new("disagreement", subject(&dispute.thing), verdict, SOURCE)
                    .says(format!("{} is disputed: {}{meanwhile}", dispute.about, said.join(", ")))
                    .advises("look again on site or ask both, then settle it by one value"),
            );
        }
        found.sort_by(Finding::order);
        found
    }

    fn unread(&self, what: &Unreadable) -> Option<Finding> {
        let (verdict, meaning) = match what.effect {
            Effect::Extra => return None,
            Effect::NotStated => (Verdict::Caution, "counts as not stated"),
            Effect::LeftOut => (Verdict::Stop, "is left out of the survey"),
        };
        let thing = name(self.content(), &what.thing);
        let whole = what.effect == Effect::LeftOut || what.field.is_empty();
        let words = field(what.thing.kind, &what.field).map_or(what.field.as_str(), |field| field.words);
        let about = if whole { thing } else { format!("{words} of {thing}") };
        let because = if whole && !words.is_empty() { format!("{words}: {}", what.why) } else { what.why.clone() };
        Some(
            Finding::new("unreadable", subject(&what.thing), verdict, SOURCE)
                .says(format!("{about} {meaning}, since this release cannot read it ({because})"))
                .advises("update Newel on this device, or enter it anew; what is stored is kept meanwhile"),
        )
    }
}

fn or_somebody(person: &str) -> &str {
    if person.is_empty() { "somebody" } else { person }
}

/// What a finding about a thing is about; what has no subject of its own belongs to the site.
fn subject(thing: &Thing) -> Subject {
    let Some(id) = Id::new(&thing.id) else { return Subject::Site };
    match thing.kind {
        Kind::Rail | Kind::Wish => Subject::Rail(id),
        Kind::Piece | Kind::Feature => match Id::new(&thing.rail) {
            Some(rail) => Subject::Feature { rail, feature: id },
            None => Subject::Site,
        },
        Kind::MainsPoint => Subject::MainsPoint(id),
        Kind::DriverPlace => Subject::DriverPlace(id),
        Kind::Route => Subject::Route(id),
        Kind::Zone => Subject::Zone(id),
        Kind::Site | Kind::Brief | Kind::Photo => Subject::Site,
    }
}
