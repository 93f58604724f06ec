//! Drivers, leads and volts along a rail.

use std::collections::BTreeMap;

use plan::{Cable, CableKind, Circuit, DriverPlan};
use survey::{Id, Rail};
use units::{Length, Volts};

use super::wire::{CableRow, ChainLine, FeedMark, Figure, VoltLimit, VoltPoint};
use super::{Scheme, words};

/// One mark for each driver and way in.
pub(super) fn feeds(scheme: Scheme<'_>, rail: &Rail) -> Vec<FeedMark> {
    let mut by_entry: BTreeMap<(&str, Option<&Id>), Vec<&Circuit>> = BTreeMap::new();
    for circuit in scheme.circuits_of(&rail.id) {
        by_entry.entry((circuit.driver.as_str(), circuit.way_in.as_ref())).or_default().push(circuit);
    }
    by_entry
        .iter()
        .filter_map(|((driver, way_in), circuits)| {
            let driver = scheme.plan.drivers.iter().find(|plan| plan.id == *driver)?;
            Some(feed(scheme, driver, rail, entry(rail, *way_in, circuits), circuits))
        })
        .collect()
}

/// Where a chain enters the tube: its way in, else the first of its nodes that lies in a rail.
fn entry(rail: &Rail, way_in: Option<&Id>, circuits: &[&Circuit]) -> Length {
    let surveyed = rail.features.iter().find(|feature| Some(&feature.id) == way_in);
    surveyed
        .map(|feature| feature.chainage.value)
        .or_else(|| circuits.iter().flat_map(|circuit| &circuit.nodes).find_map(|node| node.chainage))
        .unwrap_or(Length::ZERO)
}

fn feed(scheme: Scheme<'_>, driver: &DriverPlan, rail: &Rail, at: Length, circuits: &[&Circuit]) -> FeedMark {
    let leads: Vec<&Cable> = scheme
        .plan
        .cables
        .iter()
        .filter(|cable| matches!(cable.kind, CableKind::Extension | CableKind::Luminaire))
        .filter(|cable| circuits.iter().any(|circuit| cable.circuit.as_ref() == Some(&circuit.id)))
        .collect();
    FeedMark {
        driver: driver.id.clone(),
        part: driver.part.clone(),
        place: driver.place.as_ref().map(ToString::to_string),
        chainage_mm: at.to_mm(),
        lead: leads.first().map(|lead| lead.reference.clone()),
        leads_text: leads_text(scheme, at, circuits, &leads),
        mains_text: mains_text(scheme, driver),
        also_serves: others(scheme, driver, &rail.id),
        load: Figure::new(driver.load.get(), "W", 0),
        rated: Figure::new(driver.usable.get(), "W", 0),
    }
}

fn leads_text(scheme: Scheme<'_>, at: Length, circuits: &[&Circuit], leads: &[&Cable]) -> String {
    let chainages: Vec<Length> = circuits
        .iter()
        .flat_map(|circuit| luminaires_of(circuit))
        .filter_map(|reference| scheme.luminaire(reference).map(|(_, luminaire)| luminaire.start))
        .collect();
    let left = chainages.iter().filter(|chainage| **chainage < at).count();
    let right = chainages.len() - left;
    let feeds = match (left, right) {
        (0, right) => format!("feeds {right} to the right"),
        (left, 0) => format!("feeds {left} to the left"),
        (left, right) => format!("feeds {left} left, {right} right"),
    };
    match leads {
        [] => feeds,
        [lead] => format!("{feeds} · lead {} {}", lead.reference, words::metres(lead.cut)),
        more => format!("{feeds} · leads {}", more.iter().map(|l| l.reference.as_str()).collect::<Vec<_>>().join(", ")),
    }
}

/// What the plan calls the rails that a driver serves besides one.
pub(super) fn others(scheme: Scheme<'_>, driver: &DriverPlan, rail: &Id) -> Vec<String> {
    driver.rails.iter().filter(|other| *other != rail).map(|other| scheme.rail_label(other)).collect()
}

/// The luminaires of a chain, each once though a colour luminaire has a load for each channel.
pub(super) fn luminaires_of(circuit: &Circuit) -> Vec<&str> {
    let mut names: Vec<&str> = circuit.loads.iter().map(|load| load.luminaire.as_str()).collect();
    names.sort_unstable();
    names.dedup();
    names
}

fn mains_text(scheme: Scheme<'_>, driver: &DriverPlan) -> String {
    match (&driver.mains_point, &driver.proposed) {
        (Some(point), _) => format!("mains from {}, licensed person only", scheme.mains_label(point)),
        (None, Some(proposed)) => format!("no place surveyed: {proposed}"),
        (None, None) => "no mains point reaches it".to_owned(),
    }
}

/// The volts chain by chain.
pub(super) fn chains(scheme: Scheme<'_>, rail: &Rail) -> Vec<ChainLine> {
    scheme
        .circuits_of(&rail.id)
        .map(|circuit| {
            let point = |load: &plan::Load| {
                let (_, luminaire) = scheme.luminaire(&load.luminaire)?;
                Some(VoltPoint {
                    luminaire: load.luminaire.clone(),
                    channel: load.channel.map(|channel| format!("channel {channel}")).unwrap_or_default(),
                    chainage_mm: (luminaire.start + luminaire.end).half().to_mm(),
                    volts: load.volts?.get(),
                })
            };
            let mut points: Vec<VoltPoint> = circuit.loads.iter().filter_map(point).collect();
            points.sort_by(|a, b| a.channel.cmp(&b.channel).then(a.chainage_mm.total_cmp(&b.chainage_mm)));
            let reason = || circuit.reason.clone().unwrap_or_else(|| "its network has no solution".to_owned());
            ChainLine {
                circuit: circuit.id.clone(),
                unsolved: (!circuit.solved).then(|| format!("Circuit {} cannot work: {}", circuit.id, reason())),
                points,
            }
        })
        .collect()
}

/// Both limits of a rail, the greatest over its chains; the tighter governs.
pub(super) fn limits(scheme: Scheme<'_>, rail: &Rail) -> Vec<VoltLimit> {
    let greatest = |of: fn(&Circuit) -> Volts| scheme.circuits_of(&rail.id).map(of).max();
    let by_drop = greatest(|circuit| circuit.limit_by_drop);
    let by_luminaire = greatest(|circuit| circuit.limit_by_luminaire);
    let (Some(by_drop), Some(by_luminaire)) = (by_drop, by_luminaire) else { return Vec::new() };
    vec![
        VoltLimit { name: drop_name(scheme), volts: by_drop.get(), governs: by_drop >= by_luminaire },
        VoltLimit {
            name: "the luminaire's least".to_owned(),
            volts: by_luminaire.get(),
            governs: by_luminaire > by_drop,
        },
    ]
}

/// The drop allowed by the brief, in words.
pub(super) fn drop_name(scheme: Scheme<'_>) -> String {
    format!("drop of {}\u{202f}%", words::plain(f64::from(scheme.survey.brief.drop_permille) / 10.0))
}

/// The cables that serve a rail: those of its chains, and the mains leads to its drivers.
pub(super) fn cables(scheme: Scheme<'_>, rail: &Rail) -> Vec<CableRow> {
    let circuits: Vec<&Circuit> = scheme.circuits_of(&rail.id).collect();
    let serves = |cable: &&Cable| match &cable.circuit {
        Some(id) => circuits.iter().any(|circuit| &circuit.id == id),
        None => circuits.iter().any(|circuit| names(&cable.to, &circuit.driver) || names(&cable.from, &circuit.driver)),
    };
    scheme.plan.cables.iter().filter(serves).map(cable).collect()
}

/// Whether a text names a reference as a whole word.
pub(super) fn names(text: &str, reference: &str) -> bool {
    text.split(|letter: char| !letter.is_alphanumeric() && letter != '-').any(|word| word == reference)
}

fn cable(cable: &Cable) -> CableRow {
    CableRow {
        reference: cable.reference.clone(),
        kind: kind(cable.kind).to_owned(),
        between: format!("{} → {}", cable.from, cable.to),
        cores: format!("{} × {}\u{202f}mm²", cable.cores, words::plain(cable.area.get())),
        length_mm: cable.made_up.unwrap_or(cable.cut).to_mm(),
        amps: cable.amps.map(units::Amps::get),
        drop_volts: cable.drop.map(Volts::get),
        end_volts: cable.end_volts.map(Volts::get),
    }
}

pub(super) const fn kind(kind: CableKind) -> &'static str {
    match kind {
        CableKind::Mains => "mains lead",
        CableKind::Extension => "extension lead",
        CableKind::Luminaire => "luminaire lead",
        CableKind::Run => "run in the tube",
        CableKind::Link => "link lead",
        CableKind::Control => "control cable",
    }
}

#[cfg(test)]
mod tests {
    use super::names;

    #[test]
    fn a_driver_is_named_as_a_whole_word() {
        assert!(names("driver D1", "D1"));
        assert!(!names("driver D12", "D1"));
    }
}
