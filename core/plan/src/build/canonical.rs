//! The planning inputs in one order, whatever order the survey and the catalogue were written in.

use std::collections::{BTreeMap, BTreeSet};

use catalogue::Catalogue;
use survey::{Id, RailBrief, Survey};

/// What a plan is computed from.
pub(crate) struct Inputs {
    /// The planning part of the survey: no photos, no notes, every list in order.
    pub survey: Survey,
    /// The catalogue in order of part.
    pub catalogue: Catalogue,
    /// What each rail is called on paper: its label, made unique.
    pub labels: BTreeMap<Id, String>,
}

impl Inputs {
    /// Puts a survey and a catalogue in order.
    pub(crate) fn of(survey: &Survey, catalogue: &Catalogue) -> Self {
        let mut part = survey.planning_part();
        for brief in &mut part.brief.rails {
            // A person's locks have no order of their own.
            brief.locks.holes.sort();
            brief.locks.drivers.sort_by(|a, b| (&a.place, &a.part).cmp(&(&b.place, &b.part)));
        }
        Self { labels: unique_labels(survey), survey: part, catalogue: catalogue.in_order() }
    }

    /// What a rail is called on paper.
    pub(crate) fn label(&self, rail: &Id) -> String {
        self.labels.get(rail).cloned().unwrap_or_else(|| rail.to_string())
    }

    /// The brief for each rail, the first one where a rail was named twice.
    pub(crate) fn briefs(&self) -> Vec<&RailBrief> {
        let mut seen = BTreeSet::new();
        self.survey.brief.rails.iter().filter(|brief| seen.insert(&brief.rail)).collect()
    }

    /// The name of a place, mains point or route for people: its label, else its id.
    pub(crate) fn name<'a>(label: &'a str, id: &'a Id) -> &'a str {
        if label.trim().is_empty() { id.as_str() } else { label.trim() }
    }
}

/// The thing with this id in a list that is in order of id.
pub(crate) fn by_id<'a, T>(list: &'a [T], id: &Id, id_of: impl Fn(&T) -> &Id) -> Option<&'a T> {
    list.binary_search_by(|known| id_of(known).cmp(id)).ok().map(|place| &list[place])
}

/// The label of every rail; where two rails share one, or have none, the id says which is which.
fn unique_labels(survey: &Survey) -> BTreeMap<Id, String> {
    let mut uses: BTreeMap<&str, usize> = BTreeMap::new();
    for rail in &survey.rails {
        *uses.entry(rail.label.trim()).or_default() += 1;
    }
    let ids: BTreeSet<&str> = survey.rails.iter().map(|rail| rail.id.as_str()).collect();
    survey
        .rails
        .iter()
        .map(|rail| {
            let label = rail.label.trim();
            let plain = uses.get(label) == Some(&1) && (label == rail.id.as_str() || !ids.contains(label));
            let name = match (label.is_empty(), plain) {
                (true, _) => rail.id.to_string(),
                (false, true) => label.to_owned(),
                (false, false) => format!("{label} ({})", rail.id),
            };
            (rail.id.clone(), name)
        })
        .collect()
}
