//! The survey’s own findings: what does not add up while the surveyor still stands there.

mod bends;
mod closure;
mod extent;
mod tube;

use crate::{Finding, Survey};

/// Every consistency finding of a survey, in the order of [`Finding::order`].
#[must_use]
pub fn findings(survey: &Survey) -> Vec<Finding> {
    let mut found = Vec::new();
    for rail in &survey.rails {
        found.extend(closure::closure(rail));
        extent::features_within(rail, &mut found);
        extent::overlaps(rail, &mut found);
        bends::taped_against_radius(rail, &mut found);
        tube::sizes(rail, &mut found);
    }
    found.sort_by(Finding::order);
    found
}

/// Millimetres as people read them: grouped thousands, no trailing zeros.
fn mm(length: units::Length) -> String {
    let text = length.abs().to_mm().to_string();
    let (whole, part) = text.split_once('.').map_or((text.as_str(), None), |(w, p)| (w, Some(p)));
    let mut grouped = String::new();
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i).is_multiple_of(3) {
            grouped.push(',');
        }
        grouped.push(digit);
    }
    let sign = if length < units::Length::ZERO { "-" } else { "" };
    match part {
        Some(part) => format!("{sign}{grouped}.{part} mm"),
        None => format!("{sign}{grouped} mm"),
    }
}

#[cfg(test)]
mod tests {
    use units::Length;

    #[test]
    fn thousands_are_grouped() {
        assert_eq!(super::mm(Length::um(1_234_567_500)), "1,234,567.5 mm");
        assert_eq!(super::mm(Length::mm(-42)), "-42 mm");
    }
}
