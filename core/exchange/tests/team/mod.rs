//! Devices of a team for tests over real places, each with the store of the simulation.

#[path = "../sim/home.rs"]
pub mod home;

use exchange::engine::{Go, Note, Report, Round, drive};
use exchange::layout::{ABOUT, About};
use exchange::members::Label;
use exchange::memory::Memory;
use exchange::place::Place;
use exchange::seal::Identity;
use home::{Change, Name, Store, name};

/// A device of a test.
pub struct Device {
    pub own: Identity,
    pub store: Store,
    count: u64,
}

impl Device {
    pub fn new(n: u8) -> Self {
        let own = Identity::new([n; 32]);
        Self { store: Store::new(own.id(), true), own, count: u64::from(n) << 32 }
    }

    pub fn random(&mut self) -> [u8; 32] {
        self.count += 1;
        let mut bytes = [0x5a; 32];
        bytes[..8].copy_from_slice(&self.count.to_be_bytes());
        bytes
    }

    pub fn memory(&self) -> Memory {
        Memory::from_bytes(&self.store.memory).expect("what it wrote")
    }

    pub fn edit(&mut self, needs: Vec<Name>) -> Name {
        self.count += 1;
        let change = Change { author: self.own.id(), field: 1, needs };
        let mut bytes = change.bytes(self.count);
        // As long as a change of a site is.
        bytes.resize(297, 7);
        let key = name(&bytes);
        self.store.changes.insert(key, bytes);
        key
    }

    pub fn round_until(&mut self, place: &dyn Place, tell: &mut dyn FnMut(&[Note]) -> Go) -> Option<Report> {
        let (memory, random) = (self.memory(), self.random());
        let round = Round::new(self.own.clone(), memory, 1_900_000_000_000, random);
        drive(round, place, &mut self.store, tell).expect("a round").map(|(report, _)| report)
    }

    pub fn round(&mut self, place: &dyn Place) -> Report {
        self.round_until(place, &mut |_| Go::On).expect("nobody stops it")
    }
}

/// Who it is.
fn label(n: u8) -> Label {
    Label { person: format!("Invented Person {n}"), device: format!("tablet {n}") }
}

/// A team of two in a place, both up to date.
pub fn two(place: &dyn Place) -> (Device, Device) {
    let (mut a, mut b) = (Device::new(1), Device::new(2));
    let mut random = || [a.count as u8, 9, 9].repeat(11)[..32].try_into().expect("32 bytes");
    let memory = Memory::found(&a.own, &label(1), true, &mut random, 0).expect("founded");
    let about = About { team: memory.log().root(), sealed: true };
    place.write_new(ABOUT, about.text().as_bytes()).expect("written");
    a.store.memory = memory.to_bytes();
    join(place, &mut a, &mut b, 2);
    (a, b)
}

/// Lets `b` into the team of `a`; both are up to date then.
pub fn join(place: &dyn Place, a: &mut Device, b: &mut Device, n: u8) {
    let mut memory = a.memory();
    let own = a.own.clone();
    let code = memory.invite(&own, &mut || a.random(), 0).expect("invited");
    a.store.memory = memory.to_bytes();
    b.store.memory = Memory::join(memory.log().root(), &b.own, code, &label(n)).to_bytes();
    a.round(place);
    assert!(b.round(place).waits);
    a.round(place);
    let mut memory = a.memory();
    let asking = &memory.asking(&own)[0];
    assert_eq!((&asking.label, asking.invited_by), (&Some(label(n)), Some(own.id())));
    memory.approve(&own, b.own.id(), &mut || a.random(), 0).expect("let in");
    a.store.memory = memory.to_bytes();
    a.round(place);
    assert!(!b.round(place).waits);
    a.round(place);
    b.round(place);
}
