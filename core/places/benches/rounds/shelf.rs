//! The store of a bench: photos as files that are on the drive when it says so, and a memory in a file.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::fs::{self, File};
use std::io::{Read, Seek, SeekFrom, Write};
use std::path::PathBuf;

use exchange::engine::{Answer, Failure, Home, Keeper, Sender};
use exchange::pack::{Blob, Class, Item};
use sha2::{Digest, Sha256};

/// So many blobs are named at a time.
const SOME: usize = 64;

/// A photo that is on its way here.
struct Coming {
    file: File,
    hash: Sha256,
}

/// The store.
pub struct Shelf {
    folder: PathBuf,
    pub memory: Vec<u8>,
    /// What is to be offered, and what was.
    pub pending: VecDeque<Item>,
    given: Vec<Item>,
    /// Photos that are here, and those that nobody has been told of.
    here: BTreeMap<[u8; 32], PathBuf>,
    unsent: BTreeMap<[u8; 32], u64>,
    wanted: BTreeMap<[u8; 32], Blob>,
    coming: BTreeMap<[u8; 32], Coming>,
    /// Whether photos are wanted here as they came.
    pub keeps: bool,
    pub taken: usize,
}

impl Shelf {
    pub fn new(folder: PathBuf, keeps: bool) -> Self {
        fs::create_dir_all(&folder).expect("a folder");
        Self {
            folder,
            memory: Vec::new(),
            pending: VecDeque::new(),
            given: Vec::new(),
            here: BTreeMap::new(),
            unsent: BTreeMap::new(),
            wanted: BTreeMap::new(),
            coming: BTreeMap::new(),
            keeps,
            taken: 0,
        }
    }

    /// A photo of this device's own.
    pub fn add(&mut self, path: PathBuf) {
        let bytes = fs::read(&path).expect("a photo");
        let id = Sha256::digest(&bytes).into();
        self.here.insert(id, path);
        self.unsent.insert(id, bytes.len() as u64);
    }

    /// Photos that have come whole.
    pub fn came(&self) -> usize {
        self.here.len()
    }

    fn path(&self, id: &[u8; 32]) -> PathBuf {
        let name: String = id.iter().map(|byte| format!("{byte:02x}")).collect();
        self.folder.join(name)
    }

    fn offer(&mut self, from: u64, most: usize) -> Vec<Item> {
        self.given.truncate(from as usize);
        let (mut items, mut bytes) = (Vec::new(), 0);
        while bytes < most
            && let Some(item) = self.pending.pop_front()
        {
            bytes += item.size();
            items.push(item);
        }
        self.given.extend(items.clone());
        items
    }

    fn whole(&mut self, id: [u8; 32]) -> std::io::Result<bool> {
        let Some(coming) = self.coming.remove(&id) else { return Ok(false) };
        coming.file.sync_data()?;
        let whole = <[u8; 32]>::from(coming.hash.finalize()) == id;
        if whole {
            self.here.insert(id, self.path(&id));
            self.wanted.remove(&id);
        }
        Ok(whole)
    }

    fn do_it(&mut self, ask: Home) -> std::io::Result<Answer> {
        Ok(match ask {
            Home::Remember(bytes) => {
                let mut file = File::create(self.folder.join("memory"))?;
                file.write_all(&bytes)?;
                file.sync_data()?;
                self.memory = bytes;
                Answer::Done
            }
            Home::Offer { from, most } => Answer::Items(self.offer(from, most)),
            Home::Items { from, many, .. } => {
                let items = self.given.iter().skip(from as usize).take(many as usize);
                Answer::Items(items.cloned().collect())
            }
            Home::Take { items, .. } => {
                self.taken += items.len();
                for item in items {
                    if let Item::Blob(blob) = item
                        && self.keeps
                    {
                        self.wanted.insert(blob.id, blob);
                    }
                }
                Answer::Done
            }
            Home::Unsent(class) => {
                let unsent = self.unsent.iter().filter(|_| class == Class::Original).take(SOME);
                Answer::Senders(unsent.map(|(id, bytes)| Sender { id: *id, bytes: *bytes }).collect())
            }
            Home::Load { id, span } => {
                let mut file = File::open(&self.here[&id])?;
                file.seek(SeekFrom::Start(span.from))?;
                let mut bytes = Vec::with_capacity(span.most.min(4 << 20) as usize);
                file.take(span.most).read_to_end(&mut bytes)?;
                Answer::Bytes(bytes)
            }
            Home::Sent(blob) => {
                self.unsent.remove(&blob.id);
                self.pending.push_back(Item::Blob(blob));
                Answer::Done
            }
            Home::Wanted(class, not) => {
                let not: BTreeSet<[u8; 32]> = not.into_iter().collect();
                let wanted = self.wanted.values().filter(|blob| blob.class == class && !not.contains(&blob.id));
                Answer::Blobs(wanted.take(SOME).map(|blob| (blob.clone(), 0)).collect())
            }
            Home::Store { id, block, bytes } => {
                if block == 0 {
                    let file = File::create(self.path(&id))?;
                    self.coming.insert(id, Coming { file, hash: Sha256::new() });
                }
                if let Some(coming) = self.coming.get_mut(&id) {
                    coming.file.write_all(&bytes)?;
                    coming.hash.update(&bytes);
                }
                Answer::Done
            }
            Home::Whole(id) => Answer::Is(self.whole(id)?),
            Home::Named(_) => Answer::Blobs(Vec::new()),
            Home::Release { .. } => Answer::Done,
        })
    }
}

impl Keeper for Shelf {
    fn answer(&mut self, ask: Home) -> Answer {
        self.do_it(ask).unwrap_or_else(|why| Answer::Failed(Failure::home(&why)))
    }
}
