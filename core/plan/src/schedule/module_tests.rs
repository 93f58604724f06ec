//! Tests of chains of modules with the values to expect.

use catalogue::Driver;

use super::cables::cable_reference;
use super::test_lines::{far_end_volts, insulation, polarity, source_volts};
use super::tests_due::{COPPER_SHARE, METER_OHMS};
use crate::build::circuits::{loop_ohms_at_20, pair_volts};
use crate::build::modules::power::{ModuleChain, ModuleRail};
use crate::document::TestLine;

/// Adds the tests of a chain, dead tests first.
pub(super) fn add_tests(chain: &ModuleChain, rail: &ModuleRail<'_>, driver: &Driver, lines: &mut Vec<TestLine>) {
    dead(chain, rail, lines);
    lines.push(source_volts(&chain.circuit, driver));
    far_end(chain, lines);
}

/// Continuity of the bare leads, modules unplugged: a module's electronics stand between its conductors, and a meter's
/// reading across them says nothing.
fn dead(chain: &ModuleChain, rail: &ModuleRail<'_>, lines: &mut Vec<TestLine>) {
    let marks = &chain.network.marks;
    let from_outlet = |station: usize| {
        let ohms = |end: usize| loop_ohms_at_20(&chain.network.cases, end, rail.case.behind.warm).get();
        ohms(station) - ohms(marks.outlet)
    };
    let mut continuity = |subject: String, ohms: f64| {
        lines.push(TestLine {
            subject,
            kind: "continuity of the lead alone, cores joined at its far end",
            expected: ohms,
            tolerance: ohms * COPPER_SHARE + METER_OHMS,
            unit: "Ω",
            is_floor: false,
        });
    };
    let extension = marks.extension_ends.last().copied().unwrap_or(0);
    let ohms = loop_ohms_at_20(&chain.network.cases, extension, rail.case.behind.warm).get();
    continuity(cable_reference('E', &chain.circuit.id, 0, 1), ohms);
    let luminaire = marks.luminaire_ends.last().copied().unwrap_or(marks.outlet);
    continuity(cable_reference('L', &chain.circuit.id, 0, 1), from_outlet(luminaire));
    for kind in ["insulation core to core at 250 V DC, modules unplugged", "insulation cores to rail at 250 V DC"] {
        lines.push(insulation(&chain.circuit, kind));
    }
    lines.push(polarity(&chain.circuit));
}

/// Volts at the open end of the last module, before its end cap goes on.
fn far_end(chain: &ModuleChain, lines: &mut Vec<TestLine>) {
    let cases = &chain.network.cases;
    let end = chain.network.marks.end;
    let low = pair_volts(&cases.worst_network, &cases.worst, end);
    let high = pair_volts(&cases.high_network, &cases.high, end);
    let (Some(low), Some(high)) = (low, high) else { return };
    lines.push(far_end_volts(chain.circuit.id.clone(), low, high));
}
