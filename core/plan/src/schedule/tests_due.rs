//! The tests of a finished plan with the values to expect.

use super::cables::cable_reference;
use super::module_tests;
use super::test_lines::{far_end_volts, insulation, polarity, source_volts};
use crate::build::circuits::{loop_ohms_at_20, pair_volts};
use crate::build::draft::RailDraft;
use crate::build::power::{Powered, PoweredChain, PoweredRail};
use crate::document::TestLine;

/// What a meter on site may be off, share of the reading (common practice, no source).
pub(super) const METER_SHARE: f64 = 0.01;

/// What leads and clips of a meter add to a resistance, in ohms (common practice, no source).
pub(crate) const METER_OHMS: f64 = 0.1;

/// How far real copper lies below the greatest resistance of its class and the day's temperature moves it, share
/// (common practice, no source).
pub(crate) const COPPER_SHARE: f64 = 0.15;

/// Least insulation of SELV conductors against each other and the rail, tested at 250 V DC, in MΩ.
///
/// # Source
/// BS 7671 Table 64, IEC 60364-6 Table 6.1.
pub(super) const LEAST_INSULATION: f64 = 0.5;

/// Lists the tests of every circuit, dead tests first.
pub(crate) fn tests_due(drafts: &[RailDraft<'_>], powered: &Powered<'_>) -> Vec<TestLine> {
    let mut lines = Vec::new();
    // In order of rail, whatever stands on it.
    for position in 0..drafts.len() {
        for rail in powered.points.iter().filter(|rail| rail.draft == position) {
            add_tests(rail, &mut lines);
        }
        for rail in powered.modules.iter().filter(|rail| rail.draft == position) {
            module_tests::add_tests(rail, &mut lines);
        }
    }
    lines
}

fn add_tests(rail: &PoweredRail<'_>, lines: &mut Vec<TestLine>) {
    for driver in &rail.drivers {
        let part = rail.case.drivers[driver.part];
        for chain in &driver.chains {
            dead(chain, rail, lines);
            lines.push(source_volts(&chain.circuit, part));
            far_ends(chain, lines);
        }
    }
}

fn dead(chain: &PoweredChain, rail: &PoweredRail<'_>, lines: &mut Vec<TestLine>) {
    let arms = &chain.network.marks.arms;
    for (number, arm) in arms.iter().enumerate() {
        let ohms = loop_ohms_at_20(&chain.network.cases, arm.end, rail.case.warm).get();
        lines.push(TestLine {
            subject: cable_reference('R', &chain.circuit.id, number, arms.len()),
            kind: "continuity from the driver, cores joined at the far end",
            expected: ohms,
            tolerance: ohms * COPPER_SHARE + METER_OHMS,
            unit: "Ω",
            is_floor: false,
        });
    }
    for kind in ["insulation core to core at 250 V DC, before tapping", "insulation cores to rail at 250 V DC"] {
        lines.push(insulation(&chain.circuit, kind));
    }
    lines.push(polarity(&chain.circuit));
}

/// Far-end volts at full output lie between the two cases: source low and conductors warm, source high and cold. Once
/// the source volts and the temperature are measured the network narrows this down.
fn far_ends(chain: &PoweredChain, lines: &mut Vec<TestLine>) {
    let cases = &chain.network.cases;
    let arms = &chain.network.marks.arms;
    for (number, arm) in arms.iter().enumerate() {
        let low = pair_volts(&cases.worst_network, &cases.worst, arm.end);
        let high = pair_volts(&cases.high_network, &cases.high, arm.end);
        let (Some(low), Some(high)) = (low, high) else { continue };
        lines.push(far_end_volts(cable_reference('R', &chain.circuit.id, number, arms.len()), low, high));
    }
}
