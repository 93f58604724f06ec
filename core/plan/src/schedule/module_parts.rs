//! Parts of rails of modules: modules, clips, cover strips, end caps, decoders, drivers, glands and enclosures.

use units::Length;

use super::cutting::cut_over_reels;
use super::parts::{Kind, Tally};
use crate::build::draft::RailDraft;
use crate::build::drivers::PlannedDriver;
use crate::build::modules::power::{ModuleDriver, ModuleRail};
use crate::build::stock;

/// Modules with their clips, and strips that close the slot over leads between the first module and the last.
pub(super) fn add_modules(draft: &RailDraft<'_>, tally: &mut Tally<'_>) {
    let Some(modules) = &draft.modules else { return };
    for kind in &modules.kinds {
        tally.add(Kind::Luminaire, &modules.chosen.luminaire(*kind).item, 1);
    }
    let clips = draft.plan.lit.map_or(0, |lit| lit.clips);
    tally.add_fixing(stock::clip(tally.catalogue), clips, "clip for linear modules");
    // A lead lies in the slot wherever two modules are not plugged together.
    let gaps: Vec<Length> = draft
        .plan
        .luminaires
        .windows(2)
        .zip(modules.rooms.windows(2))
        .filter(|(_, rooms)| rooms[0] != rooms[1])
        .map(|(pair, _)| pair[1].start - pair[0].end)
        .filter(|gap| *gap > Length::ZERO)
        .collect();
    if gaps.is_empty() {
        return;
    }
    let strip = stock::containment(tally.catalogue);
    let pieces = strip.map_or(0, |(_, length)| strips(length, &gaps));
    match strip {
        Some((fixing, _)) => tally.add_fixing(Some(fixing), pieces, "cover strip"),
        None => tally.add_fixing(None, 1, "cover strip that closes a slot over link leads"),
    }
}

/// Strips to cut so many lengths from; a longer gap takes whole strips and a rest.
fn strips(strip: Length, gaps: &[Length]) -> u32 {
    if strip <= Length::ZERO {
        return 0;
    }
    let whole: i64 = gaps.iter().map(|gap| gap.to_um() / strip.to_um()).sum();
    let rests: Vec<Length> = gaps.iter().map(|gap| Length::um(gap.to_um() % strip.to_um())).collect();
    let cut = cut_over_reels(strip, &rests).reels.len();
    u32::try_from(whole.saturating_add(cut as i64)).unwrap_or(u32::MAX)
}

/// Decoders, glands, and exactly one end cap for each chain that a driver feeds on a rail.
pub(super) fn add_feeds(rail: &ModuleRail<'_>, own: &ModuleDriver, driver: &PlannedDriver<'_>, tally: &mut Tally<'_>) {
    let catalogue = tally.catalogue;
    let case = &rail.case;
    let gland = |tally: &mut Tally<'_>, cable: Length, pieces: u32| {
        tally.add_fixing(stock::gland(catalogue, cable), pieces, &format!("gland for a cable of {cable}"));
    };
    for chain in &own.chains {
        let extension = case.extensions[chain.chain.extension].outside_diameter;
        let luminaire = case.luminaire_leads[chain.chain.luminaire_lead].outside_diameter;
        if let Some(part) = chain.chain.decoder.and_then(|index| case.decoders.get(index)) {
            tally.add(Kind::Control, &part.item, 1);
            if chain.boxed {
                tally.add_fixing(stock::enclosure(catalogue), 1, "enclosure for a decoder");
                // In by the extension lead, out by the luminaire lead.
                gland(tally, extension, 1);
                gland(tally, luminaire, 1);
            }
            gland(tally, luminaire, 1);
        } else {
            gland(tally, extension, 1);
        }
        if driver.enclosed {
            gland(tally, extension, 1);
        }
        tally.add_fixing(case.end_cap, 1, &format!("end cap with {} poles", case.poles));
    }
}
