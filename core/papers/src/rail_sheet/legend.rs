//! What the signs of a rail's drawing mean.

use crate::drawing::{Anchor, Dash, Drawing, Ink, Mark, width_of};

const SIZE: f64 = 6.5;
const MIDDLE: f64 = 2.2;

/// One line of signs with their words.
#[must_use]
pub fn legend(width: f64) -> Drawing {
    let mut sheet = Drawing {
        width,
        height: 4.4,
        marks: Vec::new(),
        described: "Signs: luminaire, bend, joint, movement joint, post, way in, driver and lead.".to_owned(),
    };
    let mut x = 0.0;
    let mut word = |sheet: &mut Drawing, sign_width: f64, text: &str| {
        sheet.words((x + sign_width + 1.2, MIDDLE + 0.8), Anchor::Start, SIZE, Ink::Soft, text);
        let at = x;
        x += sign_width + 1.2 + width_of(text, SIZE) + 4.0;
        at
    };
    let at = word(&mut sheet, 2.2, "luminaire");
    sheet.marks.push(Mark::Disc { at: (at + 1.1, MIDDLE), radius: 1.1, fill: Ink::Lamp, edge: Ink::LampEdge });
    let at = word(&mut sheet, 4.0, "module");
    sheet.oblong((at, MIDDLE - 1.0), (4.0, 2.0), Ink::Lamp, Ink::LampEdge, Dash::Solid);
    let at = word(&mut sheet, 3.0, "running dimension of a hole or module start from the datum, mm");
    sheet.line((at + 1.5, MIDDLE - 1.8), (at + 1.5, MIDDLE + 1.8), Ink::Deed, 0.3);
    let at = word(&mut sheet, 4.0, "bend");
    sheet.oblong((at, MIDDLE - 1.4), (4.0, 2.8), Ink::White, Ink::Existing, Dash::Dashed);
    let at = word(&mut sheet, 1.0, "joint");
    sheet.line((at + 0.5, MIDDLE - 1.8), (at + 0.5, MIDDLE + 1.8), Ink::Existing, 0.5);
    let at = word(&mut sheet, 1.4, "movement joint");
    sheet.oblong((at, MIDDLE - 1.8), (1.2, 3.6), Ink::White, Ink::Existing, Dash::Solid);
    let at = word(&mut sheet, 1.6, "post");
    sheet.oblong((at, MIDDLE - 1.8), (1.4, 3.6), Ink::Pale, Ink::Soft, Dash::Solid);
    let at = word(&mut sheet, 2.8, "way in");
    sheet.marks.push(Mark::Shape {
        corners: vec![(at + 1.4, MIDDLE - 1.2), (at + 2.7, MIDDLE + 1.2), (at + 0.1, MIDDLE + 1.2)],
        fill: Ink::Existing,
        edge: Ink::Existing,
        dash: Dash::Solid,
    });
    let at = word(&mut sheet, 5.0, "driver and lead");
    sheet.line((at + 2.5, MIDDLE - 2.0), (at + 2.5, MIDDLE - 0.6), Ink::Power, 0.5);
    sheet.oblong((at, MIDDLE - 0.8), (5.0, 2.4), Ink::White, Ink::Power, Dash::Solid);
    sheet
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_signs_fit_one_line() {
        let sheet = legend(super::super::WIDTH_MM);
        for mark in &sheet.marks {
            if let Mark::Words { at, size, text, .. } = mark {
                assert!(at.0 + width_of(text, *size) <= sheet.width, "{text}");
            }
        }
    }
}
