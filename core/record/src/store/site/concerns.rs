//! What the record itself has to say of a site before anybody relies on its survey: values in dispute, and values that
//! this release cannot read.

use survey::{Finding, Id, Subject, Verdict};

use super::Site;
use crate::document::{Effect, Kind, Part, REMOVED, Thing, Unreadable, field, newer, strange};
use crate::edit::name;

const SOURCE: &str = "common practice, no source";

impl Site {
    /// Findings of the record, in the order of [`Finding::order`]: a disputed safety answer and a thing that this release
    /// cannot read say stop; other disputes and values that count as not stated say caution.
    #[must_use]
    pub fn concerns(&self) -> Vec<Finding> {
        let mut found: Vec<Finding> = self
            .parts()
            .flat_map(|(head, part)| {
                let disputed = self.projected().shares.get(head).map_or(&[][..], |share| &share.disputed);
                self.concerns_of(head, part, disputed)
            })
            .collect();
        found.sort_by(Finding::order);
        found
    }

    /// What there is to say of one part; what is strange about the whole document belongs to the site.
    pub(crate) fn concerns_of(&self, head: &Thing, part: &Part, disputed: &[(Thing, String)]) -> Vec<Finding> {
        let mut found: Vec<Finding> = part.notes.iter().filter_map(|what| self.unread(what)).collect();
        if head.kind == Kind::Site {
            found.extend(strange(self.content()).iter().filter_map(|what| self.unread(what)));
            found.extend(newer(self.content()).map(written_newer));
        }
        found.extend(disputed.iter().filter_map(|(thing, name)| self.contested(thing, name)));
        found
    }

    fn contested(&self, thing: &Thing, written: &str) -> Option<Finding> {
        // A thing that is removed without dispute asks for nothing; its disputes come back with it.
        if !thing.kind.is_single() && !self.content().is_visible(thing) {
            return None;
        }
        let dispute = self.disagreement(thing, written)?;
        let safety = written != REMOVED && field(thing.kind, written).is_some_and(|field| field.safety);
        let who = |person: &str| if person.is_empty() { "somebody" } else { person }.to_owned();
        let said: Vec<String> =
            dispute.positions.iter().map(|p| format!("{} says {}", who(&p.person), p.said)).collect();
        let meanwhile = if safety { "; until it is settled it counts as stop" } else { "" };
        let verdict = if safety { Verdict::Stop } else { Verdict::Caution };
        Some(
            Finding::new("disagreement", subject(thing), verdict, SOURCE)
                .says(format!("{} is disputed: {}{meanwhile}", dispute.about, said.join(", ")))
                .advises("look again on site or ask both, then settle it by one value"),
        )
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

fn written_newer(version: i64) -> Finding {
    let said = format!(
        "the site was written by a newer release (shape {version}); what this one does not know is kept but not shown"
    );
    Finding::new("newer-document", Subject::Site, Verdict::Caution, SOURCE)
        .says(said)
        .advises("update Newel on this device")
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
        Kind::Site
        | Kind::Brief
        | Kind::Photo
        | Kind::Firm
        | Kind::Setting
        | Kind::Member
        | Kind::Catalogue
        | Kind::Series => Subject::Site,
    }
}
