//! How things stand with the shared folder: the team, what waits, what is not shared yet.

use std::collections::BTreeMap;

use exchange::DeviceId;
use exchange::memory::Memory;
use exchange::seal::Identity;
use record::store::{Cause, SetAside, TEAM};

use super::{ExchangeError, clock, team, who};
use crate::hex::hex;
use crate::sites::{Sites, moment};
use crate::wire::exchange::{
    AskingLine, ExchangeState, ExchangeStatus, KeptAsideLine, MemberLine, RemovedLine, SiteWaits, WaitingLine, WaitsFor,
};

/// How things stand in little: quick enough to be looked at after every edit.
pub(crate) struct InLittle {
    pub state: ExchangeState,
    pub unshared_items: u64,
    pub unshared_photo_files: u64,
    pub last_round: Option<String>,
    pub failing_since: Option<String>,
    pub failure: Option<String>,
    pub asking: u32,
}

impl Sites {
    /// How things stand in little, as far as this device knows without looking into the folder; `None` where it shares with
    /// nobody.
    pub(crate) fn exchange_in_little(&self) -> Result<Option<InLittle>, ExchangeError> {
        if self.store().memory()?.is_none() {
            return Ok(None);
        }
        let (own, memory) = self.team_memory()?;
        let last = self.last_round()?;
        let (failing_since, why) = last.failed.map(|(since, why)| (moment::written(since), why)).unzip();
        Ok(Some(InLittle {
            state: super::round::state(&own, &memory, &memory.log().team()),
            unshared_items: self.store().untold(memory.lengths().get(&own.id()).copied().unwrap_or(0))?,
            unshared_photo_files: self.store().unsent_count()?.0,
            last_round: last.done_ms.map(moment::written),
            failing_since,
            // An earlier release kept one sentence for everybody.
            failure: last.in_window.or(why),
            asking: u32::try_from(memory.asking(&own).len()).unwrap_or(u32::MAX),
        }))
    }

    /// How things stand, as far as this device knows without looking into the folder.
    ///
    /// # Errors
    /// The database fails, or what it remembers cannot be read.
    pub fn exchange_status(&mut self) -> Result<ExchangeStatus, ExchangeError> {
        let network = self.network();
        self.exchange_status_on(network)
    }

    /// The same, by somebody who knows the network that this device is on.
    pub(crate) fn exchange_status_on(&mut self, network: Option<String>) -> Result<ExchangeStatus, ExchangeError> {
        let (own, label) = self.identity()?;
        let mut status = ExchangeStatus {
            schema_version: 1,
            state: ExchangeState::Alone,
            device: who::digits(own.id()),
            person: label.person,
            device_name: label.device,
            keys: self.keys_in()?,
            address: None,
            place: None,
            team: None,
            sealed: None,
            members: Vec::new(),
            removed: Vec::new(),
            asking: Vec::new(),
            waiting: Vec::new(),
            kept_aside: Vec::new(),
            unshared_items: 0,
            unshared_photo_files: 0,
            unshared_photo_bytes: 0,
            kept_sites: Vec::new(),
            keeps_every_site: false,
            last_round: None,
            failing_since: None,
            failure: None,
            failure_in_window: None,
            clock: None,
        };
        (status.kept_sites, status.keeps_every_site) = self.store().kept()?;
        if self.store().memory()?.is_none() {
            return Ok(status);
        }
        let (own, memory) = self.team_memory()?;
        let log = memory.log().team();
        // What is secret about the place and cannot be read ends rounds, which say so, and neither this nor leaving.
        let place = self.place_told(self.secrets().unwrap_or_default(), network)?;
        (status.address, status.place) = (Some(place.address.clone()), Some(place));
        status.team = Some(hex(&memory.log().root()));
        status.state = super::round::state(&own, &memory, &log);
        status.sealed = (status.state == ExchangeState::Member).then_some(log.sealed);
        let times = memory.times(&own);
        status.members = team::labels(&memory, &own, &log)
            .into_iter()
            .map(|(id, label)| MemberLine {
                id: who::digits(id),
                person: label.as_ref().map(|label| label.person.clone()),
                device: label.map(|label| label.device),
                this: id == own.id(),
                last_shared: times.get(&id).map(|ms| moment::written(*ms)),
            })
            .collect();
        let left = log.removed.iter().filter_map(|(id, removed)| Some((*id, removed.newcomer.as_ref()?)));
        status.removed = left
            .map(|(id, newcomer)| {
                let label = memory.label(&own, newcomer);
                RemovedLine {
                    id: who::digits(id),
                    person: label.as_ref().map(|label| label.person.clone()),
                    device: label.map(|label| label.device),
                }
            })
            .collect();
        status.asking = memory
            .asking(&own)
            .into_iter()
            .map(|asks| AskingLine {
                id: who::digits(asks.device),
                person: asks.label.as_ref().map(|label| label.person.clone()),
                device: asks.label.map(|label| label.device),
                invited_by: asks.invited_by.map(who::digits),
                used_by: asks.used_by.map(who::digits),
            })
            .collect();
        status.waiting = self.waiting_lines()?;
        let strange = self.store().strange_items()?.into_iter();
        status.kept_aside = strange.map(|(why, items)| KeptAsideLine { why, items }).collect();
        status.unshared_items = self.store().untold(memory.lengths().get(&own.id()).copied().unwrap_or(0))?;
        (status.unshared_photo_files, status.unshared_photo_bytes) = self.store().unsent_count()?;
        let last = self.last_round()?;
        status.last_round = last.done_ms.map(moment::written);
        if let Some((since, why)) = last.failed {
            status.failing_since = Some(moment::written(since));
            // An earlier release kept one sentence for both.
            status.failure_in_window = last.in_window.or_else(|| Some(why.clone()));
            status.failure = Some(why);
        }
        status.clock = self.clock_remark(&own, &memory).or(last.clock);
        Ok(status)
    }

    /// What there is to say of the team's clocks.
    pub(super) fn clock_remark(&self, own: &Identity, memory: &Memory) -> Option<String> {
        let labels = team::labels(memory, own, &memory.log().team());
        let called = |id: DeviceId| who::said(id, labels.get(&id).and_then(Option::as_ref));
        clock::remark(own.id(), self.now(), &memory.times(own), called)
    }

    /// Changes that are here and do not count, by the device that is to blame.
    pub(super) fn waiting_lines(&mut self) -> Result<Vec<WaitingLine>, ExchangeError> {
        let with_aside = self.store().sites()?.into_iter().filter(|row| row.set_aside > 0).map(|row| row.document);
        let documents: Vec<String> = with_aside.collect();
        let mut counts: BTreeMap<(WaitsFor, Option<record::sign::DeviceId>), BTreeMap<String, u64>> = BTreeMap::new();
        let mut count = |document: &str, all: &[SetAside]| {
            for aside in all {
                let key = match aside.cause {
                    Cause::Unknown(device) => (WaitsFor::UnknownDevice, Some(device)),
                    Cause::Refused(device) => (WaitsFor::RemovedDevice, Some(device)),
                    Cause::Missing => (WaitsFor::MissingChange, None),
                    Cause::Damaged => (WaitsFor::Damaged, None),
                };
                *counts.entry(key).or_default().entry(document.to_owned()).or_default() += 1;
            }
        };
        for document in documents {
            let site = self.store_mut().site(&document)?;
            count(&document, site.set_aside());
        }
        if let Some(team) = self.store().team_as_it_is()? {
            count(TEAM, team.set_aside());
        }
        let devices = self.store().devices()?;
        let line =
            |((waits_for, device), sites): ((WaitsFor, Option<record::sign::DeviceId>), BTreeMap<String, u64>)| {
                let row = devices.iter().find(|row| Some(row.device) == device);
                WaitingLine {
                    waits_for,
                    device: device.map(|device| who::digits(DeviceId(device.0))),
                    person: row.map(|row| row.person.clone()),
                    device_name: row.map(|row| row.name.clone()),
                    changes: sites.values().sum(),
                    sites: sites.into_iter().map(|(id, changes)| SiteWaits { id, changes }).collect(),
                }
            };
        Ok(counts.into_iter().map(line).collect())
    }
}
