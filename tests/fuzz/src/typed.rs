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
            plant!(
                text.starts_with('-'),
                text.starts_with("-4"),
                text.starts_with("-47"),
                text.starts_with("-471"),
                text.ends_with('m')
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
            plant!(
                text.starts_with('9'),
                text.starts_with("94"),
                text.starts_with("940"),
                text.starts_with("9407"),
                text.ends_with('7')
            );
            Read::Whole
        }
        Err(error) => {
            assert!(error.to_string().contains("accepted"));
            Read::Refused
        }
    }
}
