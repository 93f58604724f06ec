//! Holes against welds, joints, movement joints, posts, bends and the tube's ends.

use std::collections::BTreeMap;

use plan::Hole;
use survey::{Feature, FeatureKind, Finding, HoleUse, Id, Piece, Rail, Subject, Verdict};
use units::Length;

use crate::Job;

const SOURCE: &str = "the survey's keep-clear lengths; usual lengths are common practice, no source";

/// One finding a rail: the hole that comes nearest to what it must stay clear of, and one for each hole that is too near.
///
/// It looks at the drilling schedule and at the survey alone, so it checks the layout rather than repeating it.
pub(crate) fn judge(job: Job<'_>, found: &mut Vec<Finding>) {
    let mut holes: BTreeMap<&Id, Vec<&Hole>> = BTreeMap::new();
    for hole in &job.plan.drilling {
        holes.entry(&hole.rail).or_default().push(hole);
    }
    for (rail, _) in job.lit_rails() {
        let posts_clear = job.survey.brief.rails.iter().any(|b| b.rail == rail.id && b.posts_clear_of_holes);
        let straights = straights(rail);
        let mut nearest: Option<(Length, String)> = None;
        for hole in holes.get(&rail.id).into_iter().flatten() {
            let edge = hole.diameter.half();
            let subject = || Subject::Luminaire { rail: rail.id.clone(), luminaire: hole.hole.clone() };
            if !on_a_straight(&straights, hole.chainage, edge) {
                found.push(
                    Finding::new("hole-position", subject(), Verdict::Stop, SOURCE)
                        .found("not on a straight")
                        .says(format!(
                            "Hole {} at {} mm is not wholly on a straight of rail {}.",
                            hole.hole,
                            hole.chainage.to_mm(),
                            rail.label
                        ))
                        .advises("Move or drop this hole."),
                );
            }
            for feature in rail.features.iter().filter(|f| matters(f, posts_clear, hole.existing)) {
                let apart = (hole.chainage - feature.chainage.value).abs() - feature.half_width() - edge;
                let spare = apart - feature.clear_each_side() - movement(feature);
                // Written only for what is said: there are many more pairs than findings.
                let words = || {
                    let (hole, feature_at) = (&hole.hole, feature.chainage.value.to_tenth_mm());
                    format!("hole {hole} and the {} at {feature_at}", feature.kind.word())
                };
                if spare < Length::ZERO {
                    let verdict = if hole.existing { Verdict::Caution } else { Verdict::Stop };
                    found.push(
                        Finding::new("hole-position", subject(), verdict, SOURCE)
                            .compared(apart.to_mm(), (apart - spare).to_mm(), "mm")
                            .says(format!("Too near each other: {}.", words()))
                            .advises(if hole.existing {
                                "This hole is there already or locked: judge it on site."
                            } else {
                                "Move or drop this hole."
                            }),
                    );
                }
                if nearest.as_ref().is_none_or(|(least, _)| spare < *least) {
                    nearest = Some((spare, words()));
                }
            }
        }
        if let Some((spare, words)) = nearest.filter(|(spare, _)| *spare >= Length::ZERO) {
            found.push(
                Finding::new("hole-position", Subject::Rail(rail.id.clone()), Verdict::Pass, SOURCE)
                    .compared(spare.to_mm(), 0.0, "mm")
                    .says(format!(
                        "The tightest place of rail {} has {} mm beyond its keep-clear length: {words}.",
                        rail.label,
                        spare.to_mm()
                    )),
            );
        }
    }
}

/// From and to of every straight.
fn straights(rail: &Rail) -> Vec<(Length, Length)> {
    let placed = rail.placed_pieces();
    placed.iter().filter(|p| matches!(p.piece, Piece::Straight(_))).map(|p| (p.start, p.end)).collect()
}

fn on_a_straight(straights: &[(Length, Length)], at: Length, edge: Length) -> bool {
    straights.iter().any(|(start, end)| at - edge >= *start && at + edge <= *end)
}

fn matters(feature: &Feature, posts_clear: bool, hole_is_there: bool) -> bool {
    match feature.kind {
        FeatureKind::Post { .. } => !posts_clear,
        FeatureKind::LowPoint => false,
        FeatureKind::ExistingHole { used_for, .. } => {
            used_for == HoleUse::Other || !hole_is_there && used_for != HoleUse::Luminaire
        }
        _ => true,
    }
}

fn movement(feature: &Feature) -> Length {
    match feature.kind {
        FeatureKind::MovementJoint { range, .. } => range.half(),
        _ => Length::ZERO,
    }
}
