//! Checks a survey while the surveyor still stands there, without planning anything.

use survey::{Finding, Verdict};

use crate::fault::Faults;
use crate::read::read_survey;
use crate::wire::plan::Finding as WireFinding;

/// What a check says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Checked {
    /// One line for each finding, and a line that counts what was read.
    pub text: String,
    /// Whether something must be mended before the job goes on.
    pub has_stops: bool,
}

/// Reads a survey and lists its own findings.
///
/// # Errors
/// Every fault of the file.
pub fn check_survey(bytes: &[u8], name: &str) -> Result<Checked, Faults> {
    let survey = read_survey(bytes, name)?;
    let mut findings = survey::consistency::findings(&survey);
    findings.sort_by(Finding::order);
    let asking = findings.iter().filter(|f| f.verdict != Verdict::Pass);
    let mut text: String = asking.map(line).collect();
    let features: usize = survey.rails.iter().map(|rail| rail.features.len()).sum();
    text += &format!(
        "{name}: read; {} rails, {features} features, {} findings, of them {} to look at\n",
        survey.rails.len(),
        findings.len(),
        findings.iter().filter(|f| f.verdict != Verdict::Pass).count()
    );
    let has_stops = findings.iter().any(|f| f.verdict == Verdict::Stop);
    Ok(Checked { text, has_stops })
}

fn line(finding: &Finding) -> String {
    let wire = WireFinding::from(finding);
    let verdict = match finding.verdict {
        Verdict::Stop => "STOP",
        Verdict::NotEvaluated => "not evaluated",
        Verdict::Caution => "caution",
        Verdict::Pass => "pass",
    };
    let text = format!("{verdict}: {}: {} {}", wire.rule, wire.message, wire.advice);
    // Words from the file must neither split the line nor steer a terminal.
    let safe: String = text.trim_end().chars().map(|c| if c.is_control() { '\u{fffd}' } else { c }).collect();
    format!("{safe}\n")
}
