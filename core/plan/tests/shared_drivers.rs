//! One driver for several rails, from the choice through every schedule. Invented site and parts; the figures of cost are
//! worked by hand from the labour and prices of `whole_support`.

mod controls_support;
mod whole_support;

use catalogue::Catalogue;
use plan::{CableKind, Plan, Quantity, plan};
use survey::{RailBrief, RouteEnd, Survey};
use units::{Money, Volts, Watts};
use whole_support::*;

/// Rails `a` and `b` of 6 m, each 2 m from the one driver place, which is 6 m from mains.
fn site() -> Survey {
    let mut survey = ramp_survey();
    survey.rails.clear();
    survey.brief.rails.clear();
    survey.routes.truncate(1);
    for name in ["a", "b"] {
        let mut rail = straight_rail(name, &format!("Rail {name}"), 6_000, 1_100);
        rail.features.push(way_in("in", 1_000));
        survey.rails.push(rail);
        survey.brief.rails.push(rail_brief(name));
        let from = RouteEnd::DriverPlace(id("dp"));
        survey.routes.push(route(&format!("r-{name}"), from, to_way_in(name, "in"), 2_000));
    }
    survey
}

/// The small catalogue with two outputs on its smallest driver too.
fn parts() -> Catalogue {
    let mut parts = catalogue();
    parts.drivers[0].outputs = 2;
    parts
}

/// The same site with its rails in zones of their own.
fn apart() -> Survey {
    let mut survey = site();
    for (brief, zone) in survey.brief.rails.iter_mut().zip(["one", "two"]) {
        brief.zone = Some(id(zone));
    }
    let zone = controls_support::stair(survey::Control::AlwaysOn).brief.zones.remove(0);
    survey.brief.zones = ["one", "two"].map(|name| survey::Zone { id: id(name), ..zone.clone() }).into();
    survey
}

fn pieces(plan: &Plan, part: &str) -> u32 {
    match plan.parts.iter().find(|line| line.part == part).map(|line| line.quantity) {
        Some(Quantity::Pieces(pieces)) => pieces,
        other => panic!("{part}: {other:?}"),
    }
}

#[test]
fn two_rails_at_one_place_have_one_driver() {
    let plan = plan(&site(), &parts());
    assert_eq!(plan.drivers.len(), 1);
    let driver = &plan.drivers[0];
    assert_eq!((driver.id.as_str(), driver.part.as_str()), ("D1", "DR-30"));
    assert_eq!(driver.rails, [id("a"), id("b")]);
    let outputs: Vec<(&str, &[String])> =
        driver.outputs.iter().map(|output| (output.id.as_str(), output.circuits.as_slice())).collect();
    assert_eq!(outputs, [("D1.1", &["D1.1a".to_owned()][..]), ("D1.2", &["D1.2a".to_owned()][..])]);
    // Constant current: every luminaire draws 30 mA, and most at the high end of the source, 12 V + 1 %.
    let number: usize = plan.rails.iter().map(|rail| rail.luminaires.len()).sum();
    assert!((driver.load - Watts::new(number as f64 * 0.03 * 12.12)).get().abs() < 1e-9, "{}", driver.load);
    // A circuit belongs to the rail of its luminaires.
    for (circuit, rail) in plan.circuits.iter().zip(&plan.rails) {
        assert_eq!((circuit.driver.as_str(), &circuit.rail), ("D1", &rail.id));
        assert_eq!(circuit.loads.len(), rail.luminaires.len());
        assert!(circuit.loads.iter().all(|load| load.luminaire.starts_with(&rail.label)));
    }
}

#[test]
fn its_parts_and_mains_lead_are_counted_once() {
    let (shared, own) = (plan(&site(), &parts()), plan(&apart(), &parts()));
    assert_eq!((pieces(&shared, "DR-30"), pieces(&own, "DR-30")), (1, 2));
    // Every other piece is the same: taps, seals, rivets, and a gland for each chain.
    for part in ["PT-A", "TAP", "SEAL", "RIVET-2", "GLAND-12"] {
        assert_eq!(pieces(&shared, part), pieces(&own, part), "{part}");
    }
    let references = |plan: &Plan, kind: CableKind| -> Vec<String> {
        plan.cables.iter().filter(|cable| cable.kind == kind).map(|cable| cable.reference.clone()).collect()
    };
    assert_eq!(references(&shared, CableKind::Mains), ["M1"]);
    assert_eq!(references(&own, CableKind::Mains), ["M1", "M2"]);
    let leads: Vec<&plan::Cable> = shared.cables.iter().filter(|cable| cable.kind == CableKind::Extension).collect();
    let ends: Vec<(&str, &str)> = leads.iter().map(|lead| (lead.from.as_str(), lead.to.as_str())).collect();
    assert_eq!(ends.len(), 2);
    assert!(ends[0].0.starts_with("driver D1 output D1.1,") && ends[0].1.contains("Rail a"), "{ends:?}");
    assert!(ends[1].0.starts_with("driver D1 output D1.2,") && ends[1].1.contains("Rail b"), "{ends:?}");
    // A mains lead of 7 m less is cut: 6 m of way and 1 m of allowance.
    let mains = |plan: &Plan| match plan.parts.iter().find(|line| line.part == "MF-3").unwrap().quantity {
        Quantity::Length(length) => length,
        Quantity::Pieces(_) => panic!("mains cable goes by the metre"),
    };
    assert_eq!(mains(&own) - mains(&shared), mm(7_000));
    let sources = |plan: &Plan| plan.tests.iter().filter(|test| test.kind == "source volts").count();
    assert_eq!((sources(&shared), sources(&own)), (2, 2));
}

#[test]
fn the_saving_is_one_driver_with_its_mains_lead() {
    let (shared, own) = (plan(&site(), &parts()), plan(&apart(), &parts()));
    // Driver 45, an hour at 60, 6 m of mains lead at 2.40 for the cable and 2.50 for laying (25 minutes for 10 m), two ends
    // of 7 minutes and a metre of cable for them.
    let driver = Money::ten_thousandths(450_000 + 600_000 + 6 * (24_000 + 25_000) + 140_000 + 24_000);
    assert_eq!(own.objective.cost - shared.objective.cost, driver);
    assert_eq!((own.objective.gap(), shared.objective.gap()), (Money::ZERO, Money::ZERO));
    let costs = |plan: &Plan| [plan.rails[0].objective.cost, plan.rails[1].objective.cost];
    let ([a, b], [own_a, own_b]) = (costs(&shared), costs(&own));
    assert_eq!((a, b), (own_a, own_b - driver), "its cost stands with the first rail");
    assert_eq!(a + b, shared.objective.cost);
    for rail in &shared.rails {
        assert!(rail.objective.lower_bound <= rail.objective.cost);
    }
    // The bound of the whole is more than those of the rails, which leave out what either may leave to the other.
    let bounds: Money = shared.rails.iter().map(|rail| rail.objective.lower_bound).sum();
    assert!(bounds <= shared.objective.lower_bound);
}

#[test]
fn rails_that_switch_apart_never_share_a_driver() {
    let own = plan(&apart(), &parts());
    assert_eq!(own.drivers.len(), 2);
    assert_eq!(own.drivers[0].rails, [id("a")]);
    assert_eq!(own.drivers[1].rails, [id("b")]);
    // Nor does one that a zone switches and one that none does.
    let mut half = apart();
    half.brief.rails[1].zone = None;
    assert_eq!(plan(&half, &parts()).drivers.len(), 2);
}

#[test]
fn rails_of_different_voltages_never_share_a_driver() {
    let mut parts = parts();
    let mut luminaire = point("PT-24", catalogue::LoadModel::Current(units::Amps::new(0.03)));
    (luminaire.nominal, luminaire.least, luminaire.greatest) = (Volts::new(24.0), Volts::new(21.6), Volts::new(27.0));
    parts.luminaires.push(luminaire);
    let mut driver = parts.drivers[0].clone();
    (driver.item.part, driver.output) = ("DR-24".into(), Volts::new(24.0));
    parts.drivers.push(driver);
    let mut survey = site();
    survey.brief.rails[0].part = Some("PT-A".into());
    survey.brief.rails[1].part = Some("PT-24".into());
    let plan = plan(&survey, &parts);
    let used: Vec<(&str, usize)> =
        plan.drivers.iter().map(|driver| (driver.part.as_str(), driver.rails.len())).collect();
    assert_eq!(used, [("DR-30", 1), ("DR-24", 1)]);
}

#[test]
fn a_relay_in_the_mains_lead_switches_the_driver_of_both_rails() {
    let mut survey = site();
    let zone = controls_support::stair(survey::Control::Dusk).brief.zones.remove(0);
    survey.brief.rails =
        survey.brief.rails.into_iter().map(|brief| RailBrief { zone: Some(zone.id.clone()), ..brief }).collect();
    survey.brief.zones = vec![zone];
    let mut parts = Catalogue { drivers: parts().drivers, ..controls_support::parts() };
    parts.controls.retain(|control| control.item.part != "RELAY");
    let plan = controls_support::planned(&survey, &parts);
    assert_eq!(plan.drivers.len(), 1);
    let relays = controls_support::of_part(&plan, "RELAY-M");
    assert_eq!(relays.len(), 1);
    assert_eq!(relays[0].serves, ["D1"]);
    // The input current of one driver, not of one for each rail.
    assert_eq!(relays[0].load, Some(parts.drivers[0].input));
}

#[test]
fn the_names_of_rails_change_no_figure() {
    let one = plan(&site(), &parts());
    let mut survey = site();
    for (rail, label) in survey.rails.iter_mut().zip(["Upper", "Lower"]) {
        rail.label = label.into();
    }
    let other = plan(&survey, &parts());
    assert_eq!(one.objective, other.objective);
    assert_eq!(one.drivers, other.drivers);
}
