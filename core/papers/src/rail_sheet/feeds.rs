//! Drivers under a strip, each with its lead to the way in that it feeds.

use plan::document::{CableKind, RailPlan};
use units::Length;

use super::labels;
use crate::drawing::{Anchor, Dash, Drawing, Ink, shortened, width_of};
use crate::{PaperInput, figures, wording};

const SIZE: f64 = 7.0;
const SMALL: f64 = 6.5;
const PAD: f64 = 1.6;

/// One driver at one way in.
#[derive(Clone, Debug, PartialEq)]
pub struct Feed {
    /// Where the way in is, millimetres on the strip.
    pub x: f64,
    /// The driver with its load and rating.
    pub title: String,
    /// Its place and the leads to the way in.
    pub detail: String,
}

/// The feeds that stand on a strip, from left to right. `place` gives the x of a chainage that is on it.
#[must_use]
pub fn of(input: &PaperInput, rail: &RailPlan, place: impl Fn(Length) -> Option<f64>) -> Vec<Feed> {
    let surveyed = input.survey.rail(&rail.id);
    let mut pairs: Vec<(Length, &str)> = Vec::new();
    for circuit in input.circuits_of(&rail.id) {
        let chainage = circuit.way_in.as_ref().and_then(|way| {
            surveyed?.features.iter().find(|feature| &feature.id == way).map(|feature| feature.chainage.value)
        });
        let pair = (chainage.unwrap_or(Length::ZERO), circuit.driver.as_str());
        if !pairs.contains(&pair) {
            pairs.push(pair);
        }
    }
    pairs.sort();
    pairs
        .into_iter()
        .filter_map(|(chainage, driver)| {
            let x = place(chainage)?;
            Some(Feed { x, title: title(input, driver), detail: detail(input, rail, driver) })
        })
        .collect()
}

fn title(input: &PaperInput, driver: &str) -> String {
    input.plan.drivers.iter().find(|known| known.id == driver).map_or_else(
        || driver.to_owned(),
        |known| {
            let load = figures::decimals(known.load.get(), 0);
            format!("{driver} · {load} of {} W", figures::at_most(known.rated.get(), 0))
        },
    )
}

/// Place of the driver, then its leads into this rail with cores and length.
fn detail(input: &PaperInput, rail: &RailPlan, driver: &str) -> String {
    let mut parts = Vec::new();
    if let Some(known) = input.plan.drivers.iter().find(|known| known.id == driver) {
        parts.push(match &known.place {
            Some(place) => format!("at {}", wording::place_name(place, input.survey)),
            None => "place not surveyed".to_owned(),
        });
        let others = input.other_rails(known, &rail.id);
        if !others.is_empty() {
            parts.push(format!("also serves {}", others.join(", ")));
        }
    }
    let circuits: Vec<&str> = input
        .circuits_of(&rail.id)
        .filter(|circuit| circuit.driver == driver)
        .map(|circuit| circuit.id.as_str())
        .collect();
    for cable in &input.plan.cables {
        let of_here = cable.circuit.as_deref().is_some_and(|circuit| circuits.contains(&circuit));
        if matches!(cable.kind, CableKind::Extension | CableKind::Luminaire) && of_here {
            let length = figures::metres(cable.made_up.unwrap_or(cable.cut));
            let area = figures::at_most(cable.area.get(), 2);
            parts.push(format!("{} {}×{area} mm² {length} m", cable.reference, cable.cores));
        }
    }
    parts.join(" · ")
}

/// Draws leads and boxes below `names_foot`; returns the height of the whole strip.
pub fn draw(sheet: &mut Drawing, feeds: &[Feed], tube_foot: f64, names_foot: f64, width: f64) -> f64 {
    if feeds.is_empty() {
        return names_foot + 1.5;
    }
    let gap = 3.0;
    // Boxes share the sheet's width: where they are many, words go to a second line and are shortened until all fit.
    let most = ((width - gap * (feeds.len() as f64 - 1.0)) / feeds.len() as f64).min(170.0);
    let lines = if feeds.iter().all(|feed| one_line(feed) <= most) { Lines::One } else { Lines::Two };
    let boxes: Vec<(Feed, f64)> = feeds.iter().map(|feed| fitted(feed, most, lines)).collect();
    let wishes: Vec<(f64, f64)> = boxes.iter().map(|(feed, wide)| (feed.x, *wide)).collect();
    let Some(middles) = labels::spread(&wishes, gap, width) else {
        let words = "feeds: see the schedules of drivers and cables";
        sheet.words((0.0, names_foot + 3.0), Anchor::Start, SMALL, Ink::Power, words);
        return names_foot + 5.0;
    };
    let (knee, high) = (names_foot + 1.0, if lines == Lines::One { 5.0 } else { 8.2 });
    let top = knee + 2.5;
    for ((feed, wide), middle) in boxes.iter().zip(middles) {
        let left = middle - wide / 2.0;
        // A box that did not have to move far is met straight from above.
        let met = feed.x.clamp(left + 1.0, left + wide - 1.0);
        sheet.line((feed.x, tube_foot + 2.4), (feed.x, knee), Ink::Power, 0.5);
        sheet.line((feed.x, knee), (met, top), Ink::Power, 0.5);
        sheet.oblong((left, top), (*wide, high), Ink::White, Ink::Power, Dash::Solid);
        sheet.bold((left + PAD, top + 3.3), Anchor::Start, SIZE, Ink::Power, feed.title.clone());
        let detail = match lines {
            Lines::One => (left + PAD + width_of(&feed.title, SIZE) + PAD, top + 3.3),
            Lines::Two => (left + PAD, top + 6.8),
        };
        sheet.words(detail, Anchor::Start, SMALL, Ink::Existing, feed.detail.clone());
    }
    top + high + 1.0
}

/// How the words of a box stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Lines {
    One,
    Two,
}

fn one_line(feed: &Feed) -> f64 {
    width_of(&feed.title, SIZE) + width_of(&feed.detail, SMALL) + 3.0 * PAD
}

/// The words that fit, with the width of their box.
fn fitted(feed: &Feed, most: f64, lines: Lines) -> (Feed, f64) {
    if lines == Lines::One {
        return (feed.clone(), one_line(feed));
    }
    let title = shortened(&feed.title, SIZE, most - 2.0 * PAD);
    let detail = shortened(&feed.detail, SMALL, most - 2.0 * PAD);
    let wide = width_of(&title, SIZE).max(width_of(&detail, SMALL)) + 2.0 * PAD;
    (Feed { x: feed.x, title, detail }, wide)
}
