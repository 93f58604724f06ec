//! The drilling schedule: every hole by its running dimension from the datum and from its straight's own mark.

use units::Degrees;

use crate::build::draft::RailDraft;
use crate::document::Hole;
use crate::layout::girth_offset;

/// Lists the holes of every rail, by rail and chainage.
pub(crate) fn drilling(drafts: &[RailDraft<'_>]) -> Vec<Hole> {
    let mut holes = Vec::new();
    for draft in drafts {
        let Some(chosen) = draft.chosen else { continue };
        let outside = draft.rail.tube.outside_diameter.value;
        let girth = girth_offset(outside, draft.brief.aim.angle);
        // A hole that is there was surveyed from the top, and the schedule counts from the underside.
        let existing_girth = |from_top: Degrees| girth_offset(outside, Degrees::new(180.0) - from_top);
        for (luminaire, hole) in draft.plan.luminaires.iter().zip(&draft.holes) {
            holes.push(Hole {
                rail: draft.rail.id.clone(),
                hole: luminaire.id.clone(),
                chainage: luminaire.start,
                straight: hole.straight.clone(),
                from_mark: hole.from_mark,
                spacing: hole.spacing,
                diameter: hole.drilled.as_ref().map_or(chosen.point.hole, |drilled| drilled.diameter),
                girth: hole.drilled.as_ref().and_then(|drilled| drilled.angle).map_or(girth, existing_girth),
                existing: hole.drilled.is_some(),
            });
        }
    }
    holes
}
