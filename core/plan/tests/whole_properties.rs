//! What must hold of every plan, on whole small sites made at random with the same seeds everywhere: a relaxed constraint
//! never costs more, a rail less never costs more, neither names nor what was planned before change a figure, and the papers
//! say what is wired.

mod controls_support;
mod feeds_support;
mod module_sites;
mod property_sites;
mod whole_support;

use std::collections::BTreeMap;

use catalogue::{Catalogue, LuminaireKind, ShortCircuit};
use plan::{Cable, CableKind, Memory, Plan, Quantity, plan, plan_with};
use property_sites::{Renaming, along, expand, is_fed, renamed, site};
use survey::{DriverLock, Survey, Target};
use units::{Amps, Length, Money};

/// Sites that each property is tried on.
const SITES: u64 = 100;

fn plans() -> impl Iterator<Item = (u64, Survey, Catalogue, Plan)> {
    (1..=SITES).map(|seed| {
        let (survey, parts) = site(seed);
        let made = plan(&survey, &parts);
        (seed, survey, parts, made)
    })
}

type Relax = fn(&mut Survey, &mut Catalogue);

/// A load of constant power is reckoned at the least volts that the rule for the drop leaves it, so a greater drop means
/// more current to reckon with as well as more room for leads: it is no plain relaxation there.
const DROP: &str = "a greater drop allowed";

/// Constraints on feeds, each relaxed by itself.
const RELAXED: [(&str, Relax); 9] = [
    ("more room at places", |survey, _| {
        survey.driver_places.iter_mut().for_each(|place| place.width = place.width * 3);
    }),
    (DROP, |survey, _| survey.brief.drop_permille *= 2),
    ("a lower reserve", |survey, _| survey.brief.reserve_percent = 5),
    ("longer chains allowed", |_, parts| {
        for luminaire in &mut parts.luminaires {
            if let LuminaireKind::Linear(module) = &mut luminaire.kind {
                module.longest_chain = module.longest_chain * 2;
            }
        }
    }),
    ("leads and cores that carry more", |_, parts| {
        for lead in &mut parts.leads {
            lead.carries = lead.carries * 2.0;
            if let Some(connector) = &mut lead.connector {
                connector.limit = connector.limit * 2.0;
            }
        }
    }),
    ("drivers of more power and current", |_, parts| {
        for driver in &mut parts.drivers {
            driver.rated = driver.rated * 1.7;
            driver.output_limit = driver.output_limit * 1.7;
        }
    }),
    ("drivers with one more output", |_, parts| parts.drivers.iter_mut().for_each(|driver| driver.outputs += 1)),
    ("drivers that hold a short to less", |_, parts| {
        for driver in &mut parts.drivers {
            driver.short_circuit = ShortCircuit::Limited(Amps::new(1.0));
        }
    }),
    ("modules whose connectors carry more", |_, parts| {
        for luminaire in &mut parts.luminaires {
            if let LuminaireKind::Linear(module) = &mut luminaire.kind {
                module.connector.limit = module.connector.limit * 2.0;
            }
        }
    }),
];

#[test]
fn the_sites_have_drivers_that_rails_of_points_and_rails_of_modules_share() {
    let (mut points, mut modules) = (0, 0);
    for (seed, _, _, plan) in plans() {
        for driver in plan.drivers.iter().filter(|driver| driver.rails.len() > 1) {
            let own = |cable: &&Cable| {
                let circuit = plan.circuits.iter().find(|circuit| cable.circuit.as_ref() == Some(&circuit.id));
                circuit.is_some_and(|circuit| circuit.driver == driver.id)
            };
            let runs = plan.cables.iter().filter(own).any(|cable| cable.kind == CableKind::Run);
            let luminaire_leads = plan.cables.iter().filter(own).any(|cable| cable.kind == CableKind::Luminaire);
            assert!(runs != luminaire_leads, "site {seed}: {} serves points or modules, never both", driver.id);
            (points, modules) = (points + u32::from(runs), modules + u32::from(luminaire_leads));
        }
    }
    println!("drivers of several rails: {points} of points, {modules} of modules");
    assert!(points >= 10 && modules >= 5, "{points} {modules}");
}

#[test]
fn a_relaxed_constraint_never_costs_more() {
    let mut cheaper: BTreeMap<&str, u32> = BTreeMap::new();
    for (seed, survey, parts, before) in plans().filter(|made| is_fed(&made.3)) {
        let power = parts.luminaires.iter().any(|own| matches!(own.load, catalogue::LoadModel::Power(_)));
        for (what, relax) in RELAXED.into_iter().filter(|relaxed| !(power && relaxed.0 == DROP)) {
            let (mut survey, mut parts) = (survey.clone(), parts.clone());
            relax(&mut survey, &mut parts);
            let after = plan(&survey, &parts);
            assert!(is_fed(&after), "site {seed}: {what}: nothing feeds it any more");
            assert!(
                after.objective.cost <= before.objective.cost,
                "site {seed}: {what}: {} over {}",
                after.objective.cost,
                before.objective.cost
            );
            *cheaper.entry(what).or_default() += u32::from(after.objective.cost < before.objective.cost);
        }
    }
    println!("sites that it made cheaper: {cheaper:?}");
    // The sites are tight enough that most of these matter somewhere.
    assert!(cheaper.values().filter(|count| **count > 0).count() >= 5, "{cheaper:?}");
}

#[test]
fn a_longer_control_cable_or_one_more_control_part_never_costs_more() {
    let cost = |plan: &Plan| plan.zones.iter().map(|zone| zone.objective.cost).sum::<Money>();
    let spoilt = |plan: &Plan| {
        let rules = ["presence-coverage", "control-route", "control-ingress", "wall-station-supply", "control-part"];
        let length =
            plan.zones.iter().flat_map(|zone| &zone.lines).any(|l| l.limit.is_some_and(|limit| l.length > limit));
        length || plan.findings.iter().any(|finding| rules.contains(&finding.rule))
    };
    let mut tried = 0;
    for (seed, survey, parts, before) in plans().filter(|made| !made.3.zones.is_empty() && !spoilt(&made.3)) {
        let relaxed: [fn(&mut Catalogue); 2] = [
            |parts| parts.controls.iter_mut().for_each(|part| part.greatest_control_cable = None),
            |parts| {
                let relay = parts.controls.iter().find(|part| part.item.part == "RELAY").expect("a relay");
                let mut other = relay.clone();
                other.item.part = "ANOTHER".into();
                other.item.price += Money::ten_thousandths(1);
                parts.controls.push(other);
            },
        ];
        for relax in relaxed {
            let mut parts = parts.clone();
            relax(&mut parts);
            let after = plan(&survey, &parts);
            assert!(cost(&after) <= cost(&before), "site {seed}: {} over {}", cost(&after), cost(&before));
            tried += 1;
        }
    }
    assert!(tried >= 20, "{tried}");
}

#[test]
fn removing_a_rail_never_raises_the_total() {
    for (seed, survey, parts, whole) in plans().filter(|made| is_fed(&made.3)) {
        for rail in 0..survey.brief.rails.len() {
            let mut less = survey.clone();
            less.brief.rails.remove(rail);
            let cost = plan(&less, &parts).objective.cost;
            assert!(
                cost <= whole.objective.cost,
                "site {seed} without rail {rail}: {cost} over {}",
                whole.objective.cost
            );
        }
    }
}

/// What people pay, drill, cut and measure, whatever it is called and in whatever order it is listed.
#[derive(Debug, PartialEq)]
struct Figures {
    cost: Money,
    bound: Money,
    places: Vec<(Length, Length)>,
    volts: Vec<String>,
    cables: Vec<(CableKind, u8, Length, Length)>,
    control_cable: Length,
    parts: Vec<(String, String)>,
    controls: Vec<(String, String)>,
    findings: Vec<(&'static str, survey::Verdict)>,
}

fn sorted<T: PartialOrd>(list: impl Iterator<Item = T>) -> Vec<T> {
    let mut list: Vec<T> = list.collect();
    list.sort_by(|a, b| a.partial_cmp(b).expect("figures can be compared"));
    list
}

/// Of two control lines that are equally long, the names decide which one is drawn; so of control cable it is the whole
/// length that has to be the same.
fn figures(plan: &Plan) -> Figures {
    let control = plan.cables.iter().filter(|cable| cable.kind == CableKind::Control);
    let power = plan.cables.iter().filter(|cable| cable.kind != CableKind::Control);
    let luminaires = plan.rails.iter().flat_map(|rail| &rail.luminaires);
    let loads = plan.circuits.iter().flat_map(|circuit| &circuit.loads);
    Figures {
        cost: plan.objective.cost,
        bound: plan.objective.lower_bound,
        places: sorted(luminaires.map(|luminaire| (luminaire.start, luminaire.end))),
        volts: sorted(loads.map(|load| format!("{:?}", load.volts.map(|volts| (volts.get() * 1e6).round())))),
        cables: sorted(power.map(|cable| (cable.kind, cable.cores, cable.route, cable.cut))),
        control_cable: control.map(|cable| cable.cut).sum(),
        parts: sorted(plan.parts.iter().map(|line| (line.part.clone(), format!("{:?}", line.quantity)))),
        controls: sorted(plan.controls.iter().map(|device| (device.part.clone(), format!("{:?}", device.load)))),
        findings: sorted(plan.findings.iter().map(|finding| (finding.rule, finding.verdict))),
    }
}

#[test]
fn renaming_anything_changes_no_figure() {
    for (seed, survey, parts, before) in plans() {
        for how in [Renaming::KeepsOrder, Renaming::TurnsOrder] {
            let after = plan(&renamed(&survey, how), &parts);
            let (renamed, known) = (figures(&after), figures(&before));
            assert_eq!(renamed, known, "site {seed}, {how:?}");
            let zones = |plan: &Plan| sorted(plan.zones.iter().map(|zone| zone.objective.cost.to_ten_thousandths()));
            // Each cable's cost is rounded by itself, so of two lines equally long one may cost a ten-thousandth more.
            let most = if how == Renaming::KeepsOrder { 0 } else { 1 };
            for (one, other) in zones(&after).into_iter().zip(zones(&before)) {
                assert!((one - other).abs() <= most, "site {seed}, {how:?}: zones cost {one} and {other}");
            }
        }
    }
}

fn pieces_of(plan: &Plan, part: &str) -> u32 {
    let lines = plan.parts.iter().filter(|line| line.part == part);
    lines.map(|line| if let Quantity::Pieces(pieces) = line.quantity { pieces } else { 0 }).sum()
}

/// How many conductors a chain of points has: one for each channel and the common.
fn conductors(circuit: &plan::Circuit) -> u32 {
    1 + circuit.loads.iter().filter_map(|load| load.channel).max().map_or(1, u32::from)
}

#[test]
fn every_chain_ends_in_exactly_one_end_cap_or_seal() {
    let (mut caps, mut arms) = (0, 0);
    for (seed, _, _, plan) in plans() {
        let own = |kind: CableKind, circuit: &str| {
            plan.cables
                .iter()
                .filter(|c| c.kind == kind && c.circuit.as_deref() == Some(circuit))
                .collect::<Vec<&Cable>>()
        };
        let mut wanted: BTreeMap<&str, u32> = BTreeMap::from([("CAP-2", 0), ("CAP-4", 0), ("SEAL", 0)]);
        for circuit in &plan.circuits {
            let runs = own(CableKind::Run, &circuit.id);
            if runs.is_empty() {
                // A chain of modules runs one way and has one far end.
                assert!(!own(CableKind::Luminaire, &circuit.id).is_empty(), "site {seed}: {} is fed", circuit.id);
                *wanted.get_mut(if conductors(circuit) == 2 { "CAP-2" } else { "CAP-4" }).unwrap() += 1;
                caps += 1;
                continue;
            }
            // A chain of points is sealed once at the end of each arm, and nowhere else.
            assert!(runs.len() <= 2, "site {seed}: {} has two arms at most", circuit.id);
            for run in runs {
                let seals = format!("{} end seals at ", conductors(circuit));
                assert_eq!(run.connectors.matches("end seals at").count(), 1, "{}", run.connectors);
                let end = run.connectors.split(seals.as_str()).nth(1).expect("its seals are said");
                assert!(run.to.starts_with(&format!("{end} (")), "site {seed}: {} ends at {end}", run.to);
                *wanted.get_mut("SEAL").unwrap() += conductors(circuit);
                arms += 1;
            }
        }
        for (part, count) in wanted {
            assert_eq!(pieces_of(&plan, part), count, "site {seed}: {part}");
        }
    }
    assert!(caps >= 20 && arms >= 30, "{caps} {arms}");
}

/// Where a cable says that it starts or ends: a driver, a way in, a luminaire, a device, a mains point, or another cable.
fn exists(survey: &Survey, plan: &Plan, end: &str) -> bool {
    let named = |prefix: &str, name: &str| end.strip_prefix(prefix).is_some_and(|rest| rest.starts_with(name));
    let first = end.split([',', ' ']).next().unwrap_or_default();
    plan.drivers.iter().any(|driver| {
        let outputs = driver.outputs.iter().map(|output| format!("{} output {}, ", driver.id, output.id));
        named("driver ", &format!("{}, ", driver.id)) || outputs.into_iter().any(|output| named("driver ", &output))
    }) || survey.mains_points.iter().any(|point| end == format!("mains point {}", point.label))
        || survey.rails.iter().any(|rail| end.starts_with("way in ") && end.contains(&format!(" of {} (", rail.label)))
        || plan.rails.iter().flat_map(|rail| &rail.luminaires).any(|own| end.starts_with(&format!("{} (", own.id)))
        || plan.controls.iter().any(|device| device.device == first || named("wall station ", &device.device))
        || plan.cables.iter().any(|cable| end.contains(&format!("plug of {}", cable.reference)))
        // The decoder of a chain is named after it.
        || plan.circuits.iter().any(|own| named("decoder ", &format!("DC{}, ", own.id.trim_start_matches('D'))))
}

#[test]
fn every_cable_joins_what_its_schedule_says() {
    for (seed, survey, _, plan) in plans() {
        for cable in &plan.cables {
            for end in [&cable.from, &cable.to] {
                assert!(exists(&survey, &plan, end), "site {seed}: {} joins {end:?}", cable.reference);
            }
            assert_eq!(cable.route + cable.allowance, cable.cut, "site {seed}: {cable:?}");
            assert!(cable.made_up.is_none_or(|made_up| made_up == cable.cut), "site {seed}: {cable:?}");
            assert!(cable.allowance >= Length::ZERO && cable.route >= Length::ZERO, "site {seed}: {cable:?}");
        }
        // Mains leads follow their routes, and the pieces of an extension lead do together.
        for cable in plan.cables.iter().filter(|cable| cable.kind == CableKind::Mains) {
            assert_eq!(along(&survey, &cable.routes), cable.route, "site {seed}: {cable:?}");
        }
        for circuit in plan.circuits.iter().filter(|circuit| circuit.loads.iter().all(|load| load.channel.is_none())) {
            let own =
                |cable: &&Cable| cable.kind == CableKind::Extension && cable.circuit.as_ref() == Some(&circuit.id);
            let pieces: Vec<&Cable> = plan.cables.iter().filter(own).collect();
            let route: Length = pieces.iter().map(|cable| cable.route).sum();
            assert_eq!(route, along(&survey, &pieces[0].routes), "site {seed}: {}", circuit.id);
            for two in pieces.windows(2) {
                assert_eq!(two[0].to, format!("plug of {}", two[1].reference), "site {seed}");
                assert_eq!(two[1].from, format!("plug of {}", two[0].reference), "site {seed}");
            }
        }
        // What is cut comes off a reel once, and no reel gives more than it has.
        for reel in &plan.reels {
            let cut: Length = reel.cuts.iter().map(|cut| cut.1).sum();
            assert_eq!(cut + reel.waste, reel.length, "site {seed}: {reel:?}");
            assert!(reel.waste >= Length::ZERO);
            for (reference, length) in &reel.cuts {
                let name = reference.split(" core ").next().unwrap_or_default();
                let known = plan.cables.iter().find(|cable| cable.reference == name).expect("a cable of the schedule");
                assert_eq!(known.cut, *length, "site {seed}: {reference}");
                assert_eq!(known.part.as_ref(), Some(&reel.part), "site {seed}: {reference}");
            }
        }
    }
}

#[test]
fn expanding_the_plan_into_a_network_gives_its_volts() {
    let mut solved = 0;
    for (seed, _, _, plan) in plans() {
        for circuit in plan.circuits.iter().filter(|circuit| circuit.solved) {
            let volts = expand::volts(circuit).unwrap_or_else(|| panic!("site {seed}: {} has a state", circuit.id));
            for node in &circuit.nodes {
                let said = node.volts.expect("it is solved").get();
                assert!((volts[&node.id] - said).abs() < 1e-6, "site {seed}: {} {}: {said}", circuit.id, node.id);
            }
            let least =
                circuit.loads.iter().map(|load| volts[&load.from] - volts[&load.to]).fold(f64::INFINITY, f64::min);
            assert!((least - circuit.least_load_volts.expect("it is solved").get()).abs() < 1e-6);
            solved += 1;
        }
    }
    println!("{solved} circuits");
    assert!(solved >= 100, "{solved}");
}

type Change = fn(&mut Survey);

/// What a person changes one after another; the last takes everything back.
const CHANGES: [(&str, Change); 6] = [
    ("another spacing on the first rail", |survey| space(survey, 0, 310)),
    ("a spacing on the way to it", |survey| space(survey, 0, 31)),
    ("another spacing on the last rail", |survey| space(survey, survey.brief.rails.len() - 1, 290)),
    ("less room at a place", |survey| survey.driver_places[0].width = Length::mm(500)),
    ("a driver that is kept where it is", |survey| {
        let place = survey.driver_places[0].id.clone();
        survey.brief.rails[0].locks.drivers.push(DriverLock { place, part: None });
    }),
    ("nothing", |_| ()),
];

fn space(survey: &mut Survey, rail: usize, mm: i64) {
    if let Target::Spacing(spacing) = &mut survey.brief.rails[rail].target {
        *spacing = Length::mm(mm);
    }
}

#[test]
fn what_was_planned_before_changes_no_plan() {
    let memory = Memory::default();
    for (seed, survey, parts, made) in plans() {
        for (what, change) in CHANGES {
            let mut changed = survey.clone();
            change(&mut changed);
            let alone = if changed == survey { made.clone() } else { plan(&changed, &parts) };
            assert_eq!(plan_with(&changed, &parts, &memory), alone, "site {seed}: {what}");
        }
    }
}
