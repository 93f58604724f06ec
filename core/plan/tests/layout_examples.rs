//! Layouts worked out by hand. The rails and the centres of 300 mm are common practice, no source; the arithmetic stands
//! beside each check.

mod layout_cases;

use layout_cases::{chainages, counts, laid, rule_of_300, straight, with_posts};
use plan::layout::{Across, FixedHole, FixedReason, HoleOrigin, Remark, WhichEnd, girth_offset, lay_out};
use units::{Degrees, Length};

#[test]
fn a_straight_of_five_targets_is_served_to_its_ends() {
    // 1500 = 150 + 4 x 300 + 150.
    let layout = laid(&with_posts(1500, &[], 0), &rule_of_300());
    assert_eq!(chainages(&layout.pattern), [150.0, 450.0, 750.0, 1050.0, 1350.0]);
    assert!(layout.alternative.is_none(), "the target is reached everywhere");
    assert_eq!(layout.pattern.least_worst, Length::ZERO);
    assert!(layout.remarks.is_empty());
}

#[test]
fn the_margins_take_up_what_a_straight_has_over() {
    // 2000 / 300 = 6.67, so 7 holes; 6 x 300 = 1800 leaves 100 at each end, inside 50 to 200.
    let layout = laid(&with_posts(2000, &[], 0), &rule_of_300());
    assert_eq!(chainages(&layout.pattern), [100.0, 400.0, 700.0, 1000.0, 1300.0, 1600.0, 1900.0]);
}

#[test]
fn margins_at_their_limit_leave_the_rest_to_the_spacing() {
    // 1040/4 = 260 departs by 40 and 1040/3 = 346.7 by 46.7, so 4 holes; 3 x 300 = 900 leaves 70 at each end.
    let layout = laid(&with_posts(1040, &[], 0), &rule_of_300());
    assert_eq!(chainages(&layout.pattern), [70.0, 370.0, 670.0, 970.0]);
    // With a least margin of 100 the spacing is (1040 - 200) / 3 = 280.
    let mut rule = rule_of_300();
    rule.least_margin = Length::mm(100);
    let layout = laid(&with_posts(1040, &[], 0), &rule);
    assert_eq!(chainages(&layout.pattern), [100.0, 380.0, 660.0, 940.0]);
    let gaps = layout.pattern.figures.gaps.unwrap();
    assert_eq!((gaps.least, gaps.greatest, gaps.worst_departure), (Length::mm(280), Length::mm(280), Length::mm(20)));
    assert_eq!(gaps.sum_of_squares_um2, 3 * 20_000 * 20_000);
    assert_eq!(gaps.worst_between, (Length::mm(100), Length::mm(380)));
}

#[test]
fn posts_every_1100_take_four_at_275_across_every_post() {
    // Inner bays serve 1100: 1100/4 = 275 departs by 25, 1100/3 = 367 by 67. The first hole stands 275/2 past
    // the post's middle.
    let layout = laid(&with_posts(5400, &[1050, 2150, 3250, 4350], 34), &rule_of_300());
    let inner: Vec<usize> = counts(&layout)[1..4].to_vec();
    assert_eq!(inner, [4, 4, 4]);
    let between: Vec<f64> = chainages(&layout.pattern).into_iter().filter(|at| (1050.0..4350.0).contains(at)).collect();
    assert_eq!(between.len(), 12);
    assert_eq!(between[0], 1050.0 + 137.5);
    assert!(between.windows(2).all(|pair| pair[1] - pair[0] == 275.0), "{between:?}");
}

#[test]
fn end_bays_mirror_each_other() {
    let layout = laid(&with_posts(5400, &[1050, 2150, 3250, 4350], 34), &rule_of_300());
    let holes = chainages(&layout.pattern);
    let mirrored: Vec<f64> = holes.iter().rev().map(|at| 5400.0 - at).collect();
    assert_eq!(holes, mirrored);
    let alternative = layout.alternative.expect("1100 is no multiple of 300");
    let holes = chainages(&alternative);
    let mirrored: Vec<f64> = holes.iter().rev().map(|at| 5400.0 - at).collect();
    assert_eq!(holes, mirrored, "a rail that is its own mirror image has an even spacing that is");
}

#[test]
fn ties_go_to_the_greater_count() {
    // Between two posts 720 apart: 720/2 = 360 and 720/3 = 240 both depart by 60.
    let layout = laid(&with_posts(2720, &[1000, 1720], 30), &rule_of_300());
    assert_eq!(counts(&layout)[1], 3);
}

#[test]
fn a_bay_shorter_than_half_the_target_has_none() {
    // Two posts 100 apart leave 40 free; the share is 100, less than 150.
    let layout = laid(&with_posts(2100, &[1000, 1100], 30), &rule_of_300());
    assert_eq!(counts(&layout)[1], 0);
    // The gap is then judged across both posts.
    let holes = chainages(&layout.pattern);
    let across = holes.windows(2).find(|pair| pair[0] < 1000.0 && pair[1] > 1100.0).unwrap();
    assert!(across[1] - across[0] >= 160.0);
    assert_eq!(layout.pattern.figures.gaps.unwrap().count, holes.len() - 1);
}

#[test]
fn short_bays_between_close_posts_still_have_their_hole() {
    // Posts every 250, 70 to be kept clear on each side: 110 free is less than 150, but without holes the rail is dark.
    let posts: Vec<i64> = (1..10).map(|i| 250 * i).collect();
    let layout = laid(&with_posts(2500, &posts, 70), &rule_of_300());
    assert!(counts(&layout)[1..9].iter().all(|count| *count == 1));
}

#[test]
fn a_wide_obstruction_does_not_crowd_the_bay_beside_it() {
    // 50 free between two lengths of 1000: half of each would ask for 3 holes in 50 mm; the share ends after 150.
    let layout = laid(&with_posts(4050, &[1500, 2550], 500), &rule_of_300());
    assert_eq!(counts(&layout)[1], 1);
}

#[test]
fn a_broken_row_is_not_judged_across_the_break() {
    let mut stretch = with_posts(3000, &[1500], 500);
    stretch.keep_clears[0].across = Across::Breaks;
    let layout = laid(&stretch, &rule_of_300());
    // 1000 free on each side: 1000/3 = 333 departs by 33, 1000/4 = 250 by 50.
    assert_eq!(counts(&layout), [3, 3]);
    let gaps = layout.pattern.figures.gaps.unwrap();
    assert_eq!((gaps.count, gaps.worst_departure), (4, Length::ZERO));
    assert!(layout.alternative.is_none());
}

#[test]
fn drilled_holes_stay_and_the_pattern_fills_in_around_them() {
    let mut stretch = with_posts(3000, &[], 0);
    stretch.fixed = vec![FixedHole { at: Length::um(1_234_567), tag: 42, reason: FixedReason::Drilled }];
    let layout = laid(&stretch, &rule_of_300());
    let fixed = layout.pattern.holes.iter().find(|hole| hole.chainage == Length::um(1_234_567)).unwrap();
    assert_eq!(fixed.origin, HoleOrigin::Fixed { tag: 42, reason: FixedReason::Drilled });
    // 1234.567 back by 300: 934.567, 634.567, 334.567, 34.567 is nearer than 50 mm to the end. The share from the end to
    // the hole is 1234.567: three and a half holes would have a mean of 353, four and a half 274, so 4 at least-margin
    // 50: (1234.567 - 50) / 4 = 296.14.
    assert_eq!(layout.bays[0].count, 4);
    let first = layout.pattern.holes[0].chainage;
    assert!((first - Length::mm(50)).abs() <= Length::um(1), "{first}");
}

#[test]
fn conflicts_of_fixed_holes_are_told() {
    let mut stretch = with_posts(3000, &[1000], 40);
    let hole = |mm, tag| FixedHole { at: Length::mm(mm), tag, reason: FixedReason::Locked };
    stretch.fixed = vec![hole(1010, 1), hole(3100, 2), hole(10, 3), hole(1010, 4)];
    let layout = laid(&stretch, &rule_of_300());
    let at = |mm: i64| layout.pattern.holes.iter().any(|hole| hole.chainage == Length::mm(mm));
    assert!(at(1010) && at(10) && !at(3100));
    let told = |wanted: &dyn Fn(&Remark) -> bool| layout.remarks.iter().filter(|remark| wanted(remark)).count();
    assert_eq!(told(&|r| matches!(r, Remark::FixedInKeepClear { hole, .. } if hole.tag == 1)), 1);
    assert_eq!(told(&|r| matches!(r, Remark::FixedOffStretch(hole) if hole.tag == 2)), 1);
    assert_eq!(told(&|r| matches!(r, Remark::FixedTwice(hole) if hole.tag == 4)), 1);
    let short = Length::mm(10);
    assert_eq!(
        told(&|r| matches!(r, Remark::MarginOutOfRange { end: WhichEnd::Start, margin, .. } if *margin == short)),
        1
    );
}

#[test]
fn a_rail_too_short_for_its_margins_has_no_hole_and_says_so() {
    let mut rule = rule_of_300();
    rule.least_margin = Length::mm(100);
    let layout = laid(&with_posts(180, &[], 0), &rule);
    assert!(layout.pattern.holes.is_empty());
    assert!(matches!(layout.remarks[..], [Remark::NoRoom { wanted: 1, possible: 0, .. }]), "{:?}", layout.remarks);
}

#[test]
fn opposite_rails_match() {
    // The second rail has one bay more at its end; the bays in common are alike to the micrometre.
    let rails = [with_posts(4300, &[1050, 2150, 3250], 34), with_posts(5000, &[1050, 2150, 3250], 34)];
    let layouts = lay_out(&rails, &rule_of_300()).unwrap();
    let common =
        |i: usize| -> Vec<f64> { chainages(&layouts[i].pattern).into_iter().filter(|at| *at < 3250.0).collect() };
    assert_eq!(common(0), common(1));
    assert!(common(0).len() >= 10);
}

#[test]
fn running_dimensions_come_from_the_datum_and_from_the_mark() {
    let mut stretch = straight(Length::mm(4000), Length::mm(5500));
    stretch.mark = Length::mm(4020);
    let layout = laid(&stretch, &rule_of_300());
    let hole = &layout.pattern.holes[1];
    assert_eq!(
        (hole.chainage, hole.from_mark, hole.spacing),
        (Length::mm(4450), Length::mm(430), Some(Length::mm(300)))
    );
    assert_eq!(layout.pattern.holes[0].spacing, None);
}

#[test]
fn girth_offsets_are_arcs() {
    // pi from memory: 3.14159265358979. A tube of 48.3 mm has a girth of 151.738925 mm.
    let od = Length::um(48_300);
    assert_eq!(girth_offset(od, Degrees::new(360.0)), Length::um(151_739));
    // 45 degrees: 151.738925 / 8 = 18.967366.
    assert_eq!(girth_offset(od, Degrees::new(45.0)), Length::um(18_967));
    assert_eq!(girth_offset(od, Degrees::new(-45.0)), Length::um(-18_967));
    assert_eq!(girth_offset(od, Degrees::new(0.0)), Length::ZERO);
}

#[test]
fn rounding_never_passes_the_greatest_margin() {
    // 2 holes; 1400 - 1000 leaves 200 at each end, but at most 137.3 is allowed. The grid's 137.5 would be too much.
    let mut rule = rule_of_300();
    (rule.target, rule.greatest_margin) = (Length::mm(1000), Length::um(137_300));
    let layout = laid(&with_posts(1400, &[], 0), &rule);
    assert_eq!(chainages(&layout.pattern), [137.0, 1263.0]);
    // An end bay beside a post keeps to it as well.
    let layout = laid(&with_posts(4000, &[1900], 30), &rule);
    assert!(layout.remarks.is_empty(), "{:?}", layout.remarks);
}

#[test]
fn bays_off_the_grid_are_spaced_to_the_micrometre() {
    // Posts of 68.25 and bays of 1032: no two bays lie alike on the grid, so none is rounded to it. Each inner bay and
    // post together are 1100.25, four gaps of 275.0625.
    let mut stretch = straight(Length::ZERO, Length::um(5_400_000));
    let mut at = Length::mm(1000);
    for _ in 0..4 {
        let to = at + Length::um(68_250);
        stretch.keep_clears.push(layout_cases::post(at, to));
        at = to + Length::mm(1032);
    }
    let layout = laid(&stretch, &rule_of_300());
    let inner = Length::um(1_068_250)..=Length::um(4_300_750);
    let holes: Vec<Length> =
        layout.pattern.holes.iter().map(|hole| hole.chainage).filter(|at| inner.contains(at)).collect();
    assert_eq!(holes.len(), 12);
    for pair in holes.windows(2) {
        let off = pair[1] - pair[0] - Length::um(275_062);
        assert!(off.abs() <= Length::um(2), "{} after {}", pair[1], pair[0]);
    }
}
