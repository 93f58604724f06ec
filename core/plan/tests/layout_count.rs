//! The count rule against the plainest way of counting: try every number and keep the nearest mean.
//!
//! The rule is the project's own (`plan::layout`), restated here in exact fractions.

mod layout_cases;

use layout_cases::{counts, laid, rule_of_300, with_posts};
use proptest::prelude::*;
use units::Length;

/// The count whose mean spacing is nearest the target, ties to the greater, by trying all; `share` in millimetres.
/// Departures are compared as fractions: |share/n - target| = |share - n target| / n.
fn nearest_by_trying(share: i64, target: i64) -> usize {
    let mut best: (i64, i64) = (1, (share - target).abs());
    for n in 2..=share / target + 3 {
        let departure = (share - n * target).abs();
        if departure * best.0 <= best.1 * n {
            best = (n, departure);
        }
    }
    usize::try_from(best.0).unwrap()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_bay_between_posts_serves_from_middle_to_middle(pitch in 61_i64..6000, half in 1_i64..30, target in 100_i64..900) {
        let mut rule = rule_of_300();
        rule.target = Length::mm(target);
        rule.least_spacing = Length::ZERO;
        let layout = laid(&with_posts(20_000, &[9000, 9000 + pitch], half), &rule);
        // The half width of a post is below half the target, so the share is the whole pitch.
        let expected = if 2 * pitch < target { 0 } else { nearest_by_trying(pitch, target) };
        prop_assert_eq!(counts(&layout)[1], expected);
        prop_assert_eq!(layout.bays[1].twice_share, Length::mm(2 * pitch));
    }

    #[test]
    fn a_straight_with_free_margins_serves_its_whole_length(length in 1_i64..9000, target in 100_i64..900) {
        let mut rule = rule_of_300();
        (rule.target, rule.least_spacing) = (Length::mm(target), Length::ZERO);
        (rule.least_margin, rule.greatest_margin) = (Length::ZERO, Length::mm(10_000));
        let layout = laid(&with_posts(length, &[], 0), &rule);
        let expected = if 2 * length < target { 0 } else { nearest_by_trying(length, target) };
        prop_assert_eq!(counts(&layout)[0], expected);
    }

    #[test]
    fn a_margin_kept_short_of_half_the_target_lets_the_share_begin_beyond_the_end(
        length in 450_i64..9000, target in 300_i64..900, margin in 0_i64..150,
    ) {
        let mut rule = rule_of_300();
        (rule.target, rule.least_spacing) = (Length::mm(target), Length::ZERO);
        (rule.least_margin, rule.greatest_margin) = (Length::mm(margin), Length::mm(margin));
        let layout = laid(&with_posts(length, &[], 0), &rule);
        // Twice the share, since half an odd target is no whole millimetre: both ends add target - 2 margin.
        let twice = 2 * (length + target - 2 * margin);
        let mut expected = nearest_by_trying(twice, 2 * target);
        // One hole would have to be at the margin from both ends.
        if expected == 1 && length != 2 * margin {
            expected = 2;
        }
        prop_assert_eq!(counts(&layout)[0], expected);
    }
}
