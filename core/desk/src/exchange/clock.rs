//! Whether the clocks of a team go together. Nothing is decided by them, but people read the times in the history.

use std::collections::BTreeMap;

use exchange::DeviceId;

/// Clocks that are apart by less than this disturb nobody, milliseconds.
const HOUR_MS: i64 = 3_600_000;

/// What there is to say of the clocks: `own_ms` is this device's now, the others' are of when each last shared; so another
/// that stands ahead of now is ahead, or this one is behind.
pub(super) fn remark(
    own: DeviceId,
    own_ms: i64,
    times: &BTreeMap<DeviceId, i64>,
    called: impl Fn(DeviceId) -> String,
) -> Option<String> {
    let (device, ahead) = times
        .iter()
        .filter(|(device, _)| **device != own)
        .map(|(device, ms)| (*device, ms.saturating_sub(own_ms)))
        .max_by_key(|(_, ahead)| *ahead)
        .filter(|(_, ahead)| *ahead > HOUR_MS)?;
    let hours = ahead / HOUR_MS;
    let span = match hours {
        0..48 => format!("{hours} h"),
        _ => format!("{} days", hours / 24),
    };
    Some(format!(
        "the clock of {} is {span} ahead of this device's, or this one is behind: set them right, or the times in the \
         history mislead; nothing else depends on them",
        called(device)
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_far_ahead_is_named_and_one_that_shared_long_ago_is_not() {
        let (own, other) = (DeviceId([1; 32]), DeviceId([2; 32]));
        let said = |ms: i64| remark(own, 1_000, &BTreeMap::from([(own, i64::MAX), (other, ms)]), |_| "Ben".to_owned());
        assert_eq!(said(-1_000_000_000_000), None);
        assert_eq!(said(1_000 + HOUR_MS), None);
        assert!(said(1_001 + HOUR_MS).is_some_and(|said| said.contains("Ben is 1 h ahead")));
        assert!(said(i64::MAX).is_some_and(|said| said.contains("days ahead")));
    }
}
