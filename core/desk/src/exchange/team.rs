//! What a person does with the team: invite, let in, shut out, leave. Each is an entry of the log of members, which the next
//! round carries into the folder. How a device comes to a team stands in `enter.rs`.

use std::collections::BTreeMap;

use exchange::DeviceId;
use exchange::members::{Label, Removed, Team};
use exchange::memory::Memory;
use exchange::seal::Identity;
use record::store::Standing;

use super::{ExchangeError, who};
use crate::safe::safe;
use crate::sites::{Said, Sites, device, random};
use crate::wire::exchange::ExchangeInvitation;

/// Random bytes as they are needed, from a seed of the machine's: it is asked once, so that its refusal is said in words.
pub(super) fn drawn() -> Result<impl FnMut() -> [u8; 32], ExchangeError> {
    Ok(exchange::seal::drawn(random::bytes()?))
}

impl Sites {
    /// This device as the team sees it.
    pub(super) fn identity(&self) -> Result<(Identity, Label), ExchangeError> {
        let file = device::load_or_make(self.home())?;
        let (person, device) = file.label();
        Ok((self.key().identity(), Label { person: person.to_owned(), device: device.to_owned() }))
    }

    /// What this device remembers of its team.
    pub(super) fn team_memory(&self) -> Result<(Identity, Memory), ExchangeError> {
        let bytes = self.store().memory()?.ok_or(ExchangeError::NoTeam)?;
        let memory = Memory::from_bytes(&bytes).ok_or(ExchangeError::Memory)?;
        Ok((self.identity()?.0, memory))
    }

    /// Ends sharing on this device; everything that is here stays, and the team keeps what it was given.
    ///
    /// # Errors
    /// This device shares with nobody, or the database fails.
    pub fn leave_team(&mut self) -> Result<Said, ExchangeError> {
        // What cannot be read any more keeps nobody in.
        let address = match self.address() {
            Err(ExchangeError::NoTeam) => return Err(ExchangeError::NoTeam),
            address => address.unwrap_or_default(),
        };
        self.store_mut().leave()?;
        self.forget_place()?;
        self.store_mut().forget_setting(super::LAST)?;
        let through = if address.is_empty() { String::new() } else { format!(" through {}", safe(&address)) };
        let sentence = format!(
            "this device shares{through} no more; what is here stays. A member still has to remove it, so that it is shut out"
        );
        Ok(Said { id: address, sentence })
    }

    /// Invites somebody: the code is for that person's eyes alone.
    ///
    /// # Errors
    /// This device is not in the team.
    pub fn invite(&mut self) -> Result<ExchangeInvitation, ExchangeError> {
        let (own, mut memory) = self.team_memory()?;
        let (mut draw, now, address) = (drawn()?, self.now(), self.address()?);
        let code = memory.invite(&own, &mut draw, now)?;
        self.keep_team(&memory)?;
        Ok(ExchangeInvitation { schema_version: 1, code: code.text(), address })
    }

    /// Lets a device in that asks with an invitation; where none is named, the one that asks.
    ///
    /// # Errors
    /// No device asks that is called so, or it asks without an invitation of this team; or several ask and none is named.
    pub fn approve(&mut self, asked: Option<&str>) -> Result<Said, ExchangeError> {
        let (own, mut memory) = self.team_memory()?;
        let asking: Vec<_> = memory.asking(&own).into_iter().map(|asks| (asks.device, asks.label)).collect();
        let device = match (asked, asking.as_slice()) {
            (None, [(one, _)]) => *one,
            (asked, _) => who::find(asked.unwrap_or_default(), "device that asks to be let in", &asking)?,
        };
        let (mut draw, now) = (drawn()?, self.now());
        let label = memory.approve(&own, device, &mut draw, now)?;
        self.keep_team(&memory)?;
        Ok(Said { id: who::digits(device), sentence: format!("{} is in the team", who::said(device, Some(&label))) })
    }

    /// Shuts a device out of what comes after; what came from it until now counts.
    ///
    /// # Errors
    /// No member is called so, or it is this device itself.
    pub fn remove_device(&mut self, asked: &str) -> Result<Said, ExchangeError> {
        let (own, mut memory) = self.team_memory()?;
        let team = memory.log().team();
        let labels = labels(&memory, &own, &team);
        let device = who::find(asked, "device of the team", &labels.clone().into_iter().collect::<Vec<_>>())?;
        let accepted = self.store().last_of(record::sign::DeviceId(device.0))?;
        let (mut draw, now) = (drawn()?, self.now());
        memory.remove(&own, device, accepted, &mut draw, now)?;
        self.keep_team(&memory)?;
        let called = who::said(device, labels.get(&device).and_then(Option::as_ref));
        let sentence =
            format!("{called} is shut out: what it wrote until now counts, and it can read nothing that comes after");
        Ok(Said { id: who::digits(device), sentence })
    }

    /// Says that what is here of a device that is no member counts for the whole team.
    ///
    /// # Errors
    /// No such device has written anything here.
    pub fn accept_device(&mut self, asked: &str) -> Result<Said, ExchangeError> {
        let (own, mut memory) = self.team_memory()?;
        let team = memory.log().team();
        let outside =
            self.store().devices()?.into_iter().filter(|row| !team.members.contains_key(&DeviceId(row.device.0)));
        let among: Vec<_> =
            outside.map(|row| (DeviceId(row.device.0), Some(Label { person: row.person, device: row.name }))).collect();
        let device = who::find(asked, "device outside the team that has written something", &among)?;
        let (last, now) = (self.store().last_of(record::sign::DeviceId(device.0))?, self.now());
        memory.accept(&own, device, last, now)?;
        self.keep_team(&memory)?;
        let label = among.into_iter().find(|(id, _)| *id == device).and_then(|(_, label)| label);
        let sentence = format!("what is here of {} counts for the whole team", who::said(device, label.as_ref()));
        Ok(Said { id: who::digits(device), sentence })
    }

    fn keep_team(&mut self, memory: &Memory) -> Result<(), ExchangeError> {
        self.store_mut().remember(&memory.to_bytes())?;
        self.follow_team()
    }

    /// Lets the log of members decide whose changes count, once this device is or was in the team.
    pub(super) fn follow_team(&mut self) -> Result<(), ExchangeError> {
        let (own, memory) = self.team_memory()?;
        let team = memory.log().team();
        if team.members.contains_key(&own.id()) || team.removed.get(&own.id()).is_some_and(Removed::was_member) {
            self.store_mut().set_standing(&standing(&team))?;
        }
        Ok(())
    }

    /// Keeps a site on this device with the originals of its photos, or no longer; `None` stands for every site.
    ///
    /// # Errors
    /// There is no such site, or the database fails.
    pub fn keep_site(&mut self, asked: Option<&str>, is_kept: bool) -> Result<Said, ExchangeError> {
        let document = asked.map(|asked| self.document(asked)).transpose()?;
        self.store_mut().keep(document.as_deref(), is_kept)?;
        let called = document.as_deref().map_or_else(|| "every site".to_owned(), |id| format!("site {}", safe(id)));
        let how =
            if is_kept { "is kept here with the originals of its photos" } else { "is kept here without originals" };
        Ok(Said { id: document.unwrap_or_default(), sentence: format!("{called} {how}") })
    }
}

/// A team as the store needs to know it.
fn standing(team: &Team) -> Standing {
    let of = |device: &DeviceId| record::sign::DeviceId(device.0);
    Standing {
        members: team.members.keys().map(of).collect(),
        // One that was never let in is unknown, though some of its work may have been accepted.
        leavers: team.removed.iter().filter(|(_, removed)| removed.was_member()).map(|(id, _)| of(id)).collect(),
        accepted: team.removed.iter().map(|(id, removed)| (of(id), removed.accepted.clone())).collect(),
    }
}

/// What the team's devices are called.
pub(super) fn labels(memory: &Memory, own: &Identity, team: &Team) -> BTreeMap<DeviceId, Option<Label>> {
    team.members.iter().map(|(id, member)| (*id, memory.label(own, &member.newcomer))).collect()
}
