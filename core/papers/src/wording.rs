//! One word for one thing on every paper: plain words for the survey's and the plan's values.

use plan::document::{CableKind, PatternKind, Quantity};
#[cfg(feature = "pdf")]
use survey::{Bend, FeatureKind, HoleUse, JointKind, Plane, PostKind};
use survey::{Feature, Figure, Finding, Material, Profile, Subject, Survey, Tube, Verdict};

use crate::figures;

/// A verdict.
#[must_use]
pub const fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Stop => "STOP",
        Verdict::NotEvaluated => "NOT EVALUATED",
        Verdict::Caution => "CAUTION",
        Verdict::Pass => "PASS",
    }
}

/// What a finding is about, with the names that people gave.
#[must_use]
pub fn subject(subject: &Subject, survey: &Survey) -> String {
    match subject {
        Subject::Site => "the site".to_owned(),
        Subject::Rail(id) => format!("rail {}", rail_name(id, survey)),
        Subject::Feature { rail, feature } => {
            let what = survey
                .rail(rail)
                .and_then(|rail| rail.features.iter().find(|known| &known.id == feature))
                .map_or_else(|| format!("{feature}"), |known| feature_place(known, feature.as_str()));
            format!("rail {}: {what}", rail_name(rail, survey))
        }
        Subject::MainsPoint(id) => {
            let label = survey.mains_points.iter().find(|point| &point.id == id).map(|point| point.label.as_str());
            format!("mains point {}", named(id.as_str(), label))
        }
        Subject::DriverPlace(id) => format!("driver place {}", place_name(id, survey)),
        Subject::Route(id) => {
            let label = survey.routes.iter().find(|route| &route.id == id).map(|route| route.label.as_str());
            format!("route {}", named(id.as_str(), label))
        }
        Subject::Luminaire { luminaire, .. } => format!("luminaire {luminaire}"),
        Subject::Driver(id) => format!("driver {id}"),
        Subject::Circuit(id) => format!("circuit {id}"),
        Subject::Cable(id) => format!("cable {id}"),
        Subject::Zone(id) => {
            let label = survey.brief.zones.iter().find(|zone| &zone.id == id).map(|zone| zone.label.as_str());
            format!("zone {}", named(id.as_str(), label))
        }
        Subject::Part(part) => format!("part {part}"),
    }
}

fn feature_place(feature: &Feature, id: &str) -> String {
    let at = figures::mm(feature.chainage.value);
    let name = if feature.label.is_empty() { id } else { &feature.label };
    format!("{} {name} at {at} mm", feature.kind.word())
}

/// The name that people use, with the id where that is another word.
#[must_use]
pub fn named(id: &str, label: Option<&str>) -> String {
    match label {
        Some(label) if !label.is_empty() && label != id => format!("{id} ({label})"),
        _ => id.to_owned(),
    }
}

/// A rail's id and label.
#[must_use]
pub fn rail_name(id: &survey::Id, survey: &Survey) -> String {
    named(id.as_str(), survey.rail(id).map(|rail| rail.label.as_str()))
}

/// A driver place's id and label.
#[must_use]
pub fn place_name(id: &survey::Id, survey: &Survey) -> String {
    let label = survey.driver_places.iter().find(|place| &place.id == id).map(|place| place.label.as_str());
    named(id.as_str(), label)
}

/// A mains point's id and label.
#[must_use]
pub fn mains_name(id: &survey::Id, survey: &Survey) -> String {
    let label = survey.mains_points.iter().find(|point| &point.id == id).map(|point| point.label.as_str());
    named(id.as_str(), label)
}

/// A figure with its unit; a dash where there is none.
#[must_use]
pub fn figure(figure: Option<&Figure>, unit: &str) -> String {
    match figure {
        None => figures::NONE.to_owned(),
        Some(Figure::Words(words)) => words.clone(),
        Some(Figure::Number(number)) => {
            let text = figures::grouped(&figures::at_most(*number, 3));
            if unit.is_empty() { text } else { format!("{text} {unit}") }
        }
    }
}

/// The reason beside a verdict: what was found against what, and where the limit comes from.
#[must_use]
pub fn reason(finding: &Finding) -> String {
    let mut parts = Vec::new();
    if finding.measured.is_some() {
        parts.push(format!("measured {}", figure(finding.measured.as_ref(), finding.unit)));
    }
    if finding.limit.is_some() {
        parts.push(format!("limit {}", figure(finding.limit.as_ref(), finding.unit)));
    }
    if parts.is_empty() { figures::NONE.to_owned() } else { parts.join(", ") }
}

/// A kind of cable.
#[must_use]
pub const fn cable_kind(kind: CableKind) -> &'static str {
    match kind {
        CableKind::Mains => "mains lead",
        CableKind::Extension => "extension lead",
        CableKind::Luminaire => "luminaire lead",
        CableKind::Run => "run in the tube",
        CableKind::Link => "link lead",
        CableKind::Control => "control cable",
    }
}

/// A pattern of holes.
#[must_use]
pub const fn pattern(kind: PatternKind) -> &'static str {
    match kind {
        PatternKind::EvenPattern => "even pattern",
        PatternKind::EvenSpacing => "even spacing",
    }
}

/// A quantity, pieces or metres.
#[must_use]
pub fn quantity(quantity: Quantity) -> String {
    match quantity {
        Quantity::Pieces(pieces) => figures::grouped(&pieces.to_string()),
        Quantity::Length(length) => figures::metres(length),
    }
}

/// The unit of a quantity.
#[must_use]
pub const fn quantity_unit(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Pieces(_) => "pc",
        Quantity::Length(_) => "m",
    }
}

/// A tube in a few words: size, shape, material.
#[must_use]
pub fn tube(tube: &Tube) -> String {
    let diameter = figures::fine_mm(tube.outside_diameter.value);
    let wall = tube
        .wall
        .as_ref()
        .map_or_else(|| "wall not measured".to_owned(), |wall| format!("wall {} mm", figures::fine_mm(wall.value)));
    let shape = match &tube.profile {
        Profile::Round => format!("round {diameter} mm"),
        Profile::RoundSlotted { slot_width } => {
            format!("round {diameter} mm, slot {} mm", figures::fine_mm(*slot_width))
        }
        Profile::Flat { thickness } => format!("flat {diameter} × {} mm", figures::fine_mm(*thickness)),
        Profile::Other(words) => format!("{words}, {diameter} mm"),
    };
    let mut parts = vec![shape, wall, material(&tube.material).to_owned()];
    parts.extend(tube.grade.clone());
    parts.extend(tube.finish.clone());
    parts.join(", ")
}

fn material(material: &Material) -> &str {
    match material {
        Material::StainlessSteel => "stainless steel",
        Material::CarbonSteel => "carbon steel",
        Material::GalvanisedSteel => "galvanised steel",
        Material::Aluminium => "aluminium",
        Material::Brass => "brass",
        Material::Other(words) => words,
    }
}

/// A bend in two words.
#[cfg(feature = "pdf")]
#[must_use]
pub fn bend(bend: &Bend) -> String {
    let way = match bend.plane {
        Plane::Left => "left",
        Plane::Right => "right",
        Plane::Up => "up",
        Plane::Down => "down",
    };
    format!("{}° {way}", figures::at_most(bend.angle.get().abs(), 1))
}

/// A feature in a few words.
#[cfg(feature = "pdf")]
#[must_use]
pub fn feature(kind: &FeatureKind) -> String {
    match kind {
        FeatureKind::Post { kind, .. } => {
            let how = match kind {
                PostKind::WeldedBelow => "welded below",
                PostKind::Saddle => "on a saddle",
                PostKind::SideBracket => "side bracket",
                PostKind::Through => "through the tube",
                PostKind::Other(words) => words,
            };
            format!("post, {how}")
        }
        FeatureKind::Joint { kind, .. } => {
            let how = match kind {
                JointKind::Welded => "welded",
                JointKind::Sleeved => "sleeved",
                JointKind::Bolted => "bolted",
                JointKind::Flush => "flush",
            };
            format!("joint, {how}")
        }
        FeatureKind::ExistingHole { used_for, .. } => match used_for {
            HoleUse::Luminaire => "existing hole for a luminaire".to_owned(),
            HoleUse::Other => "existing hole, other use".to_owned(),
        },
        other => other.word().to_owned(),
    }
}
