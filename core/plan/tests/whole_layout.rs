//! Rails of several pieces, rails that match, holes dimensioned from marks, and colour chains, as whole plans.

mod whole_support;

use catalogue::{ColourKind, LeadUse, LoadModel};
use plan::{BranchKind, Plan, Quantity, plan};
use survey::*;
use units::{Amps, Degrees, Length};
use whole_support::*;

/// A landing rail: a straight of 3 m, a bend of 90° with 150 mm radius, a straight of 4 m.
fn bent() -> Survey {
    let mut survey = ramp_survey();
    let mut rail = straight_rail("ramp", "Landing", 3_000, 1_200);
    rail.pieces.push(Piece::Bend(Bend {
        id: id("b1"),
        angle: Degrees::new(90.0),
        plane: Plane::Left,
        centreline_radius: mm(150),
        taped: None,
        bore: Passage::Assumed,
        keep_clear: Some(mm(100)),
    }));
    rail.pieces.push(Piece::Straight(Straight {
        id: id("s2"),
        length: Measurement::taped(mm(4_000)),
        slope: Degrees::ZERO,
        mark: Some("chalk line".into()),
    }));
    rail.features.push(way_in("in-start", 200));
    survey.rails[0] = rail;
    survey
}

#[test]
fn no_hole_lies_on_a_bend_or_within_its_clear_length() {
    let plan = plan(&bent(), &catalogue());
    // The bend's centreline is a quarter of a circle of 150 mm: 235.619 mm.
    let (from, to) = (mm(3_000), Length::um(3_235_619));
    assert_eq!(plan.rails[0].length, to + mm(4_000));
    // The surveyed 100 mm and the radius of the 24 mm hole.
    for hole in &plan.drilling {
        assert!(hole.chainage <= from - mm(112) || hole.chainage >= to + mm(112), "{hole:?}");
        let start = if hole.straight == id("s1") { Length::ZERO } else { to };
        assert_eq!(hole.from_mark, hole.chainage - start);
    }
    assert!(plan.drilling.iter().any(|hole| hole.straight == id("s2")));
    // The first hole after the bend has no spacing from the one before it.
    assert_eq!(plan.drilling.iter().filter(|hole| hole.spacing.is_none()).count(), 2);
    assert!(plan.rails[0].not_ready.iter().any(|words| words.contains("bend b1")));
}

#[test]
fn a_feature_beyond_the_end_moves_no_hole() {
    let survey = bent();
    let mut beyond = survey.clone();
    beyond.rails[0].features.push(post("far", 9_000));
    beyond.rails[0].features.push(post("before", -40));
    let (one, other) = (plan(&survey, &catalogue()), plan(&beyond, &catalogue()));
    assert_eq!(one.drilling, other.drilling);
    assert_eq!(one.rails[0].not_ready, other.rails[0].not_ready);
}

#[test]
fn posts_that_stand_clear_leave_the_whole_straight_as_one_bay() {
    let mut survey = ramp_survey();
    survey.brief.rails[0].posts_clear_of_holes = true;
    survey.rails[0].features.retain(|feature| !feature.kind.is_way_in());
    let plan = plan(&survey, &catalogue());
    let figures = plan.rails[0].pattern.clone().unwrap();
    assert!(figures.worst_departure <= mm(3), "{figures:?}");
    assert!((130..=134).contains(&figures.count));
}

/// Chainages of a rail's luminaires.
fn chainages(plan: &Plan, rail: &str) -> Vec<Length> {
    let rail = plan.rails.iter().find(|found| found.id == id(rail)).unwrap();
    rail.luminaires.iter().map(|luminaire| luminaire.start).collect()
}

#[test]
fn opposite_rails_that_match_have_one_pattern() {
    let mut survey = empty_survey();
    for (name, label) in [("west", "West"), ("east", "East")] {
        let mut rail = straight_rail(name, label, 9_900, 1_100);
        rail.features.push(way_in("in", 80));
        survey.rails.push(rail);
        survey.brief.rails.push(rail_brief(name));
    }
    survey.brief.rails[1].match_rail = Some(id("west"));
    let both = plan(&survey, &catalogue());
    assert_eq!(chainages(&both, "west"), chainages(&both, "east"));
    // A rail with another spacing cannot match, and the plan says so.
    survey.brief.rails[1].target = Target::Spacing(mm(400));
    let apart = plan(&survey, &catalogue());
    assert!(apart.findings.iter().any(|finding| finding.rule == "pattern-matches"));
}

#[test]
fn a_mirrored_rail_has_the_mirrored_layout_and_costs_the_same() {
    let mut survey = ramp_survey();
    survey.rails[0] = straight_rail("ramp", "Ramp", 13_300, 1_700);
    survey.rails[0].features.push(way_in("in-start", 900));
    survey.rails[0].features.push(way_in("in-middle", 8_300));
    let mut mirrored = survey.clone();
    for feature in &mut mirrored.rails[0].features {
        feature.chainage.value = mm(13_300) - feature.chainage.value;
    }
    let (one, other) = (plan(&survey, &catalogue()), plan(&mirrored, &catalogue()));
    let turned: Vec<Length> = chainages(&other, "ramp").into_iter().rev().map(|at| mm(13_300) - at).collect();
    assert_eq!(chainages(&one, "ramp"), turned);
    assert_eq!(one.objective, other.objective);
}

#[test]
fn a_longer_lead_never_raises_a_voltage() {
    let mut least = f64::INFINITY;
    for length in [1_000, 4_000, 9_000, 20_000] {
        let mut survey = ramp_survey();
        survey.rails[0] = straight_rail("ramp", "Ramp", 6_000, 1_100);
        survey.rails[0].features.push(way_in("in-start", 1_000));
        survey.routes[2].length.value = mm(length);
        let mut parts = catalogue();
        // One way to make the lead, so that only its length changes.
        parts.leads.retain(|lead| !lead.uses.contains(&LeadUse::Extension) || lead.item.part == "CB-25");
        parts.leads.retain(|lead| !lead.uses.contains(&LeadUse::Run) || lead.item.part == "RC-15");
        let plan = plan(&survey, &parts);
        let volts = plan.circuits[0].least_load_volts.unwrap().get();
        assert!(volts < least, "{length}: {volts}");
        least = volts;
    }
}

#[test]
fn a_colour_chain_has_one_common_and_one_conductor_a_channel() {
    let mut survey = ramp_survey();
    survey.rails[0] = straight_rail("ramp", "Ramp", 6_000, 1_100);
    survey.rails[0].features.push(way_in("in-start", 1_000));
    survey.brief.rails[0].light = Light::VariableColour;
    let mut parts = catalogue();
    parts.luminaires[0] = point("PT-RGB", LoadModel::Current(Amps::new(0.02)));
    parts.luminaires[0].colour = ColourKind::Variable { channels: 3 };
    parts.luminaires[0].cores = 4;
    for lead in &mut parts.leads {
        if !lead.uses.contains(&LeadUse::Mains) {
            lead.cores = 4;
        }
    }
    let plan = plan(&survey, &parts);
    let count = plan.rails[0].luminaires.len();
    let circuit = &plan.circuits[0];
    assert!(circuit.solved);
    assert_eq!(circuit.loads.len(), 3 * count);
    assert_eq!(circuit.loads.iter().filter(|load| load.channel == Some(2)).count(), count);
    // The common carries the sum of the channels (Kirchhoff).
    let of = |conductor: &str| -> f64 {
        circuit
            .branches
            .iter()
            .filter(|branch| branch.kind == BranchKind::Lead && branch.conductor == conductor)
            .map(|branch| branch.amps.unwrap().get())
            .sum()
    };
    assert!((of("common") + of("channel")).abs() < 1e-9);
    assert!((of("common").abs() - 0.06 * count as f64).abs() < 1e-9);
    let taps = plan.parts.iter().find(|line| line.part == "TAP").unwrap();
    assert_eq!(taps.quantity, Quantity::Pieces(4 * u32::try_from(count).unwrap()));
    assert!(plan.findings.iter().any(|finding| finding.rule == "decoder-drop"));
}

#[test]
fn two_rails_share_the_room_at_one_place() {
    let mut survey = ramp_survey();
    survey.rails.clear();
    survey.brief.rails.clear();
    survey.routes.truncate(1);
    survey.driver_places.push(driver_place("far"));
    let far = || RouteEnd::DriverPlace(id("far"));
    survey.routes.push(route("r-mains-far", RouteEnd::MainsPoint(id("mp")), far(), 5_000));
    for name in ["a", "b"] {
        let mut rail = straight_rail(name, name, 6_000, 1_100);
        rail.features.push(way_in("in", 1_000));
        survey.rails.push(rail);
        // Each in a zone of its own, so that they share no driver.
        survey.brief.rails.push(RailBrief { zone: Some(id(name)), ..rail_brief(name) });
        survey.routes.push(route(
            &format!("near-{name}"),
            RouteEnd::DriverPlace(id("dp")),
            to_way_in(name, "in"),
            2_000,
        ));
        survey.routes.push(route(&format!("far-{name}"), far(), to_way_in(name, "in"), 9_000));
    }
    // Room for one driver of 200 × 60 × 40 mm, whichever way it is turned.
    let place = &mut survey.driver_places[0];
    (place.width, place.height, place.depth) = (mm(250), mm(70), mm(50));
    let plan = plan::plan(&survey, &catalogue());
    let at = |place: &str| plan.drivers.iter().filter(|driver| driver.place == Some(id(place))).count();
    assert_eq!((at("dp"), at("far")), (1, 1));
    // The bound is that of both rails by themselves, so the gap says what sharing costs.
    assert!(plan.objective.gap() > units::Money::ZERO);
    assert_eq!(plan.rails[0].objective.gap(), units::Money::ZERO);
    // Where they switch together one driver does for both, and nothing is left to prove.
    survey.brief.rails.iter_mut().for_each(|brief| brief.zone = None);
    let plan = plan::plan(&survey, &catalogue());
    let places: Vec<_> = plan.drivers.iter().map(|driver| driver.place.clone()).collect();
    assert_eq!(places, [Some(id("dp"))]);
    assert_eq!(plan.objective.gap(), units::Money::ZERO);
}
