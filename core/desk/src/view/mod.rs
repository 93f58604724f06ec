//! The site as the window shows it: pages built from survey, catalogue and plan, and why each number is what it is.

mod controls;
mod explain;
mod features;
mod findings;
mod join;
mod locks;
mod page;
mod places;
mod power;
mod rail;
pub mod typescript;
mod window;
mod wire;
mod words;

use catalogue::Catalogue;
use plan::{Circuit, LuminairePlan, Plan, RailPlan};
use survey::{Finding, Id, Rail, Survey};

use crate::planned::Planned;

/// What crosses unread: it is read with every fault named, as files are.
pub use serde_json::Value as Unread;
pub use typescript::{COMMANDS, Command};
pub use window::{Sent, Window};
pub use wire::*;

/// What every page is built from: a survey, the catalogue and plan that belong to it, and what the rules say.
#[derive(Clone, Copy, Debug)]
pub struct Scheme<'a> {
    /// The survey.
    pub survey: &'a Survey,
    /// The catalogue that the plan was made with.
    pub catalogue: &'a Catalogue,
    /// The plan.
    pub plan: &'a Plan,
    /// Every finding, in the order in which they are listed.
    pub findings: &'a [Finding],
}

impl<'a> Scheme<'a> {
    /// Of a planned site.
    #[must_use]
    pub fn of(site: &'a Planned) -> Self {
        Self { survey: &site.survey, catalogue: &site.catalogue, plan: &site.plan, findings: &site.findings }
    }

    /// The whole site as pages; `file` is where it was read from, as the person gave it.
    #[must_use]
    pub fn site_page(self, file: &str) -> SitePage {
        page::site_page(self, file)
    }

    /// Why a number is what it is; `None` where the thing asked about is not in this site.
    #[must_use]
    pub fn explain(self, asked: &Asked) -> Option<Explanation> {
        explain::explain(self, asked)
    }

    /// What all feeds cost, with the least that is proved to be possible.
    #[must_use]
    pub fn cost(self) -> Bounded {
        rail::bounded(self, self.plan.objective)
    }

    /// The luminaires of the catalogue, in order of part.
    #[must_use]
    pub fn luminaire_parts(self) -> Vec<PartChoice> {
        let choice =
            |item: &catalogue::Item| PartChoice { part: item.part.clone(), description: item.description.clone() };
        let mut parts: Vec<PartChoice> = self.catalogue.luminaires.iter().map(|l| choice(&l.item)).collect();
        parts.sort_by(|a, b| a.part.cmp(&b.part));
        parts
    }

    fn planned(self, rail: &Id) -> Option<&'a RailPlan> {
        self.plan.rails.iter().find(|planned| &planned.id == rail)
    }

    fn rail_named(self, id: &str) -> Option<&'a Rail> {
        self.survey.rails.iter().find(|rail| rail.id.as_str() == id)
    }

    fn luminaire(self, reference: &str) -> Option<(&'a RailPlan, &'a LuminairePlan)> {
        self.plan
            .rails
            .iter()
            .find_map(|rail| rail.luminaires.iter().find(|l| l.id == reference).map(|luminaire| (rail, luminaire)))
    }

    fn circuits_of(self, rail: &Id) -> impl Iterator<Item = &'a Circuit> {
        self.plan.circuits.iter().filter(move |circuit| &circuit.rail == rail)
    }

    /// What the plan calls a rail.
    fn rail_label(self, id: &Id) -> String {
        self.planned(id).map_or_else(|| id.to_string(), |planned| planned.label.clone())
    }

    /// An amount in the currency of the catalogue.
    fn money(self, amount: units::Money) -> String {
        let figures = amount.to_hundredths().to_string().replace('-', "\u{2212}");
        format!("{figures}\u{202f}{}", self.catalogue.currency)
    }

    /// The label of a mains point.
    fn mains_label(self, id: &Id) -> &'a str {
        self.survey.mains_points.iter().find(|point| &point.id == id).map_or("unknown", |point| point.label.as_str())
    }
}

impl Figure {
    /// A number with its unit and the decimals to show.
    #[must_use]
    pub fn new(value: f64, unit: &str, decimals: u8) -> Self {
        Self { value, unit: unit.to_owned(), decimals }
    }

    fn volts(value: units::Volts) -> Self {
        Self::new(value.get(), "V", 2)
    }

    /// Millimetres, with a tenth only where there is one.
    fn mm(value: units::Length) -> Self {
        Self::new(value.to_mm(), "mm", u8::from(value.to_um() % 1000 != 0))
    }

    fn metres(value: units::Length) -> Self {
        Self::new(value.to_m(), "m", 2)
    }
}
