//! A small site and a small catalogue for tests of whole plans; invented, every part and price.
#![allow(dead_code, reason = "each test file uses its own share")]

use catalogue::*;
use survey::*;
use units::{Amps, Celsius, Degrees, Length, Money, Ohms, SquareMm, Volts, Watts};

pub fn id(text: &str) -> Id {
    Id::new(text).unwrap()
}

pub fn mm(millimetres: i64) -> Length {
    Length::mm(millimetres)
}

pub fn price(units: i64) -> Money {
    Money::ten_thousandths(units * 10_000)
}

pub fn proved() -> Passage {
    Passage::Proved { how: Proof::DrawWire, widest: mm(14) }
}

pub fn exposure() -> Exposure {
    Exposure {
        setting: Setting::OutdoorOpen,
        salt: Salt::default(),
        cleaning: String::new(),
        public_reach: PublicReach::PublicAlways,
        least_temperature: Celsius::new(-10.0),
        greatest_temperature: Celsius::new(30.0),
        in_sun: true,
        special: None,
    }
}

pub fn feature(name: &str, chainage: i64, kind: FeatureKind) -> Feature {
    Feature {
        id: id(name),
        label: String::new(),
        chainage: Measurement::taped(mm(chainage)),
        kind,
        keep_clear: None,
        bore: proved(),
        note: String::new(),
    }
}

pub fn post(name: &str, chainage: i64) -> Feature {
    let kind = FeatureKind::Post { width: mm(40), kind: PostKind::WeldedBelow, into_post: proved() };
    feature(name, chainage, kind)
}

pub fn way_in(name: &str, chainage: i64) -> Feature {
    feature(name, chainage, FeatureKind::WayIn { opening: mm(16), post: None })
}

/// A straight rail of 48.3 × 3 mm with posts every `spacing` millimetres, the first half a spacing from its start.
pub fn straight_rail(name: &str, label: &str, length: i64, spacing: i64) -> Rail {
    let count = if spacing > 0 { length / spacing } else { 0 };
    Rail {
        id: id(name),
        label: label.to_owned(),
        datum: Datum { end: "lower end".into(), mark: "punch mark".into() },
        pieces: vec![Piece::Straight(Straight {
            id: id("s1"),
            length: Measurement::taped(mm(length)),
            slope: Degrees::ZERO,
            mark: None,
        })],
        overall: None,
        tube: Tube {
            profile: Profile::Round,
            outside_diameter: Measurement::taped(Length::um(48_300)),
            wall: Some(Measurement::taped(mm(3))),
            material: Material::StainlessSteel,
            grade: None,
            finish: None,
        },
        height: None,
        walking_width: None,
        walked_side: WalkedSide::Left,
        start_end: EndState::WeldedCap,
        far_end: EndState::WeldedCap,
        features: (0..count).map(|k| post(&format!("p{}", k + 1), spacing / 2 + k * spacing)).collect(),
        sketch: None,
        ownership: None,
        bonding: Bonding::default(),
        guard: Answer::No,
        sealed: Answer::No,
        drains: Answer::Yes,
        exposure: None,
        note: String::new(),
    }
}

pub fn rail_brief(rail: &str) -> RailBrief {
    RailBrief {
        rail: id(rail),
        lamps: LampKind::Points,
        light: Light::FixedWhite { kelvin: 3000, cri: None },
        part: None,
        target: Target::Spacing(mm(300)),
        end_margin_least: mm(50),
        end_margin_greatest: mm(300),
        posts_clear_of_holes: false,
        aim: Aim { angle: Degrees::new(30.0) },
        match_rail: None,
        concerns: String::new(),
        zone: None,
        feed: FeedWish::Cheapest,
        locks: Locks::default(),
    }
}

pub fn mains_point(name: &str) -> MainsPoint {
    MainsPoint {
        id: id(name),
        label: format!("point {name}"),
        kind: MainsKind::FusedConnectionUnit,
        device: None,
        rcd: Answer::Yes,
        existing_load: None,
        place: InsideOrOut::Inside,
        exposure: None,
        position: None,
        photo: None,
        note: String::new(),
    }
}

pub fn driver_place(name: &str) -> DriverPlace {
    DriverPlace {
        id: id(name),
        label: format!("box {name}"),
        width: mm(600),
        height: mm(400),
        depth: mm(200),
        fixing: "wall".into(),
        sun: Sun::Shade,
        ambient: Celsius::new(35.0),
        above_flood: None,
        exposure: None,
        reachable: Answer::Yes,
        lockable: Answer::Yes,
        position: None,
        note: String::new(),
    }
}

pub fn route(name: &str, from: RouteEnd, to: RouteEnd, length: i64) -> Route {
    Route {
        id: id(name),
        label: String::new(),
        from,
        to,
        length: Measurement::taped(mm(length)),
        kind: RouteKind::Duct,
        clear: None,
        passage: proved(),
        corners: vec![],
        obstacles: vec![],
        note: String::new(),
    }
}

pub fn to_way_in(rail: &str, feature: &str) -> RouteEnd {
    RouteEnd::WayIn { rail: id(rail), feature: id(feature) }
}

pub fn empty_survey() -> Survey {
    Survey {
        site: Site {
            id: id("site"),
            label: "Test site".into(),
            address: String::new(),
            invented: true,
            surveyed_on: None,
            surveyor: None,
            origin: None,
            exposure: exposure(),
            note: String::new(),
        },
        rails: vec![],
        mains_points: vec![],
        driver_places: vec![],
        routes: vec![],
        photos: vec![],
        brief: Brief {
            rails: vec![],
            zones: vec![],
            reserve_percent: 20,
            drop_permille: 50,
            loop_per_hole: mm(100),
            spare_percent: 3,
        },
    }
}

/// A ramp of 40 m with posts every 1.1 m, a way in near each end and one in the middle, one mains point and one driver
/// place with routes to the way in in the middle and at the start.
pub fn ramp_survey() -> Survey {
    let mut rail = straight_rail("ramp", "Ramp", 40_000, 1_100);
    rail.features.push(way_in("in-start", 1_000));
    rail.features.push(way_in("in-middle", 20_300));
    let place = || RouteEnd::DriverPlace(id("dp"));
    Survey {
        rails: vec![rail],
        mains_points: vec![mains_point("mp")],
        driver_places: vec![driver_place("dp")],
        routes: vec![
            route("r-mains", RouteEnd::MainsPoint(id("mp")), place(), 6_000),
            route("r-middle", place(), to_way_in("ramp", "in-middle"), 4_000),
            route("r-start", place(), to_way_in("ramp", "in-start"), 9_000),
        ],
        brief: Brief { rails: vec![rail_brief("ramp")], ..empty_survey().brief },
        ..empty_survey()
    }
}

fn item(part: &str, units: i64) -> Item {
    Item {
        part: part.into(),
        description: format!("invented {part}"),
        price: price(units),
        pack: 1,
        supplier_ref: String::new(),
    }
}

pub fn ingress(first: u8, second: &[u8]) -> Ingress {
    Ingress { first: Some(first), second: second.to_vec() }
}

/// A white point of 12 V in a 24 mm hole, held by two rivets of 2 mm.
pub fn point(part: &str, load: LoadModel) -> Luminaire {
    Luminaire {
        item: item(part, 20),
        kind: LuminaireKind::Point(PointLuminaire {
            hole: mm(24),
            hole_tolerance: Length::um(200),
            wall_least: mm(1),
            wall_greatest: mm(5),
            depth: mm(25),
            tube_least: mm(40),
            retention: Retention::Rivets { count: 2, diameter: mm(2) },
            tail: mm(200),
            tail_hundredths_mm2: 50,
        }),
        nominal: Volts::new(12.0),
        least: Volts::new(10.8),
        greatest: Volts::new(13.5),
        load,
        colour: ColourKind::White { kelvin: 3000, cri: 80 },
        flux_tenths_lm: 300,
        ingress: ingress(6, &[6, 7]),
        impact: Some(8),
        greatest_ambient: Celsius::new(50.0),
        cores: 2,
    }
}

fn driver(part: &str, units: i64, watts: f64, outputs: u8) -> Driver {
    Driver {
        item: item(part, units),
        output: Volts::new(12.0),
        tolerance_permille: 10,
        rated: Watts::new(watts),
        outputs,
        output_limit: Amps::new(watts / 12.0 / f64::from(outputs) * 1.2),
        derating: Derating { full_to: Celsius::new(50.0), to: Celsius::new(70.0), to_percent: 60 },
        least_load_percent: 0,
        input: Amps::new(0.4),
        power_factor_percent: 95,
        efficiency_percent: 88,
        inrush: Amps::new(30.0),
        inrush_us: 200,
        overload: Overload::Hiccup,
        short_circuit: ShortCircuit::Limited(Amps::new(6.0)),
        selv: true,
        ingress: ingress(6, &[5, 7]),
        width: mm(200),
        height: mm(60),
        depth: mm(40),
    }
}

fn cable(part: &str, use_: LeadUse, kind: LeadKind, cores: u8, area: f64, ten_thousandths: i64) -> Lead {
    Lead {
        item: Item { price: Money::ten_thousandths(ten_thousandths), ..item(part, 0) },
        uses: vec![use_],
        supply: Supply::Reel { length: mm(100_000) },
        kind,
        cores,
        area: SquareMm::new(area),
        class: ConductorClass::Flexible,
        coating: Coating::Plain,
        outside_diameter: if kind == LeadKind::Sheathed { mm(9) } else { mm(3) },
        greatest_temperature: Celsius::new(90.0),
        carries: Amps::new(9.0),
        connector: None,
        outdoor: true,
    }
}

fn fixing(part: &str, tenths: i64, kind: FixingKind) -> Fixing {
    Fixing { item: Item { price: Money::ten_thousandths(tenths * 1000), ..item(part, 0) }, kind }
}

pub fn catalogue() -> Catalogue {
    let made_up = Lead {
        supply: Supply::MadeUp(vec![(mm(1_000), price(6)), (mm(5_000), price(12)), (mm(10_000), price(20))]),
        connector: Some(Connector { poles: 2, limit: Amps::new(8.0), milliohms: 5 }),
        ..cable("EL-15", LeadUse::Extension, LeadKind::Sheathed, 2, 1.5, 0)
    };
    Catalogue {
        label: "Mini catalogue".into(),
        invented: true,
        currency: "EUR".into(),
        priced_on: "2026-09-01".into(),
        luminaires: vec![point("PT-A", LoadModel::Current(Amps::new(0.03)))],
        drivers: vec![driver("DR-30", 45, 30.0, 1), driver("DR-60", 70, 60.0, 2), driver("DR-100", 110, 100.0, 2)],
        leads: vec![
            made_up,
            cable("CB-25", LeadUse::Extension, LeadKind::Sheathed, 2, 2.5, 27_000),
            cable("RC-075", LeadUse::Run, LeadKind::SingleCores, 2, 0.75, 6_000),
            cable("RC-15", LeadUse::Run, LeadKind::SingleCores, 2, 1.5, 11_000),
            cable("RC-25", LeadUse::Run, LeadKind::SingleCores, 2, 2.5, 17_000),
            cable("MF-3", LeadUse::Mains, LeadKind::Sheathed, 3, 1.5, 24_000),
        ],
        controls: vec![],
        fixings: vec![
            fixing("TAP", 6, FixingKind::Tap { milliohms: 4, section_tenths_mm2: 300, tenths_amp: 40 }),
            fixing("SEAL", 4, FixingKind::EndSeal),
            fixing("RIVET-2", 1, FixingKind::Rivet { diameter: mm(2) }),
            fixing("GLAND-12", 20, FixingKind::Gland { greatest_cable: mm(12) }),
            fixing("BOX", 300, FixingKind::Enclosure),
        ],
        labour: Labour {
            hour: price(60),
            hole_minutes: 6,
            point_minutes: 8,
            module_minutes: 15,
            driver_minutes: 60,
            lead_minutes_per_10_m: 25,
            thread_minutes_per_10_m: 20,
            connection_minutes: 7,
        },
    }
}

/// A catalogue with one constant-resistance value as well, for tests of other loads.
pub fn with_load(load: LoadModel) -> Catalogue {
    Catalogue { luminaires: vec![point("PT-A", load)], ..catalogue() }
}

pub const SOME_OHMS: LoadModel = LoadModel::Resistance(Ohms::new(300.0));
