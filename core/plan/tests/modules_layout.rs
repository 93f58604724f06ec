//! The layout of linear modules against an exhaustive search, and what must hold on any rail.

use plan::layout::modules::{Kind, Piece, Room, lay_modules, lit_length};
use proptest::prelude::*;
use units::{Length, Money};

fn kinds(lengths: &[i64]) -> Vec<Kind> {
    // Prices that are no multiple of the length, so that they only decide among equals.
    let price = |mm: i64| Money::ten_thousandths(mm * 100 + (mm * 7919) % 101);
    lengths.iter().map(|mm| Kind { length: Length::mm(*mm), price: price(*mm) }).collect()
}

/// Every choice of counts that fits, by recursion: the best lit length, pieces and price.
fn exhaustive(room: i64, kinds: &[Kind], joint: i64) -> (i64, i64, i64) {
    fn go(left: i64, kinds: &[Kind], joint: i64, sum: (i64, i64, i64), best: &mut (i64, i64, i64)) {
        *best = (*best).max(sum);
        let Some((kind, rest)) = kinds.split_first() else { return };
        let span = kind.length.to_um() + joint;
        let mut sum = sum;
        let mut left = left;
        loop {
            go(left, rest, joint, sum, best);
            left -= span;
            if left < 0 {
                return;
            }
            sum = (sum.0 + kind.length.to_um(), sum.1 - 1, sum.2 - kind.price.to_ten_thousandths());
        }
    }
    let mut best = (0, 0, 0);
    if room > 0 {
        go(room + joint, kinds, joint, (0, 0, 0), &mut best);
    }
    best
}

fn score(row: &[Piece], kinds: &[Kind]) -> (i64, i64, i64) {
    let lit = row.iter().map(|piece| (piece.end - piece.start).to_um()).sum();
    let price: i64 = row.iter().map(|piece| kinds[piece.kind].price.to_ten_thousandths()).sum();
    (lit, -(row.len() as i64), -price)
}

fn stock() -> impl Strategy<Value = (Vec<i64>, i64)> {
    (prop::collection::btree_set(90_i64..900, 1..4), 0_i64..12)
        .prop_map(|(lengths, joint)| (lengths.into_iter().collect(), joint))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn each_room_has_the_most_light_with_the_fewest_pieces(
        (lengths, joint) in stock(),
        rooms in prop::collection::vec((-100_i64..2_600, 1_i64..400), 1..5),
    ) {
        let kinds = kinds(&lengths);
        let mut at = 0;
        let mut spans = Vec::new();
        for (length, gap) in rooms {
            at += gap;
            spans.push(Room { from: Length::mm(at), to: Length::mm(at + length) });
            at += length.max(0);
        }
        let laid = lay_modules(&spans, &kinds, Length::mm(joint));
        prop_assert_eq!(laid.len(), spans.len());
        for (room, row) in spans.iter().zip(&laid) {
            let best = exhaustive((room.to - room.from).to_um(), &kinds, joint * 1000);
            prop_assert_eq!(score(row, &kinds), best, "{:?} {:?}", room, row);
        }
        prop_assert!(lit_length(&laid) >= Length::ZERO);
    }

    #[test]
    fn rows_stand_inside_their_rooms_with_joints_between_and_even_ends(
        (lengths, joint) in stock(),
        from in 0_i64..3_000_000,
        room in 1_i64..8_000_000,
    ) {
        let kinds = kinds(&lengths);
        let room = Room { from: Length::um(from), to: Length::um(from + room) };
        let laid = lay_modules(&[room], &kinds, Length::mm(joint));
        let row = &laid[0];
        for pair in row.windows(2) {
            prop_assert_eq!(pair[1].start - pair[0].end, Length::mm(joint));
        }
        for piece in row {
            prop_assert_eq!(piece.end - piece.start, kinds[piece.kind].length);
        }
        if let (Some(first), Some(last)) = (row.first(), row.last()) {
            let (before, after) = (first.start - room.from, room.to - last.end);
            prop_assert!(before >= Length::ZERO && after >= Length::ZERO);
            // Even to half a millimetre: the finest that is marked.
            prop_assert!((before - after).abs() <= Length::um(500), "{:?} {:?}", before, after);
        }
    }

    #[test]
    fn a_mirrored_rail_has_the_mirrored_layout_up_to_ties(
        (lengths, joint) in stock(),
        spans in prop::collection::vec((1_i64..3_000, 0_i64..200), 1..4),
    ) {
        let kinds = kinds(&lengths);
        let joint = Length::mm(joint);
        let mut at = 0;
        let mut rooms = Vec::new();
        for (length, gap) in spans {
            rooms.push(Room { from: Length::mm(at), to: Length::mm(at + length) });
            at += length + gap;
        }
        let whole = Length::mm(at);
        let mirrored: Vec<Room> =
            rooms.iter().rev().map(|room| Room { from: whole - room.to, to: whole - room.from }).collect();
        let there = lay_modules(&rooms, &kinds, joint);
        let back = lay_modules(&mirrored, &kinds, joint);
        for (row, other) in there.iter().zip(back.iter().rev()) {
            // Where two lengths have an odd count the row itself is no mirror image: the same pieces, another order.
            let kinds_of = |row: &[Piece]| {
                let mut kinds: Vec<usize> = row.iter().map(|piece| piece.kind).collect();
                kinds.sort_unstable();
                kinds
            };
            prop_assert_eq!(kinds_of(row), kinds_of(other));
            let palindrome = row.iter().map(|p| p.kind).eq(row.iter().rev().map(|p| p.kind));
            if palindrome {
                for (piece, twin) in row.iter().zip(other.iter().rev()) {
                    let off = (piece.start - (whole - twin.end)).abs();
                    prop_assert!(off <= Length::um(500), "{:?} {:?}", piece, twin);
                }
            }
        }
    }
}
