//! Whose changes count here: until this device takes part in a team, those of the devices that a person here has vouched
//! for; then those of the team's members, and of others the changes that the team has accepted. Whatever a log of members
//! says, the work of this device itself is never hidden from whoever did it.

use std::collections::{BTreeMap, BTreeSet};

use automerge::Change;
use rusqlite::{Connection, params};

use super::{Store, StoreError, changes, devices, settings};
use crate::sign::DeviceId;

pub(crate) const STEP_5: &str = "
CREATE TABLE members (device BLOB PRIMARY KEY) STRICT;
CREATE TABLE leavers (device BLOB PRIMARY KEY) STRICT;
CREATE TABLE accepted (
  device BLOB NOT NULL,
  change BLOB NOT NULL,
  PRIMARY KEY (device, change)
) STRICT;";

/// Under this name the settings say that a team decides.
const TEAM: &str = "a team decides";

/// A team as the store needs to know it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Standing {
    /// The devices all of whose changes count.
    pub members: BTreeSet<DeviceId>,
    /// Devices that were shut out.
    pub leavers: BTreeSet<DeviceId>,
    /// Of devices that are no members, the last changes that count, with all that they build on.
    pub accepted: BTreeMap<DeviceId, BTreeSet<[u8; 32]>>,
}

/// Why a change does not count. Those that stand later here outweigh those before.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// It, or something on which it builds, is of a device that is not known. It waits.
    Unknown(DeviceId),
    /// It, or something on which it builds, is of a device that was removed, and came after the last that was accepted.
    Refused(DeviceId),
    /// Something on which it builds is not here, or is damaged. It waits.
    Missing,
    /// It is damaged, or not signed as it should be.
    Damaged,
}

/// Who counts, as it stands in the database.
pub(super) struct Judge {
    own: DeviceId,
    /// `None` where no team decides.
    team: Option<Standing>,
    /// The devices for which a person here has vouched.
    known: BTreeSet<DeviceId>,
    /// Of other devices, the last changes that count: those that the team accepted, or that the last one did.
    accepted: Accepted,
}

/// Of devices, the last changes that count.
type Accepted = BTreeMap<DeviceId, BTreeSet<[u8; 32]>>;

impl Judge {
    pub(super) fn of(store: &Store) -> Result<Self, StoreError> {
        let known = devices::all(&store.db)?.into_values().filter(|device| device.known).map(|device| device.device);
        let (team, accepted) = (read(&store.db)?, accepted(&store.db)?);
        Ok(Self { own: store.device.id(), team, known: known.collect(), accepted })
    }

    /// Whether everything that a device writes counts.
    pub(super) fn counts(&self, device: DeviceId) -> bool {
        let by_team = self.team.as_ref().map(|team| team.members.contains(&device));
        device == self.own || by_team.unwrap_or_else(|| self.known.contains(&device))
    }

    /// Of a device that does not count as a whole: why a change of it does not, unless it was accepted.
    pub(super) fn cause(&self, device: DeviceId) -> Cause {
        let left = self.team.as_ref().is_some_and(|team| team.leavers.contains(&device));
        if left { Cause::Refused(device) } else { Cause::Unknown(device) }
    }

    /// Whether a device is of those of which some changes count and others do not.
    pub(super) fn is_partly_accepted(&self, device: DeviceId) -> bool {
        !self.counts(device) && self.accepted(device).is_some()
    }

    fn accepted(&self, device: DeviceId) -> Option<&BTreeSet<[u8; 32]>> {
        self.accepted.get(&device).filter(|changes| !changes.is_empty())
    }

    /// The accepted changes of a device within a document of which each change names those before it.
    pub(super) fn with_needs(&self, device: DeviceId, needs: &BTreeMap<[u8; 32], Vec<[u8; 32]>>) -> BTreeSet<[u8; 32]> {
        let (mut all, mut open) = (BTreeSet::new(), Vec::new());
        open.extend(self.accepted(device).into_iter().flatten().copied().filter(|hash| needs.contains_key(hash)));
        while let Some(hash) = open.pop() {
            if all.insert(hash) {
                open.extend(needs.get(&hash).into_iter().flatten());
            }
        }
        all
    }
}

fn read(db: &Connection) -> Result<Option<Standing>, StoreError> {
    if settings::get(db, TEAM)?.is_none() {
        return Ok(None);
    }
    let devices = |table: &str| -> Result<BTreeSet<DeviceId>, StoreError> {
        let mut found = db.prepare_cached(&format!("SELECT device FROM {table}"))?;
        Ok(found.query_map([], |row| Ok(DeviceId(row.get(0)?)))?.collect::<Result<_, _>>()?)
    };
    Ok(Some(Standing { members: devices("members")?, leavers: devices("leavers")?, accepted: accepted(db)? }))
}

fn accepted(db: &Connection) -> Result<Accepted, StoreError> {
    let mut all = Accepted::new();
    let mut found = db.prepare_cached("SELECT device, change FROM accepted")?;
    for row in found.query_map([], |row| Ok((DeviceId(row.get(0)?), row.get(1)?)))? {
        let (device, change) = row?;
        all.entry(device).or_default().insert(change);
    }
    Ok(all)
}

/// Lets no team decide any more, and what counted goes on to count: its members are devices for which somebody here has
/// vouched, and of the others what was accepted stays so.
pub(super) fn dissolve(db: &Connection) -> Result<(), StoreError> {
    if read(db)?.is_none() {
        return Ok(());
    }
    db.execute("UPDATE devices SET known = 1 WHERE device IN (SELECT device FROM members)", [])?;
    for table in ["members", "leavers"] {
        db.execute(&format!("DELETE FROM {table}"), [])?;
    }
    db.execute("DELETE FROM settings WHERE name = ?1", [TEAM])?;
    db.execute("INSERT OR IGNORE INTO stale (document) SELECT DISTINCT document FROM changes", [])?;
    Ok(())
}

impl Store {
    /// Of devices that do not count as a whole, the last changes that do: the team's word, or that of the last one.
    ///
    /// # Errors
    /// The database fails.
    pub fn accepted(&self) -> Result<BTreeMap<DeviceId, BTreeSet<[u8; 32]>>, StoreError> {
        accepted(&self.db)
    }

    /// The team that decides whose changes count; `None` where none does.
    ///
    /// # Errors
    /// The database fails.
    pub fn standing(&self) -> Result<Option<Standing>, StoreError> {
        read(&self.db)
    }

    /// Lets a team decide from now on whose changes count; open sites catch up at their next edit.
    ///
    /// # Errors
    /// The store is open for reading only, or the database fails; then the team before decides.
    pub fn set_standing(&mut self, standing: &Standing) -> Result<(), StoreError> {
        let before = read(&self.db)?;
        if before.as_ref() == Some(standing) {
            return Ok(());
        }
        let tx = self.write()?;
        settings::set(&tx, TEAM, "yes")?;
        for table in ["members", "leavers", "accepted"] {
            tx.execute(&format!("DELETE FROM {table}"), [])?;
        }
        for device in &standing.members {
            tx.execute("INSERT INTO members (device) VALUES (?1)", [device.0])?;
        }
        for device in &standing.leavers {
            tx.execute("INSERT INTO leavers (device) VALUES (?1)", [device.0])?;
        }
        for (device, changes) in &standing.accepted {
            for change in changes {
                tx.execute("INSERT INTO accepted (device, change) VALUES (?1, ?2)", params![device.0, change])?;
            }
        }
        // Where nothing decided before, every document may read otherwise now.
        let differs = |device: DeviceId| {
            before.as_ref().is_none_or(|before| {
                before.members.contains(&device) != standing.members.contains(&device)
                    || before.leavers.contains(&device) != standing.leavers.contains(&device)
                    || before.accepted.get(&device) != standing.accepted.get(&device)
            })
        };
        for (device, document, _) in changes::counts(&tx)? {
            if differs(device) {
                tx.execute("INSERT OR IGNORE INTO stale (document) VALUES (?1)", [document])?;
            }
        }
        tx.commit()?;
        self.arrivals += 1;
        self.catch_up()
    }

    /// The last changes of a device that are here: those on which no other change of it builds at once.
    ///
    /// # Errors
    /// The database fails.
    pub fn last_of(&self, device: DeviceId) -> Result<Vec<[u8; 32]>, StoreError> {
        let mut found = self.db.prepare_cached("SELECT hash, chunk FROM changes WHERE device = ?1 ORDER BY seq")?;
        let rows = found.query_map([device.0], |row| Ok((row.get(0)?, row.get(1)?)))?;
        let (mut last, mut used) = (BTreeSet::new(), BTreeSet::new());
        for row in rows {
            let (hash, chunk): ([u8; 32], Vec<u8>) = row?;
            if let Ok(change) = Change::from_bytes(chunk) {
                last.insert(hash);
                used.extend(change.deps().iter().map(|dep| dep.0));
            }
        }
        Ok(last.difference(&used).copied().collect())
    }
}
