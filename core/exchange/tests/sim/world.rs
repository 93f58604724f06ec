//! A team and its folder, from a seed to a quiet end.

use std::collections::{BTreeMap, BTreeSet};

use exchange::DeviceId;
use exchange::engine::{Answer, Ask, Fetch, Keeper, Report, Round, Step};
use exchange::members::{Code, Label, Team, Verdict};
use exchange::memory::Memory;
use exchange::pack::Class;
use exchange::seal::{Identity, Purpose, SealError};

use crate::dice::Dice;
use crate::home::{Change, Key, Name, Store, name};
use crate::hostile;
use crate::sea::Sea;

/// So many rounds of everybody bring everybody to the same, where nothing disturbs them.
const QUIET: usize = 24;

/// What happened, so that a simulation in which nothing happens is noticed.
#[derive(Debug, Default)]
pub struct Told {
    edits: u64,
    rounds: u64,
    stopped: u64,
    failed: u64,
    harms: u64,
    removals: u64,
    refused: u64,
    approvals: u64,
    restored: u64,
    mended: u64,
    disputed: u64,
    waiting: u64,
    shut_out: u64,
    worst_quiet: u64,
}

impl Told {
    pub fn add(&mut self, other: &Self) {
        for (sum, more) in [
            (&mut self.edits, other.edits),
            (&mut self.rounds, other.rounds),
            (&mut self.stopped, other.stopped),
            (&mut self.failed, other.failed),
            (&mut self.harms, other.harms),
            (&mut self.removals, other.removals),
            (&mut self.refused, other.refused),
            (&mut self.approvals, other.approvals),
            (&mut self.restored, other.restored),
            (&mut self.mended, other.mended),
            (&mut self.disputed, other.disputed),
            (&mut self.waiting, other.waiting),
            (&mut self.shut_out, other.shut_out),
        ] {
            *sum += more;
        }
        self.worst_quiet = self.worst_quiet.max(other.worst_quiet);
    }

    /// Whether everything has happened that should be survived.
    pub fn is_rich(&self) -> bool {
        let all = [
            self.stopped,
            self.failed,
            self.harms,
            self.removals,
            self.refused,
            self.approvals,
            self.restored,
            self.mended,
            self.disputed,
            self.waiting,
            self.shut_out,
        ];
        all.iter().all(|count| *count > 100)
    }
}

struct Device {
    own: Identity,
    store: Store,
    /// Its clock is off by so much.
    skew_ms: i64,
    backup: Option<Store>,
    /// What its person was told is saved.
    acknowledged: BTreeSet<Name>,
    restored: bool,
}

struct World {
    dice: Dice,
    sea: Sea,
    devices: Vec<Device>,
    codes: Vec<Code>,
    root: [u8; 32],
    told: Told,
    aloud: bool,
    salt: u64,
}

/// Runs a seed; panics where a promise is broken.
pub fn run(seed: u64, aloud: bool) -> Told {
    let mut world = World::new(seed, aloud);
    let ticks = 10 + world.dice.below(40);
    for _ in 0..ticks {
        world.sea.tick();
        world.something();
    }
    world.end();
    world.told
}

impl World {
    fn new(seed: u64, aloud: bool) -> Self {
        let mut dice = Dice::new(seed);
        let sealed = !dice.chance(100);
        let many = 2 + dice.below(3);
        let mut devices = Vec::new();
        for n in 0..many {
            let own = Identity::new(dice.bytes());
            let store = Store::new(own.id(), n % 2 == 0);
            // Fifty years either way.
            let skew_ms = (dice.next() % 3_155_760_000_000) as i64 - 1_577_880_000_000;
            devices.push(Device { own, store, skew_ms, backup: None, acknowledged: BTreeSet::new(), restored: false });
        }
        let label = label(0);
        let memory = Memory::found(&devices[0].own, &label, sealed, &mut || dice.bytes(), 0).expect("founded");
        let root = memory.log().root();
        devices[0].store.memory = memory.to_bytes();
        let rough = [0, 50, 200][dice.below(3)];
        let sea = Sea::new(0);
        let mut world = Self { dice, sea, devices, codes: Vec::new(), root, told: Told::default(), aloud, salt: seed };
        world.gather();
        world.sea.rough = rough;
        world
    }

    /// Most devices are in the team before it gets rough.
    fn gather(&mut self) {
        for n in 1..self.devices.len() {
            if self.dice.chance(200) {
                continue;
            }
            let mut memory = self.memory(0).expect("the founder's");
            let dice = &mut self.dice;
            let own = self.devices[0].own.clone();
            let code = memory.invite(&own, &mut || dice.bytes(), 0).expect("invited");
            self.devices[0].store.memory = memory.to_bytes();
            let asks = Memory::join(self.root, &self.devices[n].own, code, &label(n));
            self.devices[n].store.memory = asks.to_bytes();
            self.round(n, None);
            self.round(0, None);
            let mut memory = self.memory(0).expect("the founder's");
            let dice = &mut self.dice;
            let who = memory.approve(&own, self.devices[n].own.id(), &mut || dice.bytes(), 0).expect("let in");
            assert_eq!(who, label(n));
            self.devices[0].store.memory = memory.to_bytes();
            self.round(0, None);
            let report = self.round(n, None).expect("a calm round");
            assert!(!report.waits, "device {n} is in");
            self.told.approvals += 1;
        }
    }

    fn say(&self, what: impl FnOnce() -> String) {
        if self.aloud {
            println!("{}", what());
        }
    }

    fn memory(&self, n: usize) -> Option<Memory> {
        let bytes = &self.devices[n].store.memory;
        (!bytes.is_empty()).then(|| Memory::from_bytes(bytes).expect("what it wrote"))
    }

    fn team(&self, n: usize) -> Team {
        self.memory(n).map(|memory| memory.log().team()).unwrap_or_default()
    }

    fn something(&mut self) {
        let n = self.dice.below(self.devices.len());
        match self.dice.below(100) {
            0..38 => self.edit(n),
            38..40 => self.stick(n),
            40..72 => {
                // Most are stopped somewhere.
                let most = if self.dice.chance(600) { Some(self.dice.below(40)) } else { None };
                self.round(n, most);
            }
            72..84 => self.people(n),
            84..90 => self.photo(n),
            90..96 => {
                let harm = hostile::harm(&mut self.sea, &mut self.dice);
                self.told.harms += 1;
                self.say(|| harm);
            }
            96..98 => self.devices[n].backup = Some(self.devices[n].store.clone()),
            _ => self.restore(n),
        }
    }

    fn edit(&mut self, n: usize) {
        self.salt += 1;
        let team = self.team(n);
        let field = self.dice.below(3) as u8;
        let device = &mut self.devices[n];
        // A person builds on what is on the screen, and before the device was let in that is its own.
        let seen = device.store.fields(&team).get(&field).cloned().unwrap_or_default();
        let own: Vec<Name> = device.store.last_of(device.own.id());
        let needs = if team.members.contains_key(&device.own.id()) { Vec::from_iter(seen) } else { own };
        let change = Change { author: device.own.id(), field, needs };
        let bytes = change.bytes(self.salt);
        let key = name(&bytes);
        device.store.changes.insert(key, bytes);
        device.acknowledged.insert(key);
        self.told.edits += 1;
        self.say(|| format!("{n} writes {} in field {field}", short(&key)));
    }

    /// Somebody hands over all changes on a stick, past the folder.
    fn stick(&mut self, n: usize) {
        let from = self.dice.below(self.devices.len());
        let changes = self.devices[from].store.changes.clone();
        self.devices[n].store.changes.extend(changes);
    }

    fn photo(&mut self, n: usize) {
        let class = *self.dice.pick(&Class::ALL).expect("a class");
        let length = 1 + self.dice.below(300);
        let bytes: Vec<u8> = (0..length).map(|_| self.dice.next() as u8).collect();
        self.devices[n].store.blobs.insert(name(&bytes), (class, bytes));
    }

    fn restore(&mut self, n: usize) {
        if let Some(backup) = self.devices[n].backup.clone() {
            self.devices[n].store = backup;
            self.devices[n].restored = true;
            self.told.restored += 1;
            self.say(|| format!("{n} is brought back from a backup"));
        }
    }

    /// Something that a person does with the team.
    fn people(&mut self, n: usize) {
        let Some(mut memory) = self.memory(n) else {
            if let Some(code) = self.dice.pick(&self.codes).copied() {
                let memory = Memory::join(self.root, &self.devices[n].own, code, &label(n));
                self.devices[n].store.memory = memory.to_bytes();
                self.say(|| format!("{n} asks to be let in"));
            }
            return;
        };
        let own = self.devices[n].own.clone();
        let dice = &mut self.dice;
        let asking = memory.asking(&own);
        if let Some(asks) = asking.first() {
            if memory.approve(&own, asks.device, &mut || dice.bytes(), 0).is_ok() {
                self.told.approvals += 1;
                self.say(|| format!("{n} lets {} in", asks.device));
            }
        } else if dice.chance(550) {
            if let Ok(code) = memory.invite(&own, &mut || dice.bytes(), 0) {
                self.codes.push(code);
            }
        } else {
            let members: Vec<DeviceId> = memory.log().team().members.into_keys().collect();
            let Some(device) = dice.pick(&members).copied() else { return };
            let last = self.devices[n].store.last_of(device);
            if memory.remove(&own, device, last, &mut || dice.bytes(), 0).is_ok() {
                self.told.removals += 1;
                self.say(|| format!("{n} removes {device}"));
            }
        }
        self.devices[n].store.memory = memory.to_bytes();
    }

    /// A round of a device, dropped after so many steps.
    fn round(&mut self, n: usize, most: Option<usize>) -> Option<Report> {
        let memory = self.memory(n)?;
        self.told.rounds += 1;
        let device = &mut self.devices[n];
        let now = 1_900_000_000_000 + device.skew_ms;
        let mut round = Round::new(device.own.clone(), memory, now, self.dice.bytes());
        let mut open: Vec<(u64, Ask)> = Vec::new();
        let mut steps = 0;
        loop {
            if most.is_some_and(|most| steps >= most) {
                self.told.stopped += 1;
                return None;
            }
            steps += 1;
            match round.step() {
                Step::Ask(number, Ask::Home(ask)) => round.answer(number, device.store.answer(ask)),
                Step::Ask(number, ask) => open.push((number, ask)),
                Step::Wait => {
                    // Requests that are under way together are answered in any order.
                    let at = self.dice.below(open.len());
                    let (number, ask) = open.swap_remove(at);
                    let answer = match ask {
                        Ask::Fetch(fetch) => fetched(&mut self.sea, &mut self.dice, &mut device.store, &fetch),
                        ask => self.sea.answer(ask, &mut self.dice),
                    };
                    round.answer(number, answer);
                }
                Step::Done(how, _) => {
                    match &how {
                        Ok(report) => {
                            self.told.mended += report.mended;
                            if self.aloud {
                                println!("{n} ends a round: {report:?}");
                            }
                        }
                        Err(why) => {
                            self.told.failed += 1;
                            if self.aloud {
                                println!("{n} fails: {why}");
                            }
                        }
                    }
                    return how.ok();
                }
            }
        }
    }

    fn end(&mut self) {
        self.sea.calm();
        // Members by the log of whoever knows most; before that, nothing is disturbed and everybody talks.
        let (mut quiet, mut lacking) = (0, 0);
        let saved = self.saved();
        while quiet < QUIET && !(quiet > 0 && lacking == 0 && self.is_settled(&saved)) {
            quiet += 1;
            lacking = 0;
            for n in 0..self.devices.len() {
                if let Some(report) = self.round(n, None) {
                    let aside = report.aside.iter().all(|aside| !aside.path.is_empty() && !aside.why.is_empty());
                    assert!(aside, "what is set aside is named");
                    // A device whose own feed is damaged in the folder gives nothing until that is mended or given up.
                    lacking += report.lacking;
                } else {
                    assert!(self.memory(n).is_none(), "a round on a calm place comes to its end");
                }
            }
        }
        self.told.worst_quiet = quiet as u64;
        self.must_be_settled(&saved);
        self.leavers_read_nothing_new();
    }

    /// Everything that stands on some device when it becomes quiet.
    fn saved(&self) -> BTreeSet<Key> {
        for device in self.devices.iter().filter(|device| !device.restored) {
            for name in &device.acknowledged {
                assert!(device.store.changes.contains_key(name), "a device keeps what it acknowledged");
            }
        }
        self.devices.iter().flat_map(|device| device.store.keys()).collect()
    }

    fn members(&self) -> Vec<usize> {
        (0..self.devices.len()).filter(|n| self.team(*n).members.contains_key(&self.devices[*n].own.id())).collect()
    }

    fn is_settled(&self, saved: &BTreeSet<Key>) -> bool {
        let members = self.members();
        let Some(first) = members.first().copied() else { return true };
        let team = self.team(first);
        let inside: Vec<usize> =
            (0..self.devices.len()).filter(|n| team.members.contains_key(&self.devices[*n].own.id())).collect();
        // A device that was brought back from before it asked knows of no team.
        let inside: Vec<usize> = inside.into_iter().filter(|n| self.memory(*n).is_some()).collect();
        inside == members
            && members.iter().all(|n| self.team(*n) == team)
            && members.iter().all(|n| {
                let store = &self.devices[*n].store;
                self.due(&members, saved).iter().all(|key| store.keys().contains(key))
                    && store.has_given_all()
                    && store.fields(&team) == self.devices[first].store.fields(&team)
                    && self.lacking_blobs(*n, &members).is_empty()
            })
    }

    /// Blobs that a member wants, does not have and could have from another.
    fn lacking_blobs(&self, n: usize, members: &[usize]) -> Vec<String> {
        let store = &self.devices[n].store;
        let wanted = |class| class != Class::Original || store.keeps;
        let held = |id| members.iter().any(|other| self.devices[*other].store.blobs.contains_key(id));
        let lacking = store.named.values().filter(|blob| !store.blobs.contains_key(&blob.id) && wanted(blob.class));
        lacking.filter(|blob| held(&blob.id)).map(|blob| short(&blob.id)).collect()
    }

    /// What of it every member must have: all that stood on a member.
    fn due(&self, members: &[usize], saved: &BTreeSet<Key>) -> BTreeSet<Key> {
        let theirs: BTreeSet<Key> = members.iter().flat_map(|n| self.devices[*n].store.keys()).collect();
        saved.intersection(&theirs).copied().collect()
    }

    fn must_be_settled(&mut self, saved: &BTreeSet<Key>) {
        let members = self.members();
        let Some(first) = members.first().copied() else { return };
        let team = self.team(first);
        for n in &members {
            assert_eq!(self.team(*n), team, "devices {first} and {n} read the same team");
        }
        for id in team.members.keys() {
            let n = self.devices.iter().position(|device| device.own.id() == *id).expect("a device");
            let lost = self.memory(n).is_none();
            assert!(lost || members.contains(&n), "device {n} was let in and knows it");
        }
        let due = self.due(&members, saved);
        let fields = self.devices[first].store.fields(&team);
        for n in &members {
            let store = &self.devices[*n].store;
            let keys = store.keys();
            assert!(store.has_given_all(), "device {n} keeps something for itself");
            let missing: Vec<_> = due.iter().filter(|key| !keys.contains(key)).collect();
            assert!(missing.is_empty(), "device {n} lacks {missing:?}");
            assert_eq!(store.fields(&team), fields, "devices {first} and {n} show the same");
            assert_eq!(self.lacking_blobs(*n, &members), Vec::<String>::new(), "device {n} lacks blobs");
        }
        let verdicts = self.devices[first].store.verdicts(&team);
        for n in &members {
            // Whatever a member has been told is saved counts everywhere, or waits for others and is counted.
            for name in self.devices[*n].acknowledged.iter().filter(|_| !self.devices[*n].restored) {
                match verdicts.get(name) {
                    Some(Verdict::Counts) => {}
                    Some(Verdict::Refused(device) | Verdict::Unknown(device)) => {
                        assert!(!team.members.contains_key(device), "a member's own changes are not refused");
                    }
                    other => panic!("device {n} was told that {} is saved: {other:?}", short(name)),
                }
            }
        }
        self.told.refused += verdicts.values().filter(|verdict| matches!(verdict, Verdict::Refused(_))).count() as u64;
        self.told.waiting += verdicts.values().filter(|verdict| matches!(verdict, Verdict::Unknown(_))).count() as u64;
        self.told.disputed += fields.values().filter(|values| values.len() > 1).count() as u64;
    }

    /// Whoever was removed cannot read what is written from now on, not even with the whole log in hand.
    fn leavers_read_nothing_new(&mut self) {
        let members = self.members();
        let Some(first) = members.first().copied() else { return };
        let memory = self.memory(first).expect("a member's");
        let team = memory.log().team();
        if !team.sealed {
            return;
        }
        let before: BTreeMap<String, Vec<u8>> = self.sea.files.clone();
        self.edit(first);
        self.round(first, None).expect("a calm round");
        let fresh: Vec<(&String, &Vec<u8>)> = self.sea.files.iter().filter(|(p, _)| !before.contains_key(*p)).collect();
        assert!(fresh.iter().any(|(path, _)| path.starts_with("objects/")), "an edit travels");
        for device in &self.devices {
            let id = device.own.id();
            let ring = exchange::members::Ring::new(memory.log(), &team, &device.own);
            for (path, file) in fresh.iter().filter(|(path, _)| path.starts_with("objects/")) {
                let opened = ring.open(Purpose::Object, &[], file);
                if team.members.contains_key(&id) {
                    assert!(opened.is_ok(), "a member opens {path}");
                } else {
                    assert_eq!(opened, Err(SealError::OtherKey), "{path} is closed to {id}");
                    self.told.shut_out += u64::from(team.removed.contains_key(&id));
                }
            }
        }
        // Nor do the names say anything.
        for (path, _) in fresh {
            let (folder, name) = path.split_once('/').expect("a folder");
            let digits = name.chars().all(|sign| sign.is_ascii_hexdigit() || "/.".contains(sign));
            let bare = digits && ["heads", "members", "objects"].contains(&folder);
            assert!(bare, "{path}");
        }
    }
}

/// Fetches a block. No blob here has two, so that there is no order to keep.
fn fetched(sea: &mut Sea, dice: &mut Dice, store: &mut Store, fetch: &Fetch) -> Answer {
    let mut file = match sea.answer(Ask::Read(fetch.path(), fetch.span()), dice) {
        Answer::Bytes(file) => file,
        other => return other,
    };
    match fetch.open(&mut file) {
        Ok(block) => {
            store.put((block.blob, block.number, block.bytes.to_vec()));
            Answer::Done
        }
        Err(failure) => Answer::Failed(failure),
    }
}

fn label(n: usize) -> Label {
    Label { person: format!("Invented Person {n}"), device: format!("tablet {n}") }
}

fn short(name: &[u8; 32]) -> String {
    name[..4].iter().map(|byte| format!("{byte:02x}")).collect()
}
