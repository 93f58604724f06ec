//! The order of a row of modules and its place in the room.

use units::Length;

use super::{Kind, Piece, Room};

/// Places of half a millimetre are the finest that a fitter can mark.
const GRID: i64 = 500;

/// Puts counted kinds in a row that reads the same from either end as far as the counts allow: half of each kind on
/// either side, the first kind outermost; of each kind with an odd count one stands in the middle, in order of kind.
pub(super) fn in_order(counts: &[u32]) -> Vec<usize> {
    let mut side = Vec::new();
    let mut middle = Vec::new();
    for (kind, count) in counts.iter().enumerate() {
        side.extend(std::iter::repeat_n(kind, (*count / 2) as usize));
        if count % 2 == 1 {
            middle.push(kind);
        }
    }
    let back: Vec<usize> = side.iter().rev().copied().collect();
    [side, middle, back].concat()
}

/// Places a row in the middle of its room, its start on a half millimetre where the room lets it.
pub(super) fn in_room(room: Room, row: &[usize], kinds: &[Kind], joint: Length) -> Vec<Piece> {
    let lit: Length = row.iter().map(|kind| kinds[*kind].length).sum();
    let used = lit + joint * (row.len() as i64 - 1).max(0);
    let middle = room.from.to_um() + (room.to - room.from - used).half().to_um();
    // Twice the middle is a whole number where the middle is not.
    let twice = 2 * room.from.to_um() + (room.to - room.from - used).to_um();
    let rounded = (twice + GRID - 1).div_euclid(2 * GRID) * GRID;
    let fits = rounded >= room.from.to_um() && rounded + used.to_um() <= room.to.to_um();
    let mut at = Length::um(if fits { rounded } else { middle });
    row.iter()
        .map(|kind| {
            let piece = Piece { kind: *kind, start: at, end: at + kinds[*kind].length };
            at = piece.end + joint;
            piece
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use units::Money;

    #[test]
    fn a_row_reads_the_same_from_either_end() {
        assert_eq!(in_order(&[2, 1]), [0, 1, 0]);
        assert_eq!(in_order(&[3, 2]), [0, 1, 0, 1, 0]);
        assert_eq!(in_order(&[1, 1]), [0, 1]);
        assert_eq!(in_order(&[]), [] as [usize; 0]);
    }

    #[test]
    fn both_ends_are_left_equally_long() {
        // By hand: 2 × 500 and 4 are 1004; of 1104 mm there are 100 left, 50 to each side.
        let kinds = [Kind { length: Length::mm(500), price: Money::ZERO }];
        let room = Room { from: Length::mm(40), to: Length::mm(1_144) };
        let laid = in_room(room, &[0, 0], &kinds, Length::mm(4));
        assert_eq!((laid[0].start, laid[0].end), (Length::mm(90), Length::mm(590)));
        assert_eq!((laid[1].start, laid[1].end), (Length::mm(594), Length::mm(1_094)));
    }
}
