//! A team of homes that share a folder, without a window or a command between.

use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicUsize, Ordering};

use desk::exchange::{Seal, Unfollowed};
use desk::sites::Sites;
use desk::wire::exchange::{ExchangeRound, ExchangeState};
use serde_json::Value;

use super::home::Home;

static COUNT: AtomicUsize = AtomicUsize::new(0);

/// A folder of its own, removed afterwards.
pub struct Shared(pub PathBuf);

impl Shared {
    pub fn new() -> Self {
        let n = COUNT.fetch_add(1, Ordering::Relaxed);
        let path = std::env::temp_dir().join(format!("newel-shared-{}-{n}", std::process::id()));
        let _ = std::fs::remove_dir_all(&path);
        std::fs::create_dir_all(&path).expect("a folder");
        Self(path)
    }

    pub fn address(&self) -> String {
        self.0.display().to_string()
    }

    /// Every file in it: its path within the folder and its bytes.
    pub fn files(&self) -> Vec<(String, Vec<u8>)> {
        let (mut files, mut open) = (Vec::new(), vec![self.0.clone()]);
        while let Some(folder) = open.pop() {
            for entry in std::fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("an entry").path()) {
                if entry.is_dir() {
                    open.push(entry);
                } else {
                    let name = entry.strip_prefix(&self.0).expect("within").display().to_string();
                    files.push((name, std::fs::read(&entry).expect("a file")));
                }
            }
        }
        files.sort();
        files
    }
}

impl Drop for Shared {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.0);
    }
}

/// A device of the team; its store is closed before its folder is removed.
pub struct Device {
    pub sites: Sites,
    pub home: Home,
}

impl Device {
    pub fn of(person: &str) -> Self {
        let home = Home::of(person);
        Self { sites: home.open(), home }
    }

    pub fn round(&mut self) -> ExchangeRound {
        self.sites.exchange(&mut Unfollowed).expect("a round")
    }

    pub fn edit(&mut self, edit: &Value) -> String {
        self.sites.edit("yard", edit.to_string().as_bytes(), "edit").expect("made").sentence
    }

    pub fn id(&self) -> String {
        self.sites.devices().expect("devices").devices[0].id.clone()
    }

    /// Joins a team of which another device is a member.
    pub fn join(&mut self, member: &mut Self, folder: &Path) {
        let code = member.sites.invite().expect("invited").code;
        self.sites.join_team(&folder.display().to_string(), Some(&code)).expect("asks");
        assert_eq!(self.round().state, ExchangeState::Waiting);
        assert_eq!(member.round().asking, 1);
        member.sites.approve(None).expect("let in");
        member.round();
        assert_eq!(self.round().state, ExchangeState::Member);
    }

    /// Lists, search and everything else that is built from the changes that count.
    pub fn dump(&self) -> String {
        let device = record::sign::Device::new("Looker", "test", [9; 32]);
        let store = record::store::Store::open_read_only(&self.home.0, device).expect("a store");
        store.dump().expect("a dump")
    }
}

/// So many devices in one team, the first its founder.
pub fn team(folder: &Shared, people: &[&str]) -> Vec<Device> {
    let mut devices: Vec<Device> = people.iter().map(|person| Device::of(person)).collect();
    let (founder, others) = devices.split_at_mut(1);
    founder[0].sites.start_team(&folder.address(), Seal::Sealed).expect("begun");
    founder[0].round();
    for other in others {
        other.join(&mut founder[0], &folder.0);
    }
    devices
}

/// Rounds of everybody until nothing moves any more: entries of the log of members are not counted, and need a second look.
pub fn settle(devices: &mut [Device]) {
    let mut quiet = 0;
    for _ in 0..8 {
        let moved = devices.iter_mut().map(Device::round).fold(0, |sum, round| {
            sum + round.took + round.gave + round.photo_files_took + round.photo_files_gave + round.lacking
        });
        quiet = if moved == 0 { quiet + 1 } else { 0 };
        if quiet == 2 {
            return;
        }
    }
    panic!("eight rounds of everybody bring everybody to the same");
}
