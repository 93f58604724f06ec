//! How many modules of each length fill a room best, exactly.

use units::{Length, Money};

/// The most cells of the table; about ten megabytes.
pub const MOST_CELLS: i64 = 400_000;

/// A length in stock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Kind {
    /// Length of one module.
    pub length: Length,
    /// Its price.
    pub price: Money,
}

/// What a number of modules is worth: lit length first, then few pieces, then a low price.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
struct Worth {
    lit_um: i64,
    fewer: i64,
    cheaper: i64,
}

impl Worth {
    fn with(self, kind: &Kind) -> Self {
        Self {
            lit_um: self.lit_um + kind.length.to_um(),
            fewer: self.fewer - 1,
            cheaper: self.cheaper.saturating_sub(kind.price.to_ten_thousandths()),
        }
    }
}

/// The best counts for every room up to the longest, worked out once.
#[derive(Clone, Debug)]
pub struct Filler {
    unit: i64,
    joint: i64,
    cells: usize,
    /// Cells that each kind takes up with its joint; zero for a kind that is never used.
    sizes: Vec<usize>,
    /// By cells of room, the kind taken last, counted from 1; 0 where one cell is left empty.
    taken: Vec<u16>,
}

impl Filler {
    /// The table for rooms up to `longest`. A kind whose length is not above zero is never used, nor one whose length
    /// and joint allowance together are not.
    #[must_use]
    pub fn of(kinds: &[Kind], joint: Length, longest: Length) -> Self {
        let joint = joint.to_um();
        let room = (longest.to_um() + joint).clamp(0, 2 * Length::GREATEST.to_um());
        let usable = |kind: &Kind| kind.length > Length::ZERO && kind.length.to_um() + joint > 0;
        let spans: Vec<i64> =
            kinds.iter().map(|kind| if usable(kind) { kind.length.to_um() + joint } else { 0 }).collect();
        let common = spans.iter().fold(0, |divisor, span| greatest_divisor(divisor, *span)).max(1);
        // Sizes are rounded up to a coarser unit, so that a row never comes out longer than its room.
        let unit = common.max(room / MOST_CELLS + 1);
        let cells = if spans.iter().all(|span| *span == 0) { 0 } else { (room / unit) as usize };
        let sizes: Vec<usize> = spans.iter().map(|span| (span + unit - 1).div_euclid(unit) as usize).collect();
        let mut worth = vec![Worth::default(); cells + 1];
        let mut taken = vec![0_u16; cells + 1];
        for cell in 1..=cells {
            let (mut best, mut choice) = (worth[cell - 1], 0);
            for (index, size) in sizes.iter().enumerate().take(usize::from(u16::MAX) - 1) {
                if *size > 0 && *size <= cell {
                    let with = worth[cell - size].with(&kinds[index]);
                    if with > best {
                        (best, choice) = (with, index as u16 + 1);
                    }
                }
            }
            (worth[cell], taken[cell]) = (best, choice);
        }
        Self { unit, joint, cells, sizes, taken }
    }

    /// How many of each kind fill a room best. A room longer than the table is filled as far as the table goes.
    #[must_use]
    pub fn fill(&self, room: Length) -> Vec<u32> {
        let mut counts = vec![0; self.sizes.len()];
        // The last module of a row has no joint behind it.
        let open = room.to_um().saturating_add(self.joint);
        let mut cell = if room > Length::ZERO { ((open / self.unit).max(0) as usize).min(self.cells) } else { 0 };
        while cell > 0 {
            match self.taken[cell] {
                0 => cell -= 1,
                kind => {
                    counts[usize::from(kind) - 1] += 1;
                    cell -= self.sizes[usize::from(kind) - 1];
                }
            }
        }
        counts
    }
}

/// Euclid's algorithm; the divisor of nothing and a number is the number.
const fn greatest_divisor(mut a: i64, mut b: i64) -> i64 {
    while b != 0 {
        (a, b) = (b, a.rem_euclid(b));
    }
    a
}

#[cfg(test)]
mod tests {
    use super::*;

    fn kinds(lengths: &[i64]) -> Vec<Kind> {
        lengths.iter().map(|mm| Kind { length: Length::mm(*mm), price: Money::ZERO }).collect()
    }

    fn fill(lengths: &[i64], joint: i64, room: i64) -> Vec<u32> {
        Filler::of(&kinds(lengths), Length::mm(joint), Length::mm(room)).fill(Length::mm(room))
    }

    #[test]
    fn the_longest_first_is_not_always_the_most() {
        // By hand: of 1000, 700 and 600 without joints a room of 1400 takes 2 × 700, not 1000 and nothing.
        assert_eq!(fill(&[1000, 700, 600], 0, 1400), [0, 2, 0]);
        // Of equal lit lengths the fewest pieces: 1200 = 2 × 600 rather than 3 × 400.
        assert_eq!(fill(&[600, 400], 0, 1200), [2, 0]);
    }

    #[test]
    fn joints_stand_between_modules_only() {
        // By hand: 2 × 500 and one joint of 4 are 1004.
        assert_eq!(fill(&[500], 4, 1004), [2]);
        assert_eq!(fill(&[500], 4, 1003), [1]);
        assert_eq!(fill(&[500], 4, 500), [1]);
        assert_eq!(fill(&[500], 4, 499), [0]);
    }

    #[test]
    fn what_cannot_be_laid_is_left_out() {
        assert_eq!(fill(&[], 4, 1000), [] as [u32; 0]);
        assert_eq!(fill(&[0, -5], 0, 1000), [0, 0]);
        assert_eq!(fill(&[500], 4, -3), [0]);
        let shortest = Filler::of(&kinds(&[500]), Length::mm(4), Length::ZERO);
        assert_eq!(shortest.fill(Length::mm(1004)), [0]);
    }

    #[test]
    fn a_fine_unit_is_made_coarser_and_the_row_still_fits() {
        let odd = [
            Kind { length: Length::um(333_333), price: Money::ZERO },
            Kind { length: Length::um(1_000_001), price: Money::ZERO },
        ];
        let room = Length::mm(60_000);
        let counts = Filler::of(&odd, Length::um(1), room).fill(room);
        let pieces = i64::from(counts[0] + counts[1]);
        let lit: i64 = counts.iter().zip(&odd).map(|(n, kind)| i64::from(*n) * kind.length.to_um()).sum();
        assert!(lit + pieces - 1 <= room.to_um());
        // At most one unit (60 m over the cells) is lost for each piece, and a piece more would not fit.
        assert!(room.to_um() - lit < 333_334 + pieces * (room.to_um() / MOST_CELLS + 2));
    }
}
