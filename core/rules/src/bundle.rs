//! What lies in the bore of a rail: which conductors at which chainage.

use catalogue::Lead;
use plan::{CableKind, Circuit};
use survey::Id;
use units::Length;

use crate::{Job, modules};

/// One run in a bore: from, to, its lead and the number of conductors side by side.
pub(crate) struct Run<'a> {
    pub(crate) from: Length,
    pub(crate) to: Length,
    pub(crate) lead: &'a Lead,
    pub(crate) conductors: u32,
}

/// Chainages between which a circuit has nodes in a rail.
pub(crate) fn extent(circuit: &Circuit, rail: &Id) -> Option<(Length, Length)> {
    let mut at = circuit.nodes.iter().filter(|n| n.rail.as_ref() == Some(rail)).filter_map(|n| n.chainage);
    let first = at.next()?;
    Some(at.fold((first, first), |(low, high), c| (low.min(c), high.max(c))))
}

/// Runs in the bore of a rail.
pub(crate) fn runs<'a>(job: Job<'a>, rail: &Id) -> Vec<Run<'a>> {
    let mut runs = Vec::new();
    for circuit in job.plan.circuits.iter().filter(|c| &c.rail == rail) {
        let Some((from, to)) = extent(circuit, rail) else { continue };
        let cable =
            job.plan.cables.iter().find(|c| c.kind == CableKind::Run && c.circuit.as_deref() == Some(&circuit.id));
        let Some(lead) = cable.and_then(|c| job.catalogue.lead(c.part.as_deref()?)) else { continue };
        let conductors = cable.map_or(0, |c| u32::from(c.cores));
        runs.push(Run { from, to, lead, conductors });
    }
    runs.extend(
        job.plan.circuits.iter().filter(|c| &c.rail == rail).filter_map(|circuit| luminaire_lead(job, circuit)),
    );
    runs
}

/// The luminaire lead of a chain of modules between its way in and its first module.
fn luminaire_lead<'a>(job: Job<'a>, circuit: &Circuit) -> Option<Run<'a>> {
    let cable = job
        .plan
        .cables
        .iter()
        .find(|c| c.kind == CableKind::Luminaire && c.circuit.as_deref() == Some(circuit.id.as_str()))?;
    let lead = job.catalogue.lead(cable.part.as_deref()?)?;
    let way_in = circuit.way_in.as_ref()?;
    let feature = job.survey.rail(&circuit.rail)?.features.iter().find(|feature| &feature.id == way_in)?;
    let served = modules::served(job, circuit);
    let (first, second) = (served.first()?.planned, served.get(1).map(|own| own.planned));
    // A chain of one module may run either way, so the farther end is taken.
    let at = feature.chainage.value;
    let near = match second {
        Some(second) if second.start > first.start => first.start,
        Some(_) => first.end,
        None if (first.end - at).abs() > (first.start - at).abs() => first.end,
        None => first.start,
    };
    Some(Run { from: at.min(near), to: at.max(near), lead, conductors: u32::from(cable.cores) })
}

/// Control cables in the bore of a rail, each a run without conductors of the chains.
pub(crate) fn control_cables<'a>(job: Job<'a>, rail: &Id) -> Vec<Run<'a>> {
    let lead = |device: &plan::ControlPlan| {
        let cable = job.plan.cables.iter().find(|c| Some(&c.reference) == device.cable_ref.as_ref())?;
        job.catalogue.lead(cable.part.as_deref()?)
    };
    let spans = job.plan.controls.iter().flat_map(|device| device.in_tube.iter().map(move |span| (device, span)));
    spans
        .filter(|(_, span)| &span.rail == rail)
        .filter_map(|(device, span)| Some(Run { from: span.from, to: span.to, lead: lead(device)?, conductors: 0 }))
        .collect()
}

/// Chainages at which the contents of a bore may change: the middles of the stretches between all ends.
pub(crate) fn sections<'a>(runs: impl IntoIterator<Item = &'a Run<'a>>) -> Vec<Length> {
    let mut ends: Vec<Length> = runs.into_iter().flat_map(|r| [r.from, r.to]).collect();
    ends.sort();
    ends.dedup();
    ends.windows(2).map(|w| w[0] + (w[1] - w[0]).half()).collect()
}

/// Area of one conductor or sheathed cable across, in square millimetres.
pub(crate) fn area_mm2(lead: &Lead) -> f64 {
    let d = lead.outside_diameter.to_mm();
    std::f64::consts::PI * d * d / 4.0
}

/// Number of bodies that lie side by side: each core where unsheathed, one cable where sheathed.
pub(crate) fn bodies(run: &Run<'_>) -> f64 {
    match run.lead.kind {
        catalogue::LeadKind::SingleCores => f64::from(run.conductors),
        catalogue::LeadKind::Sheathed => 1.0,
    }
}

/// Width of the widest bundle in a bore: the circle with twice the conductors' area, since round things fill a circle
/// by about half (common practice, no source).
pub(crate) fn diameter(job: Job<'_>, rail: &Id) -> Option<Length> {
    let mut runs = runs(job, rail);
    runs.append(&mut control_cables(job, rail));
    sections(&runs)
        .into_iter()
        .map(|at| {
            let area: f64 =
                runs.iter().filter(|r| r.from <= at && at <= r.to).map(|r| bodies(r) * area_mm2(r.lead)).sum();
            (2.0 * area * 4.0 / std::f64::consts::PI).sqrt()
        })
        .reduce(f64::max)
        .and_then(Length::from_mm)
}
