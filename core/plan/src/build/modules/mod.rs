//! Linear modules in slotted tube: which make, where each stands, how chains are fed, and what there is to say.

pub(crate) mod choice;
pub(crate) mod feeding;
mod leads;
pub(crate) mod network;
mod outcome;
pub(crate) mod power;
pub(crate) mod refuse;
mod rooms;

use survey::{Finding, Rail, RailBrief, Subject, Target, Verdict};
use units::Length;

use super::canonical::Inputs;
use super::draft::RailDraft;
use super::say::{say, with_figures};
use crate::document::{LitFigures, LuminairePlan};
use crate::layout::modules::{Room, clips, lay_modules, lit_length};
use choice::{ChosenModules, choose_modules};
use rooms::rooms_of;

/// The most modules that one rail is planned with: half a kilometre of short ones.
const MOST_MODULES: usize = 1_000;

/// What later steps need to know of a rail's modules.
pub(crate) struct ModulesDraft<'a> {
    /// The make.
    pub chosen: ChosenModules<'a>,
    /// Position of each module's length in the make, by chainage.
    pub kinds: Vec<usize>,
    /// Position of the room that each stands in.
    pub rooms: Vec<usize>,
}

/// Lays modules out on a rail whose tube has a slot.
pub(crate) fn lay_out<'a>(inputs: &'a Inputs, draft: &mut RailDraft<'a>) {
    let (rail, brief) = (draft.rail, draft.brief);
    draft.findings.extend(not_by_target(rail, brief));
    if !brief.locks.holes.is_empty() {
        draft.findings.push(say(
            Verdict::Caution,
            "layout-fixed-hole",
            Subject::Rail(rail.id.clone()),
            format!("{} locked holes stand in the brief of this rail, and modules need none", brief.locks.holes.len()),
            "take the locks out of the brief, or ask for points",
        ));
    }
    let rooms = rooms_of(rail, brief);
    let (chosen, said) = choose_modules(rail, brief, draft.exposure, &inputs.catalogue, &rooms);
    draft.findings.extend(said);
    let Some(chosen) = chosen else { return };
    let kinds = chosen.kinds();
    let laid = lay_modules(&rooms, &kinds, chosen.module(0).joint_allowance);
    let number: usize = laid.iter().map(Vec::len).sum();
    if number > MOST_MODULES {
        draft.findings.push(too_many(draft, number));
        return;
    }
    let mut placed = ModulesDraft { chosen, kinds: vec![], rooms: vec![] };
    let mut clip_count = 0_u32;
    for (room, row) in laid.iter().enumerate() {
        for piece in row {
            let number = placed.kinds.len() + 1;
            draft.plan.luminaires.push(LuminairePlan {
                id: format!("{}-{number}", draft.plan.label),
                part: placed.chosen.luminaire(piece.kind).item.part.clone(),
                start: piece.start,
                end: piece.end,
                fixed: false,
            });
            let module = placed.chosen.module(piece.kind);
            clip_count = clip_count.saturating_add(clips(module.length, module.clip_spacing));
            placed.kinds.push(piece.kind);
            placed.rooms.push(room);
        }
    }
    let lit = lit_length(&laid);
    let clear: Length = rooms.iter().map(|room| room.to - room.from).sum();
    if placed.kinds.is_empty() {
        draft.findings.push(no_room(draft, &placed.chosen, &rooms));
        return;
    }
    draft.plan.nominal = Some(placed.chosen.luminaire(0).nominal);
    draft.plan.lit = Some(LitFigures {
        lit,
        pieces: u32::try_from(placed.kinds.len()).unwrap_or(u32::MAX),
        rooms: u32::try_from(rooms.len()).unwrap_or(u32::MAX),
        clear,
        clips: clip_count,
    });
    draft.findings.push(with_figures(
        say(
            Verdict::Pass,
            "lit-length",
            Subject::Rail(rail.id.clone()),
            format!(
                "{} modules light {} of {} clear slotted tube in {} lengths; no choice of the stocked lengths lights more",
                placed.kinds.len(),
                lit,
                clear,
                rooms.len()
            ),
            "",
        ),
        lit.to_mm(),
        clear.to_mm(),
        "mm",
    ));
    draft.modules = Some(placed);
}

/// What the target cannot mean for modules.
fn not_by_target(rail: &Rail, brief: &RailBrief) -> Option<Finding> {
    let words = match brief.target {
        Target::LitLength => return None,
        // A brief for modules where slotted and points elsewhere gives the spacing for the points.
        Target::Spacing(_) if brief.lamps == survey::LampKind::ModulesElsePoints => return None,
        Target::Spacing(spacing) => format!("a spacing of {spacing}"),
        Target::Illuminance { tenths_lux } => format!("{} lx", f64::from(tenths_lux) / 10.0),
    };
    Some(say(
        Verdict::NotEvaluated,
        "target-planned",
        Subject::Rail(rail.id.clone()),
        format!("the brief asks for {words}, and modules are laid out for the greatest lit length"),
        "ask for the lit length in the brief, or for points",
    ))
}

fn too_many(draft: &RailDraft<'_>, number: usize) -> Finding {
    with_figures(
        say(
            Verdict::Stop,
            "layout-possible",
            Subject::Rail(draft.rail.id.clone()),
            format!(
                "{number} modules would have room on this rail, and no more than {MOST_MODULES} are planned on one"
            ),
            "survey the rail in parts, or correct the length of the modules in the catalogue",
        ),
        number as f64,
        MOST_MODULES as f64,
        "modules",
    )
}

fn no_room(draft: &RailDraft<'_>, chosen: &ChosenModules<'_>, rooms: &[Room]) -> Finding {
    let longest = rooms.iter().map(|room| room.to - room.from).max().unwrap_or(Length::ZERO);
    let shortest = chosen.kinds().iter().map(|kind| kind.length).min().unwrap_or(Length::ZERO);
    with_figures(
        say(
            Verdict::Caution,
            "layout-room",
            Subject::Rail(draft.rail.id.clone()),
            format!(
                "no module has room on this rail: the longest clear length is {longest} and the shortest module {shortest}"
            ),
            "add a shorter module to the catalogue, ask for a smaller end margin, or leave the rail out of the brief",
        ),
        longest.to_mm(),
        shortest.to_mm(),
        "mm",
    )
}
