//! Generated sites with slotted rails for linear modules; invented, every part and price.
#![allow(dead_code, reason = "each test file uses its own share")]

use catalogue::*;
use proptest::prelude::*;
use survey::*;
use units::{Amps, Celsius, Degrees, Money, Ohms, SquareMm, Volts, Watts};

use crate::whole_support::*;

fn item(part: &str, units: i64) -> Item {
    Item {
        part: part.into(),
        description: format!("invented {part}"),
        price: price(units),
        pack: 1,
        supplier_ref: String::new(),
    }
}

fn module(part: &str, length: i64, load: LoadModel, channels: u8) -> Luminaire {
    let poles = if channels == 1 { 2 } else { channels + 1 };
    Luminaire {
        item: item(part, length / 12),
        kind: LuminaireKind::Linear(LinearModule {
            length: mm(length),
            joint_allowance: mm(4),
            slot: mm(16),
            depth: mm(14),
            through: Ohms::new(length as f64 * 12e-6),
            longest_chain: mm(6_000),
            clip_spacing: mm(400),
            connector: Connector { poles, limit: Amps::new(4.0), milliohms: 5 },
        }),
        nominal: Volts::new(24.0),
        least: Volts::new(21.6),
        greatest: Volts::new(26.4),
        load,
        colour: if channels == 1 {
            ColourKind::White { kelvin: 3000, cri: 80 }
        } else {
            ColourKind::Variable { channels }
        },
        flux_tenths_lm: 3000,
        ingress: ingress(6, &[6, 7]),
        impact: Some(8),
        greatest_ambient: Celsius::new(50.0),
        cores: poles,
    }
}

fn lead(part: &str, uses: LeadUse, cores: u8, supply: Supply, poles: Option<u8>) -> Lead {
    Lead {
        item: item(part, if matches!(supply, Supply::Reel { .. }) { 2 } else { 0 }),
        uses: vec![uses],
        supply,
        kind: LeadKind::Sheathed,
        cores,
        area: SquareMm::new(1.0),
        class: ConductorClass::Flexible,
        coating: Coating::Plain,
        outside_diameter: mm(7),
        greatest_temperature: Celsius::new(90.0),
        carries: Amps::new(8.0),
        connector: poles.map(|poles| Connector { poles, limit: Amps::new(4.5), milliohms: 5 }),
        outdoor: true,
    }
}

fn made_up(lengths: &[i64]) -> Supply {
    Supply::MadeUp(lengths.iter().map(|length| (mm(*length), Money::ten_thousandths(20_000 + length * 20))).collect())
}

fn driver(part: &str, units: i64, watts: f64, outputs: u8) -> Driver {
    Driver {
        item: item(part, units),
        output: Volts::new(24.0),
        tolerance_permille: 20,
        rated: Watts::new(watts),
        outputs,
        output_limit: Amps::new(watts / 24.0),
        derating: Derating { full_to: Celsius::new(50.0), to: Celsius::new(70.0), to_percent: 60 },
        least_load_percent: 0,
        input: Amps::new(0.4),
        power_factor_percent: 95,
        efficiency_percent: 88,
        inrush: Amps::new(30.0),
        inrush_us: 200,
        overload: Overload::Hiccup,
        short_circuit: ShortCircuit::Limited(Amps::new(3.8)),
        selv: true,
        ingress: ingress(6, &[5, 7]),
        width: mm(200),
        height: mm(60),
        depth: mm(40),
    }
}

fn fixing(part: &str, kind: FixingKind) -> Fixing {
    Fixing { item: item(part, 2), kind }
}

/// Modules of 1000, 500 and 300 mm in white and variable colour, with everything that feeds them.
pub fn module_catalogue(model: u8) -> Catalogue {
    let load = |watts: f64| match model {
        0 => LoadModel::Current(Amps::new(watts / 24.0)),
        1 => LoadModel::Power(Watts::new(watts)),
        _ => LoadModel::Resistance(Ohms::new(24.0 * 24.0 / watts)),
    };
    let base = catalogue();
    let mut luminaires = base.luminaires.clone();
    for (length, watts) in [(1000, 9.6), (500, 4.8), (300, 2.9)] {
        luminaires.push(module(&format!("LM-{length}"), length, load(watts), 1));
        luminaires.push(module(&format!("LC-{length}"), length, load(watts / 4.0), 3));
    }
    let mut leads = base.leads.clone();
    leads.extend([
        lead("EL-2", LeadUse::Extension, 2, made_up(&[1_000, 3_000, 10_000]), Some(2)),
        lead("LL-2", LeadUse::Luminaire, 2, made_up(&[500, 1_000, 3_000]), Some(2)),
        lead("LL-2-REEL", LeadUse::Luminaire, 2, Supply::Reel { length: mm(50_000) }, None),
        lead("LL-4", LeadUse::Luminaire, 4, made_up(&[5_000, 10_000, 20_000]), Some(4)),
        lead("LK-2", LeadUse::Link, 2, made_up(&[300, 600, 2_000]), Some(2)),
        lead("LK-4", LeadUse::Link, 4, Supply::Reel { length: mm(50_000) }, None),
    ]);
    let mut drivers = base.drivers.clone();
    drivers.extend([driver("DM-60", 60, 60.0, 1), driver("DM-100", 95, 100.0, 2)]);
    let mut fixings = base.fixings.clone();
    fixings.extend([
        fixing("CAP-2", FixingKind::EndCap { poles: 2 }),
        fixing("CAP-4", FixingKind::EndCap { poles: 4 }),
        fixing("CLIP", FixingKind::Clip),
        fixing("STRIP", FixingKind::Containment { length: mm(1_000) }),
    ]);
    let decoder = catalogue::Control {
        item: item("DEC", 70),
        kind: ControlKind::Decoder { inlet_poles: 2, outlet_poles: 4, control_sockets: 2, control_poles: 3 },
        nominal: Volts::new(24.0),
        contact: Amps::new(4.0),
        contact_inrush: None,
        drop: Volts::new(0.06),
        own_supply: None,
        when_lost: None,
        greatest_control_cable: None,
        ingress: ingress(2, &[]),
    };
    Catalogue { luminaires, leads, drivers, fixings, controls: vec![decoder], ..base }
}

/// What of a site is drawn at random.
#[derive(Clone, Debug)]
pub struct Draw {
    pub straights: Vec<(i64, bool)>,
    pub joints: Vec<i64>,
    pub movement: Option<i64>,
    pub posts: Vec<(i64, u8)>,
    pub ways: Vec<i64>,
    pub colour: bool,
    pub model: u8,
    pub routes: Vec<i64>,
    pub second: bool,
    pub margin: i64,
}

pub fn draws() -> impl Strategy<Value = Draw> {
    let one = (
        prop::collection::vec((900_i64..6_000, any::<bool>()), 1..4),
        prop::collection::vec(200_i64..9_000, 0..3),
        prop::option::weighted(0.3, 500_i64..6_000),
        prop::collection::vec((100_i64..9_000, 0_u8..4), 0..5),
        prop::collection::vec(20_i64..9_000, 1..4),
    );
    let two = (any::<bool>(), 0_u8..3, prop::collection::vec(300_i64..7_000, 4), any::<bool>(), 0_i64..80);
    (one, two).prop_map(|(one, two)| Draw {
        straights: one.0,
        joints: one.1,
        movement: one.2,
        posts: one.3,
        ways: one.4,
        colour: two.0,
        model: two.1,
        routes: two.2,
        second: two.3,
        margin: two.4,
    })
}

pub fn slotted_rail(draw: &Draw, name: &str, label: &str) -> Rail {
    let mut rail = straight_rail(name, label, 1_000, 0);
    rail.tube.profile = Profile::RoundSlotted { slot_width: mm(16) };
    rail.pieces.clear();
    for (index, (length, bend)) in draw.straights.iter().enumerate() {
        rail.pieces.push(Piece::Straight(Straight {
            id: id(&format!("s{index}")),
            length: Measurement::taped(mm(*length)),
            slope: Degrees::ZERO,
            mark: None,
        }));
        if *bend && index + 1 < draw.straights.len() {
            rail.pieces.push(Piece::Bend(Bend {
                id: id(&format!("b{index}")),
                angle: Degrees::new(90.0),
                plane: Plane::Left,
                centreline_radius: mm(90),
                taped: None,
                bore: proved(),
                keep_clear: None,
            }));
        }
    }
    let on = |at: &i64| mm(*at) <= rail.length();
    let mut features: Vec<Feature> = Vec::new();
    for (index, at) in draw.joints.iter().filter(|at| on(at)).enumerate() {
        let kind = FeatureKind::Joint { kind: JointKind::Sleeved, width: mm(6) };
        features.push(feature(&format!("j{index}"), *at, kind));
    }
    if let Some(at) = draw.movement.filter(on) {
        features.push(feature("mj", at, FeatureKind::MovementJoint { range: mm(30), width: mm(60) }));
    }
    for (index, (at, kind)) in draw.posts.iter().filter(|post| on(&post.0)).enumerate() {
        let kind = match kind {
            0 => PostKind::SideBracket,
            1 => PostKind::WeldedBelow,
            2 => PostKind::Saddle,
            _ => PostKind::Through,
        };
        let kind = FeatureKind::Post { width: mm(40), kind, into_post: proved() };
        features.push(feature(&format!("p{index}"), *at, kind));
    }
    for (index, at) in draw.ways.iter().enumerate() {
        let at = (*at).min(rail.length().to_um() / 1000 - 20);
        features.push(way_in(&format!("w{index}"), at));
    }
    rail.features = features;
    rail
}

/// A site with one slotted rail, or two that share a place, and a rail of points beside them.
pub fn site(draw: &Draw) -> Survey {
    let mut survey = ramp_survey();
    let light = if draw.colour { Light::VariableColour } else { Light::FixedWhite { kelvin: 3000, cri: None } };
    let names: &[(&str, &str)] = if draw.second { &[("a", "A"), ("slot", "Slot")] } else { &[("a", "A")] };
    for (name, label) in names {
        let rail = slotted_rail(draw, name, label);
        for (index, feature) in rail.features.iter().filter(|feature| feature.kind.is_way_in()).enumerate() {
            let way = RouteEnd::WayIn { rail: id(name), feature: feature.id.clone() };
            let length = draw.routes[index % draw.routes.len()];
            survey.routes.push(route(&format!("r-{name}-{index}"), RouteEnd::DriverPlace(id("dp")), way, length));
        }
        survey.rails.push(rail);
        survey.brief.rails.push(RailBrief {
            lamps: LampKind::Modules,
            light: light.clone(),
            target: Target::LitLength,
            end_margin_least: mm(draw.margin),
            ..rail_brief(name)
        });
    }
    // A box that holds what every rail may ask for.
    survey.driver_places[0].width = mm(6_000);
    survey.driver_places[0].height = mm(2_000);
    survey
}
