//! Inputs at and beyond the edge of sense: each gets an answer or an error that says what is accepted.

mod layout_cases;

use layout_cases::{laid, post, rule_of_300, straight, with_posts};
use plan::layout::{FixedHole, FixedReason, LayoutError, MOST_LUMINAIRES, SpacingRule, lay_out};
use units::Length;

#[test]
fn a_stretch_of_no_length_has_no_hole() {
    let layout = laid(&with_posts(0, &[], 0), &rule_of_300());
    assert!(layout.pattern.holes.is_empty() && layout.alternative.is_none());
    let mut free = rule_of_300();
    free.least_margin = Length::ZERO;
    free.greatest_margin = Length::ZERO;
    assert!(laid(&with_posts(0, &[], 0), &free).pattern.holes.is_empty());
}

#[test]
fn no_stretches_give_no_layouts() {
    assert_eq!(lay_out(&[], &rule_of_300()), Ok(vec![]));
}

#[test]
fn a_stretch_that_is_kept_clear_all_over_has_no_bay() {
    let mut rail = with_posts(3000, &[], 0);
    rail.keep_clears = vec![post(Length::mm(-10), Length::mm(1600)), post(Length::mm(1500), Length::mm(4000))];
    let layout = laid(&rail, &rule_of_300());
    assert!(layout.bays.is_empty() && layout.pattern.holes.is_empty() && layout.remarks.is_empty());
    // A hole that is drilled there already is still told.
    rail.fixed = vec![FixedHole { at: Length::mm(700), tag: 0, reason: FixedReason::Drilled }];
    assert_eq!(laid(&rail, &rule_of_300()).pattern.holes.len(), 1);
}

#[test]
fn a_target_longer_than_the_rail_leaves_one_hole_or_none() {
    let mut rule = rule_of_300();
    rule.target = Length::mm(5000);
    rule.greatest_margin = Length::mm(5000);
    let middle = laid(&with_posts(3000, &[], 0), &rule);
    assert_eq!(middle.pattern.holes.len(), 1);
    assert_eq!(middle.pattern.holes[0].chainage, Length::mm(1500));
    assert!(laid(&with_posts(2400, &[], 0), &rule).pattern.holes.is_empty());
}

#[test]
fn a_tiny_target_is_refused_by_the_count() {
    let mut rule = rule_of_300();
    (rule.target, rule.least_spacing, rule.grid) = (Length::um(1), Length::ZERO, Length::um(1));
    let told = lay_out(&[with_posts(60_000, &[], 0)], &rule).unwrap_err();
    assert_eq!(told, LayoutError::TooMany { stretch: 7, limit: MOST_LUMINAIRES });
    assert!(told.to_string().contains("greater target spacing"), "{told}");
    // With the least spacing kept the same target is only a crowded rail, and says that there was no room for more.
    rule.least_spacing = Length::mm(40);
    let layout = laid(&with_posts(6000, &[], 0), &rule);
    assert!(layout.pattern.holes.len() <= 150 && !layout.remarks.is_empty());
}

#[test]
fn the_longest_rail_and_the_most_luminaires_are_laid_out() {
    let mut rule = rule_of_300();
    rule.target = Length::mm(1000);
    // The margins of at most 200 count as 300 more at each end: 99,999.6 targets.
    let rail = straight(Length::ZERO, Length::GREATEST - Length::mm(1000));
    let layout = laid(&rail, &rule);
    assert_eq!(layout.pattern.holes.len(), MOST_LUMINAIRES);
}

#[test]
fn what_cannot_be_laid_out_is_named_with_what_is_accepted() {
    let rail = with_posts(3000, &[], 0);
    let refused = |change: &dyn Fn(&mut SpacingRule)| {
        let mut rule = rule_of_300();
        change(&mut rule);
        lay_out(std::slice::from_ref(&rail), &rule).unwrap_err().to_string()
    };
    assert_eq!(refused(&|r| r.target = Length::ZERO), "target spacing is 0 mm; accepted: above 0, up to 100 km");
    assert_eq!(refused(&|r| r.grid = Length::ZERO), "grid is 0 mm; accepted: above 0, up to 100 km");
    assert_eq!(refused(&|r| r.least_margin = Length::mm(-1)), "least end margin is -1 mm; accepted: from 0 to 100 km");
    assert!(refused(&|r| r.greatest_margin = Length::mm(20)).contains("20 mm is below the least 50 mm"));

    let backwards = straight(Length::mm(10), Length::ZERO);
    assert!(matches!(lay_out(&[backwards], &rule_of_300()), Err(LayoutError::StretchEnds { stretch: 7, .. })));
    let mut turned = rail.clone();
    turned.keep_clears = vec![post(Length::mm(20), Length::mm(10))];
    let told = lay_out(&[turned], &rule_of_300()).unwrap_err();
    assert!(told.to_string().contains("runs from 20 mm to 10 mm; accepted"), "{told}");
}
