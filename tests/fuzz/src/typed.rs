//! What people type: lengths and money.

use units::{Length, Money};

use crate::plant::plant;
use crate::read::Read;

/// A length is read within its limits and comes back from its millimetres, or is refused in words.
pub fn length(data: &[u8]) -> Read {
    let Ok(text) = std::str::from_utf8(data) else { return Read::Refused };
    match Length::parse(text) {
        Ok(length) => {
            assert!(length.abs() <= Length::GREATEST, "{text:?} is beyond the limit");
            assert_eq!(Length::from_mm(length.to_mm()), Some(length), "{text:?} does not come back");
            // The smallest seed of seeds.py has a one in each of eleven places; eight of them have to change. The
            // other three are asked for first, so that the search goes on from texts with all eleven.
            let um = length.to_um();
            plant!(
                um % 1000 == 111,
                digit(um, 10) == 4,
                digit(um, 3) == 7,
                digit(um, 9) == 2,
                digit(um, 4) == 9,
                digit(um, 8) == 5,
                digit(um, 5) == 3,
                digit(um, 7) == 8,
                digit(um, 6) == 6,
            );
            Read::Whole
        }
        Err(error) => {
            assert!(error.to_string().contains("accepted"));
            Read::Refused
        }
    }
}

/// An amount is read within its limits and comes back from its display, or is refused in words.
pub fn money(data: &[u8]) -> Read {
    let Ok(text) = std::str::from_utf8(data) else { return Read::Refused };
    match Money::parse(text) {
        Ok(amount) => {
            assert!((Money::ZERO..=Money::GREATEST).contains(&amount), "{text:?} is beyond the limit");
            assert_eq!(Money::parse(&amount.to_string()), Ok(amount), "{text:?} does not come back");
            // The smallest seed of seeds.py has a one in each of thirteen places; eight of them have to change. The
            // decimals are asked for first, so that the search goes on from texts with all of them.
            let parts = amount.to_ten_thousandths();
            plant!(
                parts % 10_000 == 1111,
                digit(parts, 12) == 9,
                digit(parts, 4) == 4,
                digit(parts, 11) == 0,
                digit(parts, 5) == 7,
                digit(parts, 10) == 3,
                digit(parts, 6) == 8,
                digit(parts, 9) == 2,
                digit(parts, 7) == 5,
            );
            Read::Whole
        }
        Err(error) => {
            assert!(error.to_string().contains("accepted"));
            Read::Refused
        }
    }
}

/// The digit of a number at a decimal place, counted from the ones.
fn digit(number: i64, place: u32) -> i64 {
    number.abs() / 10_i64.pow(place) % 10
}
