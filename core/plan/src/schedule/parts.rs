//! The parts list: what the layout, the feeds and the schedules use, with spares and packs.

use std::collections::{BTreeMap, BTreeSet};

use catalogue::{Catalogue, Item, Retention};
use survey::{Finding, Subject, Verdict};
use units::Length;

use super::cables::CableSchedule;
use super::module_parts;
use crate::build::canonical::Inputs;
use crate::build::draft::RailDraft;
use crate::build::drivers::PlannedDriver;
use crate::build::feeding::channels;
use crate::build::point_power::{PointDriver, PointRail};
use crate::build::power::{Fed, Powered};
use crate::build::say::say;
use crate::build::stock;
use crate::controls::Controls;
use crate::document::{CableKind, PartLine, Quantity, Reel};

/// Kinds of parts in the order of the list.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    /// Luminaires.
    Luminaire,
    /// Drivers.
    Driver,
    /// Decoders and other controls.
    Control,
    /// Leads and cable.
    Lead,
    /// Small parts.
    Fixing,
}

/// Parts while they are counted.
pub(super) struct Tally<'a> {
    /// What parts are looked up in.
    pub(super) catalogue: &'a Catalogue,
    pieces: BTreeMap<(Kind, String, Length), u32>,
    lengths: BTreeMap<(Kind, String), Length>,
    missing: BTreeSet<String>,
}

impl Tally<'_> {
    pub(super) fn add(&mut self, kind: Kind, item: &Item, pieces: u32) {
        let count = self.pieces.entry((kind, item.part.clone(), Length::ZERO)).or_default();
        *count = count.saturating_add(pieces);
    }

    pub(super) fn add_fixing(&mut self, fixing: Option<&catalogue::Fixing>, pieces: u32, name: &str) {
        if pieces == 0 {
            return;
        }
        match fixing {
            Some(fixing) => self.add(Kind::Fixing, &fixing.item, pieces),
            None => {
                self.missing.insert(name.to_owned());
            }
        }
    }
}

/// Lists the parts, by kind and reference, and names what the catalogue lacks.
pub(crate) fn parts(
    inputs: &Inputs,
    drafts: &[RailDraft<'_>],
    powered: &Powered<'_>,
    controls: &Controls,
    cables: &CableSchedule,
    reels: &[Reel],
) -> (Vec<PartLine>, Vec<Finding>) {
    let catalogue = &inputs.catalogue;
    let mut tally = Tally { catalogue, pieces: BTreeMap::new(), lengths: BTreeMap::new(), missing: BTreeSet::new() };
    for draft in drafts {
        add_points(draft, &mut tally);
        module_parts::add_modules(draft, &mut tally);
    }
    for driver in &powered.drivers {
        add_driver(driver, &mut tally);
    }
    for fed in powered.fed() {
        match fed {
            Fed::Points(rail, own) => add_feeds(rail, own, &powered.drivers[own.driver], &mut tally),
            Fed::Modules(rail, own) => module_parts::add_feeds(rail, own, &powered.drivers[own.driver], &mut tally),
        }
    }
    for (part, count) in &controls.pieces {
        let device = catalogue.controls.iter().find(|control| &control.item.part == part);
        let fixing = catalogue.fixings.iter().find(|fixing| &fixing.item.part == part);
        if let Some(device) = device {
            tally.add(Kind::Control, &device.item, *count);
        } else {
            tally.add_fixing(fixing, *count, part);
        }
    }
    for (name, count) in &controls.missing {
        tally.add_fixing(None, *count, name);
    }
    for cable in &cables.cables {
        match (&cable.part, cable.made_up) {
            (Some(part), Some(length)) => {
                *tally.pieces.entry((Kind::Lead, part.clone(), length)).or_default() += 1;
            }
            (None, _) if cable.kind == CableKind::Mains => {
                tally.missing.insert("mains cable by the reel, with three cores, that suits the site".to_owned());
            }
            _ => {}
        }
    }
    for cut in &cables.cuts {
        *tally.lengths.entry((Kind::Lead, cut.part.clone())).or_default() += cut.length;
    }
    let findings = tally.missing.iter().map(|name| {
        say(
            Verdict::Caution,
            "parts-in-catalogue",
            Subject::Site,
            format!("the catalogue has no {name}, so the parts list lacks it"),
            "add the part to the catalogue",
        )
    });
    (lines(&tally, inputs.survey.brief.spare_percent, reels), findings.collect())
}

/// Luminaires with their taps and rivets.
fn add_points(draft: &RailDraft<'_>, tally: &mut Tally<'_>) {
    let Some(chosen) = draft.chosen else { return };
    let count = u32::try_from(draft.plan.luminaires.len()).unwrap_or(u32::MAX);
    if count == 0 {
        return;
    }
    tally.add(Kind::Luminaire, &chosen.luminaire.item, count);
    // Each core of a luminaire's tail is joined to its running core by one tap.
    let cores = u32::from(channels(chosen)) + 1;
    let tap = stock::tap(tally.catalogue, crate::build::feeding::amps_of_core(chosen));
    tally.add_fixing(tap, count.saturating_mul(cores), "sealed tap that carries one of its luminaires");
    if let Retention::Rivets { count: rivets, diameter } = &chosen.point.retention {
        let rivet = stock::rivet(tally.catalogue, *diameter);
        tally.add_fixing(rivet, count.saturating_mul(u32::from(*rivets)), &format!("rivet of {diameter}"));
    }
}

/// A driver with its enclosure and the gland for its mains lead.
fn add_driver(driver: &PlannedDriver<'_>, tally: &mut Tally<'_>) {
    let catalogue = tally.catalogue;
    tally.add(Kind::Driver, &driver.part.item, 1);
    if driver.enclosed {
        tally.add_fixing(stock::enclosure(catalogue), 1, "enclosure for a driver");
        if let Some(mains) = driver.mains_cable {
            let gland = stock::gland(catalogue, mains.outside_diameter);
            tally.add_fixing(gland, 1, &format!("gland for a cable of {}", mains.outside_diameter));
        }
    }
}

/// Glands and seals of what a driver feeds on a rail.
fn add_feeds(rail: &PointRail<'_>, own: &PointDriver, driver: &PlannedDriver<'_>, tally: &mut Tally<'_>) {
    let catalogue = tally.catalogue;
    for chain in &own.chains {
        let lead = rail.case.leads[chain.chain.lead];
        // One gland at the way in, and one where the lead leaves an enclosure.
        let glands = 1 + u32::from(driver.enclosed);
        let gland = stock::gland(catalogue, lead.outside_diameter);
        tally.add_fixing(gland, glands, &format!("gland for a cable of {}", lead.outside_diameter));
        // Every core is sealed at the end of each arm.
        let ends = u32::try_from(chain.network.marks.arms.len()).unwrap_or(u32::MAX);
        let seals = ends.saturating_mul(u32::from(rail.case.behind.conductors));
        tally.add_fixing(stock::end_seal(catalogue), seals, "seal for the end of a running core");
    }
}

fn lines(tally: &Tally<'_>, spare_percent: u8, reels: &[Reel]) -> Vec<PartLine> {
    let mut lines: Vec<((Kind, &str, Length), PartLine)> = Vec::new();
    for ((kind, part, length), quantity) in &tally.pieces {
        let Some(item) = tally.catalogue.item(part) else { continue };
        let spare = match kind {
            Kind::Luminaire => (u64::from(*quantity) * u64::from(spare_percent)).div_ceil(100) as u32,
            Kind::Driver | Kind::Control | Kind::Lead | Kind::Fixing => 0,
        };
        let pack = item.pack.max(1);
        let made_up = *length > Length::ZERO;
        lines.push((
            (*kind, part, *length),
            PartLine {
                part: part.clone(),
                description: if made_up {
                    format!("{}, {:.2} m long", item.description, length.to_m())
                } else {
                    item.description.clone()
                },
                quantity: Quantity::Pieces(*quantity),
                spare: Quantity::Pieces(spare),
                pack,
                packs: quantity.saturating_add(spare).div_ceil(pack),
            },
        ));
    }
    for ((kind, part), length) in &tally.lengths {
        let Some(item) = tally.catalogue.item(part) else { continue };
        let packs = reels.iter().filter(|reel| &reel.part == part).count();
        lines.push((
            (*kind, part, Length::ZERO),
            PartLine {
                part: part.clone(),
                description: item.description.clone(),
                quantity: Quantity::Length(*length),
                spare: Quantity::Length(Length::ZERO),
                pack: 1,
                packs: u32::try_from(packs).unwrap_or(u32::MAX),
            },
        ));
    }
    lines.sort_by(|a, b| a.0.cmp(&b.0));
    lines.into_iter().map(|(_, line)| line).collect()
}
