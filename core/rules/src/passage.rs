//! Whether cables really pass where the plan takes them.

use plan::{Circuit, RailPlan};
use survey::{Finding, Id, Passage, Piece, Rail, Subject, Verdict};
use units::Length;

use crate::{Job, bundle};

const SOURCE: &str = "common practice, no source: a bore is open once a draw-wire, a camera or the eye has shown it";

/// Every feature and bend that a run crosses, and every route that a cable follows.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for (rail, planned) in job.lit_rails() {
        let needed = bundle::diameter(job, &rail.id);
        for (id, at, words, bore) in places(rail) {
            if !crossed(job, rail, planned, at) {
                continue;
            }
            let subject = Subject::Feature { rail: rail.id.clone(), feature: id };
            found.push(verdict(
                subject,
                &format!("the {words} at {} mm of rail {}", at.to_mm(), rail.label),
                bore,
                needed,
            ));
        }
    }
    let mut used: Vec<&Id> = job.plan.cables.iter().flat_map(|c| &c.routes).collect();
    used.sort();
    used.dedup();
    for route in job.survey.routes.iter().filter(|r| used.contains(&&r.id)) {
        found.push(verdict(Subject::Route(route.id.clone()), &format!("route {}", route.label), &route.passage, None));
    }
}

fn places(rail: &Rail) -> Vec<(Id, Length, &'static str, &Passage)> {
    let features = rail.features.iter().map(|f| (f.id.clone(), f.chainage.value, f.kind.word(), &f.bore));
    let bends = rail.placed_pieces().into_iter().filter_map(|p| match p.piece {
        Piece::Bend(b) => Some((b.id.clone(), p.start + (p.end - p.start).half(), "bend", &b.bore)),
        Piece::Straight(_) => None,
    });
    features.chain(bends).collect()
}

/// Whether some circuit's run crosses this chainage; while nothing is fed, whether luminaires lie on both sides.
fn crossed(job: Job<'_>, rail: &Rail, planned: &RailPlan, at: Length) -> bool {
    let circuits: Vec<&Circuit> = job.plan.circuits.iter().filter(|c| c.rail == rail.id).collect();
    if circuits.is_empty() {
        let first = planned.luminaires.first().map(|l| l.start);
        let last = planned.luminaires.last().map(|l| l.end);
        return first.is_some_and(|f| f <= at) && last.is_some_and(|l| l >= at);
    }
    circuits.iter().any(|c| bundle::extent(c, &rail.id).is_some_and(|(from, to)| from <= at && at <= to))
}

fn verdict(subject: Subject, what: &str, passage: &Passage, needed: Option<Length>) -> Finding {
    let new = |verdict| Finding::new("passage", subject.clone(), verdict, SOURCE);
    match passage {
        Passage::Proved { widest, .. } => match needed {
            Some(needed) if *widest < needed => new(Verdict::NotEvaluated)
                .compared(widest.to_mm(), needed.to_mm(), "mm")
                .says(format!(
                    "What passed {what} was {} mm wide; the cables need {:.1} mm.",
                    widest.to_mm(),
                    needed.to_mm()
                ))
                .advises("Prove it again with something as wide as the bundle."),
            Some(needed) => new(Verdict::Pass)
                .compared(widest.to_mm(), needed.to_mm(), "mm")
                .says(format!("Proved open at {what}.")),
            None => new(Verdict::Pass).found("proved").says(format!("Proved open: {what}.")),
        },
        Passage::Assumed => new(Verdict::NotEvaluated)
            .found("assumed")
            .says(format!("Nobody has proved that a cable passes {what}; it is only assumed."))
            .advises("Prove it with a draw-wire or a camera; until then the drilling papers wait."),
        Passage::Unknown => new(Verdict::NotEvaluated)
            .found("unknown")
            .says(format!("It is unknown whether a cable passes {what}."))
            .advises("Prove it with a draw-wire or a camera; until then the drilling papers wait."),
        Passage::Blocked { .. } => new(Verdict::Stop)
            .found("blocked")
            .says(format!("A cable cannot pass {what}, and the plan would take one there."))
            .advises("Survey another way in beyond it, or open it in a way the owner agrees to."),
    }
}
