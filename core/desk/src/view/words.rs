//! The words for what was surveyed.

use survey::{
    Device, DeviceKind, EndState, FeatureKind, HoleUse, InsideOrOut, Instrument, JointKind, MainsKind, Material,
    Measurement, Passage, PostKind, Profile, Proof, Rail, TapeClass, Verdict,
};
use units::Length;

use super::wire::Mark;

/// A length with its unit, in millimetres with a tenth only where there is one.
pub(super) fn mm(length: Length) -> String {
    format!("{}\u{202f}mm", bare_mm(length))
}

/// A length in millimetres with grouped thousands.
pub(super) fn bare_mm(length: Length) -> String {
    units::grouped(&length.to_tenth_mm().to_mm().to_string()).replace('-', "\u{2212}")
}

/// A length in metres with two decimals.
pub(super) fn metres(length: Length) -> String {
    format!("{:.2}\u{202f}m", length.to_m())
}

/// A number without needless zeros.
pub(super) fn plain(value: f64) -> String {
    let text = format!("{value:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// A resistance with three figures that count.
pub(super) fn plain_ohms(ohms: f64) -> String {
    let decimals = if ohms >= 1.0 {
        2
    } else if ohms >= 0.1 {
        3
    } else {
        4
    };
    format!("{ohms:.decimals$}")
}

pub(super) fn mark(verdict: Verdict) -> Mark {
    match verdict {
        Verdict::Stop => Mark::Stop,
        Verdict::NotEvaluated => Mark::NotEvaluated,
        Verdict::Caution => Mark::Caution,
        Verdict::Pass => Mark::Pass,
    }
}

pub(super) fn feature(kind: &FeatureKind) -> String {
    match kind {
        FeatureKind::Post { kind, .. } => format!("Post, {}", post(kind)),
        FeatureKind::Joint { kind, .. } => format!("Joint, {}", joint(*kind)),
        FeatureKind::MovementJoint { range, .. } => format!("Movement joint, range {}", mm(*range)),
        FeatureKind::InfillClamp { .. } => "Infill clamp".to_owned(),
        FeatureKind::ExistingHole { diameter, used_for, .. } => match used_for {
            HoleUse::Luminaire => format!("Hole ø {}, drilled for a luminaire", mm(*diameter)),
            HoleUse::Other => format!("Hole ø {}, in other use", mm(*diameter)),
        },
        FeatureKind::LowPoint => "Low point".to_owned(),
        FeatureKind::Damage { .. } => "Damage".to_owned(),
        FeatureKind::WayIn { opening, post: None } => format!("Way in, {} clear", mm(*opening)),
        FeatureKind::WayIn { opening, post: Some(_) } => format!("Way in through the post, {} clear", mm(*opening)),
    }
}

fn post(kind: &PostKind) -> &str {
    match kind {
        PostKind::WeldedBelow => "welded below",
        PostKind::Saddle => "saddle screwed from below",
        PostKind::SideBracket => "side bracket",
        PostKind::Through => "through the tube",
        PostKind::Other(words) => words,
    }
}

const fn joint(kind: JointKind) -> &'static str {
    match kind {
        JointKind::Welded => "welded",
        JointKind::Sleeved => "sleeved",
        JointKind::Bolted => "bolted",
        JointKind::Flush => "flush",
    }
}

/// Whether a cable passes, in words, and how sure that is.
pub(super) fn passage(passage: &Passage) -> (String, Mark) {
    match passage {
        Passage::Unknown => ("unknown".to_owned(), Mark::NotEvaluated),
        Passage::Assumed => ("assumed, not proved".to_owned(), Mark::NotEvaluated),
        Passage::Proved { how, widest } => (format!("proved {}, {}", mm(*widest), proof(*how)), Mark::Pass),
        Passage::Blocked { how } => (format!("blocked, found by {}", proof(*how)), Mark::Stop),
    }
}

const fn proof(how: Proof) -> &'static str {
    match how {
        Proof::DrawWire => "draw-wire",
        Proof::Camera => "camera",
        Proof::Seen => "eye",
    }
}

/// What a value was measured with, and how well.
pub(super) fn measured(measurement: &Measurement) -> String {
    let instrument = match &measurement.instrument {
        Instrument::Tape(TapeClass::I) => "class I tape",
        Instrument::Tape(TapeClass::II) => "class II tape",
        Instrument::Tape(TapeClass::III) => "class III tape",
        Instrument::Laser => "laser",
        Instrument::Calliper => "calliper",
        Instrument::ThicknessGauge => "thickness gauge",
        Instrument::Wheel => "measuring wheel",
        Instrument::Drawing => "drawing",
        Instrument::Estimate => "estimate by eye",
        Instrument::Other(words) => words,
    };
    let source = if measurement.stated_tolerance.is_some() { ", stated by the surveyor" } else { "" };
    format!("{instrument}, ±{}{source}", mm(measurement.tolerance()))
}

/// The tube in one phrase.
pub(super) fn tube(rail: &Rail) -> String {
    let tube = &rail.tube;
    let outside = plain(tube.outside_diameter.value.to_mm());
    let wall = tube
        .wall
        .as_ref()
        .map_or_else(|| "wall not measured".to_owned(), |wall| format!("wall {}\u{202f}mm", plain(wall.value.to_mm())));
    match &tube.profile {
        Profile::Round => format!("tube ø {outside}\u{202f}mm, {wall}"),
        Profile::RoundSlotted { slot_width } => {
            format!("slotted tube ø {outside}\u{202f}mm, slot {}\u{202f}mm, {wall}", plain(slot_width.to_mm()))
        }
        Profile::Flat { thickness } => {
            format!("flat {outside} × {}\u{202f}mm, {wall}", plain(thickness.to_mm()))
        }
        Profile::Other(words) => format!("{words}, {outside}\u{202f}mm, {wall}"),
    }
}

/// The metal in one phrase.
pub(super) fn metal(rail: &Rail) -> String {
    let material = match &rail.tube.material {
        Material::StainlessSteel => "stainless steel",
        Material::CarbonSteel => "carbon steel",
        Material::GalvanisedSteel => "galvanised steel",
        Material::Aluminium => "aluminium",
        Material::Brass => "brass or bronze",
        Material::Other(words) => words,
    };
    rail.tube.grade.as_ref().map_or_else(|| material.to_owned(), |grade| format!("{material} {grade}"))
}

pub(super) const fn end(state: EndState) -> &'static str {
    match state {
        EndState::Open => "open tube",
        EndState::RemovableCap => "cap that comes off",
        EndState::WeldedCap => "cap welded on",
        EndState::ReturnsToWall => "returns to the wall",
        EndState::Continues => "goes on into another rail",
    }
}

pub(super) const fn mains(kind: MainsKind) -> &'static str {
    match kind {
        MainsKind::FusedConnectionUnit => "fused connection unit",
        MainsKind::SocketOutlet => "socket outlet",
        MainsKind::Isolator => "isolator",
        MainsKind::BoardWay => "way of a board",
    }
}

pub(super) const fn inside(place: InsideOrOut) -> &'static str {
    match place {
        InsideOrOut::Inside => "inside",
        InsideOrOut::Outside => "outside",
    }
}

pub(super) fn device(device: &Device) -> String {
    let kind = match device.kind {
        DeviceKind::Fuse => "fuse",
        DeviceKind::CurveB => "circuit-breaker, curve B",
        DeviceKind::CurveC => "circuit-breaker, curve C",
        DeviceKind::CurveD => "circuit-breaker, curve D",
    };
    format!("{kind}, {}\u{202f}A", plain(device.rating.get()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn millimetres_are_grouped_and_keep_a_tenth() {
        let check = |um: i64, text: &str| assert_eq!(bare_mm(Length::um(um)), text);
        check(0, "0");
        check(24_600_000, "24,600");
        check(1_234_567_800, "1,234,567.8");
        check(282_500, "282.5");
        check(999_960, "1,000");
    }
}
