//! What every paper is drawn from.

use catalogue::Catalogue;
use plan::document::{Circuit, DriverPlan, Plan, RailPlan};
use survey::{Finding, Id, Survey, Verdict};

/// Finished results; the papers compute nothing that the plan has not already settled.
#[derive(Clone, Copy, Debug)]
pub struct PaperInput<'a> {
    /// The site and the brief.
    pub survey: &'a Survey,
    /// The parts.
    pub catalogue: &'a Catalogue,
    /// The plan.
    pub plan: &'a Plan,
    /// All findings: of the survey, the plan and the rules.
    pub findings: &'a [Finding],
    /// The day of issue, ISO 8601 (`2030-03-04`); papers ask no clock.
    pub issued: &'a str,
}

impl<'a> PaperInput<'a> {
    /// Findings in the order in which they are listed everywhere: worst first.
    #[must_use]
    pub fn findings_in_order(&self) -> Vec<&'a Finding> {
        let mut all: Vec<&Finding> = self.findings.iter().collect();
        all.sort_by(|a, b| a.order(b));
        all
    }

    /// How many findings have this verdict.
    #[must_use]
    pub fn count(&self, verdict: Verdict) -> usize {
        self.findings.iter().filter(|finding| finding.verdict == verdict).count()
    }

    /// The circuits in one rail.
    pub fn circuits_of(&self, rail: &Id) -> impl Iterator<Item = &'a Circuit> {
        self.plan.circuits.iter().filter(move |circuit| &circuit.rail == rail)
    }

    /// The drivers that feed one rail, in the plan's order.
    #[must_use]
    pub fn drivers_of(&self, rail: &Id) -> Vec<&'a DriverPlan> {
        let names: Vec<&str> = self.circuits_of(rail).map(|circuit| circuit.driver.as_str()).collect();
        self.plan.drivers.iter().filter(|driver| names.contains(&driver.id.as_str())).collect()
    }

    /// What feeding a rail costs, and where the cost of drivers stands that it shares.
    #[must_use]
    pub fn cost_of(&self, rail: &RailPlan) -> String {
        let (cost, currency) = (rail.objective.cost.to_hundredths(), &self.catalogue.currency);
        let mut words = vec![format!("{cost} {currency}")];
        words.extend(self.drivers_of(&rail.id).into_iter().filter_map(|driver| self.sharing(driver, &rail.id)));
        words.join("; ")
    }

    /// That a driver serves other rails besides this one, and where its cost stands; nothing where it does not.
    fn sharing(&self, driver: &DriverPlan, rail: &Id) -> Option<String> {
        let first = driver.rails.first()?;
        let others = self.other_rails(driver, rail);
        (!others.is_empty()).then(|| {
            let cost = if first == rail { "here".to_owned() } else { format!("with {}", self.label_of(first)) };
            format!("driver {} is shared with {}; its cost stands {cost}", driver.id, others.join(", "))
        })
    }

    /// Labels of the rails that a driver serves besides one.
    #[must_use]
    pub fn other_rails(&self, driver: &DriverPlan, rail: &Id) -> Vec<String> {
        driver.rails.iter().filter(|other| *other != rail).map(|other| self.label_of(other)).collect()
    }

    /// What the plan calls a rail.
    #[must_use]
    pub fn label_of(&self, rail: &Id) -> String {
        let planned = self.plan.rails.iter().find(|planned| &planned.id == rail);
        planned.map_or_else(|| rail.to_string(), |planned| planned.label.clone())
    }

    /// Whether anything here is made up, and so must not be built.
    #[must_use]
    pub fn invented(&self) -> Option<&'static str> {
        match (self.survey.site.invented, self.catalogue.invented) {
            (true, true) => Some("INVENTED SITE AND CATALOGUE: for teaching and trying out. Build nothing from this."),
            (true, false) => Some("INVENTED SITE: for teaching and trying out. Build nothing from this."),
            (false, true) => Some("INVENTED CATALOGUE: its parts do not exist. Order and build nothing from this."),
            (false, false) => None,
        }
    }
}
