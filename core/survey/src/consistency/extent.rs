//! Are features on the rail, and clear of each other?

use units::Length;

use super::mm;
use crate::{Feature, FeatureKind, Finding, Rail, Subject, Verdict};

const SOURCE: &str = "common practice, no source";

/// A feature whose middle lies before the datum or beyond the far end is a stop: its chainage is wrong.
pub(super) fn features_within(rail: &Rail, found: &mut Vec<Finding>) {
    let end = rail.length();
    for feature in &rail.features {
        let at = feature.chainage.value;
        let slack = feature.chainage.tolerance();
        if at >= -slack && at <= end + slack {
            continue;
        }
        let limit = if at < Length::ZERO { Length::ZERO } else { end };
        found.push(
            Finding::new("feature-on-rail", subject(rail, feature), Verdict::Stop, SOURCE)
                .compared(at.to_mm(), limit.to_mm(), "mm")
                .says(format!(
                    "The {} at {} is not on rail {}, which runs from 0 mm to {}.",
                    feature.kind.word(),
                    mm(at),
                    rail.label,
                    mm(end)
                ))
                .advises("Correct its chainage, or add the missing piece of rail."),
        );
    }
}

/// Two posts or joints that overlap are one thing entered twice, or a chainage is wrong.
pub(super) fn overlaps(rail: &Rail, found: &mut Vec<Finding>) {
    let mut solid: Vec<&Feature> = rail
        .features
        .iter()
        .filter(|f| {
            matches!(f.kind, FeatureKind::Post { .. } | FeatureKind::Joint { .. } | FeatureKind::MovementJoint { .. })
        })
        .collect();
    solid.sort_by(|a, b| (a.chainage.value, &a.id).cmp(&(b.chainage.value, &b.id)));
    for pair in solid.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let same = std::mem::discriminant(&a.kind) == std::mem::discriminant(&b.kind);
        let apart = b.chainage.value - a.chainage.value;
        let needed = a.half_width() + b.half_width();
        if same && apart < needed {
            found.push(
                Finding::new("features-overlap", subject(rail, b), Verdict::Caution, SOURCE)
                    .compared(apart.to_mm(), needed.to_mm(), "mm")
                    .says(format!(
                        "Two {}s of rail {} overlap at {} and {}.",
                        a.kind.word(),
                        rail.label,
                        mm(a.chainage.value),
                        mm(b.chainage.value)
                    ))
                    .advises("Remove one if it was entered twice, or measure both again."),
            );
        }
    }
}

fn subject(rail: &Rail, feature: &Feature) -> Subject {
    Subject::Feature { rail: rail.id.clone(), feature: feature.id.clone() }
}
