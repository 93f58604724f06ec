//! What a person does with the team: begin it, ask to be let in, invite, approve, remove. Each is an entry of the log,
//! which the next round carries into the folder.

use super::Memory;
use crate::DeviceId;
use crate::members::{Body, Code, Entry, Hash, Join, Label, Log, Newcomer, Ring, Team};
use crate::seal::{Identity, Keys, Purpose};

/// Why a person cannot do it.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MemberError {
    /// This device is not in the team.
    #[error("this device is not in the team, or no longer; join with an invitation first")]
    NotIn,
    /// No such device.
    #[error("{0} is no device of the team")]
    NoMember(DeviceId),
    /// A member, where one is not accepted piece by piece.
    #[error("{0} is a device of the team, so that everything it writes counts already")]
    IsMember(DeviceId),
    /// Nobody asks under this id.
    #[error("no device {0} asks to be let in; run a round first, on both devices")]
    NoRequest(DeviceId),
    /// The request was written without a code of this team.
    #[error("the request of device {0} was not made with an invitation of this team; do not let it in")]
    Uninvited(DeviceId),
    /// Its invitation was used by somebody else.
    #[error("the invitation of device {0} was used by device {1} already; invite it anew if it is yours")]
    Used(DeviceId, DeviceId),
    /// A device would remove itself.
    #[error("a device cannot remove itself; do it on another device of the team")]
    Itself,
    /// The device's own key cannot have keys wrapped for it.
    #[error("the keys of device {0} are damaged")]
    BadKeys(DeviceId),
}

/// A device that asks to be let in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asking {
    /// The device.
    pub device: DeviceId,
    /// Who it is by its own word; `None` where it has no invitation of this team.
    pub label: Option<Label>,
    /// Whose invitation that is.
    pub invited_by: Option<DeviceId>,
    /// Who used it before.
    pub used_by: Option<DeviceId>,
}

/// Random bytes as they are needed.
type Random<'a> = &'a mut dyn FnMut() -> [u8; 32];

fn first<const N: usize>(random: Random<'_>) -> [u8; N] {
    let bytes = random();
    std::array::from_fn(|n| bytes[n])
}

impl Memory {
    /// Begins a team with this device. `sealed`: whether its files are sealed.
    ///
    /// # Errors
    /// The machine's random bytes are of no use as a key.
    pub fn found(
        own: &Identity,
        label: &Label,
        sealed: bool,
        random: Random<'_>,
        time_ms: i64,
    ) -> Result<Self, MemberError> {
        let bad = || MemberError::BadKeys(own.id());
        let key = random();
        let keys = if sealed { Keys::new(&key) } else { Keys::open_folder() };
        let founder = crate::members::newcomer(own.id(), own.receives(), label, &keys);
        let wrapped = if sealed {
            let wrapped = crate::seal::Wrapped::new(&key, own.id(), &own.receives(), random()).ok_or_else(bad)?;
            vec![(keys.id(), wrapped)]
        } else {
            Vec::new()
        };
        let body = Body::Found { founder, sealed, fresh: first(random) };
        let entry = Entry { signer: own.id(), after: Vec::new(), time_ms, body, keys: wrapped };
        let (hash, bytes) = entry.sign(own);
        let mut log = Log::new(hash);
        log.take(vec![bytes]);
        let mut memory = Self::of(log);
        memory.unsent.insert(hash);
        Ok(memory)
    }

    /// Asks to be let into the team whose first entry has this hash, with the code of an invitation.
    #[must_use]
    pub fn join(root: Hash, own: &Identity, code: Code, label: &Label) -> Self {
        let mut memory = Self::of(Log::new(root));
        memory.asked = Some((code, Join::write(own, &code, label)));
        memory
    }

    /// The team, and this device's keys.
    #[must_use]
    pub fn team(&self, own: &Identity) -> (Team, Ring) {
        let team = self.log.team();
        let ring = Ring::new(&self.log, &team, own);
        (team, ring)
    }

    /// The team where this device is in it, with the keys with which it seals.
    fn inside(&self, own: &Identity) -> Result<(Team, Ring, Keys), MemberError> {
        let (team, ring) = self.team(own);
        let keys = ring.seals_with().filter(|_| team.members.contains_key(&own.id())).cloned();
        keys.map(|keys| (team, ring, keys)).ok_or(MemberError::NotIn)
    }

    fn put(
        &mut self,
        own: &Identity,
        team: &Team,
        body: Body,
        keys: Vec<(crate::seal::KeyId, crate::seal::Wrapped)>,
        time_ms: i64,
    ) -> Result<(), MemberError> {
        let (hash, _) = self.log.write(own, team, body, keys, time_ms).ok_or(MemberError::NotIn)?;
        self.unsent.insert(hash);
        Ok(())
    }

    /// Invites somebody: the code is for that person's eyes alone.
    ///
    /// # Errors
    /// This device is not in the team.
    pub fn invite(&mut self, own: &Identity, random: Random<'_>, time_ms: i64) -> Result<Code, MemberError> {
        let (team, _, keys) = self.inside(own)?;
        let code = Code::new(&self.log.root(), first(random));
        let invitation = code.invitation();
        let secret = keys.seal(Purpose::Label, &invitation, &code.secret);
        self.put(own, &team, Body::Invite { invitation, secret }, Vec::new(), time_ms)?;
        Ok(code)
    }

    /// The devices that ask to be let in.
    #[must_use]
    pub fn asking(&self, own: &Identity) -> Vec<Asking> {
        let (team, ring) = self.team(own);
        let requests = self.requests.values().filter_map(|file| Join::read(file));
        requests
            .filter(|join| !team.members.contains_key(&join.device))
            .map(|join| {
                let invited = self.invited(&team, &ring, &join);
                let used_by = invited.as_ref().and_then(|(_, used_by)| *used_by);
                let invitation = team.invitations.get(&join.invitation).filter(|_| invited.is_some());
                let invited_by = invitation.map(|invitation| invitation.by);
                Asking { device: join.device, label: invited.map(|(label, _)| label), invited_by, used_by }
            })
            // A device that was removed leaves a request without an invitation behind.
            .filter(|asking| asking.label.is_some() || !team.removed.contains_key(&asking.device))
            .collect()
    }

    /// Who asks, where it has an invitation of this team, and who else used that.
    fn invited(&self, team: &Team, ring: &Ring, join: &Join) -> Option<(Label, Option<DeviceId>)> {
        let found = team.invitations.get(&join.invitation)?;
        let secret = ring.open(Purpose::Label, &join.invitation, &found.secret).ok()?;
        let code = Code::new(&self.log.root(), secret.try_into().ok()?);
        Some((join.label(&code)?, found.used_by.filter(|device| *device != join.device)))
    }

    /// Lets a device in that asks with an invitation; it gets every key, so that it can read what was before.
    ///
    /// # Errors
    /// Nobody asks under this id, or without an invitation.
    pub fn approve(
        &mut self,
        own: &Identity,
        device: DeviceId,
        random: Random<'_>,
        time_ms: i64,
    ) -> Result<Label, MemberError> {
        let (team, ring, keys) = self.inside(own)?;
        let join = self.requests.get(&device).and_then(|file| Join::read(file));
        let join = join.ok_or(MemberError::NoRequest(device))?;
        let (label, used_by) = self.invited(&team, &ring, &join).ok_or(MemberError::Uninvited(device))?;
        if let Some(other) = used_by {
            return Err(MemberError::Used(device, other));
        }
        let wrapped = ring.wrapped(device, &join.receives, random);
        if team.sealed && wrapped.is_empty() {
            return Err(MemberError::BadKeys(device));
        }
        let body = Body::Approve { newcomer: join.newcomer(&label, &keys), invitation: join.invitation };
        self.put(own, &team, body, wrapped, time_ms)?;
        self.requests.remove(&device);
        Ok(label)
    }

    /// Shuts a device out of what comes after: `accepted` are the last of its items that count, with all that they build
    /// on. The others get a new key.
    ///
    /// # Errors
    /// It is no member, or this device itself.
    pub fn remove(
        &mut self,
        own: &Identity,
        device: DeviceId,
        accepted: Vec<[u8; 32]>,
        random: Random<'_>,
        time_ms: i64,
    ) -> Result<(), MemberError> {
        let (team, _, _) = self.inside(own)?;
        if device == own.id() {
            return Err(MemberError::Itself);
        }
        if !team.members.contains_key(&device) {
            return Err(MemberError::NoMember(device));
        }
        let stay = team.members.iter().filter(|(other, _)| **other != device);
        let keys = if team.sealed {
            crate::members::fresh_key(stay.map(|(id, member)| (*id, member.newcomer.receives)), random)
        } else {
            Vec::new()
        };
        let head = self.feeds.get(&device).map_or(0, |feed| feed.number);
        self.put(own, &team, Body::Remove { device, head, accepted }, keys, time_ms)
    }

    /// Says that items of a device that is no member count, with all that they build on: more of one that was removed, or
    /// those of one whose work came another way than through the folder.
    ///
    /// # Errors
    /// The device is a member, whose items count without it.
    pub fn accept(
        &mut self,
        own: &Identity,
        device: DeviceId,
        accepted: Vec<[u8; 32]>,
        time_ms: i64,
    ) -> Result<(), MemberError> {
        let (team, _, _) = self.inside(own)?;
        if team.members.contains_key(&device) {
            return Err(MemberError::IsMember(device));
        }
        self.put(own, &team, Body::Accept { device, accepted }, Vec::new(), time_ms)
    }

    /// What a device of the team is called, where this device can read it.
    #[must_use]
    pub fn label(&self, own: &Identity, newcomer: &Newcomer) -> Option<Label> {
        self.team(own).1.label(newcomer)
    }
}
