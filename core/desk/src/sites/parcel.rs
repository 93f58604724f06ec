//! A site in one self-contained file, for e-mail or a stick.

use super::{SiteError, Sites};
use crate::wire::sites::{DeviceLine, SiteArrival};

impl Sites {
    /// A site with its whole history as one file.
    ///
    /// # Errors
    /// There is no such site, or the database fails.
    pub fn send(&self, asked: &str) -> Result<Vec<u8>, SiteError> {
        Ok(self.store.export(&self.document(asked)?)?)
    }

    /// Whether the bytes begin as a file made by [`Self::send`] does; a survey file begins otherwise.
    #[must_use]
    pub fn is_parcel(file: &[u8]) -> bool {
        file.starts_with(b"Newel site")
    }

    /// Takes in a file made by [`Self::send`]; what an unknown device wrote waits, named.
    ///
    /// # Errors
    /// The file is of another kind, cut short or altered; then nothing is taken in.
    pub fn receive(&mut self, file: &[u8]) -> Result<SiteArrival, SiteError> {
        let arrival = self.store.import(file)?;
        let unknown = arrival.unknown.into_iter().map(|row| DeviceLine {
            id: row.device.0.iter().map(|byte| format!("{byte:02x}")).collect(),
            device: row.name,
            person: row.person,
            known: row.known,
            this: false,
        });
        Ok(SiteArrival {
            schema_version: 1,
            sites: arrival.documents,
            new_changes: u32::try_from(arrival.fresh).unwrap_or(u32::MAX),
            unknown_devices: unknown.collect(),
        })
    }
}
