//! A device whose store survives being killed: whatever changes the store of the simulation is first written to a file,
//! from which the store is made again.

use std::fs::{File, OpenOptions};
use std::io::Write;
use std::path::Path;
use std::sync::Arc;

use exchange::engine::{Answer, Blocks, Home, Keeper};
use exchange::pack::{self, Class, Item};
use exchange::{DeviceId, seal::Identity};

use crate::team::Device;
use crate::team::home::{Inbox, Kept, Store, name};

/// The store, and the file of what has happened to it.
pub struct Disk {
    pub store: Store,
    own: DeviceId,
    file: File,
    inbox: Arc<Inbox>,
}

/// What happens to a store.
enum Event {
    Change(Vec<u8>),
    Blob(Class, Vec<u8>),
    Block(Kept),
    Asked(Home),
}

impl Disk {
    /// Begins the file of a device that has a memory and nothing else yet.
    pub fn begin(path: &Path, device: &Device) {
        assert!(device.store.keys().is_empty(), "nothing but what it remembers");
        File::create(path).expect("a file");
        let mut disk = Self::open(path, &device.own);
        disk.answer(Home::Remember(device.store.memory.clone()));
    }

    /// The store as it was when it was last written to.
    pub fn open(path: &Path, own: &Identity) -> Self {
        let bytes = std::fs::read(path).expect("what it wrote");
        let mut store = Store::new(own.id(), true);
        let mut rest = bytes.as_slice();
        let mut whole = 0;
        while let Some((event, after)) = read(rest, own.id()) {
            happen(&mut store, event);
            whole += rest.len() - after.len();
            rest = after;
        }
        // What was cut off was never acknowledged.
        let file = OpenOptions::new().append(true).open(path).expect("what it wrote");
        file.set_len(whole as u64).expect("cut");
        Self { store, own: own.id(), file, inbox: Arc::default() }
    }

    /// A change of this device's own.
    pub fn edit(&mut self, bytes: Vec<u8>) {
        self.keep(0, &bytes);
        happen(&mut self.store, Event::Change(bytes));
    }

    /// A blob of this device's own.
    pub fn add(&mut self, class: Class, bytes: Vec<u8>) {
        self.keep(if class == Class::Thumbnail { 1 } else { 2 }, &bytes);
        happen(&mut self.store, Event::Blob(class, bytes));
    }

    fn keep(&mut self, kind: u8, bytes: &[u8]) {
        let mut all = vec![kind];
        all.extend((bytes.len() as u64).to_be_bytes());
        all.extend(bytes);
        // One call to the system: it is taken whole or, where this is killed before, not at all.
        self.file.write_all(&all).expect("written");
    }
}

impl Keeper for Disk {
    fn blocks(&self) -> Arc<dyn Blocks> {
        Arc::clone(&self.inbox) as Arc<dyn Blocks>
    }

    fn answer(&mut self, ask: Home) -> Answer {
        for kept in self.inbox.take() {
            self.keep(8, &[&kept.0[..], &kept.1.to_be_bytes(), &kept.2].concat());
            self.store.put(kept);
        }
        let at = |device: DeviceId, from: u64| [&device.0[..], &from.to_be_bytes()].concat();
        match &ask {
            Home::Remember(bytes) => self.keep(3, bytes),
            Home::Offer { from, most } => {
                self.keep(4, &[from.to_be_bytes(), (*most as u64).to_be_bytes()].concat());
            }
            Home::Take { device, from, items } => {
                self.keep(5, &[at(*device, *from), pack::write(*device, *from, items)].concat());
            }
            Home::Release { device, from } => self.keep(6, &at(*device, *from)),
            Home::Sent(blob) => self.keep(7, &pack::write(self.own, 0, &[Item::Blob(blob.clone())])),
            Home::Whole(ids) => self.keep(9, &ids.concat()),
            Home::Items { .. } | Home::Unsent(_) | Home::Load { .. } | Home::Wanted(..) | Home::Named(_) => {}
        }
        self.store.answer(ask)
    }
}

fn happen(store: &mut Store, event: Event) {
    match event {
        Event::Change(bytes) => drop(store.changes.insert(name(&bytes), bytes)),
        Event::Blob(class, bytes) => drop(store.blobs.insert(name(&bytes), (class, bytes))),
        Event::Block(kept) => store.put(kept),
        Event::Asked(ask) => drop(store.answer(ask)),
    }
}

/// The next event and what comes after; none where the rest was cut off.
fn read(bytes: &[u8], own: DeviceId) -> Option<(Event, &[u8])> {
    let (kind, rest) = bytes.split_first()?;
    let (length, rest) = rest.split_first_chunk()?;
    let (body, after) = rest.split_at_checked(u64::from_be_bytes(*length) as usize)?;
    let number = |at: usize| u64::from_be_bytes(body[at..at + 8].try_into().expect("8 bytes"));
    let id = || <[u8; 32]>::try_from(&body[..32]).expect("32 bytes");
    let event = match kind {
        0 => Event::Change(body.to_vec()),
        1 => Event::Blob(Class::Thumbnail, body.to_vec()),
        2 => Event::Blob(Class::Original, body.to_vec()),
        3 => Event::Asked(Home::Remember(body.to_vec())),
        4 => Event::Asked(Home::Offer { from: number(0), most: number(8) as usize }),
        5 => {
            let (device, from) = (DeviceId(id()), number(32));
            let items = pack::read(&body[40..], device, from).expect("what it wrote");
            Event::Asked(Home::Take { device, from, items })
        }
        6 => Event::Asked(Home::Release { device: DeviceId(id()), from: number(32) }),
        7 => {
            let items = pack::read(body, own, 0).expect("what it wrote");
            let Some(Item::Blob(blob)) = items.into_iter().next() else { panic!("a blob") };
            Event::Asked(Home::Sent(blob))
        }
        8 => Event::Block((id(), number(32), body[40..].to_vec())),
        9 => Event::Asked(Home::Whole(body.chunks(32).map(|id| id.try_into().expect("32 bytes")).collect())),
        other => panic!("an event {other}"),
    };
    Some((event, after))
}
