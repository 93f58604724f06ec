//! Whole small sites at random: rails of points and of modules, zones with controls, places that rails share. Invented.

pub mod expand;

use catalogue::{Catalogue, LuminaireKind};
use survey::*;
use units::{Length, Money};

use crate::controls_support;
use crate::feeds_support::Dice;
use crate::module_sites::{Draw, module_catalogue, slotted_rail};
use crate::whole_support::*;

/// A site with its catalogue; the same seed gives the same.
pub fn site(seed: u64) -> (Survey, Catalogue) {
    let mut dice = Dice::new(seed);
    let dice = &mut dice;
    let mut survey = empty_survey();
    let zones = dice.between(0, 2);
    survey.brief.zones = (0..zones).map(|index| zone(dice, &format!("z{index}"))).collect();
    survey.mains_points = (0..dice.between(1, 2)).map(|index| mains_point(&format!("m{index}"))).collect();
    let places = dice.between(1, 3);
    for index in 0..places {
        let name = format!("p{index}");
        let mut place = driver_place(&name);
        // From room for a driver or two to room for any number.
        place.width = mm(dice.pick(&[500, 900, 4_000]));
        survey.driver_places.push(place);
        for (number, point) in survey.mains_points.iter().enumerate() {
            let (from, to) = (RouteEnd::MainsPoint(point.id.clone()), RouteEnd::DriverPlace(id(&name)));
            survey.routes.push(route(&format!("rm{index}{number}"), from, to, dice.between(500, 9_000)));
        }
    }
    for index in 0..dice.between(1, 3) {
        let name = format!("r{index}");
        let slotted = dice.chance(45);
        let rail = if slotted {
            slotted_rail(&draw(dice), &name, &format!("Rail {index}"))
        } else {
            points(dice, &name, index)
        };
        routes(dice, &mut survey, &rail, places);
        let zone = (zones > 0 && dice.chance(70)).then(|| id(&format!("z{}", dice.between(0, zones - 1))));
        let plain = RailBrief { zone, ..rail_brief(&name) };
        survey.brief.rails.push(if slotted {
            let light = if dice.chance(35) { Light::VariableColour } else { plain.light.clone() };
            RailBrief {
                lamps: LampKind::Modules,
                light,
                target: Target::LitLength,
                end_margin_least: mm(dice.between(0, 80)),
                ..plain
            }
        } else {
            RailBrief { target: Target::Spacing(mm(dice.between(250, 600))), ..plain }
        });
        survey.rails.push(rail);
    }
    (survey, parts(dice))
}

/// Every part of the other supports together, with prices that no two sums of have in common.
fn parts(dice: &mut Dice) -> Catalogue {
    let mut parts = module_catalogue(dice.between(0, 2) as u8);
    let controls = controls_support::parts();
    parts.controls.extend(controls.controls);
    parts.leads.extend(controls.leads.into_iter().filter(|lead| lead.item.part == "CC-3"));
    parts.fixings.extend(controls.fixings.into_iter().filter(|fixing| fixing.item.part == "PLUG-3"));
    let odd = |money: &mut Money, dice: &mut Dice| *money += Money::ten_thousandths(dice.between(1, 4_999));
    for driver in &mut parts.drivers {
        odd(&mut driver.item.price, dice);
    }
    for lead in &mut parts.leads {
        match &mut lead.supply {
            catalogue::Supply::MadeUp(lengths) => lengths.iter_mut().for_each(|length| odd(&mut length.1, dice)),
            catalogue::Supply::Reel { .. } => odd(&mut lead.item.price, dice),
        }
    }
    for control in &mut parts.controls {
        odd(&mut control.item.price, dice);
    }
    for luminaire in &mut parts.luminaires {
        if let LuminaireKind::Linear(module) = &mut luminaire.kind {
            module.longest_chain = mm(dice.pick(&[2_500, 6_000]));
        }
    }
    parts
}

fn zone(dice: &mut Dice, name: &str) -> Zone {
    let kinds = [Control::AlwaysOn, Control::Dusk, Control::PresenceAfterDusk, Control::WallStation, Control::Dimmed];
    let mut zone = controls_support::stair(dice.pick(&kinds)).brief.zones.remove(0);
    zone.id = id(name);
    zone.label = format!("Zone {name}");
    zone.stairs = dice.pick(&[Answer::Yes, Answer::No, Answer::Unknown]);
    zone
}

/// A straight rail of points with posts, ways in and sometimes a joint.
fn points(dice: &mut Dice, name: &str, index: i64) -> Rail {
    let length = dice.between(2_000, 11_000);
    let mut rail = straight_rail(name, &format!("Rail {index}"), length, dice.between(900, 2_100));
    rail.height = Some(Measurement::taped(mm(1_000)));
    for way in 0..dice.between(1, 3) {
        rail.features.push(way_in(&format!("w{way}"), dice.between(100, length - 100)));
    }
    rail
}

fn draw(dice: &mut Dice) -> Draw {
    Draw {
        straights: (0..dice.between(1, 3)).map(|_| (dice.between(900, 4_000), dice.chance(50))).collect(),
        joints: (0..dice.between(0, 2)).map(|_| dice.between(200, 6_000)).collect(),
        movement: dice.chance(30).then(|| dice.between(500, 5_000)),
        posts: (0..dice.between(0, 3)).map(|_| (dice.between(100, 6_000), dice.between(0, 3) as u8)).collect(),
        ways: (0..dice.between(1, 3)).map(|_| dice.between(20, 6_000)).collect(),
        colour: false,
        model: 0,
        routes: vec![],
        second: false,
        margin: 0,
    }
}

/// Each way in of a rail is reached from one place or several, so that rails share places.
fn routes(dice: &mut Dice, survey: &mut Survey, rail: &Rail, places: i64) {
    for feature in rail.features.iter().filter(|feature| feature.kind.is_way_in()) {
        let first = dice.between(0, places - 1);
        for place in (0..places).filter(|place| *place == first || dice.chance(40)).collect::<Vec<_>>() {
            let name = format!("r-{}-{}-{place}", rail.id, feature.id);
            let from = RouteEnd::DriverPlace(id(&format!("p{place}")));
            let to = RouteEnd::WayIn { rail: rail.id.clone(), feature: feature.id.clone() };
            survey.routes.push(route(&name, from, to, dice.between(300, 7_000)));
        }
    }
}

/// How ids are changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Renaming {
    /// They sort as before.
    KeepsOrder,
    /// They sort the other way round.
    TurnsOrder,
}

/// The site with other ids and labels throughout; parts keep theirs.
pub fn renamed(survey: &Survey, how: Renaming) -> Survey {
    let mut other = survey.clone();
    let new = |old: &Id| match how {
        Renaming::KeepsOrder => id(&format!("new-{old}")),
        // Every letter and figure is mirrored, which turns the order of words of one length; a letter in front of
        // those of another length does no harm.
        Renaming::TurnsOrder => {
            let turned = old.as_str().chars().map(|c| match c {
                'a'..='z' => char::from(b'a' + (b'z' - c as u8)),
                '0'..='9' => char::from(b'0' + (b'9' - c as u8)),
                other => other,
            });
            id(&turned.collect::<String>())
        }
    };
    let set = |old: &mut Id| *old = new(old);
    for rail in &mut other.rails {
        set(&mut rail.id);
        rail.label = format!("another {}", rail.label);
        for feature in &mut rail.features {
            set(&mut feature.id);
            feature.label = format!("another {}", feature.id);
            if let FeatureKind::WayIn { post: Some(post), .. } = &mut feature.kind {
                set(post);
            }
        }
        for piece in &mut rail.pieces {
            match piece {
                Piece::Straight(straight) => set(&mut straight.id),
                Piece::Bend(bend) => set(&mut bend.id),
            }
        }
    }
    for place in &mut other.driver_places {
        set(&mut place.id);
        place.label = format!("another {}", place.label);
    }
    for point in &mut other.mains_points {
        set(&mut point.id);
        point.label = format!("another {}", point.label);
    }
    for route in &mut other.routes {
        set(&mut route.id);
        for end in [&mut route.from, &mut route.to] {
            match end {
                RouteEnd::MainsPoint(id) | RouteEnd::DriverPlace(id) => set(id),
                RouteEnd::WayIn { rail, feature } => {
                    set(rail);
                    set(feature);
                }
            }
        }
    }
    for zone in &mut other.brief.zones {
        set(&mut zone.id);
        zone.label = format!("another {}", zone.label);
        if let Some(station) = &mut zone.control.station {
            set(station);
        }
    }
    for brief in &mut other.brief.rails {
        set(&mut brief.rail);
        if let Some(zone) = &mut brief.zone {
            set(zone);
        }
        brief.concerns = "renamed".into();
    }
    other
}

/// Whether a plan feeds everything it lays out and keeps every constraint that was asked.
pub fn is_fed(plan: &plan::Plan) -> bool {
    !plan.findings.iter().any(|finding| finding.rule == "feed-possible" && finding.verdict == Verdict::Stop)
}

/// The cable ways of a list of routes, added up.
pub fn along(survey: &Survey, routes: &[Id]) -> Length {
    let length = |id: &Id| survey.routes.iter().find(|route| &route.id == id).expect("a surveyed route").length.value;
    routes.iter().map(length).sum()
}
