//! The store of a bench: photos as files that are on the drive when it says so, and a memory in a file.

use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::fs::{self, File};
use std::io::{self, Read, Seek, SeekFrom, Write};
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard};

use exchange::engine::{Answer, Block, Blocks, Failure, Home, Keeper, Sender};
use exchange::pack::{Blob, Class, Item};
use sha2::{Digest, Sha256};

/// So many blobs are named at a time.
const SOME: usize = 64;

/// So much is written at a time, as the program does it, bytes.
const PIECE: usize = 256 << 10;

/// A photo that is on its way here.
struct Coming {
    file: File,
    hash: Sha256,
}

/// Photos that are on their way here: each is on the drive before its last block counts as kept.
struct Incoming {
    folder: PathBuf,
    coming: Mutex<BTreeMap<[u8; 32], Coming>>,
}

impl Incoming {
    fn path(&self, id: &[u8; 32]) -> PathBuf {
        let name: String = id.iter().map(|byte| format!("{byte:02x}")).collect();
        self.folder.join(name)
    }

    fn lock(&self) -> MutexGuard<'_, BTreeMap<[u8; 32], Coming>> {
        self.coming.lock().expect("nobody has panicked")
    }

    fn put(&self, block: Block<'_>) -> io::Result<()> {
        let begun = if block.number == 0 { None } else { self.lock().remove(&block.blob) };
        let mut coming = match begun {
            Some(coming) => coming,
            None => Coming { file: File::create(self.path(&block.blob))?, hash: Sha256::new() },
        };
        for piece in block.bytes.chunks(PIECE) {
            coming.file.write_all(piece)?;
            coming.hash.update(piece);
        }
        if block.last {
            coming.file.sync_data()?;
        }
        self.lock().insert(block.blob, coming);
        Ok(())
    }
}

impl Blocks for Incoming {
    fn keep(&self, block: Block<'_>) -> Result<(), Failure> {
        self.put(block).map_err(|why| Failure::home(&why))
    }
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
    incoming: Arc<Incoming>,
    /// Whether photos are wanted here as they came.
    pub keeps: bool,
    pub taken: usize,
}

impl Shelf {
    pub fn new(folder: PathBuf, keeps: bool) -> Self {
        fs::create_dir_all(&folder).expect("a folder");
        let incoming = Incoming { folder: folder.clone(), coming: Mutex::default() };
        Self {
            folder,
            memory: Vec::new(),
            pending: VecDeque::new(),
            given: Vec::new(),
            here: BTreeMap::new(),
            unsent: BTreeMap::new(),
            wanted: BTreeMap::new(),
            incoming: Arc::new(incoming),
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

    fn is_whole(&mut self, id: [u8; 32]) -> bool {
        let coming = self.incoming.lock().remove(&id);
        let is_whole = coming.is_some_and(|coming| <[u8; 32]>::from(coming.hash.finalize()) == id);
        if is_whole {
            self.here.insert(id, self.incoming.path(&id));
            self.wanted.remove(&id);
        }
        is_whole
    }

    fn do_it(&mut self, ask: Home) -> io::Result<Answer> {
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
            Home::Whole(ids) => Answer::Whole(ids.into_iter().filter(|id| self.is_whole(*id)).collect()),
            Home::Named(_) => Answer::Blobs(Vec::new()),
            Home::Release { .. } => Answer::Done,
        })
    }
}

impl Keeper for Shelf {
    fn blocks(&self) -> Arc<dyn Blocks> {
        Arc::clone(&self.incoming) as Arc<dyn Blocks>
    }

    fn answer(&mut self, ask: Home) -> Answer {
        self.do_it(ask).unwrap_or_else(|why| Answer::Failed(Failure::home(&why)))
    }
}
