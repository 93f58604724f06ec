//! The shared folder in the window: the team and what a person does with it. Rounds run by themselves (`rounds.rs`); what is
//! done here goes into the folder with the one that begins right after.

use std::sync::Arc;
use std::time::{Duration, Instant};

use super::rounds::Lent;
use super::running::{Running, stop};
use super::{Desk, Window};
use crate::exchange::{self, ExchangeError, Follow, Go, Lend, Seal, SoFar, Stop};
use crate::sites::device::NOBODY;
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
    /// The place cannot be used, this device shares already or does not say whose it is, the store is open for reading only or
    /// fails, or a person stopped it.
    pub fn start_team(&self, place: &PlaceForm, sealed: bool) -> Result<SharedPage, Refusal> {
        let seal = if sealed { Seal::Sealed } else { Seal::Open };
        self.look(None, |lend, stop| exchange::start_team(lend, place, seal, stop))
    }

    /// Asks to be let into a team, with the code of an invitation.
    ///
    /// # Errors
    /// The folder is no team's or another's, or the code is none or another team's; else as [`Self::start_team`].
    pub fn join_team(&self, place: &PlaceForm, code: &str) -> Result<SharedPage, Refusal> {
        let said = "This device asks to be let in.";
        self.look(Some(said), |lend, stop| exchange::join_team(lend, place, Some(code), stop))
    }

    /// Changes where the team's files lie and how that is reached. Only at another address it is looked, now, whether they are
    /// there.
    ///
    /// # Errors
    /// This device shares with nobody, a setting cannot be used, or the team's files are not there; else as
    /// [`Self::start_team`].
    pub fn change_place(&self, place: &PlaceForm) -> Result<SharedPage, Refusal> {
        let said = "The team’s files are looked for there, and so, from now on.";
        self.look(Some(said), |lend, stop| exchange::set_place(lend, place, stop))
    }

    /// Stops the look at a place on its way; where none is, nothing happens.
    pub fn stop_looking(&self) {
        stop(&self.looking);
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

    /// Does something for which the place is looked at. Nobody else waits for that, the store is lent only before and after.
    fn look(
        &self,
        said: Option<&str>,
        work: impl FnOnce(&mut dyn Lend, &Stop) -> Result<Said, ExchangeError>,
    ) -> Result<SharedPage, Refusal> {
        let why_not = "a folder is being looked at already; wait until that is done, or stop it";
        let looking = Running::begin(&self.looking, why_not)?;
        // Opens the store, or tells why it can only be read.
        self.do_with_team(|_| Ok(()))?;
        let done = work(&mut Between(self), &Stop::from(Arc::clone(&looking.stop)))?;
        drop(looking);
        let sentence = said.map_or(done.sentence, str::to_owned);
        self.done_with_team(Said { sentence, id: done.id })
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
        // The store is not held meanwhile: it may take a moment.
        let network = self.with_store(|_, sites| Ok(sites.networks()))?.now().ok().flatten();
        let (status, sites, read_only) = self.with_store(|desk: &mut Desk, sites| {
            let status = sites.exchange_status_on(network)?;
            let kept = kept_sites(sites, &status)?;
            Ok((status, kept, desk.why_reading.clone()))
        })?;
        let named = status.person != NOBODY;
        Ok(SharedPage { said, status, named, sign: self.sign(), last: self.rounds.last(), sites, read_only })
    }
}

/// The store of a window, lent while no round works with the team's log.
struct Between<'a>(&'a Window);

impl Lend for Between<'_> {
    fn lend(&mut self, work: &mut dyn FnMut(&mut Sites)) {
        self.0.alone(|| Lent(self.0).lend(work));
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
