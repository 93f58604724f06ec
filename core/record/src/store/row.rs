//! Rows of the store as bytes, as they stand in a site's file and in the feeds of the exchange: a kind byte and parts, each
//! with its length before it (4 bytes, big end first).
//!
//! ```text
//! D  id, person, name                                               a device, by its own word
//! A  actor, device, signature                                       a device vouches for an actor
//! C  document, hash, device, person, time, signature, chunk         a change
//! K  bytes                                                          a content that documents name by its SHA-256
//! P  SHA-256, name, kind, length, when added, what was read in it   a photo file
//! T  SHA-256 of the photo, long edge in pixels, SHA-256 of the copy a smaller copy of a photo
//! ```
//!
//! Times and lengths are 8 bytes, big end first; an edge is 4.

use super::changes::ChangeRow;
use super::copies::CopyRow;
use super::devices::{ActorRow, DeviceRow};
use super::photos::PhotoRow;
use super::{hash_of, hex};
use crate::sign::DeviceId;

/// A row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Row {
    Device(DeviceRow),
    Actor(ActorRow),
    Change(ChangeRow),
    Content(Vec<u8>),
    Photo(PhotoRow),
    Copy(CopyRow),
}

/// What some bytes are.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum Read {
    /// A row.
    Row(Box<Row>),
    /// Of a kind that only a newer release knows.
    Newer,
    /// Something else than its kind says.
    Wrong,
}

impl Row {
    pub(crate) fn kind(&self) -> u8 {
        match self {
            Self::Device(_) => b'D',
            Self::Actor(_) => b'A',
            Self::Change(_) => b'C',
            Self::Content(_) => b'K',
            Self::Photo(_) => b'P',
            Self::Copy(_) => b'T',
        }
    }

    /// Its parts; `None` where the row has no form of this kind, as a photo whose name is no SHA-256.
    pub(crate) fn parts(&self) -> Option<Vec<Vec<u8>>> {
        Some(match self {
            Self::Device(row) => vec![row.device.0.to_vec(), row.person.clone().into(), row.name.clone().into()],
            Self::Actor(row) => vec![row.actor.clone(), row.device.0.to_vec(), row.signature.to_vec()],
            Self::Change(row) => vec![
                row.document.clone().into(),
                row.hash.to_vec(),
                row.device.0.to_vec(),
                row.person.clone().into(),
                row.time_ms.to_be_bytes().to_vec(),
                row.signature.to_vec(),
                row.chunk.clone(),
            ],
            Self::Content(bytes) => vec![bytes.clone()],
            Self::Photo(row) => vec![
                hash_of(&row.file)?.to_vec(),
                row.name.clone().into(),
                row.kind.clone().into(),
                row.bytes.to_be_bytes().to_vec(),
                row.added_ms.to_be_bytes().to_vec(),
                row.facts.clone().into(),
            ],
            Self::Copy(row) => vec![row.photo.to_vec(), row.edge.to_be_bytes().to_vec(), row.blob.to_vec()],
        })
    }

    /// Its kind and its parts; `None` where a part is longer than 4 GB.
    pub(crate) fn bytes(&self) -> Option<Vec<u8>> {
        let mut bytes = vec![self.kind()];
        for part in self.parts()? {
            bytes.extend_from_slice(&u32::try_from(part.len()).ok()?.to_be_bytes());
            bytes.extend_from_slice(&part);
        }
        Some(bytes)
    }

    /// Reads what [`Row::bytes`] made.
    pub(crate) fn read(bytes: &[u8]) -> Read {
        match bytes.split_first() {
            Some((kind, body)) => Self::read_body(*kind, body),
            None => Read::Wrong,
        }
    }

    /// Reads the parts of a kind; more parts than this release knows are passed over.
    pub(crate) fn read_body(kind: u8, body: &[u8]) -> Read {
        let Some(parts) = parts(body) else { return Read::Wrong };
        if !b"DACKPT".contains(&kind) {
            return Read::Newer;
        }
        Self::of(kind, &parts).map_or(Read::Wrong, |row| Read::Row(Box::new(row)))
    }

    fn of(kind: u8, parts: &[&[u8]]) -> Option<Self> {
        let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).ok();
        let device = |bytes: &[u8]| Some(DeviceId(bytes.try_into().ok()?));
        let number = |bytes: &[u8]| Some(i64::from_be_bytes(bytes.try_into().ok()?));
        Some(match (kind, parts) {
            (b'D', [id, person, name, ..]) => {
                Self::Device(DeviceRow { device: device(id)?, person: text(person)?, name: text(name)?, known: false })
            }
            (b'A', [actor, id, signature, ..]) => Self::Actor(ActorRow {
                actor: actor.to_vec(),
                device: device(id)?,
                signature: (*signature).try_into().ok()?,
            }),
            (b'C', [document, hash, id, person, time, signature, chunk, ..]) => Self::Change(ChangeRow {
                document: text(document)?,
                hash: (*hash).try_into().ok()?,
                chunk: chunk.to_vec(),
                device: device(id)?,
                person: text(person)?,
                time_ms: number(time)?,
                signature: (*signature).try_into().ok()?,
            }),
            (b'K', [bytes, ..]) => Self::Content(bytes.to_vec()),
            (b'P', [hash, name, kind, bytes, added, facts, ..]) => Self::Photo(PhotoRow {
                file: hex(&<[u8; 32]>::try_from(*hash).ok()?),
                name: text(name)?,
                kind: text(kind)?,
                bytes: number(bytes).filter(|bytes| *bytes >= 0)?,
                added_ms: number(added)?,
                facts: text(facts)?,
            }),
            (b'T', [photo, edge, blob, ..]) => Self::Copy(CopyRow {
                photo: (*photo).try_into().ok()?,
                edge: u32::from_be_bytes((*edge).try_into().ok()?),
                blob: (*blob).try_into().ok()?,
            }),
            _ => return None,
        })
    }
}

/// Some bytes read as a row and written again; `None` where they are no row that this release knows. What a newer release has
/// added behind is left out. For whoever tries the reader with bytes of strangers.
#[must_use]
pub fn row_again(bytes: &[u8]) -> Option<Vec<u8>> {
    match Row::read(bytes) {
        Read::Row(row) => row.bytes(),
        Read::Newer | Read::Wrong => None,
    }
}

/// Parts with their lengths before them.
pub(crate) fn parts(mut left: &[u8]) -> Option<Vec<&[u8]>> {
    let mut parts = Vec::new();
    while !left.is_empty() {
        let (length, rest) = left.split_first_chunk::<4>()?;
        let (part, after) = rest.split_at_checked(usize::try_from(u32::from_be_bytes(*length)).ok()?)?;
        parts.push(part);
        left = after;
    }
    Some(parts)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_read_as_it_was_written_and_nothing_else_is_one() {
        let (device, person) = (DeviceId([1; 32]), "Invented Anna".to_owned());
        let row = PhotoRow {
            file: "ab".repeat(32),
            name: "stair.jpg".to_owned(),
            kind: "jpeg".to_owned(),
            bytes: 3,
            added_ms: -4,
            facts: "{}".to_owned(),
        };
        let change = ChangeRow {
            document: "yard".to_owned(),
            hash: [2; 32],
            chunk: b"chunk".to_vec(),
            device,
            person: person.clone(),
            time_ms: -5,
            signature: [3; 64],
        };
        for row in [
            Row::Device(DeviceRow { device, person, name: "tablet".to_owned(), known: false }),
            Row::Actor(ActorRow { actor: vec![4; 16], device, signature: [5; 64] }),
            Row::Change(change),
            Row::Content(Vec::new()),
            Row::Photo(row),
            Row::Copy(CopyRow { photo: [6; 32], edge: 320, blob: [7; 32] }),
        ] {
            let bytes = row.bytes().expect("a form");
            assert_eq!(Row::read(&bytes), Read::Row(Box::new(row.clone())));
            let longer = [bytes.as_slice(), &[0, 0, 0, 1, 9]].concat();
            assert_eq!(Row::read(&longer), Read::Row(Box::new(row)), "a newer release may add a part");
            for cut in 1..bytes.len() {
                assert_eq!(Row::read(&bytes[..cut]), Read::Wrong, "cut to {cut}");
            }
            assert_eq!(Row::read(&[b"Z", &bytes[1..]].concat()), Read::Newer);
        }
        assert_eq!(Row::read(b""), Read::Wrong);
    }
}
