//! The main use case: a survey and a catalogue in, a plan with every finding out.

use plan::Memory;
use survey::{Finding, Verdict};

use crate::fault::Faults;
use crate::read::{read_catalogue, read_survey};
use crate::wire;

/// A site that was planned, with what it was planned from.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// The survey with its brief.
    pub survey: survey::Survey,
    /// The catalogue.
    pub catalogue: catalogue::Catalogue,
    /// The plan.
    pub plan: plan::Plan,
    /// Findings of the survey, the planning and the rules, worst first, none twice.
    pub findings: Vec<Finding>,
}

/// Plans a site from two files, each given as bytes and the name that faults are to show.
///
/// # Errors
/// Every fault of both files.
pub fn plan_files(survey: (&[u8], &str), catalogue: (&[u8], &str)) -> Result<Planned, Faults> {
    let survey = read_survey(survey.0, survey.1);
    let catalogue = read_catalogue(catalogue.0, catalogue.1);
    match (survey, catalogue) {
        (Ok(survey), Ok(catalogue)) => Ok(Planned::of(survey, catalogue)),
        (Err(faults), Err(more)) => Err(faults.and(more)),
        (Err(faults), Ok(_)) | (Ok(_), Err(faults)) => Err(faults),
    }
}

impl Planned {
    /// Plans a site.
    #[must_use]
    pub fn of(survey: survey::Survey, catalogue: catalogue::Catalogue) -> Self {
        Self::with(survey, catalogue, Vec::new(), |_| Vec::new(), &Memory::default())
    }

    /// Plans a site of which more is known than its survey says, such as who disagrees, with what earlier plans have worked
    /// out. What `look` finds in the survey is found while the plan is made.
    #[must_use]
    pub fn with(
        survey: survey::Survey,
        catalogue: catalogue::Catalogue,
        more: Vec<Finding>,
        look: impl FnOnce(&survey::Survey) -> Vec<Finding> + Send,
        memory: &Memory,
    ) -> Self {
        let (mut plan, seen) = std::thread::scope(|scope| {
            let looking = scope.spawn(|| look(&survey));
            let plan = plan::plan_with(&survey, &catalogue, memory);
            (plan, looking.join().unwrap_or_else(|cause| std::panic::resume_unwind(cause)))
        });
        let mut findings = more;
        findings.extend(seen);
        findings.extend(survey::consistency::findings(&survey));
        findings.extend(plan.findings.iter().cloned());
        findings.extend(rules::findings(&survey, &catalogue, &plan));
        findings.sort_by(Finding::order);
        findings.dedup();
        rules::hold_back(&survey, &mut plan, &findings);
        Self { survey, catalogue, plan, findings }
    }

    /// Whether something must be mended before the job goes on.
    #[must_use]
    pub fn has_stops(&self) -> bool {
        self.findings.iter().any(|finding| finding.verdict == Verdict::Stop)
    }

    /// The plan document.
    #[must_use]
    pub fn document(&self) -> wire::plan::Plan {
        wire::plan::Plan::of(&self.survey, &self.catalogue, &self.plan, &self.findings)
    }

    /// The plan document as JSON with a line break at its end. The same input gives the same bytes on every machine.
    #[must_use]
    pub fn to_json(&self) -> String {
        crate::json_text(&self.document())
    }

    /// The report for people; `issued` is the day of issue (`2030-03-04`).
    #[must_use]
    pub fn to_text(&self, issued: &str) -> String {
        papers::report(&self.paper_input(issued))
    }

    pub(crate) fn paper_input<'a>(&'a self, issued: &'a str) -> papers::PaperInput<'a> {
        papers::PaperInput {
            survey: &self.survey,
            catalogue: &self.catalogue,
            plan: &self.plan,
            findings: &self.findings,
            issued,
        }
    }
}
