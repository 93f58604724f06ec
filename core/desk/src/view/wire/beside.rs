//! A page beside another that the asker has already: what stands in that too is named and not sent again.

use serde::Serialize;
use ts_rs::TS;

use super::{FindingLine, MainsLine, RailPage, SitePage, Tally, ZoneLine};

/// An entry of a list beside another list: the position of the same there, or a new one.
#[derive(Clone, Debug, PartialEq, Serialize, TS)]
#[serde(untagged)]
pub enum Beside<T> {
    /// As the entry at this position, 0 for the first.
    Same(u32),
    /// Not there.
    New(T),
}

/// A [`SitePage`] beside that of the open site.
#[derive(Clone, Debug, Serialize, TS)]
pub struct BesidePage {
    /// The site's name.
    pub title: String,
    /// What else the heading says: invented or real, when surveyed.
    pub subtitle: String,
    /// Where it was read from, as the person gave it.
    pub file: String,
    /// The identity of the plan: the same inputs give the same text.
    pub plan_id: String,
    /// The rails in the survey's order.
    pub rails: Vec<Beside<RailPage>>,
    /// The mains points.
    pub mains_points: Vec<MainsLine>,
    /// The zones with lit rails and their control.
    pub zones: Vec<ZoneLine>,
    /// Every finding of the site, stops first; one that is the same may have another index there.
    pub findings: Vec<Beside<FindingLine>>,
    /// The findings counted.
    pub tally: Tally,
}

impl BesidePage {
    /// A page beside one that the asker has, or as a whole.
    #[must_use]
    pub fn of(page: SitePage, known: Option<&SitePage>) -> Self {
        let (rails, findings) = known.map_or((&[][..], &[][..]), |known| (&known.rails, &known.findings));
        Self {
            title: page.title,
            subtitle: page.subtitle,
            file: page.file,
            plan_id: page.plan_id,
            rails: beside(page.rails, rails, PartialEq::eq),
            mains_points: page.mains_points,
            zones: page.zones,
            findings: beside(page.findings, findings, FindingLine::says_the_same),
            tally: page.tally,
        }
    }
}

impl FindingLine {
    /// Whether another says the same, wherever it is listed.
    fn says_the_same(&self, other: &Self) -> bool {
        Self { index: self.index, ..other.clone() } == *self
    }
}

/// A list beside another. Both are in much the same order, so each entry is looked for from where the last one was found.
fn beside<T>(list: Vec<T>, known: &[T], is_same: impl Fn(&T, &T) -> bool) -> Vec<Beside<T>> {
    let mut next = 0;
    let one = |entry: T| {
        let (before, from) = known.split_at(next);
        let found = from.iter().position(|own| is_same(own, &entry)).map(|place| next + place);
        let found = found.or_else(|| before.iter().position(|own| is_same(own, &entry)));
        let Some(place) = found.and_then(|found| u32::try_from(found).ok().map(|place| (found, place))) else {
            return Beside::New(entry);
        };
        next = place.0 + 1;
        Beside::Same(place.1)
    };
    list.into_iter().map(one).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_entry_that_is_known_is_named_by_its_position_whatever_the_order() {
        let known = ["a", "b", "c", "d"];
        let found = beside(vec!["b", "x", "d", "a", "a"], &known, PartialEq::eq);
        assert_eq!(found, [Beside::Same(1), Beside::New("x"), Beside::Same(3), Beside::Same(0), Beside::Same(0)]);
        assert_eq!(beside(vec!["a"], &[], PartialEq::eq), [Beside::New("a")]);
        let sent = serde_json::to_string(&found).expect("it is written");
        assert_eq!(sent, r#"[1,"x",3,0,0]"#);
    }
}
