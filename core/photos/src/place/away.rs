//! Photos that were taken somewhere else: perhaps another job's.

use survey::{Id, Survey};

use super::frame::{Earth, way};
use super::near::{ASSUMED_ACCURACY_M, Rails};

/// Farther than this from every rail and the origin, beyond its own uncertainty, a photo is far away, metres
/// (common practice, no source).
pub const FAR_M: f64 = 250.0;

/// Photos nearer than this to one another belong together, metres.
const TOGETHER_M: f64 = 200.0;

/// Photos that were taken together, far from the site.
#[derive(Clone, Debug, PartialEq)]
pub struct Away {
    /// The photos, in the survey's order.
    pub photos: Vec<Id>,
    /// From the site to the nearest of them, metres.
    pub metres: f64,
    /// Its direction from the site, degrees clockwise from true north.
    pub bearing_deg: f64,
}

impl Away {
    /// In a sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let far = if self.metres < 1000.0 {
            format!("{:.0} m", self.metres)
        } else {
            format!("{:.1} km", self.metres / 1000.0)
        };
        match self.photos.len() {
            1 => format!("1 photo is {far} away: another job?"),
            count => format!("{count} photos are {far} away: another job?"),
        }
    }
}

/// Photos far from the site, in clusters, the nearest first. Empty where the site has no position.
#[must_use]
pub fn far_away(survey: &Survey) -> Vec<Away> {
    let Some(rails) = Rails::of(survey) else { return Vec::new() };
    let mut far: Vec<(&Id, Earth, f64, f64)> = Vec::new();
    for photo in &survey.photos {
        let Some(position) = &photo.position else { continue };
        let proposal = rails.propose(position);
        let nearest = proposal.rails.first().map_or(f64::INFINITY, |near| near.way.metres);
        let metres = nearest.min(proposal.from_site.metres);
        if metres > FAR_M + proposal.uncertainty_m.max(ASSUMED_ACCURACY_M) {
            far.push((&photo.id, Earth::from(position), metres, proposal.from_site.bearing_deg));
        }
    }
    // Whoever is near to one of a cluster belongs to it; clusters that meet become one.
    let mut cluster: Vec<usize> = (0..far.len()).collect();
    for i in 0..far.len() {
        for j in 0..i {
            if cluster[i] != cluster[j] && way(far[i].1, far[j].1).metres < TOGETHER_M {
                let (keep, lose) = (cluster[i].min(cluster[j]), cluster[i].max(cluster[j]));
                cluster.iter_mut().filter(|c| **c == lose).for_each(|c| *c = keep);
            }
        }
    }
    let mut away: Vec<Away> = Vec::new();
    for of in 0..far.len() {
        let members: Vec<_> = far.iter().zip(&cluster).filter(|(_, c)| **c == of).map(|(photo, _)| photo).collect();
        let Some(nearest) = members.iter().min_by(|a, b| a.2.total_cmp(&b.2)) else { continue };
        away.push(Away {
            photos: members.iter().map(|photo| photo.0.clone()).collect(),
            metres: nearest.2,
            bearing_deg: nearest.3,
        });
    }
    away.sort_by(|a, b| a.metres.total_cmp(&b.metres));
    away
}
