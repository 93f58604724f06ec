//! Whether an ingress code suits where a thing stands.

use catalogue::Ingress;
use survey::Setting;

/// The least first numeral and the second numeral that a setting asks of equipment.
///
/// # Source
/// The numerals are those of IEC 60529 (2 finger, 4 wire; 1 drops, 4 splash, 5 jet, 7 immersed for a time); which
/// setting asks for which is common practice, no source.
#[must_use]
pub const fn needed(setting: Setting) -> (u8, u8) {
    match setting {
        Setting::IndoorDry => (2, 0),
        Setting::IndoorDamp => (2, 1),
        Setting::OutdoorSheltered | Setting::OutdoorOpen => (4, 4),
        Setting::OutdoorHosed => (4, 5),
        Setting::MaySubmerge => (4, 7),
    }
}

/// Whether a code suits a setting.
///
/// The second numeral is a set of declared tests, not a scale: a test up to 6 covers the lower ones, 8 covers 7, but 7
/// and 8 cover none of 1 to 6 and 9 covers nothing else. An undeclared numeral covers nothing.
///
/// # Source
/// IEC 60529 clause 6 (from memory).
#[must_use]
pub fn suits(code: &Ingress, setting: Setting) -> bool {
    let (first, second) = needed(setting);
    covers(code, first, second)
}

/// Whether a code covers a first and a second numeral, by the logic of [`suits`].
#[must_use]
pub fn covers(code: &Ingress, first: u8, second: u8) -> bool {
    let dust = first == 0 || code.first.is_some_and(|numeral| numeral >= first);
    let water = |numeral: &u8| match second {
        0..=6 => (second..=6).contains(numeral),
        7 => (7..=8).contains(numeral),
        _ => *numeral == second,
    };
    dust && (second == 0 || code.second.iter().any(water))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(first: u8, second: &[u8], setting: Setting) -> bool {
        suits(&Ingress { first: Some(first), second: second.to_vec() }, setting)
    }

    #[test]
    fn the_second_numeral_is_a_set_and_not_a_scale() {
        // IEC 60529 clause 6 (from memory): 7 or 8 alone does not cover a jet, a dual mark does.
        assert!(check(6, &[5], Setting::OutdoorHosed));
        assert!(check(6, &[6], Setting::OutdoorHosed));
        assert!(check(6, &[5, 7], Setting::OutdoorHosed));
        assert!(!check(6, &[7], Setting::OutdoorHosed));
        assert!(!check(6, &[8], Setting::OutdoorOpen));
        assert!(!check(6, &[9], Setting::OutdoorHosed));
        assert!(check(6, &[8], Setting::MaySubmerge));
        assert!(!check(6, &[6], Setting::MaySubmerge));
        assert!(check(2, &[], Setting::IndoorDry));
        assert!(!check(2, &[], Setting::IndoorDamp));
        assert!(!suits(&Ingress { first: None, second: vec![5] }, Setting::OutdoorOpen));
    }
}
