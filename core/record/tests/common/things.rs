//! Surveys thrown with dice: every kind of thing, every variant, awkward texts and numbers.

use survey::*;
use units::{Amps, Celsius, Degrees, Length, Volts};

use super::dice::Dice;

pub fn id(text: &str) -> Id {
    Id::new(text).expect("a short printable text")
}

pub fn text(d: &mut Dice) -> String {
    d.pick(&[
        "",
        "plain",
        "null",
        "\"quoted\"",
        "{\"kind\":\"post\"}",
        "12",
        "Grüße, 漢字 \u{202e}rtl",
        "two\nlines",
        "true",
    ])
    .to_owned()
}

pub fn length(d: &mut Dice) -> Length {
    match d.below(4) {
        0 => Length::mm(d.below(20_000) as i64),
        1 => Length::um(d.below(20_000_000) as i64),
        2 => d.pick(&[Length::ZERO, Length::GREATEST, Length::um(1), Length::um(-2_500)]),
        _ => Length::mm(d.below(100) as i64),
    }
}

fn number(d: &mut Dice) -> f64 {
    // Texts of floats read back exactly, whatever their digits.
    match d.below(4) {
        0 => d.below(360) as f64,
        1 => d.pick(&[0.1 + 0.2, 1e-300, -89.999_999_999_999_99, f64::MAX, 5e-324]),
        2 => -(d.below(90) as f64) / 7.0,
        _ => (d.next() as f64) / 3e17,
    }
}

fn degrees(d: &mut Dice) -> Degrees {
    Degrees::new(number(d))
}

fn instrument(d: &mut Dice) -> Instrument {
    match d.below(8) {
        0 => Instrument::Tape(d.pick(&[TapeClass::I, TapeClass::II, TapeClass::III])),
        1 => Instrument::Laser,
        2 => Instrument::Calliper,
        3 => Instrument::ThicknessGauge,
        4 => Instrument::Wheel,
        5 => Instrument::Drawing,
        6 => Instrument::Estimate,
        _ => Instrument::Other(text(d)),
    }
}

pub fn measurement(d: &mut Dice) -> Measurement {
    Measurement { value: length(d), instrument: instrument(d), stated_tolerance: d.maybe(length) }
}

pub fn answer(d: &mut Dice) -> Answer {
    d.pick(&[Answer::Yes, Answer::No, Answer::Unknown])
}

pub fn passage(d: &mut Dice) -> Passage {
    let how = d.pick(&[Proof::DrawWire, Proof::Camera, Proof::Seen]);
    match d.below(4) {
        0 => Passage::Unknown,
        1 => Passage::Assumed,
        2 => Passage::Proved { how, widest: length(d) },
        _ => Passage::Blocked { how },
    }
}

pub fn feature_kind(d: &mut Dice) -> FeatureKind {
    let width = length(d);
    match d.below(8) {
        0 => FeatureKind::Post {
            width,
            kind: match d.below(5) {
                0 => PostKind::WeldedBelow,
                1 => PostKind::Saddle,
                2 => PostKind::SideBracket,
                3 => PostKind::Through,
                _ => PostKind::Other(text(d)),
            },
            into_post: passage(d),
        },
        1 => FeatureKind::Joint {
            kind: d.pick(&[JointKind::Welded, JointKind::Sleeved, JointKind::Bolted, JointKind::Flush]),
            width,
        },
        2 => FeatureKind::MovementJoint { range: length(d), width },
        3 => FeatureKind::InfillClamp { width },
        4 => FeatureKind::ExistingHole {
            diameter: width,
            angle: d.maybe(degrees),
            used_for: d.pick(&[HoleUse::Luminaire, HoleUse::Other]),
        },
        5 => FeatureKind::LowPoint,
        6 => FeatureKind::Damage { width },
        _ => FeatureKind::WayIn { opening: width, post: d.maybe(|_| id("P1")) },
    }
}

pub fn feature(d: &mut Dice, own: &str) -> Feature {
    Feature {
        id: id(own),
        label: text(d),
        chainage: measurement(d),
        kind: feature_kind(d),
        keep_clear: d.maybe(length),
        bore: passage(d),
        note: text(d),
    }
}

pub fn piece(d: &mut Dice, own: &str) -> Piece {
    if d.one_in(2) {
        return Piece::Straight(Straight {
            id: id(own),
            length: measurement(d),
            slope: degrees(d),
            mark: d.maybe(text),
        });
    }
    Piece::Bend(Bend {
        id: id(own),
        angle: degrees(d),
        plane: d.pick(&[Plane::Left, Plane::Right, Plane::Up, Plane::Down]),
        centreline_radius: length(d),
        taped: d.maybe(|d| Taped {
            line: d.pick(&[TapedLine::Centreline, TapedLine::Top, TapedLine::Outside]),
            length: measurement(d),
        }),
        bore: passage(d),
        keep_clear: d.maybe(length),
    })
}

fn point(d: &mut Dice) -> SitePoint {
    SitePoint { x: length(d), y: length(d), z: length(d), measured: d.one_in(2) }
}

pub fn exposure(d: &mut Dice) -> Exposure {
    Exposure {
        setting: d.pick(&[
            Setting::IndoorDry,
            Setting::IndoorDamp,
            Setting::OutdoorSheltered,
            Setting::OutdoorOpen,
            Setting::OutdoorHosed,
            Setting::MaySubmerge,
        ]),
        salt: Salt { salt_water: d.maybe(length), deicing: d.maybe(length) },
        cleaning: text(d),
        public_reach: d.pick(&[PublicReach::Staff, PublicReach::PublicWatched, PublicReach::PublicAlways]),
        least_temperature: Celsius::new(number(d)),
        greatest_temperature: Celsius::new(number(d)),
        in_sun: d.one_in(2),
        special: d.maybe(|d| d.pick(&[SpecialLocation::Pool, SpecialLocation::Basin, SpecialLocation::Bathroom])),
    }
}

pub fn ownership(d: &mut Dice) -> Ownership {
    Ownership {
        owner: text(d),
        bridge_or_highway: d.one_in(2),
        consent: match d.below(4) {
            0 => Consent::InWriting(text(d)),
            1 => Consent::Spoken,
            2 => Consent::NotAsked,
            _ => Consent::Refused,
        },
    }
}

pub fn rail(d: &mut Dice, own: &str) -> Rail {
    let end = |d: &mut Dice| {
        d.pick(&[
            EndState::Open,
            EndState::RemovableCap,
            EndState::WeldedCap,
            EndState::ReturnsToWall,
            EndState::Continues,
        ])
    };
    Rail {
        id: id(own),
        label: text(d),
        datum: Datum { end: text(d), mark: text(d) },
        pieces: d.list(4, |d, n| piece(d, &format!("s{n}"))),
        overall: d.maybe(measurement),
        tube: Tube {
            profile: match d.below(4) {
                0 => Profile::Round,
                1 => Profile::RoundSlotted { slot_width: length(d) },
                2 => Profile::Flat { thickness: length(d) },
                _ => Profile::Other(text(d)),
            },
            outside_diameter: measurement(d),
            wall: d.maybe(measurement),
            material: match d.below(6) {
                0 => Material::StainlessSteel,
                1 => Material::CarbonSteel,
                2 => Material::GalvanisedSteel,
                3 => Material::Aluminium,
                4 => Material::Brass,
                _ => Material::Other(text(d)),
            },
            grade: d.maybe(text),
            finish: d.maybe(text),
        },
        height: d.maybe(measurement),
        walking_width: d.maybe(measurement),
        walked_side: d.pick(&[WalkedSide::Left, WalkedSide::Right, WalkedSide::Both]),
        start_end: end(d),
        far_end: end(d),
        features: d.list(6, |d, n| feature(d, &format!("P{n}"))),
        sketch: d.maybe(|d| Sketch { start: point(d), bearing: degrees(d) }),
        ownership: d.maybe(ownership),
        bonding: Bonding { bonded: answer(d), lightning: answer(d), near_traction: answer(d) },
        guard: answer(d),
        sealed: answer(d),
        drains: answer(d),
        exposure: d.maybe(exposure),
        note: text(d),
    }
}

pub fn mains_point(d: &mut Dice, own: &str) -> MainsPoint {
    MainsPoint {
        id: id(own),
        label: text(d),
        kind: d.pick(&[
            MainsKind::FusedConnectionUnit,
            MainsKind::SocketOutlet,
            MainsKind::Isolator,
            MainsKind::BoardWay,
        ]),
        device: d.maybe(|d| Device {
            kind: d.pick(&[DeviceKind::Fuse, DeviceKind::CurveB, DeviceKind::CurveC, DeviceKind::CurveD]),
            rating: Amps::new(number(d)),
        }),
        rcd: answer(d),
        existing_load: d.maybe(|d| Amps::new(number(d))),
        place: d.pick(&[InsideOrOut::Inside, InsideOrOut::Outside]),
        exposure: d.maybe(exposure),
        position: d.maybe(point),
        photo: d.maybe(|_| id("photo-1")),
        note: text(d),
    }
}

pub fn driver_place(d: &mut Dice, own: &str) -> DriverPlace {
    DriverPlace {
        id: id(own),
        label: text(d),
        width: length(d),
        height: length(d),
        depth: length(d),
        fixing: text(d),
        sun: d.pick(&[Sun::Shade, Sun::Part, Sun::Full]),
        ambient: Celsius::new(number(d)),
        above_flood: d.maybe(length),
        exposure: d.maybe(exposure),
        reachable: answer(d),
        lockable: answer(d),
        position: d.maybe(point),
        note: text(d),
    }
}

pub fn route(d: &mut Dice, own: &str) -> Route {
    let end = |d: &mut Dice| match d.below(3) {
        0 => RouteEnd::MainsPoint(id("M0")),
        1 => RouteEnd::DriverPlace(id("D0")),
        _ => RouteEnd::WayIn { rail: id("R0"), feature: id("P0") },
    };
    Route {
        id: id(own),
        label: text(d),
        from: end(d),
        to: end(d),
        length: measurement(d),
        kind: d.pick(&[RouteKind::Surface, RouteKind::Duct, RouteKind::InsidePost, RouteKind::UnderDeck]),
        clear: d.maybe(length),
        passage: passage(d),
        corners: d.list(3, |d, _| point(d)),
        obstacles: d.list(3, |d, _| text(d)),
        note: text(d),
    }
}

pub fn photo(d: &mut Dice, own: &str) -> Photo {
    let at = |d: &mut Dice| (d.below(1001) as u16, d.below(1001) as u16);
    Photo {
        id: id(own),
        file: text(d),
        content: d.maybe(|d| format!("{:064x}", d.next())),
        shows: match d.below(5) {
            0 => Shows::Rail { rail: id("R0"), chainage: d.maybe(length) },
            1 => Shows::MainsPoint(id("M0")),
            2 => Shows::Route(id("T0")),
            3 => Shows::Defect(text(d)),
            _ => Shows::General,
        },
        taken: d.maybe(text),
        position: d.maybe(|d| PhotoPosition {
            latitude: degrees(d),
            longitude: degrees(d),
            altitude: d.maybe(length),
            accuracy: d.maybe(length),
        }),
        heading: d.maybe(degrees),
        camera: d.maybe(text),
        note: text(d),
        marks: d.list(4, |d, n| match n {
            0 => Mark::Arrow { from: at(d), to: at(d) },
            1 => Mark::Dimension { from: at(d), to: at(d), length: length(d) },
            2 => Mark::Frame { from: at(d), to: at(d) },
            _ => Mark::Words { at: at(d), text: text(d) },
        }),
    }
}

pub fn locks(d: &mut Dice) -> Locks {
    Locks {
        holes: d.list(4, |d, _| length(d)),
        drivers: d.list(2, |d, _| DriverLock { place: id("D0"), part: d.maybe(text) }),
    }
}

pub fn wish(d: &mut Dice, rail: &str) -> RailBrief {
    RailBrief {
        rail: id(rail),
        lamps: d.pick(&[LampKind::Points, LampKind::Modules, LampKind::ModulesElsePoints]),
        light: match d.below(3) {
            0 => Light::FixedWhite { kelvin: d.below(9000) as u16, cri: d.maybe(|d| d.below(100) as u8) },
            1 => Light::FixedColour(text(d)),
            _ => Light::VariableColour,
        },
        part: d.maybe(text),
        target: match d.below(3) {
            0 => Target::Spacing(length(d)),
            1 => Target::Illuminance { tenths_lux: d.below(1000) as u32 },
            _ => Target::LitLength,
        },
        end_margin_least: length(d),
        end_margin_greatest: length(d),
        posts_clear_of_holes: d.one_in(2),
        aim: Aim { angle: degrees(d) },
        match_rail: d.maybe(|_| id("R1")),
        concerns: text(d),
        zone: d.maybe(|_| id("Z0")),
        feed: d.pick(&[FeedWish::Cheapest, FeedWish::Ends, FeedWish::Middle]),
        locks: locks(d),
    }
}

pub fn zone(d: &mut Dice, own: &str) -> Zone {
    Zone {
        id: id(own),
        label: text(d),
        control: ZoneControl {
            kind: d.pick(&[
                Control::AlwaysOn,
                Control::Dusk,
                Control::PresenceAfterDusk,
                Control::WallStation,
                Control::Dimmed,
            ]),
            hold_seconds: d.maybe(|d| d.below(1000) as u32),
            dusk_lux: d.maybe(|d| d.below(1000) as u32),
            supply: d.maybe(|d| Volts::new(number(d))),
            sensor_height: d.maybe(length),
            station: d.maybe(|_| id("D0")),
        },
        stairs: answer(d),
    }
}

/// A whole survey.
pub fn survey(d: &mut Dice) -> Survey {
    Survey {
        site: Site {
            id: id("invented-site"),
            label: text(d),
            address: text(d),
            invented: true,
            surveyed_on: d.maybe(text),
            surveyor: d.maybe(text),
            origin: d.maybe(|d| Origin {
                latitude: degrees(d),
                longitude: degrees(d),
                accuracy: d.maybe(length),
                bearing: degrees(d),
                level: d.maybe(length),
            }),
            exposure: exposure(d),
            note: text(d),
        },
        rails: d.list(4, |d, n| rail(d, &format!("R{n}"))),
        mains_points: d.list(3, |d, n| mains_point(d, &format!("M{n}"))),
        driver_places: d.list(3, |d, n| driver_place(d, &format!("D{n}"))),
        routes: d.list(3, |d, n| route(d, &format!("T{n}"))),
        photos: d.list(3, |d, n| photo(d, &format!("photo-{n}"))),
        brief: Brief {
            rails: d.list(4, |d, n| wish(d, &format!("R{n}"))),
            zones: d.list(2, |d, n| zone(d, &format!("Z{n}"))),
            reserve_percent: d.below(90) as u8,
            drop_permille: d.below(1000) as u16,
            loop_per_hole: length(d),
            spare_percent: d.below(100) as u8,
        },
    }
}
