//! Where mains can be had.

use super::wire::{Figure, MainsLine};
use super::{Scheme, words};

pub(super) fn mains(scheme: Scheme<'_>) -> Vec<MainsLine> {
    scheme
        .survey
        .mains_points
        .iter()
        .map(|point| MainsLine {
            id: point.id.to_string(),
            label: point.label.clone(),
            detail: format!("{}, {}", words::mains(point.kind), words::inside(point.place)),
            rating: point.device.as_ref().map(|device| Figure::new(device.rating.get(), "A", 0)),
        })
        .collect()
}
