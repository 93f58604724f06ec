//! When the next round begins: soon after an edit, every so often, and after a failure with growing pauses.

use std::time::{Duration, Instant};

/// The window's own start goes before its first round.
const AT_START: Duration = Duration::from_secs(2);
/// An edit is shared so long after the last of several.
const AFTER_EDIT: Duration = Duration::from_secs(10);
/// What others did is looked for so often. An idle round lists heads and reads nothing else.
const EVERY: Duration = Duration::from_secs(60);
/// The pause after the first failure; each further one doubles it.
const FIRST_PAUSE: Duration = Duration::from_secs(5);
/// The longest pause. So long also a person who stops a round has rest.
const LONGEST_PAUSE: Duration = Duration::from_secs(300);

/// How a round ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ended {
    Well,
    /// It was not finished.
    Failed,
    /// A person stopped it.
    Stopped,
    /// It made way for something that a person did with the team, and goes on at once.
    MadeWay,
}

/// When the next round begins.
#[derive(Debug)]
pub(super) struct Pace {
    at: Instant,
    after_edit: Option<Instant>,
    failures: u32,
    /// Edits do not hasten a round that fails or that a person has stopped.
    rests: bool,
}

impl Pace {
    pub fn new(now: Instant) -> Self {
        Self { at: now + AT_START, after_edit: None, failures: 0, rests: false }
    }

    pub fn next(&self) -> Instant {
        let edit = self.after_edit.filter(|_| !self.rests);
        edit.map_or(self.at, |edit| edit.min(self.at))
    }

    /// There is something new to share.
    pub fn edited(&mut self, now: Instant) {
        self.after_edit = Some(now + AFTER_EDIT);
    }

    /// Somebody wants a round now.
    pub fn asked(&mut self, now: Instant) {
        (self.at, self.rests) = (now, false);
    }

    pub fn ended(&mut self, how: Ended, now: Instant) {
        self.after_edit = None;
        self.rests = matches!(how, Ended::Failed | Ended::Stopped);
        self.failures = if how == Ended::Failed { self.failures.saturating_add(1) } else { 0 };
        self.at = now
            + match how {
                Ended::Well => EVERY,
                Ended::MadeWay => Duration::ZERO,
                Ended::Stopped => LONGEST_PAUSE,
                Ended::Failed => pause(self.failures),
            };
    }
}

fn pause(failures: u32) -> Duration {
    let doubled = 1_u32.checked_shl(failures.saturating_sub(1)).filter(|by| *by > 0).unwrap_or(u32::MAX);
    FIRST_PAUSE.saturating_mul(doubled).min(LONGEST_PAUSE)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn s(seconds: u64) -> Duration {
        Duration::from_secs(seconds)
    }

    #[test]
    fn an_edit_is_shared_some_seconds_after_the_last_and_at_the_latest_with_the_next_look() {
        let start = Instant::now();
        let mut pace = Pace::new(start);
        pace.ended(Ended::Well, start);
        assert_eq!(pace.next(), start + s(60));
        pace.edited(start + s(20));
        pace.edited(start + s(25));
        assert_eq!(pace.next(), start + s(35));
        pace.edited(start + s(55));
        assert_eq!(pace.next(), start + s(60), "whoever goes on typing does not put it off for ever");
        pace.ended(Ended::Well, start + s(61));
        assert_eq!(pace.next(), start + s(121));
    }

    #[test]
    fn pauses_grow_while_the_place_is_away_and_edits_do_not_shorten_them() {
        let now = Instant::now();
        let mut pace = Pace::new(now);
        let mut pauses = Vec::new();
        for _ in 0..8 {
            pace.ended(Ended::Failed, now);
            pace.edited(now);
            pauses.push((pace.next() - now).as_secs());
        }
        assert_eq!(pauses, [5, 10, 20, 40, 80, 160, 300, 300]);
        assert_eq!(pause(u32::MAX), s(300));
        pace.asked(now);
        assert_eq!(pace.next(), now);
        pace.ended(Ended::Well, now);
        pace.ended(Ended::Failed, now);
        assert_eq!(pace.next(), now + s(5));
    }

    #[test]
    fn a_stopped_round_rests_and_one_that_made_way_goes_on() {
        let now = Instant::now();
        let mut pace = Pace::new(now);
        pace.ended(Ended::Stopped, now);
        pace.edited(now);
        assert_eq!(pace.next(), now + s(300));
        pace.ended(Ended::MadeWay, now);
        assert_eq!(pace.next(), now);
    }
}
