//! Beginning a team, joining one, and saying where its folder lies and how it is reached. The store is lent before and after
//! a look at the place, and never during it: a place may never answer, and no other work waits for it.

use exchange::DeviceId;
use exchange::layout::{ABOUT, About};
use exchange::members::Code;
use exchange::memory::Memory;
use places::Stop;
use record::store::StoreError;

use super::keeper::{Lend, with};
use super::place::{Opened, Way};
use super::secrets::Secrets;
use super::settings::Whole;
use super::team::drawn;
use super::{ExchangeError, FOUNDING, who};
use crate::hex::hex;
use crate::safe::safe;
use crate::sites::{Said, Sites, device};
use crate::wire::exchange::PlaceForm;

/// Whether the files in the folder are sealed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seal {
    /// Without a key of the team nobody can read them.
    Sealed,
    /// Whoever can open the folder can read everything in it.
    Open,
}

/// Begins a team with this device, in a place that is empty. Devices for which this store vouched before stay heard: what
/// they wrote so far counts for the whole team, and so does what the team before had accepted of others.
///
/// # Errors
/// This device shares already or does not say whose it is, the place cannot be used or is not empty, or it was stopped.
pub fn start_team(lend: &mut dyn Lend, form: &PlaceForm, seal: Seal, stop: &Stop) -> Result<Said, ExchangeError> {
    let way = with(lend, |sites| {
        sites.not_in_a_team()?;
        sites.is_named()?;
        sites.way_to(Whole::said(form, &Secrets::default())?)
    })?;
    unless_stopped(stop, || {
        let opened = way.open(stop)?;
        let found = opened.look(way.now_ms)?;
        let memory = with(lend, |sites| {
            // One that this device began and could not end: it was stopped, or killed, while that file was written.
            let began = sites.store().setting(FOUNDING)?;
            if found.is_some_and(|about| began != Some(hex(&about.team))) {
                return Err(ExchangeError::Taken(opened.address.clone()));
            }
            let (own, label) = sites.identity()?;
            let memory = Memory::found(&own, &label, seal == Seal::Sealed, &mut drawn()?, sites.now())?;
            sites.store_mut().set_setting(FOUNDING, &hex(&memory.log().root()))?;
            Ok(memory)
        })?;
        if found.is_some() {
            opened.place().delete(ABOUT)?;
        }
        let about = About { team: memory.log().root(), sealed: seal == Seal::Sealed };
        opened.place().write_new(ABOUT, about.text().as_bytes())?;
        with(lend, |sites| sites.begin_team(memory, &way, &opened, seal))
    })
}

/// Asks to be let into the team that shares a place, with the code of an invitation. Without a code, a device that is in the
/// team says that its place is there from now on.
///
/// # Errors
/// The place is no team's or another's, the code is none or for another team, this device does not say whose it is, or it was
/// stopped.
pub fn join_team(
    lend: &mut dyn Lend,
    form: &PlaceForm,
    code: Option<&str>,
    stop: &Stop,
) -> Result<Said, ExchangeError> {
    let code = code.map(Code::read).transpose()?;
    let way = with(lend, |sites| {
        sites.may_change()?;
        let is_known = sites.store().memory()?.is_some();
        sites.way_to(Whole::said(form, &if is_known { sites.secrets()? } else { Secrets::default() })?)
    })?;
    unless_stopped(stop, || {
        let opened = way.open(stop)?;
        let about = match opened.look(way.now_ms) {
            Ok(Some(about)) => about,
            Ok(None) | Err(ExchangeError::NotEmpty { .. }) => return Err(ExchangeError::NotStarted(opened.address)),
            Err(why) => return Err(why),
        };
        with(lend, |sites| sites.enter_team(about, code, &way, &opened))
    })
}

/// Changes how the place is reached: name, password, limit and the like. The server is asked by the next round; where the
/// address is another, it is asked now whether the team's files are there.
///
/// # Errors
/// This device shares with nobody, a setting cannot be used, another address is not that of the team's files, or it was
/// stopped.
pub fn set_place(lend: &mut dyn Lend, form: &PlaceForm, stop: &Stop) -> Result<Said, ExchangeError> {
    let (way, before) = with(lend, |sites| {
        sites.may_change()?;
        let before = sites.address()?;
        let secrets = match sites.secrets() {
            // What cannot be read is in nobody's way who says it anew.
            Err(_) if form.password.is_some() => Secrets::default(),
            read => read?,
        };
        Ok((sites.way_to(Whole::said(form, &secrets)?)?, before))
    })?;
    way.network_can_be_told()?;
    if way.whole.kept.address != before {
        return join_team(lend, form, None, stop);
    }
    unless_stopped(stop, || {
        way.can_be_opened(stop)?;
        with(lend, |sites| {
            // It may have left meanwhile.
            sites.address()?;
            sites.keep_place(&way.whole)
        })
    })?;
    let address = way.whole.kept.address;
    Ok(Said { sentence: format!("{} is used so from the next round on", safe(&address)), id: address })
}

/// What fails because somebody stopped it has not failed.
fn unless_stopped<T>(stop: &Stop, work: impl FnOnce() -> Result<T, ExchangeError>) -> Result<T, ExchangeError> {
    work().map_err(|why| if stop.is_stopped() { ExchangeError::Stopped } else { why })
}

impl Sites {
    /// Begins a team in a folder, as [`start_team`].
    ///
    /// # Errors
    /// As there.
    pub fn start_team(&mut self, address: &str, seal: Seal) -> Result<Said, ExchangeError> {
        self.start_team_at(&PlaceForm::at(address), seal)
    }

    /// Begins a team in a place, as [`start_team`].
    ///
    /// # Errors
    /// As there.
    pub fn start_team_at(&mut self, form: &PlaceForm, seal: Seal) -> Result<Said, ExchangeError> {
        start_team(self, form, seal, &Stop::default())
    }

    /// Asks to be let into the team of a folder, as [`join_team`].
    ///
    /// # Errors
    /// As there.
    pub fn join_team(&mut self, address: &str, code: Option<&str>) -> Result<Said, ExchangeError> {
        self.join_team_at(&PlaceForm::at(address), code)
    }

    /// Asks to be let into the team of a place, as [`join_team`].
    ///
    /// # Errors
    /// As there.
    pub fn join_team_at(&mut self, form: &PlaceForm, code: Option<&str>) -> Result<Said, ExchangeError> {
        join_team(self, form, code, &Stop::default())
    }

    /// Changes how the place is reached, as [`set_place`].
    ///
    /// # Errors
    /// As there.
    pub fn set_place(&mut self, form: &PlaceForm) -> Result<Said, ExchangeError> {
        set_place(self, form, &Stop::default())
    }

    fn may_change(&self) -> Result<(), ExchangeError> {
        match self.read_only() {
            Some(why) => Err(StoreError::ReadOnly(why.to_owned()).into()),
            None => Ok(()),
        }
    }

    fn not_in_a_team(&self) -> Result<(), ExchangeError> {
        self.may_change()?;
        match self.store().memory()? {
            Some(_) => Err(ExchangeError::InTeam(self.address()?)),
            None => Ok(()),
        }
    }

    /// A team knows its devices by who works on them.
    fn is_named(&self) -> Result<(), ExchangeError> {
        if self.identity()?.1.person == device::NOBODY { Err(ExchangeError::Nobody) } else { Ok(()) }
    }

    /// The place holds the team's first file; now this device is in it.
    fn begin_team(
        &mut self,
        mut memory: Memory,
        way: &Way,
        opened: &Opened,
        seal: Seal,
    ) -> Result<Said, ExchangeError> {
        self.not_in_a_team()?;
        let (own, now) = (self.identity()?.0, self.now());
        for row in self.store().devices()?.into_iter().filter(|row| row.known && row.device.0 != own.id().0) {
            let last = self.store().last_of(row.device)?;
            if !last.is_empty() {
                memory.accept(&own, DeviceId(row.device.0), last, now)?;
            }
        }
        for (device, changes) in self.store().accepted()? {
            memory.accept(&own, DeviceId(device.0), changes.into_iter().collect(), now)?;
        }
        self.begin_sharing(&memory, &way.whole)?;
        self.store_mut().forget_setting(FOUNDING)?;
        let sealed = match seal {
            Seal::Sealed => "its files are sealed",
            Seal::Open => "its files are open: whoever can open the folder can read everything in it",
        };
        let clock = self.clock_beside(opened);
        let sentence = format!("a team begins in {}; {sealed}{clock}", safe(&opened.address));
        Ok(Said { id: hex(&memory.log().root()), sentence })
    }

    /// What there is to say of the clocks, after what was done.
    fn clock_beside(&self, opened: &Opened) -> String {
        opened.clock(self.now()).map(|clock| format!("; {clock}")).unwrap_or_default()
    }

    fn begin_sharing(&mut self, memory: &Memory, place: &Whole) -> Result<(), ExchangeError> {
        device::owner_only(self.home())?;
        self.prefer_keyring()?;
        self.keep_place(place)?;
        self.store_mut().remember(&memory.to_bytes())?;
        self.follow_team()
    }

    /// A team shares the place; now this device asks to be let in, or says that its own team's place is there.
    fn enter_team(
        &mut self,
        about: About,
        code: Option<Code>,
        way: &Way,
        opened: &Opened,
    ) -> Result<Said, ExchangeError> {
        let address = &opened.address;
        let known = match self.store().memory()? {
            Some(_) => Some(self.team_memory()?),
            None => None,
        };
        if known.as_ref().is_some_and(|(_, memory)| memory.log().root() != about.team) {
            return Err(ExchangeError::OtherTeam(address.clone()));
        }
        let clock = self.clock_beside(opened);
        let Some(code) = code else {
            if known.is_none() {
                return Err(ExchangeError::NoCode);
            }
            self.keep_place(&way.whole)?;
            let sentence = format!("the team's folder is {} from now on{clock}", safe(address));
            return Ok(Said { id: hex(&about.team), sentence });
        };
        self.is_named()?;
        if !code.is_for(&about.team) {
            return Err(ExchangeError::OtherCode(address.clone()));
        }
        if let Some((own, memory)) = &known
            && memory.log().team().members.contains_key(&own.id())
        {
            return Err(ExchangeError::InTeam(self.address()?));
        }
        let (own, label) = self.identity()?;
        self.begin_sharing(&Memory::join(about.team, &own, code, &label), &way.whole)?;
        let sentence = format!(
            "this device, {}, asks to be let in; tell whoever invited you: newel exchange approve {}{clock}",
            own.id(),
            own.id(),
        );
        Ok(Said { id: who::digits(own.id()), sentence })
    }
}
