//! The tests of a finished plan with the values to expect.

use super::cables::cable_reference;
use super::module_tests;
use super::test_lines::{far_end_volts, insulation, polarity, source_volts};
use crate::build::circuits::{loop_ohms_at_20, pair_volts};
use crate::build::point_power::{PointChain, PointRail};
use crate::build::power::{Fed, Powered};
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

/// Lists the tests of every circuit, in order of driver and output, dead tests first in each.
pub(crate) fn tests_due(powered: &Powered<'_>) -> Vec<TestLine> {
    let mut lines = Vec::new();
    for fed in powered.fed() {
        match fed {
            Fed::Points(rail, own) => {
                for chain in &own.chains {
                    dead(chain, rail, &mut lines);
                    lines.push(source_volts(&chain.circuit, powered.drivers[own.driver].part));
                    far_ends(chain, &mut lines);
                }
            }
            Fed::Modules(rail, own) => {
                for chain in &own.chains {
                    module_tests::add_tests(chain, rail, powered.drivers[own.driver].part, &mut lines);
                }
            }
        }
    }
    lines
}

fn dead(chain: &PointChain, rail: &PointRail<'_>, lines: &mut Vec<TestLine>) {
    let arms = &chain.network.marks.arms;
    for (number, arm) in arms.iter().enumerate() {
        let ohms = loop_ohms_at_20(&chain.network.cases, arm.end, rail.case.behind.warm).get();
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
fn far_ends(chain: &PointChain, lines: &mut Vec<TestLine>) {
    let cases = &chain.network.cases;
    let arms = &chain.network.marks.arms;
    for (number, arm) in arms.iter().enumerate() {
        let low = pair_volts(&cases.worst_network, &cases.worst, arm.end);
        let high = pair_volts(&cases.high_network, &cases.high, arm.end);
        let (Some(low), Some(high)) = (low, high) else { continue };
        lines.push(far_end_volts(cable_reference('R', &chain.circuit.id, number, arms.len()), low, high));
    }
}
