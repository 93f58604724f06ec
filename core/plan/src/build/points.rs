//! The layout of points on every rail: rails that are to match are laid out together.

use std::collections::BTreeMap;

use survey::{Finding, Id, LampKind, Profile, RailBrief, Subject, Target, Verdict};
use units::Length;

use super::canonical::{Inputs, by_id};
use super::draft::{HoleDraft, RailDraft};
use super::feeding::channels;
use super::modules::{self, refuse::no_slot};
use super::remarks::layout_findings;
use super::say::{say, with_figures};
use super::selection::{ChosenPoint, choose_point};
use super::stretches::{RailStretches, stretches_of};
use crate::document::{Alternative, LuminairePlan, Objective, PatternFigures, PatternKind, RailPlan};
use crate::feeds::side_by_side::each;
use crate::layout::{HoleOrigin, Laid, LayoutError, SpacingRule, StretchLayout, lay_out};

/// The spacing that a brief asks for, where it asks for one above zero.
pub(crate) fn spacing(brief: &RailBrief) -> Option<Length> {
    match brief.target {
        Target::Spacing(spacing) if spacing > Length::ZERO => Some(spacing),
        Target::Spacing(_) | Target::Illuminance { .. } | Target::LitLength => None,
    }
}

/// A draft for every rail that the brief names, in order of id, with its points laid out.
pub(crate) fn drafts(inputs: &Inputs) -> (Vec<RailDraft<'_>>, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut drafts: Vec<RailDraft<'_>> = Vec::new();
    for brief in inputs.briefs() {
        match by_id(&inputs.survey.rails, &brief.rail, |rail| &rail.id) {
            Some(rail) => drafts.push(draft(inputs, rail, brief)),
            None => findings.push(say(
                Verdict::Stop,
                "brief-names-rail",
                Subject::Rail(brief.rail.clone()),
                format!("the brief names the rail {}, which the survey does not have", brief.rail),
                "survey the rail, or take it out of the brief",
            )),
        }
    }
    let laid = each(&groups(&drafts), |group| lay_out_group(&drafts, group));
    for (index, laid) in laid.into_iter().flatten() {
        match laid {
            Ok((stretches, laid)) => take(&mut drafts[index], &stretches, &laid),
            Err(error) => refuse(&mut drafts[index], &error),
        }
    }
    say_what_does_not_match(&mut drafts);
    (drafts, findings)
}

fn draft<'a>(inputs: &'a Inputs, rail: &'a survey::Rail, brief: &'a RailBrief) -> RailDraft<'a> {
    let exposure = inputs.survey.exposure_of(rail);
    let mut findings = Vec::new();
    let mut chosen: Option<ChosenPoint<'a>> = None;
    let lit = lit_with(rail, brief);
    if lit == Lit::Refused {
        findings.push(no_slot(inputs, rail, brief));
    }
    if lit == Lit::Points && spacing_given(rail, brief, &mut findings) {
        let (found, said) = choose_point(rail, brief, exposure, &inputs.catalogue);
        findings.extend(said);
        if found.is_some_and(|found| channels(found) > 1) {
            findings.push(decoder_drop(rail));
        }
        chosen = found;
    }
    let plan = RailPlan {
        id: rail.id.clone(),
        label: inputs.label(&rail.id),
        length: rail.length(),
        luminaires: vec![],
        pattern: None,
        lit: None,
        alternatives: vec![],
        not_ready: vec![],
        nominal: None,
        target: if lit == Lit::Points { spacing(brief) } else { None },
        locks: vec![],
        locks_together: None,
        objective: Objective::default(),
    };
    let mut draft = RailDraft { rail, brief, exposure, chosen, modules: None, plan, holes: vec![], findings };
    if lit == Lit::Modules {
        modules::lay_out(inputs, &mut draft);
    }
    draft
}

/// A colour that can be set needs a decoder, which belongs to the controls; its drop is not in the network of points.
fn decoder_drop(rail: &survey::Rail) -> Finding {
    say(
        Verdict::NotEvaluated,
        "decoder-drop",
        Subject::Rail(rail.id.clone()),
        "a decoder stands between driver and chain where the colour can be set; the chain is reckoned as if every \
         channel left the driver without a drop in the decoder",
        "take the drop of the decoder in the controls off the volts given here",
    )
}

/// What a rail is to be lit with.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Lit {
    /// Points in drilled holes.
    Points,
    /// Modules in its slot.
    Modules,
    /// Nothing: modules are wished for and the tube has no slot.
    Refused,
}

/// What a rail is to be lit with, by the brief and its tube.
fn lit_with(rail: &survey::Rail, brief: &RailBrief) -> Lit {
    let slotted = matches!(rail.tube.profile, Profile::RoundSlotted { .. });
    match (brief.lamps, slotted) {
        (LampKind::Points, _) | (LampKind::ModulesElsePoints, false) => Lit::Points,
        (LampKind::Modules | LampKind::ModulesElsePoints, true) => Lit::Modules,
        (LampKind::Modules, false) => Lit::Refused,
    }
}

/// Whether the brief gives a spacing, or else what to do.
fn spacing_given(rail: &survey::Rail, brief: &RailBrief, findings: &mut Vec<Finding>) -> bool {
    let subject = Subject::Rail(rail.id.clone());
    match brief.target {
        Target::Spacing(spacing) if spacing > Length::ZERO => return true,
        Target::Spacing(spacing) => findings.push(with_figures(
            say(
                Verdict::Stop,
                "spacing-above-zero",
                subject,
                format!("the brief asks for a spacing of {spacing}"),
                "give a spacing above zero, such as 300 mm",
            ),
            spacing.to_mm(),
            0.0,
            "mm",
        )),
        Target::Illuminance { tenths_lux } => findings.push(say(
            Verdict::NotEvaluated,
            "target-planned",
            subject,
            format!(
                "the brief asks for {} lx, and a spacing cannot yet be derived from an illuminance",
                f64::from(tenths_lux) / 10.0
            ),
            "give a spacing between hole centres in the brief",
        )),
        Target::LitLength => findings.push(say(
            Verdict::NotEvaluated,
            "target-planned",
            subject,
            "the brief asks for the greatest lit length, which points do not have",
            "give a spacing between hole centres in the brief",
        )),
    }
    false
}

/// Positions of the drafts that are laid out together: rails joined by the brief's wish to match, if their spacing
/// rules are the same; every other rail alone. In order of the first rail.
pub(crate) fn groups(drafts: &[RailDraft<'_>]) -> Vec<Vec<usize>> {
    let place: BTreeMap<&Id, usize> = drafts.iter().enumerate().map(|(i, draft)| (&draft.rail.id, i)).collect();
    let mut head: Vec<usize> = (0..drafts.len()).collect();
    for (i, draft) in drafts.iter().enumerate() {
        let Some(other) = draft.brief.match_rail.as_ref().and_then(|id| place.get(id)) else { continue };
        if rule_of(draft).is_some() && rule_of(draft) == rule_of(&drafts[*other]) {
            let (a, b) = (head[i].min(head[*other]), head[i].max(head[*other]));
            for entry in head.iter_mut().filter(|entry| **entry == b) {
                *entry = a;
            }
        }
    }
    let mut groups: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (i, head) in head.into_iter().enumerate() {
        if rule_of(&drafts[i]).is_some() {
            groups.entry(head).or_default().push(i);
        }
    }
    groups.into_values().collect()
}

/// Says where the wish to match another rail could not be kept.
fn say_what_does_not_match(drafts: &mut [RailDraft<'_>]) {
    let rules: BTreeMap<Id, Option<SpacingRule>> =
        drafts.iter().map(|draft| (draft.rail.id.clone(), rule_of(draft))).collect();
    for draft in drafts {
        let Some(other) = &draft.brief.match_rail else { continue };
        let own = rule_of(draft);
        let why = match rules.get(other) {
            _ if own.is_none() => continue,
            None => "which the brief does not light",
            Some(None) => "which has no points laid out",
            Some(rule) if *rule != own => "which has another spacing, end margin or hole",
            Some(_) => continue,
        };
        draft.findings.push(say(
            Verdict::Caution,
            "pattern-matches",
            Subject::Rail(draft.rail.id.clone()),
            format!("the pattern should match that of the rail {other}, {why}; each was laid out by itself"),
            "give both rails the same spacing, end margins and luminaire, or drop the wish to match",
        ));
    }
}

/// The spacing rule of a rail, where it gets points.
fn rule_of(draft: &RailDraft<'_>) -> Option<SpacingRule> {
    let chosen = draft.chosen?;
    Some(SpacingRule {
        target: spacing(draft.brief)?,
        least_margin: draft.brief.end_margin_least,
        greatest_margin: draft.brief.end_margin_greatest,
        // As much metal between two holes as one hole takes away (common practice, no source).
        least_spacing: chosen.point.hole * 2,
        grid: SpacingRule::HALF_MM,
    })
}

/// Where the points of one rail come to stand, by the rail's position among the drafts.
type LaidRail = (usize, Result<(RailStretches, Vec<StretchLayout>), LayoutError>);

/// The layout of the rails of a group.
fn lay_out_group(drafts: &[RailDraft<'_>], group: &[usize]) -> Vec<LaidRail> {
    let Some(rule) = group.first().and_then(|first| rule_of(&drafts[*first])) else { return vec![] };
    let mut stretches: Vec<(usize, RailStretches)> = Vec::new();
    let mut next_id = 0;
    for index in group {
        let draft = &drafts[*index];
        let Some(chosen) = draft.chosen else { continue };
        let found = stretches_of(draft.rail, draft.brief, chosen.point, next_id);
        next_id += found.stretches.len();
        stretches.push((*index, found));
    }
    let together: Vec<_> = stretches.iter().flat_map(|(_, rail)| rail.stretches.iter().cloned()).collect();
    match lay_out(&together, &rule) {
        Ok(mut laid) => stretches
            .into_iter()
            .map(|(index, rail)| {
                let rest = laid.split_off(rail.stretches.len().min(laid.len()));
                (index, Ok((rail, std::mem::replace(&mut laid, rest))))
            })
            .collect(),
        // One rail that cannot be laid out holds up no other.
        Err(_) if group.len() > 1 => group.iter().flat_map(|index| lay_out_group(drafts, &[*index])).collect(),
        Err(error) => group.first().map(|index| (*index, Err(error))).into_iter().collect(),
    }
}

fn refuse(draft: &mut RailDraft<'_>, error: &LayoutError) {
    draft.findings.push(say(
        Verdict::Stop,
        "layout-possible",
        Subject::Rail(draft.rail.id.clone()),
        format!("no luminaires could be laid out: {error}"),
        "correct the value in the survey or the brief",
    ));
}

/// Writes the layout of one rail into its draft.
fn take(draft: &mut RailDraft<'_>, rail: &RailStretches, laid: &[StretchLayout]) {
    let Some(chosen) = draft.chosen else { return };
    let mut holes: Vec<(Length, bool, HoleDraft)> = Vec::new();
    for (stretch, straight) in laid.iter().zip(&rail.straights) {
        for hole in &stretch.pattern.holes {
            let fixed = match hole.origin {
                HoleOrigin::Planned => None,
                HoleOrigin::Fixed { tag, .. } => rail.fixed.get(tag),
            };
            let drilled = fixed.and_then(|hole| hole.drilled.clone());
            let draft =
                HoleDraft { straight: straight.clone(), from_mark: hole.from_mark, spacing: hole.spacing, drilled };
            holes.push((hole.chainage, fixed.is_some(), draft));
        }
    }
    // Stretches follow one another, unless a survey has a piece of negative length.
    holes.sort_by_key(|(chainage, ..)| *chainage);
    for (number, (chainage, fixed, hole)) in holes.into_iter().enumerate() {
        draft.plan.luminaires.push(LuminairePlan {
            id: format!("{}-{}", draft.plan.label, number + 1),
            part: chosen.luminaire.item.part.clone(),
            start: chainage,
            end: chainage,
            fixed,
        });
        draft.holes.push(hole);
    }
    draft.plan.nominal = (!draft.plan.luminaires.is_empty()).then_some(chosen.luminaire.nominal);
    let pattern: Vec<&Laid> = laid.iter().map(|stretch| &stretch.pattern).collect();
    draft.plan.pattern = Some(figures(PatternKind::EvenPattern, &pattern));
    if laid.iter().any(|stretch| stretch.alternative.is_some()) {
        let spacing: Vec<&Laid> =
            laid.iter().map(|stretch| stretch.alternative.as_ref().unwrap_or(&stretch.pattern)).collect();
        draft.plan.alternatives.push(Alternative {
            figures: figures(PatternKind::EvenSpacing, &spacing),
            chainages: spacing.iter().flat_map(|laid| laid.holes.iter().map(|hole| hole.chainage)).collect(),
        });
    }
    draft.findings.extend(layout_findings(draft, rail, laid));
}

/// The figures of all stretches of a rail together; gaps across bends and ends are not judged.
fn figures(kind: PatternKind, laid: &[&Laid]) -> PatternFigures {
    let count = laid.iter().map(|laid| laid.figures.count).sum::<usize>();
    let gaps: Vec<_> = laid.iter().filter_map(|laid| laid.figures.gaps).collect();
    let number: usize = gaps.iter().map(|gaps| gaps.count).sum();
    let sum: f64 = gaps.iter().map(|gaps| gaps.mean_mm * gaps.count as f64).sum();
    // Of equal departures the first along the rail is named.
    let worst = gaps.iter().rev().max_by_key(|gaps| gaps.worst_departure);
    let squares: u128 = gaps.iter().map(|gaps| gaps.sum_of_squares_um2).sum();
    PatternFigures {
        kind,
        count: u32::try_from(count).unwrap_or(u32::MAX),
        least_gap: gaps.iter().map(|gaps| gaps.least).min(),
        greatest_gap: gaps.iter().map(|gaps| gaps.greatest).max(),
        mean_gap_mm: (number > 0).then(|| sum / number as f64),
        worst_departure: worst.map_or(Length::ZERO, |gaps| gaps.worst_departure),
        worst_at: worst.map(|gaps| gaps.worst_between.0),
        squares_mm2: squares as f64 / 1e6,
    }
}
