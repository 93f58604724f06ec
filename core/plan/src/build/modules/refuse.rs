//! Modules wished for on a tube without a slot: what can be had instead, with its price where the catalogue has one.

use catalogue::{Fixing, FixingKind, LuminaireKind};
use survey::{Finding, Rail, RailBrief, Subject, Verdict};

use crate::build::canonical::Inputs;
use crate::build::say::{PRACTICE, from_source, say};
use crate::build::selection::misfits_light;
use crate::build::stock;

/// The refusal with the alternatives: points, slotting the tube in a workshop, replacing it by a slotted one.
pub(crate) fn no_slot(inputs: &Inputs, rail: &Rail, brief: &RailBrief) -> Finding {
    let advice = format!(
        "ask for points in the brief (or for modules where slotted and points elsewhere); {}; {}",
        slotting(inputs, rail, brief),
        replacing(inputs, rail, brief)
    );
    from_source(
        say(
            Verdict::Stop,
            "modules-need-slot",
            Subject::Rail(rail.id.clone()),
            "the brief asks for linear modules and this tube has no slot to hold them",
            advice,
        ),
        PRACTICE,
    )
}

/// Widths of slot that modules of the light wished for take, the narrowest first.
fn slots(inputs: &Inputs, brief: &RailBrief) -> Vec<units::Length> {
    let mut slots: Vec<units::Length> = inputs
        .catalogue
        .luminaires
        .iter()
        .filter(|luminaire| misfits_light(luminaire, &brief.light).is_empty())
        .filter_map(|luminaire| match &luminaire.kind {
            LuminaireKind::Linear(module) => Some(module.slot),
            LuminaireKind::Point(_) => None,
        })
        .collect();
    slots.sort();
    slots.dedup();
    slots
}

fn slotting(inputs: &Inputs, rail: &Rail, brief: &RailBrief) -> String {
    let slots = slots(inputs, brief);
    let found = stock::cheapest(
        &inputs.catalogue,
        |kind| matches!(kind, FixingKind::Slotting { slot_width } if slots.first().is_some_and(|slot| slot_width >= slot)),
    );
    let how = "or have the tube slotted in a workshop, taken down and put back";
    priced(inputs, rail, found, how)
}

fn replacing(inputs: &Inputs, rail: &Rail, brief: &RailBrief) -> String {
    let slots = slots(inputs, brief);
    let found = stock::cheapest(&inputs.catalogue, |kind| {
        matches!(kind, FixingKind::SlottedTube { outside_diameter, slot_width }
            if *outside_diameter == rail.tube.outside_diameter.value
                && slots.first().is_some_and(|slot| slot_width >= slot))
    });
    priced(inputs, rail, found, "or have it replaced by a slotted one of the same diameter")
}

fn priced(inputs: &Inputs, rail: &Rail, found: Option<&Fixing>, how: &str) -> String {
    let length = rail.length();
    match found {
        Some(fixing) => format!(
            "{how} ({}, {:.2} m: {} {})",
            fixing.item.part,
            length.to_m(),
            fixing.item.price.per_metre(length).to_hundredths(),
            inputs.catalogue.currency
        ),
        None => format!("{how} (ask for a price: the catalogue has none)"),
    }
}
