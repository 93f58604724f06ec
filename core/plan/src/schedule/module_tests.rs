//! Tests of chains of modules with the values to expect.

use super::cables::cable_reference;
use super::tests_due::{COPPER_SHARE, LEAST_INSULATION, METER_OHMS, METER_SHARE};
use crate::build::circuits::{loop_ohms_at_20, pair_volts};
use crate::build::modules::power::{ModuleChain, ModuleRail};
use crate::document::TestLine;

/// Adds the tests of a rail's chains, dead tests first in each.
pub(super) fn add_tests(rail: &ModuleRail<'_>, lines: &mut Vec<TestLine>) {
    for driver in &rail.drivers {
        let part = rail.case.drivers[driver.part];
        for chain in &driver.chains {
            dead(chain, rail, lines);
            let tolerance = f64::from(part.tolerance_permille) / 1000.0 + METER_SHARE;
            lines.push(TestLine {
                subject: chain.circuit.output.clone(),
                kind: "source volts",
                expected: part.output.get(),
                tolerance: part.output.get() * tolerance,
                unit: "V",
                is_floor: false,
            });
            far_end(chain, lines);
        }
    }
}

/// Continuity of the bare leads, modules unplugged: a module's electronics stand between its conductors, and a meter's
/// reading across them says nothing.
fn dead(chain: &ModuleChain, rail: &ModuleRail<'_>, lines: &mut Vec<TestLine>) {
    let marks = &chain.network.marks;
    let from_outlet = |station: usize| {
        let ohms = |end: usize| loop_ohms_at_20(&chain.network.cases, end, rail.case.warm).get();
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
    let ohms = loop_ohms_at_20(&chain.network.cases, extension, rail.case.warm).get();
    continuity(cable_reference('E', &chain.circuit.id, 0, 1), ohms);
    let luminaire = marks.luminaire_ends.last().copied().unwrap_or(marks.outlet);
    continuity(cable_reference('L', &chain.circuit.id, 0, 1), from_outlet(luminaire));
    for kind in ["insulation core to core at 250 V DC, modules unplugged", "insulation cores to rail at 250 V DC"] {
        lines.push(TestLine {
            subject: chain.circuit.id.clone(),
            kind,
            expected: LEAST_INSULATION,
            tolerance: 0.0,
            unit: "MΩ",
            is_floor: true,
        });
    }
    lines.push(TestLine {
        subject: chain.circuit.id.clone(),
        kind: "polarity at the far end, plus on plus, at full output",
        expected: chain.circuit.limit().get(),
        tolerance: 0.0,
        unit: "V",
        is_floor: true,
    });
}

/// Volts at the open end of the last module, before its end cap goes on.
fn far_end(chain: &ModuleChain, lines: &mut Vec<TestLine>) {
    let cases = &chain.network.cases;
    let end = chain.network.marks.end;
    let low = pair_volts(&cases.worst_network, &cases.worst, end);
    let high = pair_volts(&cases.high_network, &cases.high, end);
    let (Some(low), Some(high)) = (low, high) else { return };
    let middle = (low + high) / 2.0;
    lines.push(TestLine {
        subject: chain.circuit.id.clone(),
        kind: "far-end volts at full output",
        expected: middle.get(),
        tolerance: (high - low).get().abs() / 2.0 + middle.get() * METER_SHARE,
        unit: "V",
        is_floor: false,
    });
}
