//! One self-contained file with a site and its whole history, for e-mail or a stick.
//!
//! A first line names the format; then records of a kind byte, a length (4 bytes, big end first) and the bytes; last the
//! SHA-256 of everything before. Kinds that this release does not know are passed over.

use std::collections::BTreeSet;

use sha2::{Digest, Sha256};

use super::changes::{self, ChangeRow};
use super::devices::{self, ActorRow, DeviceRow};
use super::team::TEAM;
use super::{Site, Store, StoreError, contents};
use crate::document::Kind;
use crate::sign::DeviceId;

const FIRST_LINE: &[u8] = b"Newel site, format 1\n";

/// What an import brought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Arrival {
    /// The documents.
    pub documents: Vec<String>,
    /// Changes that were not here before.
    pub fresh: usize,
    /// Devices that nobody here has vouched for; their changes are kept but set aside.
    pub unknown: Vec<DeviceRow>,
}

impl Store {
    /// A site with its history as one file.
    ///
    /// # Errors
    /// There is no such site, or the database fails.
    pub fn export(&self, document: &str) -> Result<Vec<u8>, StoreError> {
        let rows = changes::of(&self.db, document)?;
        if rows.is_empty() {
            return Err(StoreError::Missing(document.to_owned()));
        }
        let known = devices::all(&self.db)?;
        let writers: BTreeSet<DeviceId> = rows.iter().map(|row| row.device).collect();
        let mut file = FIRST_LINE.to_vec();
        for device in known.values().filter(|d| writers.contains(&d.device)) {
            record(&mut file, b'D', &[&device.device.0, device.person.as_bytes(), device.name.as_bytes()]);
        }
        for actor in devices::actors(&self.db)? {
            if writers.contains(&actor.device) {
                record(&mut file, b'A', &[&actor.actor, &actor.device.0, &actor.signature]);
            }
        }
        for row in &rows {
            record(
                &mut file,
                b'C',
                &[
                    row.document.as_bytes(),
                    &row.hash,
                    &row.device.0,
                    row.person.as_bytes(),
                    &row.time_ms.to_be_bytes(),
                    &row.signature,
                    &row.chunk,
                ],
            );
        }
        if document == TEAM {
            // Catalogues travel by content, with the document that names them.
            for hash in Site::load(self, TEAM)?.content().of(Kind::Catalogue, "").map(|(thing, _)| thing.id.clone()) {
                if let Some(bytes) = contents::get(&self.db, &hash)? {
                    record(&mut file, b'K', &[&bytes]);
                }
            }
        }
        let seal = Sha256::digest(&file);
        file.extend_from_slice(&seal);
        Ok(file)
    }

    /// Takes in a file made by [`Store::export`]; open sites catch up at their next edit.
    ///
    /// # Errors
    /// The file is of another kind, cut short or altered; then nothing is taken in.
    pub fn import(&mut self, file: &[u8]) -> Result<Arrival, StoreError> {
        let unpacked = unpack(file)?;
        let mut arrival = Arrival { documents: Vec::new(), fresh: 0, unknown: Vec::new() };
        let tx = self.write()?;
        for device in &unpacked.devices {
            devices::insert_device(&tx, device)?;
        }
        for actor in &unpacked.actors {
            devices::insert_actor(&tx, actor)?;
        }
        for bytes in &unpacked.bytes {
            contents::put(&tx, bytes)?;
        }
        for row in &unpacked.changes {
            arrival.fresh += changes::insert(&tx, row)?;
            if !arrival.documents.contains(&row.document) {
                arrival.documents.push(row.document.clone());
            }
        }
        for document in &arrival.documents {
            self.list_anew(&tx, document)?;
        }
        let known = devices::all(&tx)?;
        arrival.unknown = unpacked
            .devices
            .iter()
            .filter_map(|device| known.get(&device.device).filter(|found| !found.known).cloned())
            .collect();
        tx.commit()?;
        self.arrivals += 1;
        Ok(arrival)
    }
}

#[derive(Default)]
struct Contents {
    devices: Vec<DeviceRow>,
    actors: Vec<ActorRow>,
    changes: Vec<ChangeRow>,
    bytes: Vec<Vec<u8>>,
}

fn record(file: &mut Vec<u8>, kind: u8, parts: &[&[u8]]) {
    let mut body = Vec::new();
    for part in parts {
        block(&mut body, part);
    }
    file.push(kind);
    block(file, &body);
}

fn block(into: &mut Vec<u8>, bytes: &[u8]) {
    // A single change is far below 4 GB; a longer one would be cut and then refused by its seal.
    into.extend_from_slice(&u32::try_from(bytes.len()).unwrap_or(u32::MAX).to_be_bytes());
    into.extend_from_slice(bytes);
}

fn unpack(file: &[u8]) -> Result<Contents, StoreError> {
    let bad = |why: &str| StoreError::Parcel(why.to_owned());
    let body = file.strip_prefix(FIRST_LINE).ok_or_else(|| bad("it does not begin as one"))?;
    let split = body.len().checked_sub(32).ok_or_else(|| bad("it is cut short"))?;
    let (mut rest, seal) = body.split_at(split);
    if Sha256::digest(&file[..file.len() - 32]).as_slice() != seal {
        return Err(bad("it is cut short or was altered on the way; ask for it again"));
    }
    let mut contents = Contents::default();
    while let Some((kind, after)) = rest.split_first() {
        let (body, after) = take(after).ok_or_else(|| bad("a record is cut short"))?;
        rest = after;
        let mut parts = Vec::new();
        let mut left = body;
        while !left.is_empty() {
            let (part, after) = take(left).ok_or_else(|| bad("a record is cut short"))?;
            parts.push(part);
            left = after;
        }
        understood(*kind, &parts, &mut contents).ok_or_else(|| bad("a record holds something else than it says"))?;
    }
    Ok(contents)
}

fn take(bytes: &[u8]) -> Option<(&[u8], &[u8])> {
    let (length, rest) = bytes.split_first_chunk::<4>()?;
    rest.split_at_checked(usize::try_from(u32::from_be_bytes(*length)).ok()?)
}

/// `None` where a record of a known kind has not the parts of its kind.
fn understood(kind: u8, parts: &[&[u8]], contents: &mut Contents) -> Option<()> {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).ok();
    let device = |bytes: &[u8]| Some(DeviceId(bytes.try_into().ok()?));
    match (kind, parts) {
        (b'D', [id, person, name, ..]) => contents.devices.push(DeviceRow {
            device: device(id)?,
            person: text(person)?,
            name: text(name)?,
            known: false,
        }),
        (b'A', [actor, id, signature, ..]) => contents.actors.push(ActorRow {
            actor: actor.to_vec(),
            device: device(id)?,
            signature: (*signature).try_into().ok()?,
        }),
        (b'C', [document, hash, id, person, time, signature, chunk, ..]) => contents.changes.push(ChangeRow {
            document: text(document)?,
            hash: (*hash).try_into().ok()?,
            chunk: chunk.to_vec(),
            device: device(id)?,
            person: text(person)?,
            time_ms: i64::from_be_bytes((*time).try_into().ok()?),
            signature: (*signature).try_into().ok()?,
        }),
        (b'K', [bytes, ..]) => contents.bytes.push(bytes.to_vec()),
        (b'D' | b'A' | b'C' | b'K', _) => return None,
        _ => {}
    }
    Some(())
}
