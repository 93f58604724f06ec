//! A rail drawn in characters along its chainage: the tube, what is on it and what is planned.

use plan::document::RailPlan;
use survey::{FeatureKind, HoleUse, Piece};
use units::Length;

use super::columns::{plain, width};
use crate::PaperInput;

/// Characters across a whole rail.
pub const COLUMNS: usize = 92;

/// What the characters mean.
pub const LEGEND: &str = "= tube  ~ bend  + joint  M movement joint  H existing hole  X damage  L low point  \
I post  c clamp  ^ way in\no luminaire (a digit: how many at that place, * more than 9)  [##] module  D driver at its way in";

/// The drawing: a ruler in metres, then one line each for light, tube, posts, ways in and drivers.
#[must_use]
pub fn rail_line(input: &PaperInput, rail: &RailPlan) -> String {
    let scale = Scale { length: rail.length };
    let mut out = String::new();
    let (labels, ruler) = scale.ruler();
    let mut push = |name: &str, line: &[char]| {
        let text: String = line.iter().collect();
        if !text.trim().is_empty() {
            out.push_str(format!("{name:<8}{text}").trim_end());
            out.push('\n');
        }
    };
    push("m", &labels);
    push("", &ruler);
    push("light", &lights(&scale, rail));
    push("rail", &tube(&scale, input, rail));
    push("below", &below(&scale, input, rail));
    push("ways in", &ways_in(&scale, input, rail));
    for line in drivers(&scale, input, rail) {
        push("drivers", &line);
    }
    out
}

/// Chainage to column.
struct Scale {
    length: Length,
}

impl Scale {
    fn blank() -> Vec<char> {
        vec![' '; COLUMNS]
    }

    /// The column of a chainage; what lies beyond an end is drawn at the end, where its finding speaks of it.
    fn column(&self, chainage: Length) -> usize {
        let length = self.length.to_um();
        if length <= 0 {
            return 0;
        }
        let at = i128::from(chainage.to_um().clamp(0, length)) * (COLUMNS as i128 - 1);
        ((at + i128::from(length) / 2) / i128::from(length)) as usize
    }

    /// Tick labels and ticks, at the first of 1, 2, 5, 10, … steps whose labels do not touch.
    fn ruler(&self) -> (Vec<char>, Vec<char>) {
        let mut labels = Self::blank();
        let mut ticks = vec!['-'; COLUMNS];
        let mut step_mm: i64 = 100;
        let mut grow = [2, 5, 10].into_iter().cycle();
        let mut base = 100;
        while self.length.to_um() > 0 && self.column(Length::mm(step_mm)) < 8 && step_mm < 100_000_000 {
            let factor = grow.next().unwrap_or(10);
            step_mm = base * factor;
            if factor == 10 {
                base = step_mm;
            }
        }
        let mut at = 0;
        while Length::mm(at) <= self.length {
            let column = self.column(Length::mm(at));
            ticks[column] = '|';
            let label: Vec<char> = crate::figures::at_most(at as f64 / 1000.0, 1).chars().collect();
            if column + label.len() <= COLUMNS {
                labels[column..column + label.len()].copy_from_slice(&label);
            }
            at += step_mm;
        }
        ticks[COLUMNS - 1] = '|';
        (labels, ticks)
    }
}

fn lights(scale: &Scale, rail: &RailPlan) -> Vec<char> {
    let mut counts = [0_usize; COLUMNS];
    let mut line = Scale::blank();
    for lamp in &rail.luminaires {
        let (start, end) = (scale.column(lamp.start), scale.column(lamp.end));
        if lamp.end > lamp.start {
            // Both ends are seen where a module has room for them; where two meet in one place the later one starts there.
            line[start..=end.max(start)].fill('#');
            if end > start + 1 {
                line[start] = '[';
                line[end] = ']';
            }
        } else {
            counts[start] += 1;
        }
    }
    for (place, count) in counts.iter().enumerate() {
        match count {
            0 => {}
            1 => line[place] = 'o',
            2..=9 => line[place] = char::from_digit(*count as u32, 10).unwrap_or('*'),
            _ => line[place] = '*',
        }
    }
    line
}

fn tube(scale: &Scale, input: &PaperInput, rail: &RailPlan) -> Vec<char> {
    let mut line = vec!['='; COLUMNS];
    let Some(surveyed) = input.survey.rail(&rail.id) else {
        return line;
    };
    for placed in surveyed.placed_pieces() {
        if matches!(placed.piece, Piece::Bend(_)) {
            line[scale.column(placed.start)..=scale.column(placed.end)].fill('~');
        }
    }
    for feature in &surveyed.features {
        let sign = match &feature.kind {
            FeatureKind::Joint { .. } => '+',
            FeatureKind::MovementJoint { .. } => 'M',
            FeatureKind::Damage { .. } => 'X',
            FeatureKind::LowPoint => 'L',
            FeatureKind::ExistingHole { used_for: HoleUse::Luminaire | HoleUse::Other, .. } => 'H',
            FeatureKind::Post { .. } | FeatureKind::InfillClamp { .. } | FeatureKind::WayIn { .. } => continue,
        };
        line[scale.column(feature.chainage.value)] = sign;
    }
    line
}

fn below(scale: &Scale, input: &PaperInput, rail: &RailPlan) -> Vec<char> {
    let mut line = Scale::blank();
    for feature in input.survey.rail(&rail.id).iter().flat_map(|rail| &rail.features) {
        let place = scale.column(feature.chainage.value);
        match feature.kind {
            FeatureKind::Post { .. } => line[place] = 'I',
            FeatureKind::InfillClamp { .. } if line[place] == ' ' => line[place] = 'c',
            _ => {}
        }
    }
    line
}

fn ways_in(scale: &Scale, input: &PaperInput, rail: &RailPlan) -> Vec<char> {
    let mut line = Scale::blank();
    for feature in input.survey.rail(&rail.id).iter().flat_map(|rail| &rail.features) {
        if feature.kind.is_way_in() {
            line[scale.column(feature.chainage.value)] = '^';
        }
    }
    line
}

/// Driver references under the ways in that they feed; a reference that would touch another goes to the next line.
fn drivers(scale: &Scale, input: &PaperInput, rail: &RailPlan) -> Vec<Vec<char>> {
    let mut places: Vec<(usize, String)> = Vec::new();
    let surveyed = input.survey.rail(&rail.id);
    for circuit in input.circuits_of(&rail.id) {
        let chainage = circuit.way_in.as_ref().and_then(|way| {
            surveyed?.features.iter().find(|feature| &feature.id == way).map(|feature| feature.chainage.value)
        });
        let place = (scale.column(chainage.unwrap_or(Length::ZERO)), plain(&circuit.driver));
        if !places.contains(&place) {
            places.push(place);
        }
    }
    places.sort();
    let mut lines: Vec<Vec<char>> = Vec::new();
    for (column, name) in places {
        // A wide letter would push the rest of the line aside, so such a name is shown by its first letter's place only.
        let name: Vec<char> = if width(&name) == name.chars().count() { name.chars().collect() } else { vec!['D'] };
        let name = &name[..name.len().min(COLUMNS)];
        let start = column.min(COLUMNS - name.len());
        let end = start + name.len();
        let free = |line: &Vec<char>| line[start.saturating_sub(1)..(end + 1).min(COLUMNS)].iter().all(|c| *c == ' ');
        let row = match lines.iter().position(free) {
            Some(row) => row,
            None => {
                lines.push(Scale::blank());
                lines.len() - 1
            }
        };
        lines[row][start..end].copy_from_slice(name);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ruler_ends_with_the_rail_and_its_labels_do_not_touch() {
        for mm in [1, 900, 2_400, 40_000, 61_300, 1_000_000, 99_999_999] {
            let (labels, ticks) = Scale { length: Length::mm(mm) }.ruler();
            let text: String = labels.iter().collect();
            assert_eq!(ticks[COLUMNS - 1], '|');
            assert!(text.starts_with('0'), "{text}");
            assert_eq!(labels.len(), COLUMNS);
            for pair in text.split_whitespace().collect::<Vec<_>>().windows(2) {
                assert!(pair[0].parse::<f64>().unwrap() < pair[1].parse::<f64>().unwrap(), "{text}");
            }
        }
    }

    #[test]
    fn a_chainage_lands_on_its_share_of_the_line() {
        let scale = Scale { length: Length::mm(91_000) };
        assert_eq!(scale.column(Length::ZERO), 0);
        assert_eq!(scale.column(Length::mm(45_000)), 45);
        assert_eq!(scale.column(Length::mm(91_000)), 91);
        assert_eq!(scale.column(Length::mm(500_000)), 91);
        assert_eq!(Scale { length: Length::ZERO }.column(Length::mm(5)), 0);
    }
}
