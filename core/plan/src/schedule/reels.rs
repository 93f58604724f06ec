//! The cut list over reels, with waste and the fewest reels that could do.

use std::collections::BTreeMap;

use catalogue::{Catalogue, Supply};
use survey::{Finding, Subject, Verdict};
use units::Length;

use super::cables::Cut;
use super::cutting::cut_over_reels;
use crate::build::say::{say, with_figures};
use crate::document::Reel;

/// Shares the cuts of each part out over its reels. A cut longer than a reel is a finding and is on none.
pub(crate) fn reels(catalogue: &Catalogue, cuts: &[Cut]) -> (Vec<Reel>, Vec<Finding>) {
    let mut by_part: BTreeMap<&str, Vec<&Cut>> = BTreeMap::new();
    for cut in cuts {
        by_part.entry(&cut.part).or_default().push(cut);
    }
    let mut reels = Vec::new();
    let mut findings = Vec::new();
    for (part, cuts) in by_part {
        let Some(Supply::Reel { length }) = catalogue.lead(part).map(|lead| &lead.supply) else { continue };
        for cut in cuts.iter().filter(|cut| cut.length > *length) {
            findings.push(with_figures(
                say(
                    Verdict::Stop,
                    "cut-fits-reel",
                    Subject::Cable(cut.reference.clone()),
                    format!("{} needs {} of {part} in one length and a reel holds {length}", cut.reference, cut.length),
                    "add longer reels of this cable to the catalogue, or a nearer way in or driver place to the survey",
                ),
                cut.length.to_mm(),
                length.to_mm(),
                "mm",
            ));
        }
        let lengths: Vec<Length> = cuts.iter().map(|cut| cut.length).collect();
        let cutting = cut_over_reels(*length, &lengths);
        for (number, places) in cutting.reels.iter().enumerate() {
            let used: Length = places.iter().map(|place| lengths[*place]).sum();
            reels.push(Reel {
                part: part.to_owned(),
                number: u32::try_from(number + 1).unwrap_or(u32::MAX),
                length: *length,
                cuts: places.iter().map(|place| (cuts[*place].reference.clone(), lengths[*place])).collect(),
                waste: *length - used,
                lower_bound: cutting.lower_bound,
            });
        }
    }
    (reels, findings)
}
