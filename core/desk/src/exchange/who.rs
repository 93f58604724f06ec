//! Finding a device by what a person calls it: the beginning of its id, its person or its name.

use exchange::DeviceId;
use exchange::members::Label;

use super::ExchangeError;
use crate::hex::hex;
use crate::safe::safe;

/// Fewer digits of an id could be a word.
const LEAST_DIGITS: usize = 8;

/// An id in full.
pub(super) fn digits(device: DeviceId) -> String {
    hex(&device.0)
}

/// The one device of some that is called so.
pub(super) fn find(
    asked: &str,
    what: &'static str,
    among: &[(DeviceId, Option<Label>)],
) -> Result<DeviceId, ExchangeError> {
    let lower = asked.to_lowercase();
    let by_id = |id: DeviceId| lower.len() >= LEAST_DIGITS && digits(id).starts_with(&lower);
    let by_name = |label: &Label| label.person.to_lowercase() == lower || label.device.to_lowercase() == lower;
    let fits: Vec<DeviceId> = among
        .iter()
        .filter(|(id, label)| by_id(*id) || label.as_ref().is_some_and(by_name))
        .map(|(id, _)| *id)
        .collect();
    match fits.as_slice() {
        [one] => Ok(*one),
        _ => {
            let named: Vec<String> = among.iter().map(|(id, label)| said(*id, label.as_ref())).collect();
            let accepted = if named.is_empty() { format!("none, since there is no {what}") } else { named.join(", ") };
            Err(ExchangeError::NoDevice { what, asked: asked.to_owned(), accepted })
        }
    }
}

/// A device as a person is told of it.
pub(super) fn said(id: DeviceId, label: Option<&Label>) -> String {
    match label {
        Some(label) => format!("{id} ({} on {})", safe(&label.person), safe(&label.device)),
        None => id.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_device_is_found_by_id_person_or_name_where_that_is_one() {
        let label = |person: &str, device: &str| Some(Label { person: person.to_owned(), device: device.to_owned() });
        let among = [
            (DeviceId([0xab; 32]), label("Invented Anna", "tablet")),
            (DeviceId([0xcd; 32]), label("Invented Ben", "laptop")),
            (DeviceId([0xce; 32]), label("Invented Cem", "tablet")),
            (DeviceId([0xef; 32]), None),
        ];
        let found = |asked: &str| find(asked, "member", &among).ok().map(|id| id.0[0]);
        assert_eq!(found("ABABABAB"), Some(0xab));
        assert_eq!(found("invented ben"), Some(0xcd));
        assert_eq!(found("laptop"), Some(0xcd));
        assert_eq!(found("efefefefef"), Some(0xef));
        for asked in ["tablet", "ababab", "", "cdcdcdce"] {
            let why = find(asked, "member", &among).expect_err("none or several").to_string();
            assert!(why.contains("(Invented Cem on tablet)"), "{why}");
        }
    }
}
