//! Names beside a drawing that never collide: they step into rows, lean to the other side, or stay in the table.

/// A name that wants to stand below a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// Where its leader comes down, millimetres.
    pub x: f64,
    /// Width of the words, millimetres.
    pub width: f64,
    /// The words.
    pub text: String,
}

/// A name with its place.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// Which wish it is.
    pub wish: usize,
    /// Row from 0, nearest the rail.
    pub row: usize,
    /// Left edge of the words, millimetres.
    pub left: f64,
    /// Right edge of the words, millimetres.
    pub right: f64,
}

/// Free space to each side of words and leaders, millimetres.
const CLEAR: f64 = 0.8;

/// Places as many names as possible between 0 and `width` in at most `rows` rows. No words overlap words, a leader of
/// another name, or one of the `lines` that come down beside them.
#[must_use]
pub fn place(wishes: &[Wish], lines: &[f64], width: f64, rows: usize) -> Vec<Placed> {
    let mut order: Vec<usize> = (0..wishes.len()).collect();
    order.sort_by(|a, b| wishes[*b].x.total_cmp(&wishes[*a].x).then(b.cmp(a)));
    let mut placed: Vec<Placed> = Vec::new();
    for wish in order {
        let Wish { x, width: wide, .. } = &wishes[wish];
        // Under its leader or to its left only where that shuts nobody else in; else to its right, where the names that
        // it covers already stand nearer the rail; to its left whatever it covers only when nothing else is free.
        let shuts_in = |left: &f64| {
            let covers = |other: &Wish| other.x > left - CLEAR && other.x < left + wide + CLEAR && other.x != *x;
            wishes.iter().any(covers)
        };
        let open = [x - wide / 2.0, x - CLEAR - wide].into_iter().filter(|left| !shuts_in(left));
        let lefts: Vec<f64> = open.chain([x + CLEAR, x - CLEAR - wide]).collect();
        let spots = lefts.iter().flat_map(|left| (0..rows).map(move |row| (row, *left)));
        let spot = spots.into_iter().find_map(|(row, left)| {
            let spot = Placed { wish, row, left, right: left + wide };
            (left >= 0.0 && spot.right <= width && is_free(&spot, *x, &placed, wishes, lines)).then_some(spot)
        });
        placed.extend(spot);
    }
    placed.sort_by_key(|spot| spot.wish);
    placed
}

fn is_free(spot: &Placed, x: f64, placed: &[Placed], wishes: &[Wish], lines: &[f64]) -> bool {
    let under = |spot: &Placed, x: f64| x > spot.left - CLEAR / 2.0 && x < spot.right + CLEAR / 2.0;
    let crossed = lines.iter().any(|line| under(spot, *line));
    !crossed
        && placed.iter().all(|other| {
            let apart = spot.right + CLEAR <= other.left || other.right + CLEAR <= spot.left;
            let other_leader_crosses = under(spot, wishes[other.wish].x) && other.row >= spot.row;
            let leader_crosses_other = under(other, x) && spot.row >= other.row;
            (spot.row != other.row || apart) && !other_leader_crosses && !leader_crosses_other
        })
}

/// Moves boxes of these widths, wished at these middles, apart within `0..width`, keeping their order. Returns the
/// middles, or `None` where they do not fit side by side.
#[must_use]
pub fn spread(boxes: &[(f64, f64)], gap: f64, width: f64) -> Option<Vec<f64>> {
    let total: f64 = boxes.iter().map(|(_, wide)| wide + gap).sum::<f64>() - gap;
    if total > width {
        return None;
    }
    let mut lefts: Vec<f64> = Vec::new();
    let mut from = 0.0;
    for (middle, wide) in boxes {
        let left = (middle - wide / 2.0).max(from);
        lefts.push(left);
        from = left + wide + gap;
    }
    let mut to = width;
    for (left, (_, wide)) in lefts.iter_mut().zip(boxes).rev() {
        *left = left.min(to - wide);
        to = *left - gap;
    }
    Some(lefts.iter().zip(boxes).map(|(left, (_, wide))| left + wide / 2.0).collect())
}

/// Which running dimensions can be written upright side by side: the first and last always, and every one that keeps
/// `pitch` millimetres from its neighbours.
#[must_use]
pub fn every_nth(places: &[f64], pitch: f64) -> Vec<usize> {
    let mut kept: Vec<usize> = Vec::new();
    for (number, place) in places.iter().enumerate() {
        if kept.last().is_none_or(|last| place - places[*last] >= pitch) {
            kept.push(number);
        }
    }
    let last = places.len().saturating_sub(1);
    if places.len() > 1 && kept.last() != Some(&last) {
        if kept.len() > 1 {
            kept.pop();
        }
        if kept.last().is_none_or(|before| places[last] - places[*before] >= pitch) {
            kept.push(last);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wish(x: f64, width: f64) -> Wish {
        Wish { x, width, text: String::new() }
    }

    #[test]
    fn crowded_names_step_aside_and_none_overlap() {
        let wishes: Vec<Wish> = (0..40).map(|n| wish(f64::from(n) * 6.0, 15.0)).collect();
        let lines = [31.0, 100.0];
        let placed = place(&wishes, &lines, 240.0, 4);
        assert!(placed.len() >= 15, "{}", placed.len());
        for (at, one) in placed.iter().enumerate() {
            for two in &placed[at + 1..] {
                assert!(one.row != two.row || one.right <= two.left || two.right <= one.left, "{one:?} {two:?}");
            }
            assert!(lines.iter().all(|line| *line <= one.left || *line >= one.right));
        }
    }

    #[test]
    fn names_with_a_little_room_all_find_a_place() {
        let wishes: Vec<Wish> = (0..18).map(|n| wish(f64::from(n) * 13.0, 20.0)).collect();
        assert_eq!(place(&wishes, &[], 262.0, 4).len(), wishes.len());
    }

    #[test]
    fn leaders_do_not_run_through_words_of_nearer_rows() {
        let wishes: Vec<Wish> = (0..12).map(|n| wish(f64::from(n) * 5.0, 18.0)).collect();
        let placed = place(&wishes, &[], 120.0, 5);
        for one in &placed {
            for two in &placed {
                let x = wishes[one.wish].x;
                assert!(two.row >= one.row || x <= two.left || x >= two.right, "{one:?} {two:?}");
            }
        }
    }

    #[test]
    fn boxes_keep_their_order_and_the_sheet() {
        let middles = spread(&[(0.0, 20.0), (2.0, 20.0), (100.0, 20.0)], 2.0, 100.0).expect("fits");
        assert_eq!(middles, [10.0, 32.0, 90.0]);
        assert_eq!(spread(&[(0.0, 60.0), (2.0, 60.0)], 2.0, 100.0), None);
    }

    #[test]
    fn running_dimensions_keep_their_pitch_with_both_ends() {
        let places: Vec<f64> = (0..50).map(f64::from).collect();
        let kept = every_nth(&places, 2.6);
        assert_eq!((kept[0], kept[kept.len() - 1]), (0, 49));
        for pair in kept.windows(2) {
            assert!(places[pair[1]] - places[pair[0]] >= 2.6);
        }
        assert_eq!(every_nth(&[], 2.0), [0_usize; 0]);
        assert_eq!(every_nth(&[1.0, 1.5], 2.0), [0]);
        assert_eq!(every_nth(&[1.0], 2.0), [0]);
    }
}
