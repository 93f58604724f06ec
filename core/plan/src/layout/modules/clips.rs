//! Clips that hold a module.

use units::Length;

/// Fewer than two clips let a module tip (common practice, no source).
const FEWEST: i64 = 2;

/// Clips for one module: as many as keep the distance between them within the maker's, each in the middle of its share of
/// the length, and never fewer than two. A spacing that is not above zero is no limit.
///
/// # Units
/// Both in the same unit; the answer is a number of pieces.
#[must_use]
pub fn clips(length: Length, spacing: Length) -> u32 {
    let (length, spacing) = (length.to_um().max(0), spacing.to_um());
    let needed = if spacing > 0 { (length + spacing - 1) / spacing } else { 0 };
    u32::try_from(needed.max(FEWEST)).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn clips_stand_no_farther_apart_than_the_maker_says() {
        // By hand: 1000 mm at 400 mm needs 3, each for 333 mm; 500 mm needs 2, each for 250 mm.
        assert_eq!(clips(Length::mm(1000), Length::mm(400)), 3);
        assert_eq!(clips(Length::mm(800), Length::mm(400)), 2);
        assert_eq!(clips(Length::mm(500), Length::mm(400)), 2);
        assert_eq!(clips(Length::mm(100), Length::mm(400)), 2);
        assert_eq!(clips(Length::mm(100), Length::ZERO), 2);
    }
}
