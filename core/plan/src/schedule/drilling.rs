//! The drilling schedule: every hole by its running dimension from the datum and from its straight's own mark.

use crate::build::draft::RailDraft;
use crate::document::Hole;
use crate::layout::girth_offset;

/// Lists the holes of every rail, by rail and chainage.
pub(crate) fn drilling(drafts: &[RailDraft<'_>]) -> Vec<Hole> {
    let mut holes = Vec::new();
    for draft in drafts {
        let Some(chosen) = draft.chosen else { continue };
        let girth = girth_offset(draft.rail.tube.outside_diameter.value, draft.brief.aim.angle);
        for (luminaire, hole) in draft.plan.luminaires.iter().zip(&draft.holes) {
            holes.push(Hole {
                rail: draft.rail.id.clone(),
                hole: luminaire.id.clone(),
                chainage: luminaire.start,
                straight: hole.straight.clone(),
                from_mark: hole.from_mark,
                spacing: hole.spacing,
                diameter: hole.drilled.unwrap_or(chosen.point.hole),
                girth,
                existing: hole.drilled.is_some(),
            });
        }
    }
    holes
}
