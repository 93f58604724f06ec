//! What the layout of points could not keep, as findings in plain words.

use survey::{Finding, Subject, Verdict};

use super::draft::RailDraft;
use super::say::{at, say, with_figures};
use super::stretches::{FixedSource, RailStretches};
use crate::layout::{Remark, StretchLayout, WhichEnd};

/// The findings about the layout of one rail.
pub(crate) fn layout_findings(draft: &RailDraft<'_>, rail: &RailStretches, laid: &[StretchLayout]) -> Vec<Finding> {
    let mut findings: Vec<Finding> = rail.off_straight.iter().map(|hole| off_straight(draft, hole)).collect();
    for remark in laid.iter().flat_map(|stretch| &stretch.remarks) {
        findings.push(finding(draft, rail, remark));
    }
    if draft.plan.luminaires.is_empty() {
        findings.push(say(
            Verdict::Caution,
            "layout-room",
            subject(draft),
            "no luminaire has room on this rail at the spacing that was asked for",
            "ask for a smaller spacing or end margin, or leave the rail out of the brief",
        ));
    }
    findings
}

fn subject(draft: &RailDraft<'_>) -> Subject {
    Subject::Rail(draft.rail.id.clone())
}

fn what(hole: &FixedSource) -> String {
    match &hole.drilled {
        Some(_) => format!("the hole already drilled at {}", at(hole.at)),
        None => format!("the hole locked at {}", at(hole.at)),
    }
}

fn off_straight(draft: &RailDraft<'_>, hole: &FixedSource) -> Finding {
    say(
        Verdict::Stop,
        "layout-fixed-hole",
        subject(draft),
        format!("{} is on no straight of this rail and is left out of the layout", what(hole)),
        "correct its chainage, or take it out",
    )
}

fn finding(draft: &RailDraft<'_>, rail: &RailStretches, remark: &Remark) -> Finding {
    let target = draft.plan.target.unwrap_or_default().to_mm();
    match remark {
        Remark::FixedOffStretch(hole) => say(
            Verdict::Stop,
            "layout-fixed-hole",
            subject(draft),
            format!("the hole at {} is on no straight of this rail and is left out of the layout", at(hole.at)),
            "correct its chainage, or take it out",
        ),
        Remark::FixedInKeepClear { hole, keep_clear } => {
            let source = rail.fixed.get(hole.tag);
            let near = rail.kept_clear.get(keep_clear.tag);
            let locked = source.is_none_or(|source| source.drilled.is_none());
            let name = source.map_or_else(|| format!("the hole at {}", at(hole.at)), what);
            let near = near.map_or_else(|| "a feature".to_owned(), ToString::to_string);
            say(
                if locked { Verdict::Stop } else { Verdict::Caution },
                "layout-fixed-hole",
                subject(draft),
                format!(
                    "{name} stands in the length to keep clear at {near} ({} to {})",
                    at(keep_clear.from),
                    at(keep_clear.to)
                ),
                if locked {
                    "move the lock outside this length, or correct the feature"
                } else {
                    "check the hole on site; ask the structural engineer where the rail is part of a guard"
                },
            )
        }
        Remark::FixedTwice(hole) => say(
            Verdict::Caution,
            "layout-fixed-hole",
            subject(draft),
            format!("two fixed holes have the chainage {}; one is kept", at(hole.at)),
            "take one of them out",
        ),
        Remark::TooClose { first, second } => with_figures(
            say(
                Verdict::Stop,
                "layout-hole-distance",
                subject(draft),
                format!("the holes at {} and {} stand too near each other", at(*first), at(*second)),
                "move or remove the lock that brings them together",
            ),
            (*second - *first).to_mm(),
            draft.chosen.map_or(0.0, |chosen| (chosen.point.hole * 2).to_mm()),
            "mm",
        ),
        Remark::NoRoom { from, to, wanted, possible } => with_figures(
            say(
                Verdict::Caution,
                "layout-room",
                subject(draft),
                format!("between {} and {} there is room for {possible} luminaires, not {wanted}", at(*from), at(*to)),
                format!("accept it, or ask for a smaller end margin than now (target {target} mm)"),
            ),
            *possible as f64,
            *wanted as f64,
            "luminaires",
        ),
        Remark::MarginOutOfRange { end, margin, .. } => {
            let (least, greatest) = (draft.brief.end_margin_least, draft.brief.end_margin_greatest);
            let limit = if *margin < least { least } else { greatest };
            let which = match end {
                WhichEnd::Start => "start",
                WhichEnd::Finish => "far end",
            };
            with_figures(
                say(
                    Verdict::Caution,
                    "layout-margin",
                    subject(draft),
                    format!(
                        "at the {which} of a straight the nearest hole is {margin} away, outside the margin of {least} \
                         to {greatest}"
                    ),
                    "accept it, or widen the range of the end margin in the brief",
                ),
                margin.to_mm(),
                limit.to_mm(),
                "mm",
            )
        }
    }
}
