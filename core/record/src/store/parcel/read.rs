//! Taking the file in: the history whole or not at all, then each photo by itself.

use std::io::{self, Cursor, Seek, SeekFrom};

use sha2::{Digest, Sha256};

use super::blocks::{self, Blocks};
use super::{Arrival, FIRST_LINE, MOST_HISTORY_BYTES};
use crate::store::changes::{self, ChangeRow};
use crate::store::devices::{self, ActorRow, DeviceRow};
use crate::store::row::{Read, Row, parts};
use crate::store::{PhotoRow, Store, StoreError, contents};

/// So many photos are entered in the index at once.
const ROWS: usize = 16;

impl Store {
    /// Takes in a file made by [`Store::export`]; open sites catch up at their next edit.
    ///
    /// # Errors
    /// The file is of another kind, cut short or altered; then nothing is taken in.
    pub fn import(&mut self, file: &[u8]) -> Result<Arrival, StoreError> {
        self.import_from(&mut Cursor::new(file), &mut |_, _| Err("no place for photos was given".to_owned()))
    }

    /// Takes in a file made by [`Store::export_to`]; open sites catch up at their next edit. The history comes first, in
    /// one go. Then `keep` is given each photo, which it proves and keeps durably, or says why not: that one is named and
    /// set aside, and the next is given. What is in memory is bounded by [`super::MOST_HISTORY_BYTES`].
    ///
    /// # Errors
    /// The file is of another kind, or its history is cut short or altered; then nothing is taken in. Or the database
    /// fails; what was taken in before stays.
    pub fn import_from<R: io::Read + Seek>(
        &mut self,
        file: &mut R,
        keep: &mut dyn FnMut(&PhotoRow, &mut dyn io::Read) -> Result<(), String>,
    ) -> Result<Arrival, StoreError> {
        let head = unpack(file)?;
        let mut arrival = self.take_in_history(&head)?;
        let (mut start, mut rows) = (Some(head.photos_at), Vec::new());
        for row in &head.photos {
            let bytes = u64::try_from(row.bytes).unwrap_or(0);
            let taken = match start {
                Some(start) => Blocks::at(file, start, bytes)
                    .map_err(|why| why.to_string())
                    .and_then(|mut photo| keep(row, &mut photo)),
                None => Err("it is said to be larger than any file".to_owned()),
            };
            start = start.and_then(|start| start.checked_add(blocks::room(bytes)?));
            match taken {
                Ok(()) => rows.push(row.clone()),
                Err(why) => arrival.photos_aside.push((row.name.clone(), why)),
            }
            if rows.len() == ROWS {
                self.keep_photos(&rows)?;
                arrival.photos += rows.len();
                rows.clear();
            }
        }
        self.keep_photos(&rows)?;
        arrival.photos += rows.len();
        Ok(arrival)
    }

    fn take_in_history(&mut self, head: &Head) -> Result<Arrival, StoreError> {
        let mut arrival =
            Arrival { documents: Vec::new(), fresh: 0, unknown: Vec::new(), photos: 0, photos_aside: Vec::new() };
        let tx = self.write()?;
        for device in &head.devices {
            devices::insert_device(&tx, device)?;
        }
        for actor in &head.actors {
            devices::insert_actor(&tx, actor)?;
        }
        for bytes in &head.bytes {
            contents::put(&tx, bytes)?;
        }
        for row in &head.changes {
            arrival.fresh += changes::insert(&tx, row)?;
            if !arrival.documents.contains(&row.document) {
                arrival.documents.push(row.document.clone());
            }
        }
        for document in &arrival.documents {
            self.list_anew(&tx, document)?;
        }
        let known = devices::all(&tx)?;
        arrival.unknown = head
            .devices
            .iter()
            .filter_map(|device| known.get(&device.device).filter(|found| !found.known).cloned())
            .collect();
        tx.commit()?;
        self.arrivals += 1;
        Ok(arrival)
    }
}

/// What lies under the seal.
#[derive(Default)]
struct Head {
    devices: Vec<DeviceRow>,
    actors: Vec<ActorRow>,
    changes: Vec<ChangeRow>,
    bytes: Vec<Vec<u8>>,
    photos: Vec<PhotoRow>,
    /// Where the first photo begins.
    photos_at: u64,
}

fn bad(why: &str) -> StoreError {
    StoreError::Parcel(why.to_owned())
}

const CUT: &str = "it is cut short or was altered on the way; ask for it again";

/// Reads and digests, and counts what is left of a file.
struct Source<'a, R> {
    file: &'a mut R,
    digest: Sha256,
    at: u64,
    length: u64,
}

impl<R: io::Read + Seek> Source<'_, R> {
    fn take(&mut self, bytes: u64) -> Result<Vec<u8>, StoreError> {
        let end = self.at.checked_add(bytes).filter(|end| *end <= self.length).ok_or_else(|| bad(CUT))?;
        if end > MOST_HISTORY_BYTES {
            return Err(StoreError::Parcel(format!("its history has more than {MOST_HISTORY_BYTES} bytes")));
        }
        let mut taken = vec![0; usize::try_from(bytes).map_err(|_| bad(CUT))?];
        self.file.read_exact(&mut taken).map_err(unreadable)?;
        self.digest.update(&taken);
        self.at = end;
        Ok(taken)
    }
}

fn unreadable(why: io::Error) -> StoreError {
    if why.kind() == io::ErrorKind::UnexpectedEof { bad(CUT) } else { StoreError::Outside(why) }
}

fn unpack<R: io::Read + Seek>(file: &mut R) -> Result<Head, StoreError> {
    let length = file.seek(SeekFrom::End(0)).map_err(StoreError::Outside)?;
    file.rewind().map_err(StoreError::Outside)?;
    let mut source = Source { file, digest: Sha256::new(), at: 0, length };
    if length < FIRST_LINE.len() as u64 || source.take(FIRST_LINE.len() as u64)? != FIRST_LINE {
        return Err(bad("it does not begin as one"));
    }
    let mut head = Head::default();
    loop {
        let seal = source.digest.clone().finalize();
        // The first release put its seal at the end, and nothing after it.
        if source.at.checked_add(32) == Some(length) {
            let sealed = source.take(32)? == seal.as_slice();
            head.photos_at = length;
            return if sealed && head.photos.is_empty() { Ok(head) } else { Err(bad(CUT)) };
        }
        let start = source.take(5)?;
        let (kind, size) = (start[0], u32::from_be_bytes([start[1], start[2], start[3], start[4]]));
        let body = source.take(u64::from(size))?;
        let parts = parts(&body).ok_or_else(|| bad("a record is cut short"))?;
        if let (b'S', [found, ..]) = (kind, parts.as_slice()) {
            head.photos_at = source.at;
            return if *found == seal.as_slice() { Ok(head) } else { Err(bad(CUT)) };
        }
        understood(kind, &body, &mut head).ok_or_else(|| bad("a record holds something else than it says"))?;
    }
}

/// `None` where a record of a known kind has not the parts of its kind.
fn understood(kind: u8, body: &[u8], head: &mut Head) -> Option<()> {
    match Row::read_body(kind, body) {
        Read::Row(row) => match *row {
            Row::Device(row) => head.devices.push(row),
            Row::Actor(row) => head.actors.push(row),
            Row::Change(row) => head.changes.push(row),
            Row::Content(bytes) => head.bytes.push(bytes),
            Row::Photo(row) => head.photos.push(row),
            // Copies of photos are made anew where the photos are.
            Row::Copy(_) => {}
        },
        Read::Newer => {}
        Read::Wrong => return None,
    }
    Some(())
}
