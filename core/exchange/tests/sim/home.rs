//! The store of a simulated device: a set of changes, each building on others, and some blobs. What it has answered is on
//! its disk; a stop loses nothing of it.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, Mutex};

use exchange::DeviceId;
use exchange::engine::{Answer, Block, Blocks, Failure, Home, Keeper, Sender};
use exchange::layout::BLOCK_BYTES;
use exchange::members::{self, Team, Verdict};
use exchange::pack::{Blob, Class, Item};
use sha2::{Digest, Sha256};

/// The name of a change: the SHA-256 of its bytes.
pub type Name = [u8; 32];

pub fn name(bytes: &[u8]) -> [u8; 32] {
    Sha256::digest(bytes).into()
}

/// A change: who made it, in which field, what it builds on.
#[derive(Clone, Debug)]
pub struct Change {
    pub author: DeviceId,
    pub field: u8,
    pub needs: Vec<Name>,
}

impl Change {
    pub fn bytes(&self, salt: u64) -> Vec<u8> {
        let mut bytes = self.author.0.to_vec();
        bytes.push(self.field);
        bytes.extend_from_slice(&salt.to_be_bytes());
        bytes.extend(self.needs.iter().flatten());
        bytes
    }

    fn read(bytes: &[u8]) -> Self {
        let author = DeviceId(bytes[..32].try_into().expect("an author"));
        let needs = bytes[41..].chunks(32).map(|need| need.try_into().expect("a name")).collect();
        Self { author, field: bytes[32], needs }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Key {
    Change(Name),
    Blob([u8; 32]),
}

/// The store.
#[derive(Clone, Default)]
pub struct Store {
    pub memory: Vec<u8>,
    pub changes: BTreeMap<Name, Vec<u8>>,
    pub blobs: BTreeMap<[u8; 32], (Class, Vec<u8>)>,
    pub named: BTreeMap<[u8; 32], Blob>,
    parts: BTreeMap<[u8; 32], Vec<u8>>,
    feeds: BTreeMap<(DeviceId, u64), Key>,
    /// Whether originals are wanted here.
    pub keeps: bool,
    own: Option<DeviceId>,
    inbox: Arc<Inbox>,
}

impl Store {
    pub fn new(own: DeviceId, keeps: bool) -> Self {
        Self { own: Some(own), keeps, ..Self::default() }
    }

    fn is_in_a_feed(&self, key: Key) -> bool {
        self.feeds.values().any(|found| *found == key)
    }

    /// Whether everything here lies in some feed.
    pub fn has_given_all(&self) -> bool {
        self.keys().into_iter().all(|key| self.is_in_a_feed(key))
    }

    fn item(&self, key: Key) -> Option<Item> {
        match key {
            Key::Change(name) => self.changes.get(&name).cloned().map(Item::Data),
            Key::Blob(id) => self.named.get(&id).cloned().map(Item::Blob),
        }
    }

    pub fn keys(&self) -> BTreeSet<Key> {
        self.changes.keys().map(|name| Key::Change(*name)).chain(self.named.keys().map(|id| Key::Blob(*id))).collect()
    }

    fn offer(&mut self, own: DeviceId, from: u64, most: usize) -> Vec<Item> {
        self.feeds.retain(|(device, at), _| *device != own || *at < from);
        let (mut items, mut bytes) = (Vec::new(), 0);
        for key in self.keys() {
            if self.is_in_a_feed(key) {
                continue;
            }
            let Some(item) = self.item(key) else { continue };
            bytes += item.size();
            self.feeds.insert((own, from + items.len() as u64), key);
            items.push(item);
            if bytes >= most {
                break;
            }
        }
        items
    }

    fn take(&mut self, device: DeviceId, from: u64, items: Vec<Item>) {
        for (at, item) in (from..).zip(items) {
            let key = match item {
                Item::Data(bytes) => {
                    let key = name(&bytes);
                    self.changes.insert(key, bytes);
                    Key::Change(key)
                }
                Item::Blob(blob) => {
                    let id = blob.id;
                    self.named.entry(id).or_insert(blob);
                    Key::Blob(id)
                }
            };
            self.feeds.insert((device, at), key);
        }
    }

    /// Takes a block behind those before it.
    pub fn put(&mut self, (id, block, bytes): Kept) {
        let (part, before) = (self.parts.entry(id).or_default(), (block * BLOCK_BYTES) as usize);
        assert!(part.len() >= before, "block {block} has come before those before it");
        part.truncate(before);
        part.extend(bytes);
    }

    fn is_whole(&mut self, id: [u8; 32]) -> bool {
        let bytes = self.parts.remove(&id).unwrap_or_default();
        let whole = name(&bytes) == id;
        if whole {
            let class = self.named[&id].class;
            self.blobs.insert(id, (class, bytes));
        }
        whole
    }

    fn is_wanted(&self, class: Class) -> bool {
        class != Class::Original || self.keeps
    }

    /// Every change with what the team says of it.
    pub fn verdicts(&self, team: &Team) -> BTreeMap<Name, Verdict> {
        let items: Vec<members::Item> = self
            .changes
            .iter()
            .map(|(name, bytes)| {
                let change = Change::read(bytes);
                members::Item { name: *name, author: change.author, needs: change.needs }
            })
            .collect();
        members::verdicts(&items, team)
    }

    /// The values that stand in each field, as people see them: those that no other that counts builds on.
    pub fn fields(&self, team: &Team) -> BTreeMap<u8, BTreeSet<Name>> {
        let verdicts = self.verdicts(team);
        let counts = |name: &Name| verdicts.get(name) == Some(&Verdict::Counts);
        let mut fields: BTreeMap<u8, BTreeSet<Name>> = BTreeMap::new();
        let read: Vec<(Name, Change)> =
            self.changes.iter().filter(|(name, _)| counts(name)).map(|(n, bytes)| (*n, Change::read(bytes))).collect();
        for (name, change) in &read {
            fields.entry(change.field).or_default().insert(*name);
        }
        for (_, change) in &read {
            if let Some(values) = fields.get_mut(&change.field) {
                for need in &change.needs {
                    values.remove(need);
                }
            }
        }
        fields
    }

    /// The last changes of a device that are here, for a removal.
    pub fn last_of(&self, device: DeviceId) -> Vec<Name> {
        let its: BTreeMap<Name, Change> =
            self.changes.iter().map(|(n, b)| (*n, Change::read(b))).filter(|(_, c)| c.author == device).collect();
        let used: BTreeSet<Name> = its.values().flat_map(|change| change.needs.clone()).collect();
        its.into_keys().filter(|name| !used.contains(name)).collect()
    }
}

/// Blocks that were kept and that the store has not looked at yet.
#[derive(Default)]
pub struct Inbox(Mutex<Vec<Kept>>);

/// A block: of which blob, its number, its bytes.
pub type Kept = ([u8; 32], u64, Vec<u8>);

impl Inbox {
    pub fn take(&self) -> Vec<Kept> {
        std::mem::take(&mut self.0.lock().expect("nobody has panicked"))
    }
}

impl Blocks for Inbox {
    fn keep(&self, block: Block<'_>) -> Result<(), Failure> {
        let kept = (block.blob, block.number, block.bytes.to_vec());
        self.0.lock().expect("nobody has panicked").push(kept);
        Ok(())
    }
}

impl Keeper for Store {
    fn blocks(&self) -> Arc<dyn Blocks> {
        Arc::clone(&self.inbox) as Arc<dyn Blocks>
    }

    fn answer(&mut self, ask: Home) -> Answer {
        let own = self.own.expect("its id");
        for kept in self.inbox.take() {
            self.put(kept);
        }
        match ask {
            Home::Remember(bytes) => self.memory = bytes,
            Home::Offer { from, most } => return Answer::Items(self.offer(own, from, most)),
            Home::Items { device, from, many } => {
                let keys = (from..from + many).map_while(|at| self.feeds.get(&(device, at)));
                return Answer::Items(keys.map_while(|key| self.item(*key)).collect());
            }
            Home::Take { device, from, items } => self.take(device, from, items),
            Home::Release { device, from } => self.feeds.retain(|(of, at), _| *of != device || *at < from),
            Home::Unsent(class) => {
                let unsent = self.blobs.iter().filter(|(id, (c, _))| *c == class && !self.named.contains_key(*id));
                let unsent = unsent.map(|(id, (_, bytes))| Sender { id: *id, bytes: bytes.len() as u64 });
                return Answer::Senders(unsent.take(4).collect());
            }
            Home::Load { id, span } => {
                let Some((_, bytes)) = self.blobs.get(&id) else {
                    return Answer::Failed(Failure::home(&"it is not here"));
                };
                let start = (span.from as usize).min(bytes.len());
                let end = (start + span.most as usize).min(bytes.len());
                return Answer::Bytes(bytes[start..end].to_vec());
            }
            Home::Sent(blob) => {
                self.named.insert(blob.id, blob);
            }
            Home::Wanted(class, not) => {
                let wanted = self.named.values().filter(|blob| {
                    blob.class == class
                        && self.is_wanted(class)
                        && !self.blobs.contains_key(&blob.id)
                        && !not.contains(&blob.id)
                });
                let here = |blob: &Blob| {
                    let bytes = self.parts.get(&blob.id).map_or(0, Vec::len) as u64;
                    bytes.div_ceil(BLOCK_BYTES)
                };
                return Answer::Blobs(wanted.take(4).map(|blob| (blob.clone(), here(blob))).collect());
            }
            Home::Whole(ids) => return Answer::Whole(ids.into_iter().filter(|id| self.is_whole(*id)).collect()),
            Home::Named(id) => {
                return Answer::Blobs(self.named.get(&id).map(|blob| (blob.clone(), 0)).into_iter().collect());
            }
        }
        Answer::Done
    }
}
