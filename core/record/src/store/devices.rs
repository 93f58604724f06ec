//! The tables of devices and of the actors that they certified.

use std::collections::BTreeMap;

use rusqlite::{Connection, params};

use super::row::Row;
use super::{StoreError, items};
use crate::sign::DeviceId;

pub(crate) const STEP_1: &str = "
CREATE TABLE devices (
  device BLOB PRIMARY KEY,
  person TEXT NOT NULL,
  name   TEXT NOT NULL,
  known  INTEGER NOT NULL
) STRICT;
CREATE TABLE actors (
  actor     BLOB NOT NULL,
  device    BLOB NOT NULL,
  signature BLOB NOT NULL,
  PRIMARY KEY (actor, device)
) STRICT;";

/// A device as others see it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DeviceRow {
    /// Its id.
    pub device: DeviceId,
    /// Who works on it, by its own word.
    pub person: String,
    /// What it is called, by its own word.
    pub name: String,
    /// Whether somebody here has said that its changes count.
    pub known: bool,
}

/// The certificate of an actor.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct ActorRow {
    pub actor: Vec<u8>,
    pub device: DeviceId,
    pub signature: [u8; 64],
}

/// Keeps what a device says of itself; what is kept already stays.
pub(crate) fn insert_device(db: &Connection, row: &DeviceRow) -> Result<(), StoreError> {
    db.execute(
        "INSERT OR IGNORE INTO devices (device, person, name, known) VALUES (?1, ?2, ?3, ?4)",
        params![row.device.0, row.person, row.name, row.known],
    )?;
    items::enter(db, &Row::Device(row.clone())).map(drop)
}

/// Says that a device's changes count.
pub(crate) fn know(db: &Connection, device: DeviceId) -> Result<usize, StoreError> {
    Ok(db.execute("UPDATE devices SET known = 1 WHERE device = ?1", params![device.0])?)
}

pub(crate) fn insert_actor(db: &Connection, row: &ActorRow) -> Result<(), StoreError> {
    db.execute(
        "INSERT OR IGNORE INTO actors (actor, device, signature) VALUES (?1, ?2, ?3)",
        params![row.actor, row.device.0, row.signature],
    )?;
    items::enter(db, &Row::Actor(row.clone())).map(drop)
}

/// Every device by its id.
pub(crate) fn all(db: &Connection) -> Result<BTreeMap<DeviceId, DeviceRow>, StoreError> {
    let mut statement = db.prepare_cached("SELECT device, person, name, known FROM devices")?;
    let rows = statement.query_map([], |row| {
        Ok(DeviceRow { device: DeviceId(row.get(0)?), person: row.get(1)?, name: row.get(2)?, known: row.get(3)? })
    })?;
    rows.map(|row| row.map(|row| (row.device, row)).map_err(StoreError::from)).collect()
}

/// Every certificate.
pub(crate) fn actors(db: &Connection) -> Result<Vec<ActorRow>, StoreError> {
    let mut statement = db.prepare_cached("SELECT actor, device, signature FROM actors ORDER BY actor, device")?;
    let rows = statement.query_map([], |row| {
        Ok(ActorRow { actor: row.get(0)?, device: DeviceId(row.get(1)?), signature: row.get(2)? })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}
