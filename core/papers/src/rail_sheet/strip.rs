//! One strip of a rail, drawn to scale along it and exaggerated across it.

use plan::document::RailPlan;
use survey::{FeatureKind, Piece, Rail};
use units::Length;

use super::feeds;
use super::labels::{self, Wish};
use crate::drawing::{Anchor, Dash, Drawing, Ink, Mark, height_of, shortened, width_of};
use crate::{PaperInput, figures, wording};

/// Room left and right of a strip, so that words at its ends stay on the sheet.
pub const SIDE_MM: f64 = 8.0;
/// Height of the tube as drawn.
pub const TUBE_MM: f64 = 6.0;

const SMALL: f64 = 6.5;
const RULER_Y: f64 = 5.0;
const DIMENSION_FOOT_Y: f64 = 17.0;
const TUBE_Y: f64 = 19.0;
const POST_FOOT_Y: f64 = TUBE_Y + TUBE_MM + 5.0;
const ROW_MM: f64 = 3.2;
const ROWS: usize = 4;

/// What is drawn: one rail between two chainages at one scale.
pub struct Strip<'a> {
    /// Everything that the papers are drawn from.
    pub input: &'a PaperInput<'a>,
    /// The planned rail.
    pub rail: &'a RailPlan,
    /// The surveyed rail, where the survey has it.
    pub surveyed: Option<&'a Rail>,
    /// One millimetre on paper stands for this many on the rail.
    pub reduction: i64,
    /// Chainage where the strip starts.
    pub start: Length,
    /// Chainage where it ends.
    pub end: Length,
}

impl Strip<'_> {
    fn x(&self, chainage: Length) -> f64 {
        SIDE_MM + (chainage.clamp(self.start, self.end) - self.start).to_mm() / self.reduction as f64
    }

    /// Whether something at this chainage is drawn on this strip; what stands on a cut belongs to the later strip.
    fn holds(&self, chainage: Length) -> bool {
        chainage >= self.start && (chainage < self.end || (chainage == self.end && self.end >= self.rail.length))
    }

    /// Draws the strip `width` millimetres wide.
    #[must_use]
    pub fn drawn(&self, width: f64) -> Drawing {
        let mut sheet = Drawing { width, height: 0.0, marks: Vec::new(), described: self.described() };
        self.ruler(&mut sheet);
        self.posts(&mut sheet);
        self.tube(&mut sheet);
        self.joints(&mut sheet);
        self.luminaires(&mut sheet);
        let feeds = feeds::of(self.input, self.rail, |chainage| self.holds(chainage).then(|| self.x(chainage)));
        let lines: Vec<f64> = feeds.iter().map(|feed| feed.x).collect();
        let names_foot = self.names(&mut sheet, &lines, width);
        sheet.height = feeds::draw(&mut sheet, &feeds, TUBE_Y + TUBE_MM, names_foot, width);
        sheet
    }

    fn described(&self) -> String {
        let holes = self.rail.luminaires.iter().filter(|lamp| self.holds(lamp.start)).count();
        format!(
            "Rail {} from {} m to {} m, straightened: {holes} luminaires; the schedules list every place.",
            self.rail.label,
            figures::metres(self.start),
            figures::metres(self.end),
        )
    }

    fn ruler(&self, sheet: &mut Drawing) {
        let (from, to) = (self.x(self.start), self.x(self.end));
        sheet.line((from, RULER_Y), (to, RULER_Y), Ink::Soft, 0.2);
        // A small tick for every tenth of the labelled step, which is at least 15 mm of paper.
        let steps = [100_i64, 200, 500, 1_000, 2_000, 5_000, 10_000, 20_000];
        let step = steps.into_iter().find(|step| step / self.reduction >= 15).unwrap_or(50_000);
        let tick = step / 5;
        let mut at = (self.start.to_um() + tick * 1000 - 1).div_euclid(tick * 1000) * tick;
        while Length::mm(at) <= self.end {
            let x = self.x(Length::mm(at));
            let labelled = at % step == 0;
            sheet.line((x, RULER_Y), (x, RULER_Y + if labelled { 2.0 } else { 1.1 }), Ink::Soft, 0.2);
            if labelled {
                let metres = figures::at_most(at as f64 / 1000.0, 1);
                sheet.words((x, RULER_Y - 1.2), Anchor::Middle, SMALL, Ink::Soft, format!("{metres} m"));
            }
            at += tick;
        }
    }

    fn tube(&self, sheet: &mut Drawing) {
        let (from, to) = (self.x(self.start), self.x(self.end));
        sheet.oblong((from, TUBE_Y), (to - from, TUBE_MM), Ink::Steel, Ink::Existing, Dash::Solid);
        for placed in self.surveyed.iter().flat_map(|rail| rail.placed_pieces()) {
            if matches!(placed.piece, Piece::Bend(_)) && placed.end > self.start && placed.start < self.end {
                let (from, to) = (self.x(placed.start), self.x(placed.end));
                let wide = (to - from).max(0.8);
                sheet.oblong((from, TUBE_Y), (wide, TUBE_MM), Ink::White, Ink::Existing, Dash::Dashed);
            }
        }
        for (cut, x) in [(self.start, from), (self.end, to)] {
            if cut > Length::ZERO && cut < self.rail.length {
                // A cut of the sheet is no end of the rail, so its outline stays open there.
                let (top, foot) = ((x, TUBE_Y - 0.6), (x, TUBE_Y + TUBE_MM + 0.6));
                sheet.line(top, foot, Ink::White, 1.4);
                sheet.marks.push(Mark::Line { from: top, to: foot, ink: Ink::Soft, width: 0.25, dash: Dash::Dashed });
            }
        }
    }

    fn posts(&self, sheet: &mut Drawing) {
        for feature in self.surveyed.iter().flat_map(|rail| &rail.features) {
            let FeatureKind::Post { width, .. } = &feature.kind else {
                continue;
            };
            if self.holds(feature.chainage.value) {
                let wide = (width.to_mm() / self.reduction as f64).max(0.5);
                let at = (self.x(feature.chainage.value) - wide / 2.0, TUBE_Y + TUBE_MM);
                sheet.oblong(at, (wide, POST_FOOT_Y - at.1), Ink::Pale, Ink::Soft, Dash::Solid);
            }
        }
    }

    fn joints(&self, sheet: &mut Drawing) {
        for feature in self.surveyed.iter().flat_map(|rail| &rail.features) {
            if !self.holds(feature.chainage.value) {
                continue;
            }
            let x = self.x(feature.chainage.value);
            let (top, foot) = (TUBE_Y - 1.0, TUBE_Y + TUBE_MM + 1.0);
            match &feature.kind {
                FeatureKind::Joint { .. } => sheet.line((x, top), (x, foot), Ink::Existing, 0.5),
                FeatureKind::MovementJoint { .. } => {
                    sheet.oblong((x - 0.6, top), (1.2, foot - top), Ink::White, Ink::Existing, Dash::Solid);
                }
                FeatureKind::InfillClamp { .. } => {
                    sheet.oblong((x - 0.5, TUBE_Y + TUBE_MM), (1.0, 1.2), Ink::Pale, Ink::Soft, Dash::Solid);
                }
                FeatureKind::ExistingHole { .. } => sheet.marks.push(Mark::Disc {
                    at: (x, TUBE_Y + TUBE_MM / 2.0),
                    radius: 0.9,
                    fill: Ink::White,
                    edge: Ink::Existing,
                }),
                FeatureKind::LowPoint => sheet.marks.push(Mark::Shape {
                    corners: vec![(x - 1.0, foot - 1.0), (x + 1.0, foot - 1.0), (x, foot + 0.8)],
                    fill: Ink::White,
                    edge: Ink::Existing,
                    dash: Dash::Solid,
                }),
                FeatureKind::Damage { width } => {
                    let wide = (width.to_mm() / self.reduction as f64).max(1.6);
                    sheet.line((x - wide / 2.0, top), (x + wide / 2.0, foot), Ink::Existing, 0.35);
                    sheet.line((x - wide / 2.0, foot), (x + wide / 2.0, top), Ink::Existing, 0.35);
                }
                FeatureKind::WayIn { .. } => sheet.marks.push(Mark::Shape {
                    corners: vec![(x, foot - 0.8), (x + 1.3, foot + 1.4), (x - 1.3, foot + 1.4)],
                    fill: Ink::Existing,
                    edge: Ink::Existing,
                    dash: Dash::Solid,
                }),
                FeatureKind::Post { .. } => {}
            }
        }
    }

    /// Holes and modules with upright running dimensions. A rail that is not ready shows open, undimensioned places instead.
    fn luminaires(&self, sheet: &mut Drawing) {
        let middle = TUBE_Y + TUBE_MM / 2.0;
        let ready = self.rail.not_ready.is_empty();
        let mut points: Vec<Length> = Vec::new();
        let mut starts: Vec<Length> = Vec::new();
        for lamp in &self.rail.luminaires {
            if lamp.end > lamp.start {
                if self.holds(lamp.start) {
                    starts.push(lamp.start);
                }
                if lamp.end > self.start && lamp.start < self.end {
                    let (from, to) = (self.x(lamp.start), self.x(lamp.end));
                    let dash = if ready { Dash::Solid } else { Dash::Dashed };
                    let fill = if ready { Ink::Lamp } else { Ink::White };
                    sheet.oblong((from, middle - 1.0), (to - from, 2.0), fill, Ink::LampEdge, dash);
                }
            } else if self.holds(lamp.start) {
                points.push(lamp.start);
            }
        }
        let places: Vec<f64> = points.iter().map(|chainage| self.x(*chainage)).collect();
        let pitch = places.windows(2).map(|pair| pair[1] - pair[0]).fold(f64::INFINITY, f64::min);
        let radius = (pitch * 0.4).clamp(0.35, 1.1);
        for x in &places {
            let fill = if ready { Ink::Lamp } else { Ink::White };
            sheet.marks.push(Mark::Disc { at: (*x, middle), radius, fill, edge: Ink::LampEdge });
        }
        if !ready {
            return;
        }
        self.dimensions(sheet, &points, middle - radius, figures::mm);
        // Modules stand in the middle of their room, which may be a half millimetre.
        self.dimensions(sheet, &starts, middle - 1.0, figures::tenths_mm);
    }

    /// Upright running dimensions of as many places as there is room for, each with a line down to `foot`.
    fn dimensions(&self, sheet: &mut Drawing, chainages: &[Length], foot: f64, words: fn(Length) -> String) {
        let places: Vec<f64> = chainages.iter().map(|chainage| self.x(*chainage)).collect();
        for number in labels::every_nth(&places, height_of(SMALL) + 0.9) {
            let x = places[number];
            sheet.line((x, DIMENSION_FOOT_Y + 0.4), (x, foot), Ink::Deed, 0.15);
            sheet.words((x, DIMENSION_FOOT_Y), Anchor::Upwards, SMALL, Ink::Deed, words(chainages[number]));
        }
    }

    /// Names of bends, joints, ways in and the like under the rail; posts stand in the table. Returns where they end.
    fn names(&self, sheet: &mut Drawing, lines: &[f64], width: f64) -> f64 {
        let mut wishes: Vec<Wish> = Vec::new();
        let mut wish = |x: f64, text: String| {
            let text = shortened(&text, SMALL, 46.0);
            wishes.push(Wish { x, width: width_of(&text, SMALL), text });
        };
        if let Some(rail) = self.surveyed {
            for placed in rail.placed_pieces() {
                let middle = placed.start + (placed.end - placed.start).half();
                if let Piece::Bend(bend) = placed.piece
                    && self.holds(middle)
                {
                    wish(self.x(middle), format!("bend {}", wording::bend(bend)));
                }
            }
            for feature in &rail.features {
                let named_here = !matches!(feature.kind, FeatureKind::Post { .. } | FeatureKind::InfillClamp { .. });
                if named_here && self.holds(feature.chainage.value) {
                    let at = figures::mm(feature.chainage.value);
                    let word = feature.kind.word();
                    let text = match feature.label.as_str() {
                        "" => format!("{word} {at}"),
                        label => format!("{word} {label} {at}"),
                    };
                    wish(self.x(feature.chainage.value), text);
                }
            }
        }
        // Post feet are part of the picture, so words start under them.
        let top = POST_FOOT_Y + 1.2;
        let placed = labels::place(&wishes, lines, width, ROWS);
        for spot in &placed {
            let name = &wishes[spot.wish];
            let baseline = top + ROW_MM * (spot.row as f64 + 1.0) - 0.8;
            let is_fed = lines.iter().any(|line| (line - name.x).abs() < 0.01);
            if !is_fed {
                let is_under = spot.left < name.x && name.x < spot.right;
                let foot = if is_under { baseline - height_of(SMALL) - 0.4 } else { baseline };
                sheet.line((name.x, TUBE_Y + TUBE_MM + 2.6), (name.x, foot), Ink::Soft, 0.12);
            }
            sheet.words((spot.left, baseline), Anchor::Start, SMALL, Ink::Existing, name.text.clone());
        }
        let rows = placed.iter().map(|spot| spot.row + 1).max().unwrap_or(0);
        top + ROW_MM * rows as f64
    }
}
