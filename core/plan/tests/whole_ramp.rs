//! One rail from survey to schedules: a ramp of 40 m with posts every 1.1 m.

mod whole_support;

use plan::{BranchKind, CableKind, PatternKind, Plan, Quantity, plan};
use survey::{Passage, Verdict};
use units::{Length, Volts};
use whole_support::*;

fn ramp() -> Plan {
    plan(&ramp_survey(), &catalogue())
}

#[test]
fn the_ramp_is_planned_from_end_to_end() {
    let plan = ramp();
    let rail = &plan.rails[0];
    assert_eq!((rail.label.as_str(), rail.length), ("Ramp", mm(40_000)));
    // 36 bays of 1.1 m: 4 a bay have a mean spacing of 275 mm, 3 have 367 mm, so 4 are nearer to 300 mm. Only the bays
    // with the ends and the ways in may differ.
    let count = rail.luminaires.len();
    assert!((140..=148).contains(&count), "{count}");
    assert_eq!(rail.pattern.as_ref().unwrap().kind, PatternKind::EvenPattern);
    assert_eq!(rail.pattern.as_ref().unwrap().count as usize, count);
    assert_eq!(rail.luminaires[0].id, "Ramp-1");
    assert!(!plan.drivers.is_empty());
    assert_eq!(plan.drivers[0].place, Some(id("dp")));
    assert_eq!(plan.drivers[0].mains_point, Some(id("mp")));
    let fed: usize = plan.circuits.iter().map(|circuit| circuit.loads.len()).sum();
    assert_eq!(fed, count);
    assert!(plan.circuits.iter().all(|circuit| circuit.solved));
    assert_eq!(plan.findings.iter().filter(|finding| finding.verdict == Verdict::Stop).count(), 0);
    assert!(rail.not_ready.is_empty(), "{:?}", rail.not_ready);
}

#[test]
fn no_hole_comes_nearer_to_a_post_than_its_clear_length() {
    // 20 mm half post + 40 mm clear (common practice, no source) + 12 mm radius of the hole.
    let survey = ramp_survey();
    for luminaire in &ramp().rails[0].luminaires {
        for feature in survey.rails[0].features.iter().filter(|feature| feature.id.as_str().starts_with('p')) {
            assert!((luminaire.start - feature.chainage.value).abs() >= mm(72), "{luminaire:?} {feature:?}");
        }
    }
}

#[test]
fn every_luminaire_has_more_than_both_limits() {
    let plan = ramp();
    for circuit in &plan.circuits {
        // 5 % of 12 V (IEC 60364-7-715 clause 715.525, from memory) is tighter than the luminaire's 10.8 V.
        assert!((circuit.limit().get() - 11.4).abs() < 1e-12);
        for load in &circuit.loads {
            assert!(load.volts.unwrap() >= circuit.limit(), "{load:?}");
        }
        assert!((circuit.source.volts.get() - 11.88).abs() < 1e-12);
    }
}

/// Ohm's and Kirchhoff's laws, checked on the plan's own lists: an outside witness of what a simulator would rebuild.
#[test]
fn every_branch_and_node_obeys_the_laws_of_networks() {
    for load in [catalogue(), with_load(SOME_OHMS), with_load(catalogue::LoadModel::Power(units::Watts::new(0.5)))] {
        let plan = plan(&ramp_survey(), &load);
        assert!(!plan.circuits.is_empty());
        for circuit in &plan.circuits {
            assert!(circuit.solved);
            let volts = |name: &str| {
                circuit.nodes.iter().find(|node| node.id == name).unwrap_or_else(|| panic!("{name}")).volts.unwrap()
            };
            let mut balance: std::collections::BTreeMap<&str, f64> = std::collections::BTreeMap::new();
            for branch in &circuit.branches {
                let amps = branch.amps.unwrap().get();
                assert!(branch.ohms.get() > 0.0);
                let drop = volts(&branch.from).get() - volts(&branch.to).get();
                assert!((drop - amps * branch.ohms.get()).abs() < 1e-9, "{branch:?}");
                *balance.entry(&branch.from).or_default() -= amps;
                *balance.entry(&branch.to).or_default() += amps;
            }
            for load in &circuit.loads {
                let across: Volts = volts(&load.from) - volts(&load.to);
                assert!((across - load.volts.unwrap()).get().abs() < 1e-9);
                assert!((load.model.amps_at(across) - load.amps.unwrap()).get().abs() < 1e-7);
                *balance.entry(&load.from).or_default() -= load.amps.unwrap().get();
                *balance.entry(&load.to).or_default() += load.amps.unwrap().get();
            }
            for (node, amps) in balance {
                let source = match node {
                    _ if node == circuit.source.plus => circuit.amps.get(),
                    _ if node == circuit.source.minus => -circuit.amps.get(),
                    _ => 0.0,
                };
                assert!((amps + source).abs() < 1e-7, "{node}: {amps}");
            }
        }
    }
}

#[test]
fn parts_equal_what_the_layout_uses() {
    let plan = ramp();
    let pieces = |part: &str| {
        plan.parts
            .iter()
            .filter(|line| line.part == part)
            .map(|line| match line.quantity {
                Quantity::Pieces(pieces) => pieces,
                Quantity::Length(_) => panic!("{part} is sold by length"),
            })
            .sum::<u32>()
    };
    let count = u32::try_from(plan.rails[0].luminaires.len()).unwrap();
    assert_eq!(pieces("PT-A"), count);
    // Two sealed taps a luminaire, two seals at every end of a run, two rivets a luminaire (common practice, no source).
    assert_eq!(pieces("TAP"), 2 * count);
    assert_eq!(pieces("RIVET-2"), 2 * count);
    let runs: Vec<_> = plan.cables.iter().filter(|cable| cable.kind == CableKind::Run).collect();
    assert_eq!(pieces("SEAL"), 2 * u32::try_from(runs.len()).unwrap());
    let drivers: u32 = ["DR-30", "DR-60", "DR-100"].into_iter().map(pieces).sum();
    assert_eq!(drivers as usize, plan.drivers.len());
    // 3 % spare, rounded up.
    let spare = plan.parts.iter().find(|line| line.part == "PT-A").unwrap().spare;
    assert_eq!(spare, Quantity::Pieces((count * 3).div_ceil(100)));
    // Every length of cable in the parts list is what is cut, and what is cut is what is scheduled.
    for line in &plan.parts {
        if let Quantity::Length(length) = line.quantity {
            let scheduled: Length = (plan.cables.iter())
                .filter(|cable| cable.part.as_deref() == Some(&line.part) && cable.made_up.is_none())
                .map(|cable| cable.cut)
                .sum();
            let cut: Length =
                plan.reels.iter().filter(|reel| reel.part == line.part).flat_map(|reel| &reel.cuts).map(|c| c.1).sum();
            assert_eq!((length, length), (scheduled, cut), "{}", line.part);
        }
    }
    for reel in &plan.reels {
        let used: Length = reel.cuts.iter().map(|cut| cut.1).sum();
        assert_eq!(used + reel.waste, reel.length);
        assert!(reel.waste >= Length::ZERO);
    }
}

#[test]
fn every_cable_joins_what_its_circuit_says() {
    let plan = ramp();
    for circuit in &plan.circuits {
        let own = |kind| {
            plan.cables.iter().filter(move |cable| cable.kind == kind && cable.circuit.as_ref() == Some(&circuit.id))
        };
        let sum = |kind: BranchKind, conductor: &str| -> Length {
            circuit.branches.iter().filter(|b| b.kind == kind && b.conductor == conductor).map(|b| b.length).sum()
        };
        for conductor in ["plus", "minus"] {
            assert_eq!(
                own(CableKind::Extension).map(|cable| cable.cut).sum::<Length>(),
                sum(BranchKind::Lead, conductor)
            );
            assert_eq!(own(CableKind::Run).map(|cable| cable.cut).sum::<Length>(), sum(BranchKind::Run, conductor));
        }
        // Drops add up from the source to the far end of each arm.
        let lead_drop: Volts = own(CableKind::Extension).map(|cable| cable.drop.unwrap()).sum();
        for run in own(CableKind::Run) {
            let end = circuit.source.volts - lead_drop - run.drop.unwrap();
            assert!((end - run.end_volts.unwrap()).get().abs() < 1e-9, "{run:?}");
            assert_eq!(run.cut, run.route + run.allowance);
        }
        for lead in own(CableKind::Extension) {
            assert_eq!(lead.cut, lead.route + lead.allowance);
            assert!(lead.from.contains(&circuit.driver) && lead.to.contains("way in"));
        }
    }
    let mains: Vec<_> = plan.cables.iter().filter(|cable| cable.kind == CableKind::Mains).collect();
    assert_eq!(mains.len(), plan.drivers.len());
    assert!(mains.iter().all(|cable| cable.route == mm(6_000) && cable.drop.is_none()));
    let mut references: Vec<&str> = plan.cables.iter().map(|cable| cable.reference.as_str()).collect();
    references.sort_unstable();
    references.dedup();
    assert_eq!(references.len(), plan.cables.len());
}

#[test]
fn the_drilling_schedule_has_running_dimensions_and_girth() {
    let plan = ramp();
    assert_eq!(plan.drilling.len(), plan.rails[0].luminaires.len());
    for (hole, luminaire) in plan.drilling.iter().zip(&plan.rails[0].luminaires) {
        assert_eq!((hole.chainage, &hole.hole), (luminaire.start, &luminaire.id));
        assert_eq!(hole.from_mark, hole.chainage);
        // Length of the arc of 30° on a tube of 48.3 mm: 48.3 × π × 30 / 360 = 12.645 mm.
        assert_eq!(hole.girth, Length::um(12_645));
        assert_eq!(hole.diameter, mm(24));
        assert!(!hole.existing);
    }
    for pair in plan.drilling.windows(2) {
        assert_eq!(pair[1].spacing, Some(pair[1].chainage - pair[0].chainage));
    }
}

#[test]
fn tests_expect_what_the_networks_give() {
    let plan = ramp();
    for circuit in &plan.circuits {
        let far =
            plan.cables.iter().find(|c| c.kind == CableKind::Run && c.circuit.as_ref() == Some(&circuit.id)).unwrap();
        let test = plan.tests.iter().find(|test| test.subject == far.reference && test.unit == "V").unwrap();
        assert!((test.expected - far.end_volts.unwrap().get()).abs() <= test.tolerance);
        // BS 7671 Table 64: SELV at 250 V DC, at least 0.5 MΩ.
        let insulation: Vec<_> = plan.tests.iter().filter(|t| t.subject == circuit.id && t.unit == "MΩ").collect();
        assert_eq!(insulation.len(), 2);
        assert!(insulation.iter().all(|test| test.expected == 0.5 && test.is_floor));
    }
    // Loop of the first arm by hand: every metre of lead and running cores twice, at 20 °C, plus two contacts a pole.
    let circuit = &plan.circuits[0];
    let run = plan.cables.iter().find(|c| c.kind == CableKind::Run && c.circuit.as_ref() == Some(&circuit.id)).unwrap();
    let per_km = |area: f64| match area {
        // IEC 60228:2004 Table 3, plain.
        0.75 => 26.0,
        1.5 => 13.3,
        2.5 => 7.98,
        other => panic!("no test value for {other}"),
    };
    let mut ohms = 2.0 * run.cut.to_m() * per_km(run.area.get()) / 1000.0;
    for lead in plan.cables.iter().filter(|c| c.kind == CableKind::Extension && c.circuit.as_ref() == Some(&circuit.id))
    {
        ohms += 2.0 * lead.cut.to_m() * per_km(lead.area.get()) / 1000.0;
    }
    ohms += circuit.branches.iter().filter(|branch| branch.kind == BranchKind::Plug).map(|b| b.ohms.get()).sum::<f64>();
    let test = plan.tests.iter().find(|test| test.subject == run.reference && test.unit == "Ω").unwrap();
    assert!((test.expected - ohms).abs() < 1e-9, "{} {ohms}", test.expected);
}

#[test]
fn an_unproved_bore_holds_the_drilling_back_and_a_shut_one_cuts_the_feed() {
    let mut survey = ramp_survey();
    survey.rails[0].features[3].bore = Passage::Unknown;
    let held = plan(&survey, &catalogue());
    assert!(held.rails[0].not_ready.iter().any(|words| words.contains("post p4")), "{:?}", held.rails[0].not_ready);
    assert_eq!(held.drivers, ramp().drivers);

    survey.rails[0].features[3].bore = Passage::Blocked { how: survey::Proof::Camera };
    survey.rails[0].features.retain(|feature| feature.id != id("in-start"));
    survey.routes.retain(|route| route.id != id("r-start"));
    let cut = plan(&survey, &catalogue());
    // Everything before post 4 at 3850 mm is reached by no way in.
    let stop = cut.findings.iter().find(|finding| finding.rule == "feed-possible").unwrap();
    assert!(stop.message.contains("Ramp-1 "), "{}", stop.message);
    let fed: usize = cut.circuits.iter().map(|circuit| circuit.loads.len()).sum();
    assert!(fed > 0 && fed < cut.rails[0].luminaires.len());
}
