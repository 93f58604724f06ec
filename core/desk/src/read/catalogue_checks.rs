//! What lies between the fields of a catalogue: parts given twice, limits in order, figures that contradict each other.

use super::look::{At, Look};

/// Checks a walked catalogue.
pub fn check(look: &mut Look<'_>) {
    let whole = look.whole();
    let lists = ["luminaires", "drivers", "leads", "controls", "fixings"];
    let parts: Vec<At<'_>> = lists.iter().flat_map(|list| whole.items(list)).collect();
    look.unique(&parts, "part", "each part reference once in the whole catalogue");
    for luminaire in whole.items("luminaires") {
        check_luminaire(look, &luminaire);
    }
    for driver in whole.items("drivers") {
        if let Some(derating) = driver.field("derating") {
            look.in_order(&derating, "full_to_c", "to_c");
        }
    }
    for lead in whole.items("leads") {
        check_lead(look, &lead);
    }
}

fn check_luminaire<'a>(look: &mut Look<'a>, luminaire: &At<'a>) {
    look.in_order(luminaire, "least_v", "nominal_v");
    look.in_order(luminaire, "nominal_v", "greatest_v");
    if let Some(shape) = luminaire.field("shape") {
        look.in_order(&shape, "wall_least_mm", "wall_greatest_mm");
        if let (Some(hole), Some(tube), Some(at)) =
            (shape.number("hole_mm"), shape.number("tube_least_mm"), shape.field("hole_mm"))
            && hole >= tube
        {
            look.refuse(&at, &format!("is no less than tube_least_mm, {tube}"), &format!("less than {tube}"));
        }
        if let (Some(tolerance), Some(hole), Some(at)) =
            (shape.number("hole_tolerance_mm"), shape.number("hole_mm"), shape.field("hole_tolerance_mm"))
            && tolerance >= hole
        {
            look.refuse(&at, &format!("is no less than hole_mm, {hole}"), &format!("less than {hole}"));
        }
    }
    if let (Some(light), Some(cores), Some(at)) =
        (luminaire.field("light"), luminaire.number("cores"), luminaire.field("cores"))
    {
        let wanted = match light.kind() {
            "variable" => light.number("channels").map(|channels| channels + 1.0),
            "" => None,
            _ => Some(2.0),
        };
        if let Some(wanted) = wanted.filter(|wanted| *wanted != cores) {
            look.refuse(&at, "does not fit the light: 2 cores, or 1 and one for each channel", &wanted.to_string());
        }
    }
}

fn check_lead<'a>(look: &mut Look<'a>, lead: &At<'a>) {
    let mut seen: Vec<&str> = Vec::new();
    if let Some(uses) = lead.field("uses") {
        for (i, word) in uses.json.as_array().into_iter().flatten().filter_map(|w| w.as_str()).enumerate() {
            if seen.contains(&word) {
                let mut path = uses.path.clone();
                path.push(super::tree::Step::Index(i));
                look.refuse(&At { path, json: uses.json }, "is given twice", "each use once");
            }
            seen.push(word);
        }
    }
    let Some(supply) = lead.field("supply") else { return };
    let mut lengths: Vec<f64> = Vec::new();
    for made_up in supply.items("lengths") {
        let (Some(length), Some(at)) = (made_up.number("length_mm"), made_up.field("length_mm")) else { continue };
        if lengths.contains(&length) {
            look.refuse(&at, "is given twice", "each made-up length once");
        }
        lengths.push(length);
    }
    if supply.kind() == "made_up"
        && let (Some(price), Some(at)) = (lead.number("price"), lead.field("price"))
        && price != 0.0
    {
        look.refuse(&at, "stands beside made-up lengths that have prices of their own", "0");
    }
}
