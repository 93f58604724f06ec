//! What a device says that it holds: numbered, signed, sealed; its newest counts.

use crate::DeviceId;
use crate::bytes::{Reader, Writer};
use crate::layout::Spot;
use crate::members::Ring;
use crate::pack::Pack;
use crate::seal::{Identity, Keys, Name, Purpose, SealError};

const FIRST: &[u8] = b"newel head 1";

/// What a device could not read of what it was told lies in the folder; whoever holds it writes it again.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lack {
    /// A pack.
    Pack {
        /// Of whose feed.
        device: DeviceId,
        /// Its object.
        name: Name,
    },
    /// A blob, by the SHA-256 of its bytes.
    Blob([u8; 32]),
    /// Entries of the membership log.
    Log,
    /// A device's newest head.
    Head(DeviceId),
}

impl Lack {
    pub(crate) fn put(writer: &mut Writer, lack: &Self) {
        match lack {
            Self::Pack { device, name } => writer.raw(&[0]).raw(&device.0).raw(&name.0),
            Self::Blob(id) => writer.raw(&[1]).raw(id),
            Self::Log => writer.raw(&[2]),
            Self::Head(device) => writer.raw(&[3]).raw(&device.0),
        };
    }

    pub(crate) fn read(reader: &mut Reader<'_>) -> Option<Self> {
        match reader.byte()? {
            0 => Some(Self::Pack { device: DeviceId(reader.array()?), name: Name(reader.array()?) }),
            1 => Some(Self::Blob(reader.array()?)),
            2 => Some(Self::Log),
            3 => Some(Self::Head(DeviceId(reader.array()?))),
            _ => None,
        }
    }
}

/// A head.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Head {
    /// Whose it is.
    pub device: DeviceId,
    /// Its number.
    pub number: u64,
    /// When, by that device's clock, milliseconds since 1970: for people to read, never to decide.
    pub time_ms: i64,
    /// The newest entries of the membership log that it knows.
    pub log: Vec<[u8; 32]>,
    /// Its feed.
    pub packs: Vec<Pack>,
    /// What it lacks.
    pub lacks: Vec<Lack>,
}

impl Head {
    /// Where it stands.
    #[must_use]
    pub fn path(&self) -> String {
        Spot::Head(self.device, self.number).to_string()
    }

    /// Its file.
    #[must_use]
    pub fn write(&self, own: &Identity, keys: &Keys) -> Vec<u8> {
        let mut writer = Writer::default();
        writer.raw(FIRST).raw(&self.device.0).number(self.number).raw(&self.time_ms.to_be_bytes());
        writer.list(&self.log, |writer, hash| {
            writer.raw(hash);
        });
        writer.list(&self.packs, Pack::put).list(&self.lacks, Lack::put);
        let signature = own.sign(&writer.0);
        writer.raw(&signature);
        keys.seal(Purpose::Head, self.path().as_bytes(), &writer.0)
    }

    /// Reads the file at a device's number.
    ///
    /// # Errors
    /// It is sealed with a key that is not held, or is not that head.
    pub fn read(device: DeviceId, number: u64, file: &[u8], ring: &Ring) -> Result<Self, SealError> {
        let path = Spot::Head(device, number).to_string();
        let plain = ring.open(Purpose::Head, path.as_bytes(), file)?;
        Self::parse(device, number, &plain).ok_or(SealError::Damaged)
    }

    fn parse(device: DeviceId, number: u64, plain: &[u8]) -> Option<Self> {
        let (unsigned, signature) = plain.split_last_chunk::<64>()?;
        let mut reader = Reader(unsigned);
        if reader.raw(FIRST.len())? != FIRST {
            return None;
        }
        let head = Self {
            device: DeviceId(reader.array()?),
            number: reader.number()?,
            time_ms: i64::from_be_bytes(reader.array()?),
            log: reader.list(Reader::array)?,
            packs: reader.list(Pack::read)?,
            lacks: reader.list(Lack::read)?,
        };
        reader.end()?;
        let counted = head.packs.iter().try_fold(0u64, |sum, pack| sum.checked_add(pack.items)).is_some();
        let its = head.device == device && head.number == number && counted;
        (its && device.signed(unsigned, signature)).then_some(head)
    }
}
