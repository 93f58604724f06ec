//! Which luminaire a rail gets: the one the brief names, else the cheapest that fits.

use catalogue::{Catalogue, ColourKind, Luminaire, LuminaireKind, PointLuminaire};
use survey::{Exposure, Finding, Light, Profile, Rail, RailBrief, Subject, Tube, Verdict};
use units::Length;

use super::ingress;
use super::say::{list, say};

/// A point luminaire with both sides of its data at hand.
#[derive(Clone, Copy)]
pub(crate) struct ChosenPoint<'a> {
    /// The luminaire.
    pub luminaire: &'a Luminaire,
    /// What it asks of the tube.
    pub point: &'a PointLuminaire,
}

/// Chooses the point luminaire of a rail, and says why where there is none or where the one that was named misfits.
///
/// Of those that fit light and tube, one that suits the weather and heat of the place goes first, then the cheapest,
/// then the lower part reference.
pub(crate) fn choose_point<'a>(
    rail: &Rail,
    brief: &RailBrief,
    exposure: &Exposure,
    catalogue: &'a Catalogue,
) -> (Option<ChosenPoint<'a>>, Vec<Finding>) {
    match &brief.part {
        Some(part) => named(part, rail, brief, catalogue),
        None => cheapest(rail, brief, exposure, catalogue),
    }
}

fn named<'a>(
    part: &str,
    rail: &Rail,
    brief: &RailBrief,
    catalogue: &'a Catalogue,
) -> (Option<ChosenPoint<'a>>, Vec<Finding>) {
    let stop = |message: String, advice: &str| {
        say(Verdict::Stop, "part-fits", Subject::Rail(rail.id.clone()), message, advice.to_owned())
    };
    let Some(luminaire) = catalogue.luminaire(part) else {
        let message =
            format!("the brief asks for the part {part}, and the catalogue has no luminaire of that reference");
        return (None, vec![stop(message, "correct the part in the brief, or add it to the catalogue")]);
    };
    let LuminaireKind::Point(point) = &luminaire.kind else {
        let message = format!("the brief asks for points and names the part {part}, which is a linear module");
        return (None, vec![stop(message, "name a point luminaire, or leave the part open")]);
    };
    let mut reasons = misfits_tube(point, &rail.tube);
    reasons.extend(misfits_light(luminaire, &brief.light));
    let findings = if reasons.is_empty() {
        vec![]
    } else {
        let message = format!("the part {part} that the brief names does not fit: {}", list(&reasons));
        vec![stop(message, "name a part that fits, or leave the part open and the cheapest that fits is taken")]
    };
    (Some(ChosenPoint { luminaire, point }), findings)
}

fn cheapest<'a>(
    rail: &Rail,
    brief: &RailBrief,
    exposure: &Exposure,
    catalogue: &'a Catalogue,
) -> (Option<ChosenPoint<'a>>, Vec<Finding>) {
    let points = catalogue.luminaires.iter().filter_map(|luminaire| match &luminaire.kind {
        LuminaireKind::Point(point) => Some(ChosenPoint { luminaire, point }),
        LuminaireKind::Linear(_) => None,
    });
    let mut reasons = Vec::new();
    let mut fitting = Vec::new();
    for chosen in points {
        let mut against = misfits_light(chosen.luminaire, &brief.light);
        against.extend(misfits_tube(chosen.point, &rail.tube));
        if against.is_empty() {
            fitting.push(chosen);
        } else {
            reasons.push(format!("{}: {}", chosen.luminaire.item.part, list(&against)));
        }
    }
    let suits = |chosen: &ChosenPoint<'_>| {
        ingress::suits(&chosen.luminaire.ingress, exposure.setting)
            && chosen.luminaire.greatest_ambient >= exposure.greatest_temperature
    };
    let best = fitting
        .into_iter()
        .min_by_key(|chosen| (!suits(chosen), chosen.luminaire.item.price, chosen.luminaire.item.part.as_str()));
    if best.is_some() {
        return (best, vec![]);
    }
    let message = if reasons.is_empty() {
        "the catalogue has no point luminaire".to_owned()
    } else {
        format!("no point luminaire of the catalogue fits this rail ({})", reasons.join("; "))
    };
    let advice = "add a luminaire that fits to the catalogue, or change the light that the brief asks for";
    (None, vec![say(Verdict::Stop, "part-fits", Subject::Rail(rail.id.clone()), message, advice)])
}

pub(crate) fn misfits_light(luminaire: &Luminaire, light: &Light) -> Vec<String> {
    let miss = match (light, &luminaire.colour) {
        (Light::FixedWhite { kelvin, cri }, ColourKind::White { kelvin: has, cri: renders }) => {
            if has != kelvin {
                Some(format!("it is {has} K where {kelvin} K is asked for"))
            } else if cri.is_some_and(|least| *renders < least) {
                Some(format!("its colour rendering index {renders} is below {}", cri.unwrap_or(0)))
            } else {
                None
            }
        }
        (Light::FixedColour(wish), ColourKind::Colour(has)) => (wish.trim().to_lowercase()
            != has.trim().to_lowercase())
        .then(|| format!("it is {has} where {wish} is asked for")),
        (Light::VariableColour, ColourKind::Variable { .. }) => None,
        (Light::FixedWhite { .. }, _) => Some("it is not white".to_owned()),
        (Light::FixedColour(wish), _) => Some(format!("it is not {wish}")),
        (Light::VariableColour, _) => Some("its colour can't be set".to_owned()),
    };
    miss.into_iter().collect()
}

/// Why a point does not fit a tube. An unmeasured wall is left to the fitter's test hole.
fn misfits_tube(point: &PointLuminaire, tube: &Tube) -> Vec<String> {
    let outside = tube.outside_diameter.value;
    let mut reasons = Vec::new();
    if outside < point.tube_least {
        reasons.push(format!("it needs a tube of at least {} and this one is {outside}", point.tube_least));
    }
    if let Some(wall) = &tube.wall
        && (wall.value < point.wall_least || wall.value > point.wall_greatest)
    {
        reasons.push(format!(
            "its retainer grips walls from {} to {} and this one is {}",
            point.wall_least, point.wall_greatest, wall.value
        ));
    }
    let across = match &tube.profile {
        Profile::Flat { thickness } => *thickness,
        Profile::Round | Profile::RoundSlotted { .. } | Profile::Other(_) => outside,
    };
    let walls = tube.wall.as_ref().map_or(Length::ZERO, |wall| wall.value * 2);
    if point.depth > across - walls {
        reasons.push(format!("it reaches {} into the tube, which is {} inside", point.depth, across - walls));
    }
    reasons
}
