//! One entry of the membership log: what it says, who signed it, what it builds on.

use sha2::{Digest, Sha256};

use super::Hash;
use crate::DeviceId;
use crate::bytes::{Reader, Writer};
use crate::seal::{Identity, KeyId, Wrapped};

const FIRST: &[u8] = b"newel member 1";
/// An entry builds on no more others than this; so many devices writing at once is no team.
const MOST_AFTER: usize = 256;

/// Who a device is by its own word: sealed, so that the folder names nobody.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Label {
    /// The person.
    pub person: String,
    /// What the device is called.
    pub device: String,
}

impl Label {
    pub(super) fn bytes(&self) -> Vec<u8> {
        let mut writer = Writer::default();
        writer.part(self.person.as_bytes()).part(self.device.as_bytes());
        writer.0
    }

    pub(super) fn read(bytes: &[u8]) -> Option<Self> {
        let mut reader = Reader(bytes);
        let label = Self { person: reader.text()?, device: reader.text()? };
        reader.end().map(|()| label)
    }
}

/// A device that an entry lets in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Newcomer {
    /// Its id.
    pub device: DeviceId,
    /// The key that team keys are wrapped for.
    pub receives: [u8; 32],
    /// Its [`Label`], sealed with a team key.
    pub label: Vec<u8>,
}

/// What an entry says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Body {
    /// The team begins with this device.
    Found {
        /// The founder.
        founder: Newcomer,
        /// Whether files are sealed.
        sealed: bool,
        /// Random, so that no two teams are one.
        fresh: [u8; 16],
    },
    /// Somebody may ask to be let in.
    Invite {
        /// The invitation's id.
        invitation: [u8; 8],
        /// Its secret, sealed with a team key, so that any member can tell who was invited.
        secret: Vec<u8>,
    },
    /// A device is let in.
    Approve {
        /// The device.
        newcomer: Newcomer,
        /// The invitation it came with.
        invitation: [u8; 8],
    },
    /// A device is shut out of what comes after.
    Remove {
        /// The device.
        device: DeviceId,
        /// The last of its heads that counts.
        head: u64,
        /// The last of its items that count, with all that they build on.
        accepted: Vec<[u8; 32]>,
    },
    /// More items of a removed device count, with all that they build on.
    Accept {
        /// The device.
        device: DeviceId,
        /// The items.
        accepted: Vec<[u8; 32]>,
    },
    /// Keys for those who lack them.
    Keys,
}

/// A signed entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Entry {
    /// Who signed it.
    pub signer: DeviceId,
    /// The entries that its signer knew and that none other of them builds on.
    pub after: Vec<Hash>,
    /// When, by the signer's clock, milliseconds since 1970: for people to read, never to decide.
    pub time_ms: i64,
    /// What it says.
    pub body: Body,
    /// Team keys that it hands out, each wrapped for one device.
    pub keys: Vec<(KeyId, Wrapped)>,
}

impl Entry {
    /// The signed bytes and their hash, under which they stand in the folder.
    #[must_use]
    pub fn sign(&self, own: &Identity) -> (Hash, Vec<u8>) {
        let mut bytes = self.unsigned();
        bytes.extend_from_slice(&own.sign(&bytes));
        (hash(&bytes), bytes)
    }

    fn unsigned(&self) -> Vec<u8> {
        let mut writer = Writer::default();
        writer.raw(FIRST).raw(&self.signer.0).raw(&self.time_ms.to_be_bytes());
        writer.list(&self.after, |writer, hash| {
            writer.raw(hash);
        });
        body(&mut writer, &self.body);
        writer.list(&self.keys, |writer, (id, wrapped)| {
            writer.raw(&id.0).raw(&wrapped.device.0).raw(&wrapped.fresh).raw(&wrapped.sealed);
        });
        writer.0
    }

    /// Reads an entry and proves its signature; `None` where it is none.
    #[must_use]
    pub fn read(bytes: &[u8]) -> Option<Self> {
        let (unsigned, signature) = bytes.split_last_chunk::<64>()?;
        Self::parse(bytes).filter(|entry| entry.signer.signed(unsigned, signature))
    }

    /// Reads an entry whose signature was proved before.
    pub(super) fn parse(bytes: &[u8]) -> Option<Self> {
        let (unsigned, _) = bytes.split_last_chunk::<64>()?;
        let mut reader = Reader(unsigned);
        if reader.raw(FIRST.len())? != FIRST {
            return None;
        }
        let signer = DeviceId(reader.array()?);
        let time_ms = i64::from_be_bytes(reader.array()?);
        let after = reader.list(Reader::array)?;
        let body = read_body(&mut reader)?;
        let keys = reader.list(|reader| {
            let id = KeyId(reader.array()?);
            let device = DeviceId(reader.array()?);
            Some((id, Wrapped { device, fresh: reader.array()?, sealed: reader.array()? }))
        })?;
        reader.end()?;
        let one_way = after.len() <= MOST_AFTER && after.is_sorted_by(|a, b| a < b);
        one_way.then_some(Self { signer, after, time_ms, body, keys })
    }
}

/// Under which name an entry stands.
pub(crate) fn hash(bytes: &[u8]) -> Hash {
    Sha256::digest(bytes).into()
}

fn newcomer(writer: &mut Writer, newcomer: &Newcomer) {
    writer.raw(&newcomer.device.0).raw(&newcomer.receives).part(&newcomer.label);
}

fn read_newcomer(reader: &mut Reader<'_>) -> Option<Newcomer> {
    let device = DeviceId(reader.array()?);
    Some(Newcomer { device, receives: reader.array()?, label: reader.part()?.to_vec() })
}

fn body(writer: &mut Writer, body: &Body) {
    let hashes = |writer: &mut Writer, hashes: &[[u8; 32]]| {
        writer.list(hashes, |writer, hash| {
            writer.raw(hash);
        });
    };
    match body {
        Body::Found { founder, sealed, fresh } => {
            writer.raw(&[0, u8::from(*sealed)]).raw(fresh);
            newcomer(writer, founder);
        }
        Body::Invite { invitation, secret } => {
            writer.raw(&[1]).raw(invitation).part(secret);
        }
        Body::Approve { newcomer: who, invitation } => {
            writer.raw(&[2]).raw(invitation);
            newcomer(writer, who);
        }
        Body::Remove { device, head, accepted } => {
            writer.raw(&[3]).raw(&device.0).number(*head);
            hashes(writer, accepted);
        }
        Body::Accept { device, accepted } => {
            writer.raw(&[4]).raw(&device.0);
            hashes(writer, accepted);
        }
        Body::Keys => {
            writer.raw(&[5]);
        }
    }
}

fn read_body(reader: &mut Reader<'_>) -> Option<Body> {
    Some(match reader.byte()? {
        0 => {
            let sealed = match reader.byte()? {
                0 => false,
                1 => true,
                _ => return None,
            };
            let fresh = reader.array()?;
            Body::Found { founder: read_newcomer(reader)?, sealed, fresh }
        }
        1 => Body::Invite { invitation: reader.array()?, secret: reader.part()?.to_vec() },
        2 => {
            let invitation = reader.array()?;
            Body::Approve { newcomer: read_newcomer(reader)?, invitation }
        }
        3 => {
            let (device, head) = (DeviceId(reader.array()?), reader.number()?);
            Body::Remove { device, head, accepted: reader.list(Reader::array)? }
        }
        4 => Body::Accept { device: DeviceId(reader.array()?), accepted: reader.list(Reader::array)? },
        5 => Body::Keys,
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_entry_is_read_as_it_was_written_and_no_altered_one() {
        let own = Identity::new([1; 32]);
        let who = Newcomer { device: DeviceId([2; 32]), receives: [3; 32], label: b"label".to_vec() };
        let wrapped = Wrapped::new(&[9; 32], own.id(), &own.receives(), [3; 32]).expect("wrapped");
        for body in [
            Body::Found { founder: who.clone(), sealed: true, fresh: [4; 16] },
            Body::Invite { invitation: [5; 8], secret: b"secret".to_vec() },
            Body::Approve { newcomer: who, invitation: [5; 8] },
            Body::Remove { device: DeviceId([2; 32]), head: 300, accepted: vec![[6; 32], [7; 32]] },
            Body::Accept { device: DeviceId([2; 32]), accepted: vec![[6; 32]] },
            Body::Keys,
        ] {
            let entry = Entry {
                signer: own.id(),
                after: vec![[1; 32], [2; 32]],
                time_ms: -5,
                body,
                keys: vec![(KeyId([8; 8]), wrapped.clone())],
            };
            let (_, bytes) = entry.sign(&own);
            assert_eq!(Entry::read(&bytes), Some(entry));
            for at in 0..bytes.len() {
                let mut altered = bytes.clone();
                altered[at] ^= 1;
                assert_eq!(Entry::read(&altered), None, "byte {at}");
                assert_eq!(Entry::read(&bytes[..at]), None, "cut to {at}");
            }
        }
    }
}
