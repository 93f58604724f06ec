//! An invented site with its plan, written by hand so that every paper has something of each kind to draw.
//!
//! The figures are made up and only need to look like a plan; they are not computed.

#![allow(dead_code, reason = "each test file uses its own part of the sample")]

use catalogue::{Catalogue, Labour, LoadModel};
use plan::document::*;
use survey::*;
use units::*;

pub struct Sample {
    pub survey: Survey,
    pub catalogue: Catalogue,
    pub plan: Plan,
    pub findings: Vec<Finding>,
}

impl Sample {
    pub fn input(&self) -> papers::PaperInput<'_> {
        papers::PaperInput {
            survey: &self.survey,
            catalogue: &self.catalogue,
            plan: &self.plan,
            findings: &self.findings,
            issued: "2030-03-04",
        }
    }
}

pub fn id(text: &str) -> Id {
    Id::new(text).expect("a valid id")
}

fn taped(mm: i64) -> Measurement {
    Measurement::taped(Length::mm(mm))
}

fn proved() -> Passage {
    Passage::Proved { how: Proof::DrawWire, widest: Length::mm(9) }
}

fn feature(name: &str, at: i64, kind: FeatureKind) -> Feature {
    Feature {
        id: id(name),
        label: String::new(),
        chainage: taped(at),
        kind,
        keep_clear: None,
        bore: proved(),
        note: String::new(),
    }
}

fn post(number: usize, at: i64) -> Feature {
    let kind = FeatureKind::Post { width: Length::mm(42), kind: PostKind::WeldedBelow, into_post: Passage::Unknown };
    feature(&format!("P{number}"), at, kind)
}

/// A straight or bent rail of this length with a post every 1.1 m and a way in near each third.
pub fn rail(name: &str, label: &str, mm: i64, bend_at: Option<i64>) -> Rail {
    let straight = |name: &str, mm: i64| {
        Piece::Straight(Straight { id: id(name), length: taped(mm), slope: Degrees::new(0.0), mark: None })
    };
    let pieces = match bend_at {
        None => vec![straight("s1", mm)],
        Some(at) => vec![
            straight("s1", at),
            Piece::Bend(Bend {
                id: id("b1"),
                angle: Degrees::new(90.0),
                plane: Plane::Left,
                centreline_radius: Length::mm(290),
                taped: Some(Taped { line: TapedLine::Centreline, length: taped(460) }),
                bore: proved(),
                keep_clear: Some(Length::mm(70)),
            }),
            straight("s2", mm - at - 460),
        ],
    };
    let mut features: Vec<Feature> = (0..)
        .map(|n| (n, 400 + 1100 * n as i64))
        .take_while(|(_, at)| *at < mm - 200)
        .map(|(n, at)| post(n + 1, at))
        .collect();
    features.push(feature("W1", mm / 3, FeatureKind::WayIn { opening: Length::mm(14), post: None }));
    features.push(feature("W2", mm * 2 / 3, FeatureKind::WayIn { opening: Length::mm(14), post: None }));
    features.push(feature("J1", mm / 2, FeatureKind::Joint { kind: JointKind::Sleeved, width: Length::mm(60) }));
    features.push(feature(
        "J2",
        mm / 2 + 300,
        FeatureKind::MovementJoint { range: Length::mm(20), width: Length::mm(80) },
    ));
    features.push(feature(
        "H1",
        120,
        FeatureKind::ExistingHole { diameter: Length::mm(8), angle: None, used_for: HoleUse::Other },
    ));
    features.push(feature("L1", mm - 100, FeatureKind::LowPoint));
    features.push(feature("X1", mm / 2 + 700, FeatureKind::Damage { width: Length::mm(120) }));
    Rail {
        id: id(name),
        label: label.to_owned(),
        datum: Datum { end: "foot of the ramp".to_owned(), mark: "centre punch under the tube".to_owned() },
        pieces,
        overall: None,
        tube: Tube {
            profile: Profile::Round,
            outside_diameter: Measurement::taped(Length::um(48_300)),
            wall: Some(Measurement::taped(Length::um(3_200))),
            material: Material::StainlessSteel,
            grade: Some("1.4401".to_owned()),
            finish: Some("ground".to_owned()),
        },
        height: None,
        walking_width: None,
        walked_side: WalkedSide::Left,
        start_end: EndState::Open,
        far_end: EndState::WeldedCap,
        features,
        sketch: None,
        ownership: None,
        bonding: Bonding::default(),
        guard: Answer::Yes,
        sealed: Answer::No,
        drains: Answer::Yes,
        exposure: None,
        note: String::new(),
    }
}

fn exposure() -> Exposure {
    Exposure {
        setting: Setting::OutdoorOpen,
        salt: Salt::default(),
        cleaning: String::new(),
        public_reach: PublicReach::PublicAlways,
        least_temperature: Celsius::new(-15.0),
        greatest_temperature: Celsius::new(40.0),
        in_sun: true,
        special: None,
    }
}

pub fn empty() -> Sample {
    Sample {
        survey: Survey {
            site: Site {
                id: id("site"),
                label: "Sandpiper Steps".to_owned(),
                address: "Nowhere Quay 3".to_owned(),
                invented: true,
                surveyed_on: Some("2030-02-11".to_owned()),
                surveyor: Some("R. Example".to_owned()),
                origin: None,
                exposure: exposure(),
                note: String::new(),
            },
            rails: Vec::new(),
            mains_points: Vec::new(),
            driver_places: Vec::new(),
            routes: Vec::new(),
            photos: Vec::new(),
            brief: Brief {
                rails: Vec::new(),
                zones: Vec::new(),
                reserve_percent: 20,
                drop_permille: 50,
                loop_per_hole: Length::mm(150),
                spare_percent: 5,
            },
        },
        catalogue: Catalogue {
            label: "Sample parts".to_owned(),
            invented: true,
            currency: "EUR".to_owned(),
            priced_on: "2030-01-01".to_owned(),
            luminaires: Vec::new(),
            drivers: Vec::new(),
            leads: Vec::new(),
            controls: Vec::new(),
            fixings: Vec::new(),
            labour: Labour {
                hour: Money::ten_thousandths(600_000),
                hole_minutes: 6,
                point_minutes: 5,
                module_minutes: 5,
                driver_minutes: 30,
                lead_minutes_per_10_m: 20,
                thread_minutes_per_10_m: 20,
                connection_minutes: 5,
            },
        },
        plan: Plan {
            plan_id: "0123456789abcdef0123456789abcdef".to_owned(),
            engine_version: "0.1.0",
            rails: Vec::new(),
            drivers: Vec::new(),
            circuits: Vec::new(),
            zones: Vec::new(),
            controls: Vec::new(),
            cables: Vec::new(),
            end_caps: Vec::new(),
            reels: Vec::new(),
            drilling: Vec::new(),
            parts: Vec::new(),
            tests: Vec::new(),
            findings: Vec::new(),
            objective: Objective::default(),
        },
        findings: Vec::new(),
    }
}

/// A stair rail, a ramp, a long bridge rail and one whose bore is not proved.
pub fn full() -> Sample {
    let mut sample = empty();
    for (name, label, mm, bend, ready) in [
        ("A", "Stair, lower flight", 4_200, None, true),
        ("B", "Ramp", 40_000, Some(9_800), true),
        ("C", "Bridge, north", 61_300, None, true),
        ("D", "Deck edge", 8_600, Some(3_000), false),
    ] {
        add_rail(&mut sample, name, label, mm, bend, ready);
    }
    sample.survey.driver_places.push(DriverPlace {
        id: id("DP1"),
        label: "Kiosk wall".to_owned(),
        width: Length::mm(300),
        height: Length::mm(400),
        depth: Length::mm(150),
        fixing: "brick".to_owned(),
        sun: Sun::Shade,
        ambient: Celsius::new(35.0),
        above_flood: None,
        exposure: None,
        reachable: Answer::Yes,
        lockable: Answer::Yes,
        position: None,
        note: String::new(),
    });
    sample.plan.objective =
        Objective { cost: Money::ten_thousandths(12_345_600), lower_bound: Money::ten_thousandths(12_000_000) };
    for number in 1..=3 {
        sample.plan.reels.push(Reel {
            part: "RUN-2X15".to_owned(),
            number,
            length: Length::mm(100_000),
            cuts: vec![("R1".to_owned(), Length::mm(42_150)), ("R2".to_owned(), Length::mm(31_400))],
            waste: Length::mm(26_450),
            lower_bound: 3,
        });
    }
    sample.plan.parts = vec![
        PartLine {
            part: "PT-12".to_owned(),
            description: "point luminaire, 12 V, 24 mm hole".to_owned(),
            quantity: Quantity::Pieces(361),
            spare: Quantity::Pieces(19),
            pack: 10,
            packs: 38,
        },
        PartLine {
            part: "RUN-2X15".to_owned(),
            description: "running core, unsheathed pair".to_owned(),
            quantity: Quantity::Length(Length::mm(220_650)),
            spare: Quantity::Length(Length::mm(11_000)),
            pack: 1,
            packs: 3,
        },
    ];
    sample.plan.controls.push(ControlPlan {
        zone: id("Z1"),
        device: "K1".to_owned(),
        part: "DUSK-1".to_owned(),
        kind: plan::ControlDevice::DuskSensor,
        place: "north wall of the kiosk".to_owned(),
        at_rail: None,
        serves: vec![],
        load: None,
        inrush: None,
        in_tube: vec![],
        sees: None,
        cable_ref: Some("K1".to_owned()),
        settings: vec![("dusk threshold".to_owned(), "40 lx".to_owned()), ("hold".to_owned(), "300 s".to_owned())],
    });
    sample.plan.tests = vec![
        TestLine {
            subject: "D1.1a".to_owned(),
            kind: "volts at the far end, full output, warm",
            expected: 11.53,
            tolerance: 0.12,
            unit: "V",
            is_floor: false,
        },
        TestLine {
            subject: "R1".to_owned(),
            kind: "insulation core to core, bare cable",
            expected: 1.0,
            tolerance: 0.0,
            unit: "MΩ",
            is_floor: true,
        },
    ];
    sample.findings = findings();
    sample
}

fn findings() -> Vec<Finding> {
    let finding = |rule, subject, verdict, measured, limit, unit, source, message: &str, advice: &str| Finding {
        rule,
        subject,
        verdict,
        measured,
        limit,
        unit,
        source,
        message: message.to_owned(),
        advice: advice.to_owned(),
    };
    vec![
        finding(
            "least-voltage",
            Subject::Circuit("D1.1a".to_owned()),
            Verdict::Pass,
            Some(Figure::Number(11.53)),
            Some(Figure::Number(11.4)),
            "V",
            "brief, drop allowed 5 %",
            "The worst lamp has enough volts.",
            "",
        ),
        finding(
            "bore-proved",
            Subject::Feature { rail: id("D"), feature: id("J1") },
            Verdict::NotEvaluated,
            Some(Figure::Words("unknown".to_owned())),
            None,
            "",
            "common practice, no source",
            "Nobody has proved that a cable passes this joint.",
            "Pass a draw-wire and write down the widest thing that passed.",
        ),
        finding(
            "consent",
            Subject::Rail(id("C")),
            Verdict::Stop,
            None,
            None,
            "",
            "common practice, no source",
            "The owner of the bridge parapet has not agreed in writing.",
            "Ask the owner and wait for the letter before any hole.",
        ),
        finding(
            "space-factor",
            Subject::Cable("R1".to_owned()),
            Verdict::Caution,
            Some(Figure::Number(0.4321)),
            Some(Figure::Number(0.4)),
            "",
            "common practice, no source",
            "The tube is rather full at the taps.",
            "Try the threading on an offcut first.",
        ),
    ]
}

fn add_rail(sample: &mut Sample, name: &str, label: &str, mm: i64, bend: Option<i64>, ready: bool) {
    let surveyed = rail(name, label, mm, bend);
    let free = |at: i64| bend.is_none_or(|bend| at < bend - 80 || at > bend + 460 + 80);
    let chainages: Vec<i64> =
        (0..).map(|n| 150 + 300 * n).take_while(|at| *at < mm - 100).filter(|at| free(*at)).collect();
    let lamps: Vec<LuminairePlan> = chainages
        .iter()
        .enumerate()
        .map(|(n, at)| LuminairePlan {
            id: format!("{name}-{}", n + 1),
            part: "PT-12".to_owned(),
            start: Length::mm(*at),
            end: Length::mm(*at),
            fixed: false,
        })
        .collect();
    let figures = PatternFigures {
        kind: PatternKind::EvenPattern,
        count: lamps.len() as u32,
        least_gap: Some(Length::um(282_500)),
        greatest_gap: Some(Length::mm(310)),
        mean_gap_mm: Some(299.4),
        worst_departure: Length::um(17_500),
        worst_at: Some(Length::mm(450)),
        squares_mm2: 1234.5,
    };
    sample.plan.rails.push(RailPlan {
        lit: None,
        id: id(name),
        label: label.to_owned(),
        length: surveyed.length(),
        luminaires: lamps.clone(),
        pattern: Some(figures.clone()),
        alternatives: vec![Alternative {
            figures: PatternFigures { kind: PatternKind::EvenSpacing, ..figures },
            chainages: chainages.iter().map(|at| Length::mm(*at)).collect(),
        }],
        not_ready: if ready { Vec::new() } else { vec!["the bore is not proved at joint J1 (4 300 mm)".to_owned()] },
        nominal: Some(Volts::new(12.0)),
        target: Some(Length::mm(300)),
        locks: vec![],
        locks_together: None,
        objective: Objective::default(),
    });
    for (n, at) in chainages.iter().enumerate() {
        sample.plan.drilling.push(Hole {
            rail: id(name),
            hole: format!("{name}-{}", n + 1),
            chainage: Length::mm(*at),
            straight: id(if bend.is_some_and(|bend| *at > bend) { "s2" } else { "s1" }),
            from_mark: Length::mm(bend.map_or(*at, |bend| if *at > bend { *at - bend - 460 } else { *at })),
            spacing: (n > 0).then(|| Length::mm(at - chainages[n - 1])),
            diameter: Length::mm(24),
            girth: Length::um(18_970),
            existing: false,
        });
    }
    for (way, half) in [("W1", 0), ("W2", 1)] {
        let number = sample.plan.drivers.len() + 1;
        let driver = format!("D{number}");
        let circuit = format!("{driver}.1a");
        let lamps: Vec<&LuminairePlan> = lamps.iter().skip(half * lamps.len() / 2).take(lamps.len() / 2).collect();
        sample.plan.circuits.push(circuit_of(&circuit, &driver, name, way, &lamps));
        sample.plan.cables.push(cable(&format!("E{number}"), CableKind::Extension, &circuit, "driver", way, 2_300));
        sample.plan.cables.push(cable(&format!("R{number}"), CableKind::Run, &circuit, way, "last lamp", mm / 2));
        sample.plan.drivers.push(DriverPlan {
            id: driver.clone(),
            part: "DR-60".to_owned(),
            place: (number != 3).then(|| id("DP1")),
            proposed: (number == 3).then(|| "at the way in, 1 m below the rail".to_owned()),
            mains_point: Some(id("M1")),
            rails: vec![id(name)],
            outputs: vec![OutputPlan {
                id: format!("{driver}.1"),
                circuits: vec![circuit],
                amps: Amps::new(3.2),
                limit: Amps::new(5.0),
            }],
            load: Watts::new(38.4),
            rated: Watts::new(60.0),
            usable: Watts::new(45.6),
            derating: 0.95,
            reserve_percent: 20,
        });
    }
    sample.survey.rails.push(surveyed);
}

fn circuit_of(name: &str, driver: &str, rail: &str, way: &str, lamps: &[&LuminairePlan]) -> Circuit {
    Circuit {
        id: name.to_owned(),
        driver: driver.to_owned(),
        output: format!("{driver}.1"),
        rail: id(rail),
        way_in: Some(id(way)),
        solved: true,
        reason: None,
        source: Source { plus: "plus".to_owned(), minus: "minus".to_owned(), volts: Volts::new(11.94) },
        nodes: vec![Node { id: "plus".to_owned(), volts: Some(Volts::new(11.94)), rail: None, chainage: None }],
        branches: Vec::new(),
        loads: lamps
            .iter()
            .enumerate()
            .map(|(n, lamp)| Load {
                luminaire: lamp.id.clone(),
                channel: None,
                from: "p".to_owned(),
                to: "m".to_owned(),
                model: LoadModel::Current(Amps::new(0.08)),
                volts: Some(Volts::new(11.9 - 0.005 * n as f64)),
                amps: Some(Amps::new(0.08)),
            })
            .collect(),
        nominal: Volts::new(12.0),
        least_load_volts: Some(Volts::new(11.53)),
        least_luminaire: lamps.last().map(|lamp| lamp.id.clone()),
        limit_by_drop: Volts::new(11.4),
        limit_by_luminaire: Volts::new(10.8),
        amps: Amps::new(3.2),
        amps_high: Amps::new(3.3),
        greatest_load_volts_high: Some(Volts::new(12.3)),
        conductor_temperature: Celsius::new(55.0),
        short: ShortCheck {
            prospective: Amps::new(14.2),
            lasting: Amps::new(5.5),
            least_capacity: Amps::new(16.0),
            cleared: true,
            reason: "the driver limits".to_owned(),
        },
    }
}

fn cable(reference: &str, kind: CableKind, circuit: &str, from: &str, to: &str, mm: i64) -> Cable {
    Cable {
        reference: reference.to_owned(),
        kind,
        part: Some("LEAD-2X15".to_owned()),
        circuit: Some(circuit.to_owned()),
        from: format!("{circuit}, {from}"),
        to: to.to_owned(),
        cores: 2,
        area: SquareMm::new(1.5),
        route: Length::mm(mm),
        allowance: Length::mm(700),
        cut: Length::mm(mm + 700),
        made_up: (kind == CableKind::Extension).then(|| Length::mm(3_000)),
        amps: Some(Amps::new(3.2)),
        drop: Some(Volts::new(0.09)),
        end_volts: Some(Volts::new(11.85)),
        connectors: "plug and socket, 2 poles".to_owned(),
        gland: "M16".to_owned(),
        routes: vec![id("route-1")],
        along: None,
    }
}

/// Texts that try to be markup, formulas, code, or longer than any column.
pub const HOSTILE: [&str; 10] = [
    "#image(\"x\")",
    "*bold* _it_ $x$",
    "=1+1",
    "<script>alert(1)</script>",
    "#panic()] #set page(width: 1mm) [",
    "a,b\"c\r\nd",
    "\u{1b}[2J\u{202E}abc\u{0}",
    "中文 العربية Łódź Ω",
    "\\ ` ~ @ref // /* ```",
    "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
];

/// Two short rails, one of them not ready: enough to draw one of everything quickly.
pub fn short() -> Sample {
    let mut sample = full();
    sample.survey.rails.clear();
    let plan = &mut sample.plan;
    plan.rails.clear();
    plan.drivers.clear();
    plan.circuits.clear();
    plan.cables.clear();
    plan.drilling.clear();
    add_rail(&mut sample, "A", "Stair, lower flight", 4_200, None, true);
    add_rail(&mut sample, "D", "Deck edge", 8_600, Some(3_000), false);
    sample
}

/// The short sample with hostile texts in every place where people's words go, each text in its turn.
pub fn hostile(texts: &[&str]) -> Sample {
    let mut sample = short();
    let mut turn = texts.iter().cycle();
    let mut next = || (*turn.next().expect("at least one text")).to_owned();
    sample.survey.site.label = next();
    sample.survey.site.address = next();
    sample.catalogue.label = next();
    for rail in &mut sample.survey.rails {
        rail.label = next();
        rail.datum.end = next();
        rail.tube.finish = Some(next());
        for feature in &mut rail.features {
            feature.label = next();
            feature.note = next();
        }
    }
    for rail in &mut sample.plan.rails {
        rail.label = next();
        rail.not_ready = rail.not_ready.iter().map(|_| next()).collect();
    }
    for cable in &mut sample.plan.cables {
        cable.from = next();
        cable.connectors = next();
    }
    for part in &mut sample.plan.parts {
        part.description = next();
        part.part = next();
    }
    for finding in &mut sample.findings {
        finding.message = next();
        finding.advice = next();
        finding.measured = Some(Figure::Words(next()));
    }
    sample.plan.drivers[0].part = next();
    let driver = next();
    for circuit in sample.plan.circuits.iter_mut().filter(|circuit| circuit.driver == "D1") {
        circuit.driver.clone_from(&driver);
    }
    sample.plan.drivers[0].id = driver;
    sample
}
