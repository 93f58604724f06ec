//! A round: what is new here goes into the folder, and what is new there comes here.

use std::sync::Arc;
use std::sync::mpsc::{RecvTimeoutError, channel};
use std::thread;
use std::time::Duration;

use exchange::engine::{self, Failure, Note, Report, Round, drive};
use exchange::layout::{ABOUT, About, HEADS, Spot};
use exchange::members::{Removed, Team};
use exchange::memory::Memory;
use exchange::seal::Identity;
use places::Stop;
use record::store::StoreError;
use serde::{Deserialize, Serialize};

use super::keeper::{Lend, StoreKeeper, with};
use super::parts::Parts;
use super::place::{Opened, Way};
use super::{ExchangeError, LAST, who};
use crate::sites::{Sites, random};
use crate::wire::exchange::{AsideLine, ExchangeRound, ExchangeState};

/// Whoever follows a round is asked so often while the place is silent.
const HEAR_EVERY: Duration = Duration::from_millis(100);

/// Whether to go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Go {
    /// Go on.
    On,
    /// Stop; what was shared stays, and the next round goes on from there.
    Stop,
}

/// How far a round has come.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SoFar {
    /// Items that came, changes and what belongs to them.
    pub took: u64,
    /// Items that were given.
    pub gave: u64,
    /// Bytes of photos that were carried, either way.
    pub photo_bytes: u64,
}

/// Somebody who follows a round.
pub trait Follow {
    /// How far it has come; called often.
    fn step(&mut self, so_far: &SoFar) -> Go;
}

/// Nobody follows.
#[derive(Clone, Copy, Debug)]
pub struct Unfollowed;

impl Follow for Unfollowed {
    fn step(&mut self, _: &SoFar) -> Go {
        Go::On
    }
}

/// How the last round ended, as the settings keep it.
#[derive(Debug, Default, Serialize, Deserialize)]
pub(super) struct Last {
    /// When one last came to its end, milliseconds since 1970.
    pub done_ms: Option<i64>,
    /// Why the last one did not, and since when none has.
    pub failed: Option<(i64, String)>,
    /// The same for whoever sits at the window.
    #[serde(default)]
    pub in_window: Option<String>,
    /// What there was to say of the server's clock.
    #[serde(default)]
    pub clock: Option<String>,
}

impl Sites {
    /// Runs a round to its end.
    ///
    /// # Errors
    /// As [`run`].
    pub fn exchange(&mut self, follow: &mut dyn Follow) -> Result<ExchangeRound, ExchangeError> {
        run(self, follow)
    }

    pub(super) fn last_round(&self) -> Result<Last, ExchangeError> {
        Ok(self.store().setting(LAST)?.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default())
    }

    fn keep_last(&mut self, failed: Option<(String, String)>, clock: Option<String>) -> Result<(), ExchangeError> {
        let (before, now) = (self.last_round()?, self.now());
        let last = match failed {
            None => Last { done_ms: Some(now), clock, ..Last::default() },
            Some((why, in_window)) => {
                let since = before.failed.map_or(now, |(since, _)| since);
                Last { done_ms: before.done_ms, failed: Some((since, why)), in_window: Some(in_window), clock }
            }
        };
        // A number and a text, which cannot fail.
        let text = serde_json::to_string(&last).unwrap_or_default();
        Ok(self.store_mut().set_setting(LAST, &text)?)
    }
}

/// What a round begins with.
struct Begun {
    own: Identity,
    memory: Memory,
    way: Way,
    fresh: [u8; 32],
    parts: Arc<Parts>,
}

fn begin(sites: &mut Sites) -> Result<Begun, ExchangeError> {
    if let Some(why) = sites.read_only() {
        return Err(StoreError::ReadOnly(why.to_owned()).into());
    }
    let (own, memory) = sites.team_memory()?;
    let (way, parts) = (sites.way_to_team()?, Arc::new(Parts::of(sites.home())));
    Ok(Begun { own, memory, way, fresh: random::bytes()?, parts })
}

/// Runs a round; the store is lent for one question at a time, and never while the place is asked. Where it is stopped, at
/// whatever the place does or does not answer, there is a report of what was done.
///
/// # Errors
/// This device shares with nobody, the place cannot be used, or the store fails. What was shared before stays.
pub fn run(lend: &mut dyn Lend, follow: &mut dyn Follow) -> Result<ExchangeRound, ExchangeError> {
    let mut server_clock = None;
    let how = with(lend, begin).and_then(|begun| {
        let (stop, now_ms) = (Stop::default(), begun.way.now_ms);
        let Some(opened) = followed(&stop, follow, || begun.way.open(&stop))? else {
            return Ok((None, SoFar::default()));
        };
        let how = go(lend, follow, &stop, &opened, begun);
        // Also where the round failed: that may be why.
        server_clock = opened.clock(now_ms);
        how
    });
    let failed = how.as_ref().err().map(|why| (why.to_string(), why.in_window()));
    // One that was stopped did not come to its end, nor does it say that the place is there again.
    let is_stopped = matches!(how, Ok((None, _)));
    // A round that waits for its network has not been tried.
    let is_told = !matches!(how, Err(ExchangeError::NoTeam | ExchangeError::HeldBack { .. }));
    let clock = server_clock.clone();
    // Whatever was learnt of the team counts from now on, also where the round did not come to its end.
    let after = with(lend, |sites| {
        if is_told && sites.read_only().is_none() {
            sites.store_mut().catch_up()?;
            sites.follow_team()?;
            if !is_stopped {
                sites.keep_last(failed, clock)?;
            }
        }
        Ok(())
    });
    let (report, so_far) = how?;
    after?;
    with(lend, |sites| told(sites, report, so_far, server_clock))
}

/// What the place answers, while whoever follows may stop it; `None` where that was done.
fn followed<T: Send>(
    stop: &Stop,
    follow: &mut dyn Follow,
    ask: impl FnOnce() -> Result<T, ExchangeError> + Send,
) -> Result<Option<T>, ExchangeError> {
    let (tell, told) = channel();
    let answer = thread::scope(|scope| {
        scope.spawn(move || tell.send(ask()));
        loop {
            match told.recv_timeout(HEAR_EVERY) {
                Ok(answer) => return answer.map(Some),
                Err(RecvTimeoutError::Timeout) if follow.step(&SoFar::default()) == Go::Stop => stop.stop(),
                Err(RecvTimeoutError::Timeout) => {}
                Err(RecvTimeoutError::Disconnected) => {
                    let why = "a part of the program that asks the folder has ended".to_owned();
                    return Err(ExchangeError::Round(Failure { trouble: None, why }));
                }
            }
        }
    });
    if stop.is_stopped() { Ok(None) } else { answer }
}

fn go(
    lend: &mut dyn Lend,
    follow: &mut dyn Follow,
    stop: &Stop,
    opened: &Opened,
    begun: Begun,
) -> Result<(Option<Report>, SoFar), ExchangeError> {
    let Begun { own, memory, way, fresh, parts } = begun;
    let mut so_far = SoFar::default();
    if followed(stop, follow, || is_the_teams(opened, &memory))?.is_none() {
        return Ok((None, so_far));
    }
    for photo in with(lend, |sites| sites.perhaps_found())? {
        if follow.step(&so_far) == Go::Stop {
            return Ok((None, so_far));
        }
        with(lend, |sites| sites.look_again(photo))?;
    }
    let round = Round::new(own, memory, way.now_ms, fresh);
    let mut keeper = StoreKeeper { lend, parts };
    let mut carried = std::collections::BTreeMap::new();
    let mut tell = |notes: &[Note]| {
        for note in notes {
            match note {
                Note::Took { items, .. } => so_far.took += items,
                Note::Gave(items) => so_far.gave += items,
                Note::Carried { id, done, .. } => {
                    let before = carried.insert(*id, *done).unwrap_or(0);
                    so_far.photo_bytes += done.saturating_sub(before);
                }
                Note::SetAside(_) => {}
            }
        }
        match follow.step(&so_far) {
            Go::On => engine::Go::On,
            Go::Stop => {
                stop.stop();
                engine::Go::Stop
            }
        }
    };
    let done = drive(round, opened.place(), &mut keeper, &mut tell).map_err(ExchangeError::Round)?;
    Ok((done.map(|(report, _)| report), so_far))
}

/// Proves that a place is the team's, before anything is written there: an unconnected drive looks like an empty folder.
fn is_the_teams(opened: &Opened, memory: &Memory) -> Result<(), ExchangeError> {
    let root = memory.log().root();
    match opened.about()? {
        Some(about) if about.team == root => Ok(()),
        Some(_) => Err(ExchangeError::OtherTeam(opened.address.clone())),
        None => {
            // Somebody may have removed that file alone.
            let known = memory.heads();
            let heads = opened.place().list(HEADS)?;
            let ours = |name: &str| matches!(Spot::in_heads(name), Some(Spot::Head(id, _)) if known.contains_key(&id));
            if !heads.iter().any(|file| ours(&file.name)) {
                return Err(ExchangeError::Gone { place: opened.address.clone() });
            }
            let sealed = memory.log().team().sealed;
            Ok(opened.place().write_new(ABOUT, About { team: root, sealed }.text().as_bytes())?)
        }
    }
}

/// How this device stands to the team, as far as it knows.
pub(super) fn state(own: &Identity, memory: &Memory, team: &Team) -> ExchangeState {
    let left = team.removed.get(&own.id()).is_some_and(Removed::was_member);
    match team.members.contains_key(&own.id()) {
        true => ExchangeState::Member,
        false if left && !memory.asks() => ExchangeState::Removed,
        false => ExchangeState::Waiting,
    }
}

/// What a round did, for people and programs.
fn told(
    sites: &mut Sites,
    report: Option<Report>,
    so_far: SoFar,
    server_clock: Option<String>,
) -> Result<ExchangeRound, ExchangeError> {
    let (own, memory) = sites.team_memory()?;
    let stopped = report.is_none();
    let report = report.unwrap_or_default();
    let asking = memory.asking(&own).len();
    let state = state(&own, &memory, &memory.log().team());
    let waiting = sites.waiting_lines()?;
    Ok(ExchangeRound {
        schema_version: 1,
        state,
        stopped,
        took: so_far.took,
        gave: so_far.gave,
        photo_files_took: report.blobs_took,
        photo_files_gave: report.blobs_gave,
        photo_bytes: so_far.photo_bytes,
        set_aside: report.aside.into_iter().map(|aside| AsideLine { path: aside.path, why: aside.why }).collect(),
        strangers: report.strangers.into_iter().map(who::digits).collect(),
        asking: u32::try_from(asking).unwrap_or(u32::MAX),
        waiting,
        mended: report.mended,
        lacking: report.lacking,
        clock: sites.clock_remark(&own, &memory).or(server_clock),
    })
}
