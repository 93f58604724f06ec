//! Whether cables really pass where the plan takes them.

use plan::{Circuit, RailPlan};
use survey::{Feature, FeatureKind, Finding, Id, Passage, Piece, PostKind, Rail, RouteKind, Subject, Verdict};
use units::Length;

use crate::{Job, bundle};

const SOURCE: &str = "common practice, no source: a bore is open once a draw-wire, a camera or the eye has shown it";

/// Every feature and bend that a run crosses, and every route that a cable follows.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    for (rail, planned) in job.lit_rails() {
        let needed = bundle::diameter(job, &rail.id);
        let crossed = crossed(job, rail, planned);
        for (id, at, words, bore) in places(rail) {
            if !crossed.iter().any(|(from, to)| *from <= at && at <= *to) {
                continue;
            }
            let subject = Subject::Feature { rail: rail.id.clone(), feature: id };
            found.push(verdict(
                subject,
                &format!("past the {words} at {} mm of rail {}", at.to_mm(), rail.label),
                bore,
                needed,
            ));
        }
    }
    for circuit in &job.plan.circuits {
        posts_of_ways_in(job, circuit, found);
    }
    let mut used: Vec<&Id> = job.plan.cables.iter().flat_map(|c| &c.routes).collect();
    used.sort();
    used.dedup();
    // A cable clipped to a surface needs no opening, so nobody is asked to prove one.
    let asked = |r: &&survey::Route| used.contains(&&r.id) && (r.kind != RouteKind::Surface || r.passage.is_blocked());
    for route in job.survey.routes.iter().filter(asked) {
        found.push(verdict(
            Subject::Route(route.id.clone()),
            &format!("along route {}", route.label),
            &route.passage,
            None,
        ));
    }
}

/// The post that a circuit's way in leads through, unless it is only a bracket from the side.
fn posts_of_ways_in(job: Job<'_>, circuit: &Circuit, found: &mut Vec<Finding>) {
    let Some(rail) = job.survey.rail(&circuit.rail) else { return };
    let feature = |id: &Id| rail.features.iter().find(|f| &f.id == id);
    let way_in = circuit.way_in.as_ref().and_then(feature).map(|f| &f.kind);
    let Some(FeatureKind::WayIn { post: Some(post), .. }) = way_in else { return };
    let Some(post) = feature(post) else { return };
    if let FeatureKind::Post { into_post, kind, .. } = &post.kind
        && *kind != PostKind::SideBracket
    {
        let subject = Subject::Feature { rail: rail.id.clone(), feature: post.id.clone() };
        let what =
            format!("from the bore of rail {} into the post at {}", rail.label, post.chainage.value.to_tenth_mm());
        found.push(verdict(subject, &what, into_post, None));
    }
}

/// Everything that may narrow the bore; a hole or a low point does not.
fn places(rail: &Rail) -> Vec<(Id, Length, &'static str, &Passage)> {
    let narrows = |f: &&Feature| !matches!(f.kind, FeatureKind::ExistingHole { .. } | FeatureKind::LowPoint);
    let features =
        rail.features.iter().filter(narrows).map(|f| (f.id.clone(), f.chainage.value, f.kind.word(), &f.bore));
    let bends = rail.placed_pieces().into_iter().filter_map(|p| match p.piece {
        Piece::Bend(b) => Some((b.id.clone(), p.start + (p.end - p.start).half(), "bend", &b.bore)),
        Piece::Straight(_) => None,
    });
    features.chain(bends).collect()
}

/// The stretches that some circuit's run crosses; while nothing is fed, the one between the luminaires at the ends.
fn crossed(job: Job<'_>, rail: &Rail, planned: &RailPlan) -> Vec<(Length, Length)> {
    let mut circuits = job.plan.circuits.iter().filter(|c| c.rail == rail.id).peekable();
    if circuits.peek().is_none() {
        let ends = planned.luminaires.first().zip(planned.luminaires.last());
        return ends.map(|(first, last)| (first.start, last.end)).into_iter().collect();
    }
    circuits.filter_map(|c| bundle::extent(c, &rail.id)).collect()
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
            Some(needed) => {
                new(Verdict::Pass).compared(widest.to_mm(), needed.to_mm(), "mm").says(format!("Proved open {what}."))
            }
            None => new(Verdict::Pass).found("proved").says(format!("Proved open {what}.")),
        },
        Passage::Assumed => new(Verdict::NotEvaluated)
            .found("assumed")
            .says(format!("Nobody has proved that a cable gets {what}; it is only assumed."))
            .advises("Prove it with a draw-wire or a camera; until then the drilling papers wait."),
        Passage::Unknown => new(Verdict::NotEvaluated)
            .found("unknown")
            .says(format!("It is unknown whether a cable gets {what}."))
            .advises("Prove it with a draw-wire or a camera; until then the drilling papers wait."),
        Passage::Blocked { .. } => new(Verdict::Stop)
            .found("blocked")
            .says(format!("A cable cannot get {what}, and the plan would take one there."))
            .advises("Survey another way in beyond it, or open it in a way the owner agrees to."),
    }
}
