//! Writing the file, piece by piece.

use std::collections::BTreeSet;
use std::io::{self, Read, Write};

use sha2::{Digest, Sha256};

use super::{BLOCK, FIRST_LINE};
use crate::sign::DeviceId;
use crate::store::row::Row;
use crate::store::team::TEAM;
use crate::store::{PhotoRow, Store, StoreError, changes, contents, devices};

/// Writes and digests.
struct Sealed<'a> {
    out: &'a mut dyn Write,
    digest: Sha256,
}

impl Sealed<'_> {
    fn put(&mut self, bytes: &[u8]) -> Result<(), StoreError> {
        self.digest.update(bytes);
        self.out.write_all(bytes).map_err(StoreError::Outside)
    }

    /// A record of some parts, each with its length before it.
    fn record(&mut self, kind: u8, parts: &[&[u8]]) -> Result<(), StoreError> {
        let long = || StoreError::Parcel("one of its records is longer than 4 GB".to_owned());
        let length = |bytes: usize| u32::try_from(bytes).map(u32::to_be_bytes).map_err(|_| long());
        self.put(&[kind])?;
        self.put(&length(parts.iter().map(|part| part.len() + 4).sum())?)?;
        for part in parts {
            self.put(&length(part.len())?)?;
            self.put(part)?;
        }
        Ok(())
    }
}

impl Sealed<'_> {
    fn row(&mut self, row: &Row) -> Result<(), StoreError> {
        let parts = row.parts().ok_or_else(|| StoreError::Parcel("a photo's name is no SHA-256".to_owned()))?;
        self.record(row.kind(), &parts.iter().map(Vec::as_slice).collect::<Vec<_>>())
    }
}

impl Store {
    /// A site with its history, without photos, as one file in memory.
    ///
    /// # Errors
    /// There is no such site, or the database fails.
    pub fn export(&self, document: &str) -> Result<Vec<u8>, StoreError> {
        let mut file = Vec::new();
        self.export_to(&mut file, document, &[], &mut |_| Err(io::ErrorKind::NotFound.into()))?;
        Ok(file)
    }

    /// Writes a site with its history and photos as one file. `open` opens the picture file of a row, which has as many
    /// bytes as the row says; a change and a block of a photo at a time are in memory.
    ///
    /// # Errors
    /// There is no such site, the database fails, a photo cannot be read, or the file cannot be written.
    pub fn export_to(
        &self,
        out: &mut dyn Write,
        document: &str,
        photos: &[PhotoRow],
        open: &mut dyn FnMut(&PhotoRow) -> io::Result<Box<dyn Read>>,
    ) -> Result<(), StoreError> {
        let heads = changes::heads(&self.db, document)?;
        if heads.is_empty() {
            return Err(StoreError::Missing(document.to_owned()));
        }
        let mut file = Sealed { out, digest: Sha256::new() };
        file.put(FIRST_LINE)?;
        let writers: BTreeSet<DeviceId> = heads.iter().map(|head| head.device).collect();
        for device in devices::all(&self.db)?.values().filter(|device| writers.contains(&device.device)) {
            file.row(&Row::Device(device.clone()))?;
        }
        for actor in devices::actors(&self.db)?.into_iter().filter(|actor| writers.contains(&actor.device)) {
            file.row(&Row::Actor(actor))?;
        }
        for head in &heads {
            file.row(&Row::Change(changes::row(&self.db, document, head)?))?;
        }
        if document == TEAM {
            // Catalogues travel by content, with the document that names them.
            for hash in self.team_as_it_is()?.map(|team| team.catalogue_contents()).unwrap_or_default() {
                if let Some(bytes) = contents::get(&self.db, &hash)? {
                    file.row(&Row::Content(bytes))?;
                }
            }
        }
        for row in photos {
            file.row(&Row::Photo(row.clone()))?;
        }
        let seal = file.digest.clone().finalize();
        file.record(b'S', &[&seal])?;
        for row in photos {
            let failed = |why: io::Error| StoreError::Parcel(format!("photo {} cannot be read: {why}", row.name));
            put_blocks(&mut file, &mut *open(row).map_err(failed)?, row)?;
        }
        let seal = file.digest.finalize();
        file.out.write_all(&seal).and_then(|()| file.out.flush()).map_err(StoreError::Outside)
    }
}

fn put_blocks(file: &mut Sealed<'_>, from: &mut dyn Read, row: &PhotoRow) -> Result<(), StoreError> {
    let mut left = u64::try_from(row.bytes).unwrap_or(0);
    let mut block = vec![0; BLOCK];
    let changed = || StoreError::Parcel(format!("photo {} changed while it was being written", row.name));
    while left > 0 {
        let size = usize::try_from(left).unwrap_or(BLOCK).min(BLOCK);
        from.read_exact(&mut block[..size]).map_err(|_| changed())?;
        file.record(b'B', &[&block[..size]])?;
        left -= size as u64;
    }
    // Where it goes on, it is another file than the one that was announced.
    if from.read(&mut block[..1]).is_ok_and(|more| more == 0) { Ok(()) } else { Err(changed()) }
}
