//! One driver for several rails of modules, from the choice through every schedule. Invented site and parts; the figures of
//! cost are worked by hand from the labour and prices of `whole_support` and `module_sites`.

mod controls_support;
mod module_sites;
mod whole_support;

use catalogue::Catalogue;
use module_sites::{Draw, module_catalogue, slotted_rail};
use plan::{Cable, CableKind, ControlDevice, Plan, Quantity, plan};
use survey::{LampKind, Light, RailBrief, RouteEnd, Survey, Target};
use units::{Money, Volts, Watts};
use whole_support::*;

/// Slotted rails of 2.2 m, which take two modules of a metre, each 2 m from the one driver place, which is 6 m from mains.
fn site(names: &[&str], light: &Light) -> Survey {
    let mut survey = ramp_survey();
    survey.rails.clear();
    survey.brief.rails.clear();
    survey.routes.truncate(1);
    // A box that holds what every rail may ask for.
    survey.driver_places[0].width = mm(2_000);
    survey.driver_places[0].height = mm(600);
    for name in names {
        let straight = Draw {
            straights: vec![(2_200, false)],
            joints: vec![],
            movement: None,
            posts: vec![],
            ways: vec![20],
            colour: false,
            model: 0,
            routes: vec![],
            second: false,
            margin: 0,
        };
        survey.rails.push(slotted_rail(&straight, name, &format!("Rail {name}")));
        survey.brief.rails.push(RailBrief {
            lamps: LampKind::Modules,
            light: light.clone(),
            target: Target::LitLength,
            ..rail_brief(name)
        });
        let from = RouteEnd::DriverPlace(id("dp"));
        survey.routes.push(route(&format!("r-{name}"), from, to_way_in(name, "w0"), 2_000));
    }
    survey
}

const WHITE: Light = Light::FixedWhite { kelvin: 3000, cri: None };

/// The same with rails in zones of their own, so that no driver may serve two.
fn apart(survey: &Survey) -> Survey {
    let mut survey = survey.clone();
    let zone = controls_support::stair(survey::Control::AlwaysOn).brief.zones.remove(0);
    for brief in &mut survey.brief.rails {
        let own = id(&format!("zone-{}", brief.rail));
        brief.zone = Some(own.clone());
        survey.brief.zones.push(survey::Zone { id: own, ..zone.clone() });
    }
    survey
}

fn parts() -> Catalogue {
    module_catalogue(0)
}

fn pieces(plan: &Plan, part: &str) -> u32 {
    match plan.parts.iter().find(|line| line.part == part).map(|line| line.quantity) {
        Some(Quantity::Pieces(pieces)) => pieces,
        None => 0,
        other => panic!("{part}: {other:?}"),
    }
}

fn of_kind(plan: &Plan, kind: CableKind) -> Vec<&Cable> {
    plan.cables.iter().filter(|cable| cable.kind == kind).collect()
}

#[test]
fn two_rails_of_modules_at_one_place_have_one_driver() {
    let plan = plan(&site(&["a", "b"], &WHITE), &parts());
    assert_eq!(plan.drivers.len(), 1);
    let driver = &plan.drivers[0];
    assert_eq!((driver.id.as_str(), driver.part.as_str()), ("D1", "DM-100"));
    assert_eq!(driver.rails, [id("a"), id("b")]);
    let outputs: Vec<&[String]> = driver.outputs.iter().map(|output| output.circuits.as_slice()).collect();
    assert_eq!(outputs, [["D1.1a".to_owned()], ["D1.2a".to_owned()]]);
    // Constant current: each of the four modules draws 9.6 W / 24 V, and most at the high end of the source, 24 V + 2 %.
    assert!((driver.load - Watts::new(4.0 * 0.4 * 24.48)).get().abs() < 1e-6, "{}", driver.load);
    for (circuit, rail) in plan.circuits.iter().zip(&plan.rails) {
        assert_eq!((circuit.driver.as_str(), &circuit.rail), ("D1", &rail.id));
        assert_eq!((circuit.loads.len(), rail.luminaires.len()), (2, 2));
        assert!(circuit.loads.iter().all(|load| load.luminaire.starts_with(&rail.label)));
        assert!(circuit.solved);
    }
}

#[test]
fn its_parts_and_mains_lead_are_counted_once() {
    let survey = site(&["a", "b"], &WHITE);
    let (shared, own) = (plan(&survey, &parts()), plan(&apart(&survey), &parts()));
    assert_eq!((pieces(&shared, "DM-100"), pieces(&shared, "DM-60")), (1, 0));
    assert_eq!((pieces(&own, "DM-100"), pieces(&own, "DM-60")), (0, 2));
    // Every other piece is the same: modules, end caps, clips, leads.
    for part in ["LM-1000", "CAP-2", "CLIP", "STRIP", "GLAND-12", "EL-2", "LL-2"] {
        assert_eq!(pieces(&shared, part), pieces(&own, part), "{part}");
    }
    assert_eq!((of_kind(&shared, CableKind::Mains).len(), of_kind(&own, CableKind::Mains).len()), (1, 2));
    let leads = of_kind(&shared, CableKind::Extension);
    assert!(leads[0].from.starts_with("driver D1 output D1.1,") && leads[0].to.contains("Rail a"), "{leads:?}");
    assert!(leads[1].from.starts_with("driver D1 output D1.2,") && leads[1].to.contains("Rail b"), "{leads:?}");
    let sources = |plan: &Plan| plan.tests.iter().filter(|test| test.kind == "source volts").count();
    assert_eq!((sources(&shared), sources(&own)), (2, 2));
}

#[test]
fn the_saving_is_what_the_drivers_and_mains_leads_cost() {
    let survey = site(&["a", "b"], &WHITE);
    let (shared, own) = (plan(&survey, &parts()), plan(&apart(&survey), &parts()));
    // Mounting: an hour at 60; 6 m of mains lead at 2.40 for the cable and 2.50 for laying (25 minutes for 10 m), two ends of
    // 7 minutes and a metre of cable for them. Two drivers of 60 are as many outputs as one of 95.
    let standing = 600_000 + 6 * (24_000 + 25_000) + 140_000 + 24_000;
    let (two, one) = (2 * (600_000 + standing), 950_000 + standing);
    assert_eq!(own.objective.cost - shared.objective.cost, Money::ten_thousandths(two - one));
    assert_eq!((own.objective.gap(), shared.objective.gap()), (Money::ZERO, Money::ZERO));
    let costs = |plan: &Plan| [plan.rails[0].objective.cost, plan.rails[1].objective.cost];
    assert_eq!(costs(&shared).into_iter().sum::<Money>(), shared.objective.cost);
    assert_eq!(
        costs(&shared)[0] - costs(&shared)[1],
        Money::ten_thousandths(one),
        "its cost stands with the first rail"
    );
    for rail in &shared.rails {
        assert!(rail.objective.lower_bound <= rail.objective.cost);
    }
    let bounds: Money = shared.rails.iter().map(|rail| rail.objective.lower_bound).sum();
    assert!(bounds <= shared.objective.lower_bound);
}

#[test]
fn a_driver_with_a_decoder_for_each_chain_serves_rails_of_variable_colour() {
    let survey = site(&["a", "b"], &Light::VariableColour);
    let (shared, own) = (plan(&survey, &parts()), plan(&apart(&survey), &parts()));
    assert_eq!((shared.drivers.len(), own.drivers.len()), (1, 2));
    assert_eq!((pieces(&shared, "DEC"), pieces(&shared, "CAP-4")), (2, 2));
    assert!(shared.objective.cost < own.objective.cost);
    let decoders: Vec<_> = shared.controls.iter().filter(|control| control.kind == ControlDevice::Decoder).collect();
    let named: Vec<(&str, &[String])> =
        decoders.iter().map(|decoder| (decoder.device.as_str(), decoder.serves.as_slice())).collect();
    assert_eq!(named, [("DC1.1a", &["D1.1a".to_owned()][..]), ("DC1.2a", &["D1.2a".to_owned()][..])]);
    assert!(decoders.iter().all(|decoder| decoder.place.starts_with("beside driver D1, ")), "{decoders:?}");
    for circuit in &shared.circuits {
        assert_eq!((circuit.driver.as_str(), circuit.solved), ("D1", true));
    }
}

#[test]
fn points_and_modules_never_share_and_each_kind_shares_among_itself() {
    let mut survey = site(&["a", "b", "p", "q"], &WHITE);
    for (rail, brief) in survey.rails.iter_mut().zip(&mut survey.brief.rails).skip(2) {
        rail.tube.profile = survey::Profile::Round;
        *brief = rail_brief(rail.id.as_str());
    }
    // Points of the modules' own voltage, so that nothing but their kind keeps them apart.
    let mut parts = parts();
    let mut point = point("PT-24", catalogue::LoadModel::Current(units::Amps::new(0.03)));
    (point.nominal, point.least, point.greatest) = (Volts::new(24.0), Volts::new(21.6), Volts::new(27.0));
    parts.luminaires.push(point);
    survey.brief.rails.iter_mut().skip(2).for_each(|brief| brief.part = Some("PT-24".into()));
    let plan = plan(&survey, &parts);
    let served: Vec<Vec<&str>> =
        plan.drivers.iter().map(|driver| driver.rails.iter().map(survey::Id::as_str).collect()).collect();
    assert_eq!(served, [vec!["a", "b"], vec!["p", "q"]]);
    assert_eq!(plan.objective.gap(), Money::ZERO);
}

#[test]
fn a_relay_in_the_mains_lead_switches_the_driver_of_both_rails() {
    let mut survey = site(&["a", "b"], &WHITE);
    let zone = controls_support::stair(survey::Control::Dusk).brief.zones.remove(0);
    survey.brief.rails.iter_mut().for_each(|brief| brief.zone = Some(zone.id.clone()));
    survey.brief.zones = vec![zone];
    let own = parts();
    let mut parts = controls_support::parts();
    (parts.luminaires, parts.leads) = (
        own.luminaires,
        own.leads.into_iter().chain(parts.leads.into_iter().filter(|l| l.item.part == "CC-3")).collect(),
    );
    (parts.drivers, parts.fixings) = (own.drivers, own.fixings.into_iter().chain(parts.fixings).collect());
    parts.controls.retain(|control| control.item.part != "RELAY");
    let plan = controls_support::planned(&survey, &parts);
    assert_eq!(plan.drivers.len(), 1);
    let relays = controls_support::of_part(&plan, "RELAY-M");
    assert_eq!(relays.len(), 1);
    assert_eq!(relays[0].serves, ["D1"]);
}

#[test]
fn the_names_of_rails_change_no_figure() {
    let survey = site(&["a", "b"], &WHITE);
    let mut other = survey.clone();
    for (rail, label) in other.rails.iter_mut().zip(["Upper", "Lower"]) {
        rail.label = label.into();
    }
    let (one, other) = (plan(&survey, &parts()), plan(&other, &parts()));
    assert_eq!((one.objective, one.drivers), (other.objective, other.drivers));
}
