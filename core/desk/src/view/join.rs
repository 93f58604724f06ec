//! What joins and closes the modules of a rail: link leads and end caps.

use survey::Rail;

use super::Scheme;
use super::wire::{EndCap, LinkSpan};

/// The link leads along a rail, by chainage.
pub(super) fn links(scheme: Scheme<'_>, rail: &Rail) -> Vec<LinkSpan> {
    let mut links: Vec<LinkSpan> = scheme
        .plan
        .cables
        .iter()
        .filter_map(|cable| cable.along.as_ref().filter(|along| along.rail == rail.id).map(|along| (cable, along)))
        .map(|(cable, along)| LinkSpan {
            reference: cable.reference.clone(),
            from_mm: along.from.to_mm(),
            to_mm: along.to.to_mm(),
            cores: cable.cores,
        })
        .collect();
    links.sort_by(|a, b| a.from_mm.total_cmp(&b.from_mm));
    links
}

/// The end caps on a rail, by chainage.
pub(super) fn end_caps(scheme: Scheme<'_>, rail: &Rail) -> Vec<EndCap> {
    let mut caps: Vec<EndCap> = scheme
        .plan
        .end_caps
        .iter()
        .filter(|cap| cap.rail == rail.id)
        .map(|cap| EndCap { circuit: cap.circuit.clone(), chainage_mm: cap.chainage.to_mm(), poles: cap.poles })
        .collect();
    caps.sort_by(|a, b| a.chainage_mm.total_cmp(&b.chainage_mm));
    caps
}
