//! At which scale a rail is drawn, and into which strips it is cut when it is longer than the sheet.

use units::Length;

/// Width of a strip on the sheet, millimetres.
pub const STRIP_MM: f64 = 256.0;

/// Reduction scales along the rail (ISO 5455 recommends 1, 2, 5 and their tenfolds; from memory).
const REDUCTIONS: [i64; 6] = [5, 10, 20, 50, 100, 200];

/// Strips that fit a sheet together with its head.
const WISHED_STRIPS: i64 = 3;

/// The smallest drawing that is still read by hand: beyond it the rail takes more sheets instead.
const SMALLEST: i64 = 100;

/// A scale and the chainages at which the rail is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut {
    /// One millimetre on paper stands for this many on the rail.
    pub reduction: i64,
    /// Start and end of every strip; neighbours share a chainage.
    pub strips: Vec<(Length, Length)>,
}

/// The largest scale at which the rail takes at most three strips; a very long rail takes as many as it needs.
#[must_use]
pub fn cut(length: Length) -> Cut {
    let room = |reduction: i64| (STRIP_MM * 1000.0) as i64 * reduction;
    let reduction = REDUCTIONS
        .into_iter()
        .find(|reduction| length.to_um() <= room(*reduction) * WISHED_STRIPS || *reduction == SMALLEST)
        .unwrap_or(SMALLEST);
    let um = length.to_um().max(0);
    let most = room(reduction);
    let count = (um + most - 1).div_euclid(most).max(1);
    // Equal strips, cut at whole metres where that fits, so that a chainage is easy to find.
    let equal = (um + count - 1) / count;
    let metres = (equal + 999_999) / 1_000_000 * 1_000_000;
    let each = if count > 1 && metres <= most { metres } else { equal };
    let mut strips = Vec::new();
    let mut start = 0;
    while start < um {
        let end = (start + each).min(um);
        strips.push((Length::um(start), Length::um(end)));
        start = end;
    }
    if strips.is_empty() {
        strips.push((Length::ZERO, Length::ZERO));
    }
    Cut { reduction, strips }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn strips_cover_the_rail_and_fit_the_sheet() {
        for mm in [0, 1, 900, 2_400, 12_800, 12_801, 40_000, 61_300, 76_800, 76_801, 1_000_000] {
            let length = Length::mm(mm);
            let cut = cut(length);
            assert_eq!(cut.strips[0].0, Length::ZERO);
            assert_eq!(cut.strips[cut.strips.len() - 1].1, length);
            for pair in cut.strips.windows(2) {
                assert_eq!(pair[0].1, pair[1].0);
            }
            for (start, end) in &cut.strips {
                assert!((*end - *start).to_mm() / cut.reduction as f64 <= STRIP_MM, "{mm} {cut:?}");
            }
        }
    }

    #[test]
    fn usual_rails_get_usual_scales() {
        assert_eq!(cut(Length::mm(2_400)).reduction, 5);
        assert_eq!(cut(Length::mm(12_000)).reduction, 20);
        assert_eq!(cut(Length::mm(40_000)).reduction, 100);
        assert_eq!(cut(Length::mm(61_300)).strips.len(), 3);
        assert_eq!(cut(Length::mm(1_000_000)).reduction, 100);
    }
}
