//! Which findings hold a rail's drilling papers back.

use plan::{Plan, RailPlan};
use survey::{Figure, Finding, Subject, Survey, Verdict};

/// Rules whose open questions must be answered before the first hole. A question about a control or an overall
/// measurement can wait; one about the bore, the wall, the metal's bonds or its owner cannot, nor can a figure over
/// which people disagree, or a change that waits for somebody to say that it counts.
const QUESTIONS_THAT_HOLD: [&str; 8] =
    ["space-factor", "wall-grip", "tube-wall", "guard", "bonding", "consent", "disagreement", "set-aside"];

/// Adds to each rail's `not_ready` what its findings say: every stop, every open question of the rules above, and every
/// passage that was proved with something narrower than the bundle.
///
/// A rail without luminaires is left as it is, since nothing is drilled there.
pub fn hold_back(survey: &Survey, plan: &mut Plan, findings: &[Finding]) {
    let held: Vec<Vec<String>> = plan
        .rails
        .iter()
        .map(|rail| {
            findings
                .iter()
                .filter(|f| holds(f) && !rail.luminaires.is_empty() && concerns(&f.subject, rail, survey, plan))
                .map(|f| f.message.clone())
                .collect()
        })
        .collect();
    for (rail, messages) in plan.rails.iter_mut().zip(held) {
        for message in messages {
            if !rail.not_ready.contains(&message) {
                rail.not_ready.push(message);
            }
        }
    }
}

fn holds(finding: &Finding) -> bool {
    match finding.verdict {
        Verdict::Stop => true,
        // Planning itself names every bore and route that nobody has proved, so the rule's words would say it twice.
        Verdict::NotEvaluated if finding.rule == "passage" => matches!(finding.measured, Some(Figure::Number(_))),
        Verdict::NotEvaluated => QUESTIONS_THAT_HOLD.contains(&finding.rule),
        Verdict::Caution | Verdict::Pass => false,
    }
}

/// Whether a subject is a rail, something on it, what feeds it, its zone, or the whole site.
fn concerns(subject: &Subject, rail: &RailPlan, survey: &Survey, plan: &Plan) -> bool {
    let circuits = || plan.circuits.iter().filter(|c| c.rail == rail.id);
    let in_circuit = |of: &Option<String>| of.as_ref().is_some_and(|id| circuits().any(|c| c.id == *id));
    let drives = |of: &dyn Fn(&plan::DriverPlan) -> bool| {
        circuits().any(|c| plan.drivers.iter().any(|d| d.id == c.driver && of(d)))
    };
    match subject {
        Subject::Site => true,
        Subject::Rail(id) | Subject::Feature { rail: id, .. } | Subject::Luminaire { rail: id, .. } => *id == rail.id,
        Subject::Circuit(id) => circuits().any(|c| c.id == *id),
        Subject::Driver(id) => circuits().any(|c| c.driver == *id),
        Subject::Part(part) => rail.luminaires.iter().any(|l| l.part == *part),
        Subject::Cable(id) => plan.cables.iter().any(|c| c.reference == *id && in_circuit(&c.circuit)),
        Subject::Route(route) => plan.cables.iter().any(|c| c.routes.contains(route) && in_circuit(&c.circuit)),
        Subject::DriverPlace(place) => drives(&|d| d.place.as_ref() == Some(place)),
        Subject::MainsPoint(point) => drives(&|d| d.mains_point.as_ref() == Some(point)),
        Subject::Zone(zone) => {
            survey.brief.rails.iter().any(|wish| wish.rail == rail.id && wish.zone.as_ref() == Some(zone))
        }
    }
}
