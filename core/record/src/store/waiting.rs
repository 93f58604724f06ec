//! Devices that nobody here has vouched for: their changes wait, named, until a person accepts the device.

use std::collections::BTreeMap;

use super::standing::Judge;
use super::{Cause, DeviceRow, Store, StoreError, changes, devices};
use crate::sign::DeviceId;

/// A device whose changes wait.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiting {
    /// The device, with its own word on who it is: compare [`DeviceId`] by eye or ear before accepting it.
    pub device: DeviceRow,
    /// How many changes of it wait, by document.
    pub changes: BTreeMap<String, usize>,
}

impl Store {
    /// Every device that was heard of.
    ///
    /// # Errors
    /// The database fails.
    pub fn devices(&self) -> Result<Vec<DeviceRow>, StoreError> {
        let judge = Judge::of(self)?;
        let all = devices::all(&self.db)?.into_values();
        Ok(all.map(|device| DeviceRow { known: judge.counts(device.device), ..device }).collect())
    }

    /// The devices whose changes wait for a person to accept them, by id.
    ///
    /// # Errors
    /// The database fails.
    pub fn waiting(&self) -> Result<Vec<Waiting>, StoreError> {
        let mut counts: BTreeMap<DeviceId, BTreeMap<String, usize>> = BTreeMap::new();
        for (device, document, count) in changes::counts(&self.db)? {
            counts.entry(device).or_default().insert(document, count);
        }
        let judge = Judge::of(self)?;
        let waits = |id: DeviceId| !judge.counts(id) && judge.cause(id) == Cause::Unknown(id);
        let unknown = devices::all(&self.db)?.into_values().filter(|device| waits(device.device));
        Ok(unknown
            .map(|device| Waiting { changes: counts.remove(&device.device).unwrap_or_default(), device })
            .collect())
    }

    /// Says, by the word of the person at this device, that another device's changes count from now on, where no team
    /// decides that; open sites catch up at their next edit.
    ///
    /// # Errors
    /// The device was never heard of, the store is open for reading only, or the database fails.
    pub fn know(&mut self, device: DeviceId) -> Result<(), StoreError> {
        let tx = self.write()?;
        if devices::know(&tx, device)? == 0 {
            return Err(StoreError::Stranger(device));
        }
        for (_, document, _) in changes::counts(&tx)?.into_iter().filter(|(writer, _, _)| *writer == device) {
            self.list_anew(&tx, &document)?;
        }
        tx.commit()?;
        self.arrivals += 1;
        Ok(())
    }
}
