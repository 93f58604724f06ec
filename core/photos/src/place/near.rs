//! Which rail a photo stands by, at which chainage, and how sure that is.

use survey::{Id, PhotoPosition, Survey};
use units::Length;

use super::frame::{Earth, Frame, Way, way};
use super::line::{Vertex, drawn_line};

/// Radius of a position whose receiver stated none, metres (common practice, no source: a telephone under open sky).
pub const ASSUMED_ACCURACY_M: f64 = 10.0;

/// A rail near a photo.
#[derive(Clone, Debug, PartialEq)]
pub struct Near {
    /// The rail.
    pub rail: Id,
    /// The chainage nearest to the photo.
    pub chainage: Length,
    /// The least and greatest chainage that are as near within the uncertainty.
    pub between: (Length, Length),
    /// From the photo to that chainage.
    pub way: Way,
}

/// Where a photo belongs, as its position has it.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// From the site's origin to the photo.
    pub from_site: Way,
    /// Rails by distance, nearest first; those not sketched are missing.
    pub rails: Vec<Near>,
    /// Radius within which photo and site agree, metres: the accuracies of both together.
    pub uncertainty_m: f64,
    /// Whether the receiver stated no accuracy and [`ASSUMED_ACCURACY_M`] stands for it.
    pub assumed: bool,
}

impl Proposal {
    /// The nearest rail, where the photo is within `reach_m` of it (and the uncertainty) and no other comes as near
    /// within the uncertainty.
    #[must_use]
    pub fn certain(&self, reach_m: f64) -> Option<&Near> {
        let nearest = self.rails.first()?;
        let alone = self.rails.get(1).is_none_or(|next| next.way.metres > nearest.way.metres + self.uncertainty_m);
        (alone && nearest.way.metres <= reach_m + self.uncertainty_m).then_some(nearest)
    }

    /// In a sentence, the rails by the names people know.
    #[must_use]
    pub fn sentence(&self, survey: &Survey) -> String {
        let label = |near: &Near| survey.rail(&near.rail).map_or_else(String::new, |rail| rail.label.clone());
        let assumed = if self.assumed { ", assumed" } else { "" };
        let Some(nearest) = self.rails.first() else {
            return format!(
                "{:.0} m from the site's origin (± {:.0} m{assumed})",
                self.from_site.metres, self.uncertainty_m
            );
        };
        let mut text = format!(
            "{}, {:.1} m from its chainage {:.0} (± {:.0} m{assumed}: {:.0} to {:.0})",
            label(nearest),
            nearest.way.metres,
            nearest.chainage,
            self.uncertainty_m,
            nearest.between.0,
            nearest.between.1,
        );
        let others: Vec<String> = self.rails[1..]
            .iter()
            .filter(|near| near.way.metres <= nearest.way.metres + self.uncertainty_m)
            .map(label)
            .collect();
        if !others.is_empty() {
            text.push_str(&format!("; it may as well be {}", others.join(" or ")));
        }
        text
    }
}

/// The rails of a site as they are drawn, for the proposals of many photos.
#[derive(Clone, Debug)]
pub struct Rails {
    frame: Frame,
    lines: Vec<(Id, Vec<Vertex>)>,
}

impl Rails {
    /// The rails of a survey; `None` where the site has no position.
    #[must_use]
    pub fn of(survey: &Survey) -> Option<Self> {
        let frame = Frame::of(survey.site.origin.as_ref()?);
        let lines = survey.rails.iter().filter_map(|rail| Some((rail.id.clone(), drawn_line(rail)?))).collect();
        Some(Self { frame, lines })
    }

    /// Where a photo belongs.
    #[must_use]
    pub fn propose(&self, position: &PhotoPosition) -> Proposal {
        let here = Earth::from(position);
        let stated = position.accuracy.map(Length::to_m);
        let accuracy = stated.unwrap_or(ASSUMED_ACCURACY_M);
        let uncertainty_m = libm::hypot(accuracy, self.frame.accuracy_m.unwrap_or(0.0));
        let at = self.frame.to_site(here);
        let near = |(rail, line): &(Id, Vec<Vertex>)| {
            let foot = foot(line, at)?;
            let there = self.frame.to_earth(foot.x_m, foot.y_m);
            let (least, greatest) = within(line, at, foot.distance_m + uncertainty_m);
            Some(Near {
                rail: rail.clone(),
                chainage: metres(foot.chainage_m),
                between: (metres(least), metres(greatest)),
                way: way(here, there),
            })
        };
        let mut rails: Vec<Near> = self.lines.iter().filter_map(near).collect();
        rails.sort_by(|a, b| a.way.metres.total_cmp(&b.way.metres).then_with(|| a.rail.cmp(&b.rail)));
        Proposal { from_site: way(self.frame.origin(), here), rails, uncertainty_m, assumed: stated.is_none() }
    }
}

/// Where a photo belongs; `None` where the site has no position.
#[must_use]
pub fn propose(survey: &Survey, position: &PhotoPosition) -> Option<Proposal> {
    Rails::of(survey).map(|rails| rails.propose(position))
}

fn metres(value: f64) -> Length {
    Length::from_mm((value * 1000.0).round()).unwrap_or(Length::ZERO)
}

struct Foot {
    chainage_m: f64,
    x_m: f64,
    y_m: f64,
    distance_m: f64,
}

/// The point of a line that is nearest in plan; of several the first.
fn foot(line: &[Vertex], (x, y): (f64, f64)) -> Option<Foot> {
    line.windows(2)
        .map(|pair| {
            let (a, b) = (pair[0], pair[1]);
            let (dx, dy) = (b.x_m - a.x_m, b.y_m - a.y_m);
            let square = dx * dx + dy * dy;
            let part = if square == 0.0 { 0.0 } else { ((x - a.x_m) * dx + (y - a.y_m) * dy) / square };
            let part = part.clamp(0.0, 1.0);
            let (x_m, y_m) = (a.x_m + part * dx, a.y_m + part * dy);
            Foot {
                chainage_m: a.chainage_m + part * (b.chainage_m - a.chainage_m),
                x_m,
                y_m,
                distance_m: libm::hypot(x - x_m, y - y_m),
            }
        })
        .reduce(|best, next| if next.distance_m < best.distance_m { next } else { best })
}

/// The least and greatest chainage of a line within a distance of a point: where its pieces cross the circle.
fn within(line: &[Vertex], (x, y): (f64, f64), radius_m: f64) -> (f64, f64) {
    let mut span: Option<(f64, f64)> = None;
    for pair in line.windows(2) {
        let (a, b) = (pair[0], pair[1]);
        let (dx, dy, fx, fy) = (b.x_m - a.x_m, b.y_m - a.y_m, a.x_m - x, a.y_m - y);
        // |a + t·d - p|² = r², a quadratic in t.
        let (square, half, rest) = (dx * dx + dy * dy, fx * dx + fy * dy, fx * fx + fy * fy - radius_m * radius_m);
        let discriminant = half * half - square * rest;
        let (from, to) = if square == 0.0 {
            if rest > 0.0 { continue } else { (0.0, 1.0) }
        } else if discriminant < 0.0 {
            continue;
        } else {
            let root = discriminant.sqrt();
            (((-half - root) / square).max(0.0), ((-half + root) / square).min(1.0))
        };
        if from > to {
            continue;
        }
        let chainage = |t: f64| a.chainage_m + t * (b.chainage_m - a.chainage_m);
        let (least, greatest) = span.unwrap_or((f64::INFINITY, f64::NEG_INFINITY));
        span = Some((least.min(chainage(from)), greatest.max(chainage(to))));
    }
    span.unwrap_or((0.0, 0.0))
}
