//! Rounds of the shared folder that begin by themselves, on a thread of their own, beside a person's work.
//!
//! The store is lent for one question at a time. Whatever a person does with the team (`shared.rs`) and a round never have
//! the team's log at once: a round makes way first.

use std::sync::atomic::Ordering;
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use super::pace::{Ended, Pace};
use super::{Window, held};
use crate::exchange::{self, ExchangeError, Follow, Go, InLittle, Lend, SoFar};
use crate::sites::Sites;
use crate::view::wire::{SharedProgress, SharedSign};
use crate::wire::exchange::{ExchangeRound, ExchangeState};

/// Several questions to the store in a row are one use.
const TOGETHER: Duration = Duration::from_millis(300);
/// So often the page hears how far a round is.
const BETWEEN_NEWS: Duration = Duration::from_millis(200);
/// A round gives way to whoever waits for the store for so long, and not for ever.
const MOST_GIVEN_WAY: Duration = Duration::from_millis(250);

/// What is known of the rounds of this window.
#[derive(Default)]
pub(super) struct Rounds {
    now: Mutex<Now>,
    bell: Condvar,
    /// Held by whoever works with the team's log.
    turn: Mutex<()>,
}

#[derive(Default)]
struct Now {
    /// The window closes.
    closes: bool,
    /// The thread is there.
    lives: bool,
    asked: bool,
    touched: bool,
    /// People who wait to work with the team's log.
    claims: u32,
    /// How far the round on its way has come.
    so_far: Option<SoFar>,
    /// The last one made way, and goes on at once.
    goes_on: bool,
    /// A person wants that round stopped.
    stop: bool,
    /// The last one was stopped by a person.
    stopped: bool,
    last: Option<ExchangeRound>,
    failure: Option<Failed>,
    arrivals: u32,
}

/// Why the last round failed, in this window's words.
#[derive(Clone)]
pub(super) struct Failed {
    pub why: String,
    pub passing: bool,
}

enum Woke {
    Closes,
    Asked,
    Touched,
    Due,
}

impl Rounds {
    fn now(&self) -> MutexGuard<'_, Now> {
        held(&self.now)
    }

    fn ring(&self, say: impl FnOnce(&mut Now)) {
        say(&mut self.now());
        self.bell.notify_all();
    }

    /// The store was used.
    pub fn touched(&self) {
        self.ring(|now| now.touched = true);
    }

    /// Begins a round as soon as can be.
    pub fn ask(&self) {
        self.ring(|now| now.asked = true);
    }

    /// Stops the round on its way, also while it makes way.
    pub fn stop(&self) {
        self.ring(|now| now.stop = now.so_far.is_some() || now.goes_on);
    }

    pub fn last(&self) -> Option<ExchangeRound> {
        self.now().last.clone()
    }

    /// What a round did is no news of another team.
    pub fn forget(&self) {
        let mut now = self.now();
        (now.last, now.failure, now.stopped) = (None, None, false);
    }

    /// Works with the team's log while no round does; the round on its way makes way.
    pub fn alone<T>(&self, work: impl FnOnce() -> T) -> T {
        self.ring(|now| now.claims += 1);
        let turn = held(&self.turn);
        let done = work();
        drop(turn);
        self.ring(|now| now.claims -= 1);
        done
    }

    /// Waits for something to do, at the latest until `until`; without it until something happens.
    fn wait(&self, until: Option<Instant>) -> Woke {
        let mut now = self.now();
        loop {
            let left = until.map(|until| until.saturating_duration_since(Instant::now()));
            match () {
                () if now.closes => return Woke::Closes,
                () if now.asked => {
                    now.asked = false;
                    return Woke::Asked;
                }
                () if now.touched => {
                    now.touched = false;
                    return Woke::Touched;
                }
                () if left == Some(Duration::ZERO) && now.claims == 0 => return Woke::Due,
                () => {}
            }
            now = match left.filter(|left| !left.is_zero()) {
                Some(left) => self.bell.wait_timeout(now, left).map_or_else(|why| why.into_inner().0, |woke| woke.0),
                None => self.bell.wait(now).unwrap_or_else(PoisonError::into_inner),
            };
        }
    }
}

impl Window {
    /// Runs rounds until the window closes; `tell` hears of everything that the head of the window says. To be called once,
    /// on a thread of its own. While this device shares with nobody, or the store is not open to be changed, none is run.
    pub fn keep_sharing(&self, tell: impl Fn(SharedSign)) {
        self.rounds.ring(|now| now.lives = true);
        let (mut pace, mut told) = (Pace::new(Instant::now()), None);
        let mut ready = false;
        loop {
            match self.rounds.wait(ready.then(|| pace.next())) {
                Woke::Closes => break,
                Woke::Asked => pace.asked(Instant::now()),
                Woke::Touched => std::thread::sleep(TOGETHER),
                Woke::Due => pace.ended(self.round(&tell), Instant::now()),
            }
            let sign = self.sign();
            ready = !sign.read_only && matches!(sign.state, ExchangeState::Member | ExchangeState::Waiting);
            let before = told.replace(sign.clone());
            if before.as_ref() != Some(&sign) {
                if before.is_some_and(|before| grew(&before, &sign)) {
                    pace.edited(Instant::now());
                }
                tell(sign);
            }
        }
        self.rounds.ring(|now| now.lives = false);
    }

    /// Ends what [`Self::keep_sharing`] does, and waits for its end so long; what was shared by then stays.
    pub fn end_sharing(&self, patience: Duration) {
        self.rounds.ring(|now| now.closes = true);
        let _ended = self.rounds.bell.wait_timeout_while(self.rounds.now(), patience, |now| now.lives);
    }

    /// Begins a round now.
    pub fn share_now(&self) {
        self.rounds.ask();
    }

    /// Stops the round on its way; what was shared stays. Where none is, nothing happens.
    pub fn stop_sharing(&self) {
        self.rounds.stop();
    }

    /// What the head of the window says. The store is not opened for it.
    pub(super) fn sign(&self) -> SharedSign {
        let mut desk = self.desk();
        let read_only = desk.why_reading.is_some();
        let found = desk.store.as_mut().map(|sites| sites.exchange_in_little());
        drop(desk);
        let now = self.rounds.now();
        let mut sign = SharedSign {
            state: ExchangeState::Alone,
            sharing: now.so_far.map(progress),
            unshared_items: 0,
            unshared_photo_files: 0,
            last_round: None,
            failing_since: None,
            failure: None,
            passing: false,
            stopped: now.stopped,
            asking: 0,
            read_only,
            arrivals: now.arrivals,
        };
        match found {
            Some(Ok(Some(found))) => {
                let InLittle {
                    state,
                    unshared_items,
                    unshared_photo_files,
                    last_round,
                    failing_since,
                    failure,
                    asking,
                } = found;
                (sign.state, sign.asking) = (state, asking);
                (sign.unshared_items, sign.unshared_photo_files) = (unshared_items, unshared_photo_files);
                (sign.last_round, sign.failing_since) = (last_round, failing_since);
                // Whether it passes is known of this window's own rounds; what another program left is tried anyway.
                let failed = now.failure.clone().or(failure.map(|why| Failed { why, passing: true }));
                if let (true, Some(failed)) = (sign.failing_since.is_some(), failed) {
                    (sign.failure, sign.passing) = (Some(failed.why), failed.passing);
                } else {
                    // A round that waits for its network has not failed, and says why it waits.
                    sign.failure = now.failure.clone().map(|failed| failed.why);
                }
            }
            Some(Err(why)) => sign.failure = Some(why.in_window()),
            Some(Ok(None)) | None => {}
        }
        sign
    }

    /// One round, told as it goes.
    fn round(&self, tell: &impl Fn(SharedSign)) -> Ended {
        let turn = held(&self.rounds.turn);
        {
            let mut now = self.rounds.now();
            let went_on = std::mem::take(&mut now.goes_on);
            if std::mem::take(&mut now.stop) && went_on {
                now.stopped = true;
                return Ended::Stopped;
            }
            now.so_far = Some(SoFar::default());
        }
        let sign = self.sign();
        tell(sign.clone());
        let how = exchange::run(&mut Lent(self), &mut Told { window: self, tell, sign, last: Instant::now() });
        drop(turn);
        let mut now = self.rounds.now();
        // What came before a failure has come nevertheless.
        let came = now.so_far.take().is_some_and(|so_far| so_far.took > 0 || so_far.photo_bytes > 0);
        let by_person = std::mem::take(&mut now.stop);
        if came {
            now.arrivals = now.arrivals.wrapping_add(1);
        }
        let ended = match how {
            Ok(done) => {
                let stopped = done.stopped;
                if !stopped {
                    now.failure = None;
                }
                now.last = Some(done);
                match (stopped, by_person) {
                    (false, _) => Ended::Well,
                    (true, true) => Ended::Stopped,
                    (true, false) => Ended::MadeWay,
                }
            }
            // The window opened its store anew in between.
            Err(ExchangeError::Closed) => Ended::MadeWay,
            Err(why) => {
                now.failure = Some(Failed { why: why.in_window(), passing: why.is_passing() });
                Ended::Failed
            }
        };
        (now.stopped, now.goes_on) = (ended == Ended::Stopped, ended == Ended::MadeWay);
        ended
    }
}

/// Whether more waits to be shared than before.
fn grew(before: &SharedSign, now: &SharedSign) -> bool {
    now.unshared_items > before.unshared_items || now.unshared_photo_files > before.unshared_photo_files
}

fn progress(so_far: SoFar) -> SharedProgress {
    SharedProgress { took: so_far.took, gave: so_far.gave, photo_bytes: so_far.photo_bytes }
}

/// The store of a window, lent for one question at a time.
pub(super) struct Lent<'a>(pub &'a Window);

impl Lend for Lent<'_> {
    fn lend(&mut self, work: &mut dyn FnMut(&mut Sites)) {
        let began = Instant::now();
        while self.0.at_the_desk.load(Ordering::Relaxed) > 0 && began.elapsed() < MOST_GIVEN_WAY {
            std::thread::sleep(Duration::from_millis(1));
        }
        let mut desk = held(&self.0.desk);
        if desk.why_reading.is_none()
            && let Some(sites) = desk.store.as_mut()
        {
            work(sites);
        }
    }
}

/// Tells the page how far a round is.
struct Told<'a, F> {
    window: &'a Window,
    tell: &'a F,
    sign: SharedSign,
    last: Instant,
}

impl<F: Fn(SharedSign)> Follow for Told<'_, F> {
    fn step(&mut self, so_far: &SoFar) -> Go {
        let stops = {
            let mut now = self.window.rounds.now();
            now.so_far = Some(*so_far);
            now.stop || now.closes || now.claims > 0
        };
        if self.last.elapsed() >= BETWEEN_NEWS {
            self.last = Instant::now();
            self.sign.sharing = Some(progress(*so_far));
            (self.tell)(self.sign.clone());
        }
        if stops { Go::Stop } else { Go::On }
    }
}
