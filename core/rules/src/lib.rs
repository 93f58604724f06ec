//! Screening rules: one file per standard or practice, each turning survey, catalogue and plan into findings.
//!
//! Newel screens, it does not certify: a finding names its source, and local codes and licensed practice decide.

mod body_clearance;
mod bonding;
mod conductor_current;
mod connector_current;
mod consent;
mod control_cable;
mod control_contact;
mod control_drop;
mod control_loss;
mod driver_load;
mod far_end_short;
mod guard;
mod hole_position;
mod hole_tube;
mod ingress;
mod longest_chain;
mod movement_joint;
mod passage;
mod pole_counts;
mod selv;
mod space_factor;
mod special_location;
mod voltage_drop;
mod voltages_not_mixed;

mod bundle;
mod modules;
mod readiness;

pub use readiness::hold_back;

use catalogue::Catalogue;
use plan::Plan;
use survey::{Finding, Survey};

/// What a rule looks at.
#[derive(Clone, Copy)]
struct Job<'a> {
    survey: &'a Survey,
    catalogue: &'a Catalogue,
    plan: &'a Plan,
}

/// Every finding of every rule, in the order of [`Finding::order`].
#[must_use]
pub fn findings(survey: &Survey, catalogue: &Catalogue, plan: &Plan) -> Vec<Finding> {
    let job = Job { survey, catalogue, plan };
    let rules: [fn(Job<'_>, &mut Vec<Finding>); 24] = [
        voltage_drop::judge,
        driver_load::judge,
        conductor_current::judge,
        connector_current::judge,
        far_end_short::judge,
        voltages_not_mixed::judge,
        selv::judge,
        passage::judge,
        space_factor::judge,
        body_clearance::judge,
        hole_tube::judge,
        hole_position::judge,
        ingress::judge,
        pole_counts::judge,
        longest_chain::judge,
        movement_joint::judge,
        consent::judge,
        bonding::judge,
        guard::judge,
        special_location::judge,
        control_cable::judge,
        control_contact::judge,
        control_drop::judge,
        control_loss::judge,
    ];
    let mut found = Vec::new();
    for rule in rules {
        rule(job, &mut found);
    }
    found.sort_by(Finding::order);
    found
}

impl<'a> Job<'a> {
    /// Rails of the plan with their survey.
    fn rails(self) -> impl Iterator<Item = (&'a survey::Rail, &'a plan::RailPlan)> {
        self.plan.rails.iter().filter_map(move |planned| Some((self.survey.rail(&planned.id)?, planned)))
    }

    /// Rails that get light.
    fn lit_rails(self) -> impl Iterator<Item = (&'a survey::Rail, &'a plan::RailPlan)> {
        self.rails().filter(|(_, planned)| !planned.luminaires.is_empty())
    }
}
