//! The line of volts along one rail: what arrives at each luminaire in the worst case, above the least allowed.

use plan::document::RailPlan;
use units::Length;

use super::WIDTH_MM;
use super::scale::STRIP_MM;
use super::strip::SIDE_MM;
use crate::drawing::{Anchor, Dash, Drawing, Ink, Mark, shortened};
use crate::{PaperInput, figures, wording};

const SIZE: f64 = 6.5;
const TOP: f64 = 6.0;
const HIGH: f64 = 18.0;

/// A luminaire of one circuit.
struct Point<'a> {
    x: f64,
    volts: f64,
    lamp: &'a str,
}

/// The drawing, or `None` where no circuit of the rail has a solution.
#[must_use]
pub fn volts_line(input: &PaperInput, rail: &RailPlan) -> Option<Drawing> {
    let chains = chains(input, rail);
    let worst = chains.iter().flatten().min_by(|a, b| a.volts.total_cmp(&b.volts))?;
    let best = chains.iter().flatten().map(|point| point.volts).fold(worst.volts, f64::max);
    let limit = input.circuits_of(&rail.id).map(|circuit| circuit.limit().get()).fold(0.0, f64::max);

    let (lowest, highest) = (worst.volts.min(limit), best.max(limit));
    let step = [0.05, 0.1, 0.2, 0.5, 1.0, 2.0].into_iter().find(|step| (highest - lowest) / step <= 5.0).unwrap_or(5.0);
    let (floor, roof) = ((lowest / step).floor() * step - step / 2.0, (highest / step).ceil() * step);
    let y = |volts: f64| TOP + HIGH * (roof - volts) / (roof - floor);

    let words = format!(
        "Rail {}, volts at each luminaire, worst case: least {} V at {} (ring). Dashed: least allowed, {} V.",
        shortened(&wording::named(rail.id.as_str(), Some(&rail.label)), SIZE, 90.0),
        figures::decimals(worst.volts, 2),
        worst.lamp,
        figures::decimals(limit, 2)
    );
    let mut sheet = Drawing { width: WIDTH_MM, height: TOP + HIGH + 5.0, marks: Vec::new(), described: words.clone() };
    sheet.bold((SIDE_MM, 3.0), Anchor::Start, SIZE, Ink::Existing, words);
    let (left, right) = (SIDE_MM, SIDE_MM + STRIP_MM);
    if limit > floor {
        sheet.oblong((left, y(limit)), (STRIP_MM, y(floor) - y(limit)), Ink::StopWash, Ink::StopWash, Dash::Solid);
    }
    let lines = ((roof - floor) / step).floor() as i32;
    for number in 0..=lines {
        let volts = roof - f64::from(number) * step;
        sheet.line((left, y(volts)), (right, y(volts)), Ink::Rule, 0.15);
        let label = figures::decimals(volts, if step < 0.1 { 2 } else { 1 });
        sheet.words((left - 1.0, y(volts) + 0.8), Anchor::End, SIZE, Ink::Soft, label);
    }
    metres(&mut sheet, rail.length, y(floor));
    let (from, to) = ((left, y(limit)), (right, y(limit)));
    sheet.marks.push(Mark::Line { from, to, ink: Ink::Stop, width: 0.3, dash: Dash::Dashed });
    for chain in &chains {
        for pair in chain.windows(2) {
            sheet.line((pair[0].x, y(pair[0].volts)), (pair[1].x, y(pair[1].volts)), Ink::Power, 0.4);
        }
        if let [alone] = chain.as_slice() {
            sheet.marks.push(Mark::Disc {
                at: (alone.x, y(alone.volts)),
                radius: 0.4,
                fill: Ink::Power,
                edge: Ink::Power,
            });
        }
    }
    let at = (worst.x, y(worst.volts));
    sheet.marks.push(Mark::Disc { at, radius: 0.9, fill: Ink::White, edge: Ink::Power });
    Some(sheet)
}

/// The luminaires of each circuit by chainage, with the least volts of their channels.
fn chains<'a>(input: &PaperInput<'a>, rail: &'a RailPlan) -> Vec<Vec<Point<'a>>> {
    let volts: std::collections::BTreeMap<&str, f64> = crate::schedules::least_volts(input, rail);
    let x = |at: Length| SIDE_MM + STRIP_MM * at.to_mm() / rail.length.to_mm().max(1.0);
    input
        .circuits_of(&rail.id)
        .map(|circuit| {
            let mine: std::collections::BTreeSet<&str> =
                circuit.loads.iter().map(|load| load.luminaire.as_str()).collect();
            let lamps = rail.luminaires.iter().filter(|lamp| mine.contains(lamp.id.as_str()));
            lamps
                .filter_map(|lamp| {
                    let volts = *volts.get(lamp.id.as_str())?;
                    Some(Point { x: x(lamp.start + (lamp.end - lamp.start).half()), volts, lamp: &lamp.id })
                })
                .collect()
        })
        .collect()
}

/// Chainages under the line.
fn metres(sheet: &mut Drawing, length: Length, foot: f64) {
    if length <= Length::ZERO {
        return;
    }
    let mm_on_paper = |mm: i64| STRIP_MM * mm as f64 / length.to_mm();
    let steps = [100_i64, 200, 500, 1_000, 2_000, 5_000, 10_000, 20_000, 50_000, 100_000];
    let step = steps.into_iter().find(|step| mm_on_paper(*step) >= 20.0).unwrap_or(1_000_000);
    let mut at = 0;
    while Length::mm(at) <= length {
        let x = SIDE_MM + mm_on_paper(at);
        sheet.line((x, foot), (x, foot + 1.2), Ink::Soft, 0.2);
        let label = format!("{} m", figures::at_most(at as f64 / 1000.0, 1));
        sheet.words((x, foot + 3.8), Anchor::Middle, SIZE, Ink::Soft, label);
        at += step;
    }
}
