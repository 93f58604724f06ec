//! What must hold for every rail: holes in the free lengths, fixed holes kept, mirrored rails mirrored, equal bays equal.

mod layout_cases;

use layout_cases::{laid, mirror, post, straight};
use plan::layout::{
    Across, EndKind, FixedHole, FixedReason, HoleOrigin, KeepClear, Laid, SpacingRule, Stretch, StretchLayout, Why,
    lay_out,
};
use proptest::prelude::*;
use units::Length;

fn half_mm(range: std::ops::Range<i64>) -> impl Strategy<Value = Length> {
    range.prop_map(|halves| Length::um(500 * halves))
}

prop_compose! {
    fn rules()(target in half_mm(100..1400), least in half_mm(0..300), more in half_mm(0..500), spacing in half_mm(0..90))
        -> SpacingRule
    {
        SpacingRule {
            target,
            least_margin: least,
            greatest_margin: least + more,
            least_spacing: spacing,
            grid: SpacingRule::HALF_MM,
        }
    }
}

prop_compose! {
    fn keep_clears()(from in 0_i64..16_000, width in 0_i64..700, breaks in 0..5) -> KeepClear {
        let (from, to) = (Length::um(500 * (from - 200)), Length::um(500 * (from - 200 + width)));
        KeepClear { from, to, why: Why::Post, tag: 0, across: if breaks == 0 { Across::Breaks } else { Across::Counts } }
    }
}

prop_compose! {
    /// Any rail, from nothing to eight metres, with anything on it.
    fn rails()(
        length in 0_i64..16_000,
        keep_clears in prop::collection::vec(keep_clears(), 0..7),
        fixed in prop::collection::vec(0_i64..16_000, 0..3),
        start in -4000_i64..4000,
    ) -> Stretch {
        let mut stretch = straight(Length::ZERO, Length::um(500 * length));
        stretch.keep_clears = keep_clears;
        stretch.fixed = fixed
            .iter()
            .enumerate()
            .map(|(tag, at)| FixedHole { at: Length::um(500 * at), tag, reason: FixedReason::Drilled })
            .collect();
        moved(&stretch, Length::um(500 * start))
    }
}

prop_compose! {
    /// A rail with equal posts at a regular pitch, turned bays included, and odd end bays.
    fn regular_rails()(
        pitches in prop::collection::vec(prop::sample::select(vec![1100_i64, 1100, 1100, 950, 1203]), 1..9),
        ends in (1_i64..1800, 1_i64..1800),
        halves in prop::collection::vec(prop::sample::select(vec![30_i64, 30, 34, 60]), 10),
    ) -> Stretch {
        let mut at = ends.0;
        let mut posts = vec![at];
        for pitch in pitches {
            at += pitch;
            posts.push(at);
        }
        let mut stretch = straight(Length::ZERO, Length::mm(at + ends.1));
        stretch.keep_clears = posts
            .iter()
            .zip(&halves)
            .map(|(at, half)| post(Length::mm(at - half), Length::mm(at + half)))
            .collect();
        stretch
    }
}

fn moved(stretch: &Stretch, by: Length) -> Stretch {
    let mut moved = stretch.clone();
    (moved.start, moved.end, moved.mark) = (stretch.start + by, stretch.end + by, stretch.mark + by);
    for clear in &mut moved.keep_clears {
        (clear.from, clear.to) = (clear.from + by, clear.to + by);
    }
    for hole in &mut moved.fixed {
        hole.at += by;
    }
    moved
}

fn answers(layout: &StretchLayout) -> impl Iterator<Item = &Laid> {
    std::iter::once(&layout.pattern).chain(&layout.alternative)
}

fn positions(laid: &Laid) -> Vec<Length> {
    laid.holes.iter().map(|hole| hole.chainage).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn new_holes_stay_in_the_free_lengths_and_fixed_ones_where_they_are(rail in rails(), rule in rules()) {
        let layout = laid(&rail, &rule);
        for laid in answers(&layout) {
            for hole in laid.holes.iter().filter(|hole| hole.origin == HoleOrigin::Planned) {
                let at = hole.chainage;
                prop_assert!(at >= rail.start + rule.least_margin && at <= rail.end - rule.least_margin, "{at} is off");
                for clear in &rail.keep_clears {
                    prop_assert!(at <= clear.from || at >= clear.to, "{at} is inside {clear:?}");
                }
            }
            for fixed in rail.fixed.iter().filter(|hole| hole.at >= rail.start && hole.at <= rail.end) {
                let kept = |hole: &&plan::layout::Hole| {
                    hole.chainage == fixed.at && matches!(hole.origin, HoleOrigin::Fixed { .. })
                };
                prop_assert_eq!(laid.holes.iter().filter(kept).count(), 1);
            }
        }
    }

    #[test]
    fn running_dimensions_and_figures_agree_with_the_positions(rail in rails(), rule in rules()) {
        let mut rail = rail;
        rail.keep_clears.retain(|clear| clear.across == Across::Counts);
        let layout = laid(&rail, &rule);
        for laid in answers(&layout) {
            let at = positions(laid);
            prop_assert!(at.is_sorted());
            for (i, hole) in laid.holes.iter().enumerate() {
                prop_assert_eq!(hole.from_mark, hole.chainage - rail.mark);
                prop_assert_eq!(hole.spacing, i.checked_sub(1).map(|before| at[i] - at[before]));
            }
            let gaps: Vec<i64> = at.windows(2).map(|pair| (pair[1] - pair[0]).to_um()).collect();
            let Some(figures) = laid.figures.gaps else {
                prop_assert!(gaps.is_empty());
                continue;
            };
            let departures = || gaps.iter().map(|gap| (gap - rule.target.to_um()).unsigned_abs());
            prop_assert_eq!(figures.count, gaps.len());
            prop_assert_eq!(figures.least.to_um(), *gaps.iter().min().unwrap());
            prop_assert_eq!(figures.greatest.to_um(), *gaps.iter().max().unwrap());
            prop_assert_eq!(figures.worst_departure.to_um().unsigned_abs(), departures().max().unwrap());
            prop_assert_eq!(figures.sum_of_squares_um2, departures().map(|d| u128::from(d).pow(2)).sum::<u128>());
            let mean = (*at.last().unwrap() - at[0]).to_mm() / gaps.len() as f64;
            prop_assert!((figures.mean_mm - mean).abs() < 1e-6);
        }
    }

    #[test]
    fn a_mirrored_rail_has_the_mirrored_layout(rail in rails(), rule in rules()) {
        let (layout, turned) = (laid(&rail, &rule), laid(&mirror(&rail), &rule));
        prop_assert_eq!(layout.alternative.is_some(), turned.alternative.is_some());
        for (this, that) in answers(&layout).zip(answers(&turned)) {
            let back: Vec<Length> = positions(that).into_iter().rev().map(|at| rail.start + rail.end - at).collect();
            prop_assert_eq!(positions(this), back);
        }
    }

    #[test]
    fn a_rail_that_is_its_own_mirror_image_has_a_layout_that_is(rail in regular_rails(), rule in rules()) {
        // The rail and its mirror image, joined end to end at a post.
        let mut whole = rail.clone();
        whole.end = rail.end + rail.end;
        whole.keep_clears.extend(moved(&mirror(&rail), rail.end).keep_clears);
        whole.keep_clears.push(post(rail.end - Length::mm(20), rail.end + Length::mm(20)));
        let layout = laid(&whole, &rule);
        for laid in answers(&layout) {
            let back: Vec<Length> = positions(laid).into_iter().rev().map(|at| whole.end - at).collect();
            prop_assert_eq!(positions(laid), back);
        }
    }

    #[test]
    fn equal_bays_are_alike_and_mirrored_about_their_middle(rail in regular_rails(), rule in rules()) {
        let layout = laid(&rail, &rule);
        let at = positions(&layout.pattern);
        // A bay, told from the input alone: its length, the widths beside it, the offsets of its holes.
        let clears = &rail.keep_clears;
        let offsets = |from: Length, to: Length| -> Vec<Length> {
            at.iter().filter(|at| (from..=to).contains(at)).map(|at| *at - from).collect()
        };
        // A bay that the least end margin reaches, or that lies beside a post at the very end, is an end bay.
        let inner = |pair: &&[KeepClear]| {
            let reach = rule.least_margin.max(Length::um(1));
            pair[0].to >= rail.start + reach
                && pair[1].from <= rail.end - reach
                && pair[0].from > rail.start
                && pair[1].to < rail.end
        };
        let bays: Vec<(Length, Length, Length, Vec<Length>)> = clears
            .windows(2)
            .filter(inner)
            .map(|pair| {
                let widths = (pair[0].to - pair[0].from, pair[1].to - pair[1].from);
                let length = pair[1].from - pair[0].to;
                (length, widths.0.min(widths.1), widths.0.max(widths.1), offsets(pair[0].to, pair[1].from))
            })
            .collect();
        for (length, .., holes) in &bays {
            let turned: Vec<Length> = holes.iter().rev().map(|at| *length - *at).collect();
            prop_assert_eq!(holes, &turned);
        }
        for (i, this) in bays.iter().enumerate() {
            for that in &bays[i + 1..] {
                if (this.0, this.1, this.2) == (that.0, that.1, that.2) {
                    prop_assert_eq!(&this.3, &that.3);
                }
            }
        }
    }

    #[test]
    fn rounding_costs_no_more_than_the_grid(rail in rails(), rule in rules()) {
        let layout = laid(&rail, &rule);
        for laid in answers(&layout) {
            if let Some(gaps) = laid.figures.gaps {
                let most = laid.least_worst + rule.grid + Length::um(3);
                prop_assert!(gaps.worst_departure <= most, "{} > {most}", gaps.worst_departure);
            }
        }
        if let Some(alternative) = &layout.alternative {
            prop_assert!(alternative.least_worst <= layout.pattern.least_worst);
            prop_assert_eq!(alternative.figures.count, layout.pattern.figures.count);
        }
    }

    #[test]
    fn the_order_of_the_input_does_not_matter_and_answers_repeat(rail in rails(), rule in rules(), by in 0_usize..7) {
        let layout = laid(&rail, &rule);
        let mut shuffled = rail.clone();
        shuffled.keep_clears.reverse();
        let count = shuffled.keep_clears.len().max(1);
        shuffled.keep_clears.rotate_left(by % count);
        shuffled.fixed.reverse();
        let again = laid(&shuffled, &rule);
        prop_assert_eq!(&layout.pattern, &again.pattern);
        prop_assert_eq!(&layout.alternative, &again.alternative);
        prop_assert_eq!(layout, laid(&rail, &rule));
    }

    #[test]
    fn a_rail_moved_along_its_chainage_keeps_its_layout(rail in rails(), rule in rules(), by in -9000_i64..9000) {
        let by = Length::um(500 * by);
        let (layout, other) = (laid(&rail, &rule), laid(&moved(&rail, by), &rule));
        let back: Vec<Length> = positions(&other.pattern).into_iter().map(|at| at - by).collect();
        prop_assert_eq!(positions(&layout.pattern), back);
    }

    #[test]
    fn rails_laid_out_together_share_the_patterns_of_their_bays(one in regular_rails(), other in regular_rails(), rule in rules()) {
        let layouts = lay_out(&[one, other], &rule).unwrap();
        let mut seen = std::collections::BTreeMap::new();
        for layout in &layouts {
            for bay in &layout.bays {
                let mut offsets: Vec<Length> = positions(&layout.pattern)
                    .into_iter()
                    .filter(|at| (bay.from..=bay.to).contains(at))
                    .map(|at| if bay.mirrored { bay.to - at } else { at - bay.from })
                    .collect();
                offsets.sort_unstable();
                let first = seen.entry(bay.class).or_insert_with(|| offsets.clone());
                prop_assert_eq!(&*first, &offsets);
            }
        }
    }

    #[test]
    fn nothing_panics(
        ends in (any::<i64>(), any::<i64>()),
        clears in prop::collection::vec((any::<i64>(), any::<i64>()), 0..4),
        fixed in prop::collection::vec(any::<i64>(), 0..4),
        rule in (any::<i64>(), any::<i64>(), any::<i64>(), any::<i64>(), any::<i64>()),
        shift in 0_u32..60,
    ) {
        // Shifted down, so that some of the values are ones that are read.
        let um = |value: i64| Length::um(value >> shift);
        let mut rail = straight(um(ends.0), um(ends.1));
        rail.end_kind = EndKind::Bend;
        rail.keep_clears = clears.iter().map(|(from, to)| post(um(*from), um(*to))).collect();
        rail.fixed = fixed
            .iter()
            .map(|at| FixedHole { at: um(*at), tag: 0, reason: FixedReason::Locked })
            .collect();
        let rule = SpacingRule {
            target: um(rule.0),
            least_margin: um(rule.1),
            greatest_margin: um(rule.2),
            least_spacing: um(rule.3),
            grid: um(rule.4),
        };
        if let Ok(layouts) = lay_out(&[rail], &rule) {
            prop_assert_eq!(layouts.len(), 1);
        }
    }
}
