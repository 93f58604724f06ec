//! Plans whatever survey the reader accepts.

use std::sync::LazyLock;

use desk::{Planned, read_catalogue, read_survey};
use survey::{Piece, Survey, Target};
use units::Length;

use crate::read::Read;

static CATALOGUE: LazyLock<catalogue::Catalogue> = LazyLock::new(|| {
    let bytes = include_bytes!("../../../fixtures/demo/catalogue.toml");
    read_catalogue(bytes, "catalogue.toml").unwrap_or_else(|faults| panic!("{faults}"))
});

/// Every figure of every circuit is finite, a solved circuit has all of them, and the document can be written.
pub fn plan_site(data: &[u8]) -> Read {
    let Ok(survey) = read_survey(data, "site.json") else { return Read::Refused };
    if is_too_large(&survey) {
        return Read::Refused;
    }
    let planned = Planned::of(survey, CATALOGUE.clone());
    for circuit in &planned.plan.circuits {
        let nodes = circuit.nodes.iter().map(|node| node.volts.map(units::Volts::get));
        let branches = circuit.branches.iter().map(|branch| branch.amps.map(units::Amps::get));
        let loads = circuit.loads.iter().flat_map(|l| [l.volts.map(units::Volts::get), l.amps.map(units::Amps::get)]);
        for figure in nodes.chain(branches).chain(loads) {
            assert!(figure.is_some() || !circuit.solved, "{} is solved and lacks a figure", circuit.id);
            assert!(figure.is_none_or(f64::is_finite), "{} has a figure that is not finite", circuit.id);
        }
        assert!(circuit.branches.iter().all(|branch| branch.ohms.get().is_finite() && branch.ohms.get() >= 0.0));
        assert!(circuit.amps.get().is_finite() && circuit.amps_high.get().is_finite());
        assert!(circuit.solved != circuit.reason.is_some(), "{} has a reason where it is unsolved", circuit.id);
    }
    assert!(planned.to_json().ends_with("}\n"));
    Read::Whole
}

/// Sites that would take long, so that the search stays quick: many rails or features, or many points.
fn is_too_large(survey: &Survey) -> bool {
    let features: usize = survey.rails.iter().map(|rail| rail.features.len()).sum();
    let total: Length = survey
        .rails
        .iter()
        .flat_map(|rail| &rail.pieces)
        .map(|piece| match piece {
            Piece::Straight(straight) => straight.length.value,
            Piece::Bend(_) => Length::ZERO,
        })
        .sum();
    let spacing = survey
        .brief
        .rails
        .iter()
        .map(|wish| match wish.target {
            Target::Spacing(spacing) => spacing,
            Target::Illuminance { .. } | Target::LitLength => Length::mm(100),
        })
        .min()
        .unwrap_or(Length::GREATEST);
    survey.rails.len() > 40 || features > 200 || total.to_mm() / spacing.to_mm().max(0.001) > 400.0
}
