//! Source: IEC 60529 clause 6 and its table of dual marks (the rule for 7 and 8 from memory, partly read second-hand): the
//! second numeral is a set of declared tests. Columns: what is needed, codes that cover it, codes that do not.

use catalogue::Ingress;
use plan::ingress::covers;

/// Marks by their second numerals.
type Marks = &'static [&'static [u8]];

/// Needed second numeral; marks that cover it; marks that do not.
const WATER: [(u8, Marks, Marks); 6] = [
    (5, &[&[5], &[6], &[5, 7], &[6, 8]], &[&[7], &[8], &[9], &[4], &[]]),
    (4, &[&[4], &[5], &[6], &[4, 7]], &[&[7], &[8], &[3], &[]]),
    (7, &[&[7], &[8], &[5, 7], &[6, 8]], &[&[5], &[6], &[9], &[]]),
    (8, &[&[8], &[6, 8]], &[&[7], &[6], &[9]]),
    (6, &[&[6], &[6, 7], &[6, 8]], &[&[5], &[5, 7], &[7], &[8], &[9]]),
    (9, &[&[9], &[6, 9]], &[&[6], &[8]]),
];

fn mark(first: Option<u8>, second: &[u8]) -> Ingress {
    Ingress { first, second: second.to_vec() }
}

#[test]
fn the_second_numeral_is_covered_by_what_was_declared_and_nothing_else() {
    for (needed, enough, short) in WATER {
        for second in enough {
            assert!(covers(&mark(Some(6), second), 0, needed), "{second:?} covers {needed}");
        }
        for second in short {
            assert!(!covers(&mark(Some(6), second), 0, needed), "{second:?} does not cover {needed}");
        }
    }
}

#[test]
fn the_first_numeral_is_a_scale_and_x_is_nothing() {
    for first in 0..=6 {
        for needed in 0..=6 {
            assert_eq!(covers(&mark(Some(first), &[]), needed, 0), first >= needed);
        }
        assert_eq!(covers(&mark(None, &[6]), first, 0), first == 0);
    }
}
