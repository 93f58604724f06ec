//! What a device holds, in the order in which it says so: its feed. The feed is cut into packs, each an object; small
//! packs are merged into larger ones as they grow old, so that a newcomer reads few and large ones, however long the feed.

use crate::DeviceId;
use crate::bytes::{Reader, Writer};
use crate::seal::Name;

/// The first byte of a pack's plain content.
const PACK: u8 = b'P';
/// The first byte of a block's plain content.
const BLOCK: u8 = b'B';

/// How large a blob is wanted first: the small ones.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Class {
    /// A picture for lists.
    Thumbnail,
    /// A picture for looking at on a screen.
    Screen,
    /// The file as it came.
    Original,
}

impl Class {
    /// In the order in which they travel.
    pub const ALL: [Self; 3] = [Self::Thumbnail, Self::Screen, Self::Original];

    /// The byte that stands for it in a pack.
    #[must_use]
    pub const fn code(self) -> u8 {
        match self {
            Self::Thumbnail => 0,
            Self::Original => 1,
            Self::Screen => 2,
        }
    }

    /// The class of a byte; `None` where only a newer release knows it.
    #[must_use]
    pub fn of_code(code: u8) -> Option<Self> {
        Self::ALL.into_iter().find(|class| class.code() == code)
    }
}

/// A content that travels in blocks of [`crate::layout::BLOCK_BYTES`], apart from the feed, which only names it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Blob {
    /// The SHA-256 of its bytes.
    pub id: [u8; 32],
    /// Its class.
    pub class: Class,
    /// Its size in bytes.
    pub bytes: u64,
    /// Its blocks in order.
    pub blocks: Vec<Name>,
}

/// One item of a feed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Item {
    /// Bytes whose meaning the home knows.
    Data(Vec<u8>),
    /// A blob that lies in the folder.
    Blob(Blob),
}

impl Item {
    /// Its size in a pack, about.
    #[must_use]
    pub fn size(&self) -> usize {
        match self {
            Self::Data(bytes) => bytes.len(),
            Self::Blob(blob) => 44 + blob.blocks.len() * 32,
        }
    }
}

/// A pack as a head names it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pack {
    /// Its object.
    pub name: Name,
    /// So many items.
    pub items: u64,
    /// The size of its file in bytes.
    pub bytes: u64,
    /// How often it was merged.
    pub tier: u64,
}

impl Pack {
    pub(crate) fn put(writer: &mut Writer, pack: &Self) {
        writer.raw(&pack.name.0).number(pack.items).number(pack.bytes).number(pack.tier);
    }

    pub(crate) fn read(reader: &mut Reader<'_>) -> Option<Self> {
        let name = Name(reader.array()?);
        Some(Self { name, items: reader.number()?, bytes: reader.number()?, tier: reader.number()? })
    }
}

/// The plain content of a pack: items of a device's feed from a position on.
#[must_use]
pub fn write(device: DeviceId, from: u64, items: &[Item]) -> Vec<u8> {
    let mut writer = Writer::default();
    writer.raw(&[PACK]).raw(&device.0).number(from);
    writer.list(items, |writer, item| match item {
        Item::Data(bytes) => {
            writer.raw(&[0]).part(bytes);
        }
        Item::Blob(blob) => {
            writer.raw(&[1, blob.class.code()]).raw(&blob.id).number(blob.bytes);
            writer.list(&blob.blocks, |writer, name| {
                writer.raw(&name.0);
            });
        }
    });
    writer.0
}

/// The items of a pack, where it is this device's from this position on.
#[must_use]
pub fn read(plain: &[u8], device: DeviceId, from: u64) -> Option<Vec<Item>> {
    let mut reader = Reader(plain);
    if reader.byte()? != PACK || reader.array::<32>()? != device.0 || reader.number()? != from {
        return None;
    }
    let items = reader.list(|reader| match reader.byte()? {
        0 => Some(Item::Data(reader.part()?.to_vec())),
        1 => {
            let class = Class::of_code(reader.byte()?)?;
            let (id, bytes) = (reader.array()?, reader.number()?);
            let blocks = reader.list(|reader| reader.array().map(Name))?;
            let fits = blocks.len() as u64 == bytes.div_ceil(crate::layout::BLOCK_BYTES);
            fits.then_some(Item::Blob(Blob { id, class, bytes, blocks }))
        }
        _ => None,
    })?;
    reader.end()?;
    Some(items)
}

/// The plain content of a block.
pub(crate) fn block(bytes: &[u8]) -> Vec<u8> {
    let mut plain = Vec::with_capacity(bytes.len() + 1);
    plain.push(BLOCK);
    plain.extend_from_slice(bytes);
    plain
}

/// The bytes of a block.
pub(crate) fn block_bytes(plain: &[u8]) -> Option<&[u8]> {
    plain.split_first().filter(|(first, _)| **first == BLOCK).map(|(_, bytes)| bytes)
}

/// Positions of a feed, as ranges that neither touch nor overlap, in order.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Spans(pub Vec<(u64, u64)>);

impl Spans {
    /// Whether all positions of a range, its end not included, are in it.
    pub fn has(&self, from: u64, to: u64) -> bool {
        from >= to || self.0.iter().any(|(a, b)| *a <= from && to <= *b)
    }

    pub fn add(&mut self, from: u64, to: u64) {
        if from >= to {
            return;
        }
        let (mut from, mut to) = (from, to);
        self.0.retain(|(a, b)| {
            let apart = *b < from || to < *a;
            if !apart {
                from = from.min(*a);
                to = to.max(*b);
            }
            apart
        });
        self.0.push((from, to));
        self.0.sort_unstable();
    }

    /// Leaves out all positions from here on.
    pub fn cut(&mut self, from: u64) {
        self.0.retain(|(a, _)| *a < from);
        if let Some(last) = self.0.last_mut() {
            last.1 = last.1.min(from);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pack_is_read_as_it_was_written_and_for_its_place_alone() {
        let device = DeviceId([1; 32]);
        let blob = Blob { id: [2; 32], class: Class::Original, bytes: (4 << 20) + 1, blocks: vec![Name([3; 32]); 2] };
        let items = vec![Item::Data(Vec::new()), Item::Data(b"change".to_vec()), Item::Blob(blob)];
        let plain = write(device, 300, &items);
        assert_eq!(read(&plain, device, 300), Some(items));
        assert_eq!(read(&plain, device, 301), None);
        assert_eq!(read(&plain, DeviceId([2; 32]), 300), None);
        for length in 0..plain.len() {
            assert_eq!(read(&plain[..length], device, 300), None, "cut to {length}");
        }
    }

    #[test]
    fn spans_hold_what_was_added_and_nothing_else() {
        // Against a plain list of positions, over many orders of adding.
        let mut state = 1u64;
        for _ in 0..500 {
            let (mut spans, mut plain) = (Spans::default(), [false; 24]);
            for _ in 0..6 {
                state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
                let (a, b) = ((state >> 33) % 24, (state >> 40) % 24);
                if state >> 60 == 0 {
                    spans.cut(a);
                    plain[a as usize..].fill(false);
                } else {
                    spans.add(a, b);
                    if a < b {
                        plain[a as usize..b as usize].fill(true);
                    }
                }
            }
            for a in 0..24 {
                for b in a + 1..=24 {
                    assert_eq!(spans.has(a as u64, b as u64), plain[a..b].iter().all(|there| *there), "{spans:?}");
                }
            }
            assert!(spans.0.windows(2).all(|pair| pair[0].1 < pair[1].0), "{spans:?}");
        }
    }
}
