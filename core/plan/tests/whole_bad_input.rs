//! What cannot be planned is a finding in plain words; nothing panics, whatever the values are.

mod whole_support;

use catalogue::Catalogue;
use plan::{Plan, plan};
use survey::*;
use units::{Celsius, Degrees, Length, Ohms, Volts, Watts};
use whole_support::*;

fn empty_catalogue() -> Catalogue {
    Catalogue { luminaires: vec![], drivers: vec![], leads: vec![], controls: vec![], fixings: vec![], ..catalogue() }
}

fn stop<'a>(plan: &'a Plan, rule: &str) -> &'a Finding {
    let found = plan.findings.iter().find(|finding| finding.rule == rule && finding.verdict == Verdict::Stop);
    found.unwrap_or_else(|| panic!("no stop of {rule} in {:#?}", plan.findings))
}

#[test]
fn nothing_in_gives_nothing_out() {
    let empty = plan(&empty_survey(), &empty_catalogue());
    assert!(empty.rails.is_empty() && empty.drivers.is_empty() && empty.parts.is_empty() && empty.findings.is_empty());
    let no_brief = plan(&Survey { brief: empty_survey().brief, ..ramp_survey() }, &catalogue());
    assert!(no_brief.rails.is_empty());
}

#[test]
fn an_empty_catalogue_stops_with_the_part_that_is_missing() {
    let plan = plan(&ramp_survey(), &empty_catalogue());
    assert!(stop(&plan, "part-fits").message.contains("no point luminaire"));
    assert!(plan.rails[0].luminaires.is_empty());
}

#[test]
fn missing_drivers_leads_or_small_parts_are_named_and_the_layout_is_drawn() {
    for strip in [
        |c: &mut Catalogue| c.drivers.clear(),
        |c: &mut Catalogue| c.leads.clear(),
        |c: &mut Catalogue| c.leads.retain(|lead| !lead.uses.contains(&catalogue::LeadUse::Run)),
    ] {
        let mut parts = catalogue();
        strip(&mut parts);
        let plan = plan(&ramp_survey(), &parts);
        assert!(!plan.rails[0].luminaires.is_empty());
        assert!(!stop(&plan, "feed-possible").advice.is_empty());
        assert!(!plan.rails[0].not_ready.is_empty());
    }
    let mut parts = catalogue();
    parts.fixings.clear();
    let plan = plan(&ramp_survey(), &parts);
    let missing = plan.findings.iter().filter(|finding| finding.rule == "parts-in-catalogue").count();
    // Taps, seals, rivets, glands.
    assert_eq!(missing, 4);
    assert!(!plan.drivers.is_empty());
}

#[test]
fn a_rail_that_nobody_surveyed_a_place_for_gets_a_proposed_one_and_a_stop() {
    let mut survey = ramp_survey();
    survey.driver_places.clear();
    survey.routes.clear();
    let plan = plan(&survey, &catalogue());
    assert!(stop(&plan, "driver-place").advice.starts_with("survey a place"));
    assert!(!plan.drivers.is_empty());
    assert!(plan.drivers.iter().all(|driver| driver.place.is_none() && driver.mains_point.is_none()));
    assert!(plan.drivers[0].proposed.as_ref().unwrap().contains("Ramp"));
    assert!(!plan.rails[0].not_ready.is_empty());
}

#[test]
fn a_rail_without_a_way_in_is_laid_out_and_not_fed() {
    let mut survey = ramp_survey();
    survey.rails[0].features.retain(|feature| !feature.kind.is_way_in());
    let plan = plan(&survey, &catalogue());
    assert!(stop(&plan, "way-in").message.contains("no way in"));
    assert!(!plan.rails[0].luminaires.is_empty() && plan.drivers.is_empty());
}

#[test]
fn modules_are_refused_in_plain_words_where_they_cannot_be() {
    let mut survey = ramp_survey();
    survey.brief.rails[0].lamps = LampKind::Modules;
    let round = plan(&survey, &catalogue());
    assert!(stop(&round, "modules-need-slot").advice.contains("points"));
    survey.brief.rails[0].lamps = LampKind::ModulesElsePoints;
    assert!(!plan(&survey, &catalogue()).rails[0].luminaires.is_empty());
    survey.rails[0].tube.profile = Profile::RoundSlotted { slot_width: mm(16) };
    let slotted = plan(&survey, &catalogue());
    // The slotted tube gets modules, of which this catalogue has none.
    assert!(stop(&slotted, "part-fits").message.contains("no linear module"));
}

#[test]
fn a_target_of_light_asks_for_a_spacing() {
    let mut survey = ramp_survey();
    survey.brief.rails[0].target = Target::Illuminance { tenths_lux: 200 };
    let plan = plan(&survey, &catalogue());
    let open = plan.findings.iter().find(|finding| finding.rule == "target-planned").unwrap();
    assert!(open.message.contains("20 lx") && open.advice.contains("spacing"), "{open:?}");
}

#[test]
fn zones_never_mix_voltages() {
    let mut survey = ramp_survey();
    let mut second = straight_rail("second", "Second", 6_000, 1_500);
    second.features.push(way_in("in", 5_500));
    survey.rails.push(second);
    survey.brief.rails.push(RailBrief { part: Some("PT-24V".into()), ..rail_brief("second") });
    for brief in &mut survey.brief.rails {
        brief.zone = Some(id("zone"));
    }
    let mut parts = catalogue();
    let mut other = point("PT-24V", catalogue::LoadModel::Power(Watts::new(0.5)));
    (other.nominal, other.least, other.greatest) = (Volts::new(24.0), Volts::new(20.0), Volts::new(28.0));
    other.item.price = price(90);
    parts.luminaires.push(other);
    let plan = plan(&survey, &parts);
    let mixed = stop(&plan, "voltages-not-mixed");
    assert!(mixed.message.contains("12 V on Ramp") && mixed.message.contains("24 V on Second"), "{}", mixed.message);
    // No driver feeds both.
    for circuit in &plan.circuits {
        assert!((circuit.source.volts - circuit.nominal).get().abs() < 1.0);
    }
}

#[test]
fn a_network_that_cannot_hold_is_a_stop_with_what_would_help() {
    // One luminaire of 4 W alone, 39 m along cores of 0.75 mm² from the only way in, loses 0.33 A × 78 m × 0.031 Ω/m =
    // 0.8 V (IEC 60228:2004 Table 3 at 50 °C), and 11.88 V - 11.4 V leaves 0.48 V.
    let mut parts = with_load(catalogue::LoadModel::Power(Watts::new(4.0)));
    parts.leads.retain(|lead| lead.item.part != "RC-25" && lead.item.part != "RC-15");
    let mut survey = ramp_survey();
    survey.rails[0].features.retain(|feature| feature.id != id("in-middle"));
    let plan = plan(&survey, &parts);
    let finding = stop(&plan, "feed-possible");
    assert!(!finding.advice.is_empty());
}

#[test]
fn a_dangling_brief_is_a_stop() {
    let mut survey = ramp_survey();
    survey.brief.rails.push(rail_brief("ghost"));
    assert!(stop(&plan(&survey, &catalogue()), "brief-names-rail").message.contains("ghost"));
}

#[test]
fn holes_that_a_person_fixed_stay_and_conflicts_are_named() {
    let mut survey = ramp_survey();
    let existing =
        FeatureKind::ExistingHole { diameter: mm(22), angle: Some(Degrees::new(135.0)), used_for: HoleUse::Luminaire };
    survey.rails[0].features.push(feature("h1", 3_000, existing));
    // Post 5 stands at 4950 mm; the lock is on it.
    survey.brief.rails[0].locks.holes = vec![mm(4_950), mm(41_000), mm(-5)];
    let plan = plan(&survey, &catalogue());
    let hole = plan.drilling.iter().find(|hole| hole.chainage == mm(3_000)).unwrap();
    assert!(hole.existing);
    assert_eq!(hole.diameter, mm(22));
    // Surveyed 135° from the top, so 45° from the underside: 48.3 mm × π × 45 / 360 = 18.967 mm.
    assert_eq!(hole.girth, Length::um(18_967));
    assert!(plan.rails[0].luminaires.iter().any(|luminaire| luminaire.start == mm(4_950) && luminaire.fixed));
    let said: Vec<&str> = plan
        .findings
        .iter()
        .filter(|finding| finding.rule == "layout-fixed-hole")
        .map(|finding| finding.message.as_str())
        .collect();
    assert!(said.iter().any(|words| words.contains("4,950 mm") && words.contains("p5")), "{said:?}");
    assert!(said.iter().any(|words| words.contains("41,000 mm")), "{said:?}");
    assert!(said.iter().any(|words| words.contains("-5 mm")), "{said:?}");
}

/// Every value of the survey that a file could hold, each made absurd in turn.
#[test]
fn absurd_values_never_panic() {
    let huge = Length::GREATEST;
    let lengths = [Length::ZERO, -mm(1), mm(1), -huge, huge];
    type Spoil = fn(&mut Survey, Length);
    let spoils: [Spoil; 22] = [
        |s, l| s.rails[0].tube.outside_diameter.value = l,
        |s, l| s.rails[0].tube.wall = Some(Measurement::taped(l)),
        |s, l| s.rails[0].features[3].chainage.value = l,
        |s, l| s.rails[0].features[3].keep_clear = Some(l),
        |s, l| s.rails[0].features[3].kind = FeatureKind::Damage { width: l },
        |s, l| s.rails[0].features[3].kind = FeatureKind::MovementJoint { range: l, width: l },
        |s, l| {
            s.rails[0].features[3].kind = FeatureKind::Damage { width: l };
            s.rails[0].features[3].bore = Passage::Blocked { how: Proof::Seen };
        },
        |s, l| s.rails[0].pieces = vec![straight("a", l), straight("b", mm(10_000))],
        |s, l| s.rails[0].pieces = vec![straight("a", mm(10_000)), straight("b", l), straight("c", mm(5_000))],
        |s, l| s.rails[0].pieces.insert(0, bend(l, 90.0)),
        |s, l| s.rails[0].pieces.push(bend(l, -1e9)),
        |s, l| s.routes.iter_mut().for_each(|route| route.length.value = l),
        |s, l| s.routes.iter_mut().for_each(|route| route.clear = Some(l)),
        |s, l| s.brief.loop_per_hole = l,
        |s, l| s.brief.rails[0].end_margin_least = l,
        |s, l| s.brief.rails[0].end_margin_greatest = l,
        |s, l| s.brief.rails[0].target = Target::Spacing(if l == mm(1) { mm(2) } else { l }),
        |s, l| s.brief.rails[0].locks.holes = vec![l, l, mm(100)],
        |s, l| s.driver_places[0].width = l,
        |s, l| s.rails[0].features.last_mut().unwrap().chainage.value = l,
        |s, l| s.rails[0].features.last_mut().unwrap().kind = FeatureKind::WayIn { opening: l, post: Some(id("p1")) },
        |s, _| s.rails[0].pieces.clear(),
    ];
    for spoil in spoils {
        for length in lengths {
            // Short, so that the many plans take little time.
            let mut survey = short_survey();
            spoil(&mut survey, length);
            check(&plan(&survey, &catalogue()));
        }
    }
}

#[test]
fn absurd_parts_never_panic() {
    type Spoil = fn(&mut Catalogue, f64);
    let spoils: [Spoil; 14] = [
        |c, v| c.luminaires[0].nominal = Volts::new(v),
        |c, v| c.luminaires[0].least = Volts::new(v),
        |c, v| c.luminaires[0].greatest = Volts::new(v),
        |c, v| c.luminaires[0].load = catalogue::LoadModel::Resistance(Ohms::new(v)),
        |c, v| c.luminaires[0].load = catalogue::LoadModel::Power(Watts::new(v)),
        |c, v| c.luminaires[0].load = catalogue::LoadModel::Current(units::Amps::new(v)),
        |c, v| c.drivers.iter_mut().for_each(|driver| driver.rated = Watts::new(v)),
        |c, v| c.drivers.iter_mut().for_each(|driver| driver.output_limit = units::Amps::new(v)),
        |c, v| c.drivers.iter_mut().for_each(|driver| driver.outputs = v as u8),
        |c, v| c.drivers.iter_mut().for_each(|driver| driver.derating.full_to = Celsius::new(v)),
        |c, v| c.leads.iter_mut().for_each(|lead| lead.area = units::SquareMm::new(v)),
        |c, v| c.leads.iter_mut().for_each(|lead| lead.carries = units::Amps::new(v)),
        |c, v| c.leads.iter_mut().for_each(|lead| lead.cores = v as u8),
        |c, v| c.luminaires[0].colour = catalogue::ColourKind::Variable { channels: v as u8 },
    ];
    for spoil in spoils {
        for value in [0.0, -1.0, 1e-9, 1e9, 3.0] {
            let mut parts = catalogue();
            spoil(&mut parts, value);
            let mut survey = short_survey();
            if matches!(parts.luminaires[0].colour, catalogue::ColourKind::Variable { .. }) {
                survey.brief.rails[0].light = Light::VariableColour;
            }
            check(&plan(&survey, &parts));
        }
    }
    for (cold, hot) in [(-500.0, 500.0), (80.0, -80.0), (0.0, 1e9)] {
        let mut survey = short_survey();
        survey.site.exposure.least_temperature = Celsius::new(cold);
        survey.site.exposure.greatest_temperature = Celsius::new(hot);
        check(&plan(&survey, &catalogue()));
    }
}

/// Whatever came in, the lists of the plan agree with each other.
fn check(plan: &Plan) {
    let luminaires: usize = plan.rails.iter().map(|rail| rail.luminaires.len()).sum();
    assert_eq!(plan.drilling.len(), luminaires);
    assert!(plan.circuits.iter().all(|circuit| circuit.solved == circuit.reason.is_none()));
    for finding in &plan.findings {
        assert!(!finding.message.is_empty());
        assert!(finding.verdict == Verdict::Pass || !finding.advice.is_empty(), "{finding:?}");
    }
}

fn short_survey() -> Survey {
    let mut survey = ramp_survey();
    survey.rails[0] = straight_rail("ramp", "Ramp", 6_000, 1_100);
    survey.rails[0].features.push(way_in("in-start", 1_000));
    survey.rails[0].features.push(way_in("in-middle", 3_000));
    survey
}

fn straight(name: &str, length: Length) -> Piece {
    let length = Measurement::taped(length);
    Piece::Straight(Straight { id: id(name), length, slope: Degrees::ZERO, mark: None })
}

fn bend(radius: Length, angle: f64) -> Piece {
    Piece::Bend(Bend {
        id: id("bend"),
        angle: Degrees::new(angle),
        plane: Plane::Left,
        centreline_radius: radius,
        taped: None,
        bore: proved(),
        keep_clear: None,
    })
}
