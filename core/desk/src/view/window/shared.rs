//! The shared folder in the window: the team and what a person does with it. Rounds run by themselves (`rounds.rs`); what is
//! done here goes into the folder with the one that begins right after.

use std::time::{Duration, Instant};

use super::rounds::Lent;
use super::{Desk, Window};
use crate::exchange::{self, ExchangeError, Follow, Go, Seal, SoFar};
use crate::sites::{Said, Sites};
use crate::view::wire::{Refusal, SharedPage, SharedSite};
use crate::wire::exchange::{ExchangeInvitation, ExchangeStatus, PlaceForm};

/// For so long a person waits for a round before what was asked for is done all the same.
const A_WHILE: Duration = Duration::from_secs(15);

/// Follows a round that somebody waits for: what devices say comes long before photos do.
struct Shortly(Instant);

impl Follow for Shortly {
    fn step(&mut self, _: &SoFar) -> Go {
        if self.0.elapsed() < A_WHILE { Go::On } else { Go::Stop }
    }
}

impl Window {
    /// How things stand with the shared folder, as far as this device knows without looking into it.
    ///
    /// # Errors
    /// The store fails, or what it remembers of the team cannot be read.
    pub fn shared(&self) -> Result<SharedPage, Refusal> {
        self.shared_page(None)
    }

    /// What the head of the window says of it.
    pub fn shared_sign(&self) -> crate::view::SharedSign {
        self.sign()
    }

    /// Begins a team with this device, in a place that is empty.
    ///
    /// # Errors
    /// The place cannot be used, this device shares already or does not say whose it is, or the store is open for reading
    /// only or fails.
    pub fn start_team(&self, place: &PlaceForm, sealed: bool) -> Result<SharedPage, Refusal> {
        let seal = if sealed { Seal::Sealed } else { Seal::Open };
        self.team(|sites| sites.start_team_at(place, seal))
    }

    /// Asks to be let into a team, with the code of an invitation. Without a code, says where the team's folder lies now.
    ///
    /// # Errors
    /// The folder is no team's or another's, or the code is none or another team's; else as [`Self::start_team`].
    pub fn join_team(&self, place: &PlaceForm, code: Option<&str>) -> Result<SharedPage, Refusal> {
        let sentence = if code.is_some() {
            "This device asks to be let in."
        } else {
            "The team's files are looked for there from now on."
        };
        self.team(|sites| {
            let moved = code.is_none().then(|| sites.moved_to(&place.address));
            let place = moved.as_ref().unwrap_or(place);
            Ok(Said { sentence: sentence.to_owned(), ..sites.join_team_at(place, code)? })
        })
    }

    /// Invites somebody: the code is for that person's eyes alone, and is told once.
    ///
    /// # Errors
    /// This device is not in the team, or the store is open for reading only or fails.
    pub fn invite(&self) -> Result<ExchangeInvitation, Refusal> {
        self.with_team(Sites::invite)
    }

    /// Lets a device in that asks with an invitation.
    ///
    /// # Errors
    /// It does not ask, or without an invitation of this team; else as [`Self::invite`].
    pub fn approve_device(&self, device: &str) -> Result<SharedPage, Refusal> {
        self.team(|sites| sites.approve(Some(device)))
    }

    /// Shuts a device out of what comes after; what came from it until now counts.
    ///
    /// # Errors
    /// No other device of the team is called so; else as [`Self::invite`].
    pub fn remove_device(&self, device: &str) -> Result<SharedPage, Refusal> {
        self.alone(|| {
            // What it has given by now counts, so that is taken first; where the folder is away, what came before.
            let _ = exchange::run(&mut Lent(self), &mut Shortly(Instant::now()));
            self.do_with_team(|sites| sites.remove_device(device))
        })
        .and_then(|said| self.done_with_team(said))
    }

    /// Says that what is here of a device outside the team counts for the whole team.
    ///
    /// # Errors
    /// No such device has written anything here; else as [`Self::invite`].
    pub fn accept_device(&self, device: &str) -> Result<SharedPage, Refusal> {
        self.team(|sites| sites.accept_device(device))
    }

    /// Keeps a site on this device with the originals of its photos, or no longer; without a site every one.
    ///
    /// # Errors
    /// There is no such site, or the store is open for reading only or fails.
    pub fn keep_site(&self, id: Option<&str>, kept: bool) -> Result<SharedPage, Refusal> {
        self.team(|sites| {
            sites.keep_site(id, kept)?;
            let what = if id.is_some() { "This site is" } else { "Every site is" };
            let how = if kept { "kept here with the originals" } else { "kept here with smaller copies" };
            Ok(Said { id: id.unwrap_or_default().to_owned(), sentence: format!("{what} {how} of its photos.") })
        })
    }

    /// Ends sharing on this device; everything that is here stays.
    ///
    /// # Errors
    /// This device shares with nobody, or the store is open for reading only or fails.
    pub fn leave_team(&self) -> Result<SharedPage, Refusal> {
        let done = self.alone(|| {
            let said = self.do_with_team(Sites::leave_team)?;
            self.rounds.forget();
            Ok(said)
        });
        done.and_then(|said| self.done_with_team(said))
    }

    /// Works with the team's log while no round does.
    pub(super) fn alone<T>(&self, work: impl FnOnce() -> T) -> T {
        self.rounds.alone(work)
    }

    fn do_with_team<T>(&self, work: impl FnOnce(&mut Sites) -> Result<T, ExchangeError>) -> Result<T, Refusal> {
        self.with_store(|desk, sites| {
            if let Some(why) = &desk.why_reading {
                return Err(Refusal::of(why.clone()));
            }
            work(sites).map_err(Refusal::from)
        })
    }

    fn with_team<T>(&self, work: impl FnOnce(&mut Sites) -> Result<T, ExchangeError>) -> Result<T, Refusal> {
        let done = self.alone(|| self.do_with_team(work))?;
        self.rounds.ask();
        Ok(done)
    }

    fn team(&self, work: impl FnOnce(&mut Sites) -> Result<Said, ExchangeError>) -> Result<SharedPage, Refusal> {
        let said = self.with_team(work)?;
        self.shared_page(Some(said.sentence))
    }

    fn done_with_team(&self, said: Said) -> Result<SharedPage, Refusal> {
        self.rounds.ask();
        self.shared_page(Some(said.sentence))
    }

    fn shared_page(&self, said: Option<String>) -> Result<SharedPage, Refusal> {
        let (status, sites, read_only) = self.with_store(|desk: &mut Desk, sites| {
            let status = sites.exchange_status()?;
            let kept = kept_sites(sites, &status)?;
            Ok((status, kept, desk.why_reading.clone()))
        })?;
        Ok(SharedPage { said, status, sign: self.sign(), last: self.rounds.last(), sites, read_only })
    }
}

fn kept_sites(sites: &Sites, status: &ExchangeStatus) -> Result<Vec<SharedSite>, Refusal> {
    let shown = sites.list()?.sites.into_iter().filter(|line| !line.archived);
    Ok(shown
        .map(|line| SharedSite {
            kept: status.keeps_every_site || status.kept_sites.contains(&line.id),
            id: line.id,
            label: line.label,
            photos: line.photos,
        })
        .collect())
}

impl From<ExchangeError> for Refusal {
    fn from(why: ExchangeError) -> Self {
        match why {
            ExchangeError::Site(why) => why.into(),
            other => Self::of(other.in_window()),
        }
    }
}
