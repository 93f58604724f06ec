//! Keys in a keyring: moved there where one runs, left in files where none does or it refuses, and told where it is gone.
//!
//! The keyring is the stand-in of `keyring-core`; a real one is tried by the tests of the command line.

mod common;

use std::fs;
use std::sync::{Arc, Mutex, MutexGuard};

use common::home::{Home, clock};
use desk::exchange::Seal;
use desk::sites::Sites;
use desk::wire::exchange::KeysIn;
use keyring_core::{CredentialStore, Entry, Error, mock};

/// The process has one keyring, so that the tests take turns.
static TURN: Mutex<()> = Mutex::new(());

struct Turn {
    ring: Arc<CredentialStore>,
    _turn: MutexGuard<'static, ()>,
}

impl Turn {
    fn new() -> Self {
        let turn = TURN.lock().unwrap_or_else(std::sync::PoisonError::into_inner);
        let ring: Arc<CredentialStore> = mock::Store::new().expect("a stand-in");
        keyring_core::set_default_store(Arc::clone(&ring));
        Self { ring, _turn: turn }
    }

    fn entry(&self, what: &str, device: &str) -> Entry {
        Entry::new_in_store(&self.ring, "Newel", &format!("{what} of device {device}")).expect("an entry")
    }

    fn fails_once(&self, what: &str, device: &str) {
        let entry = self.entry(what, device);
        let stand_in = entry.as_any().downcast_ref::<mock::Cred>().expect("the stand-in's");
        stand_in.set_error(Error::NoEntry);
    }
}

impl Drop for Turn {
    fn drop(&mut self) {
        keyring_core::unset_default_store();
    }
}

fn file(home: &Home) -> serde_json::Value {
    let text = fs::read_to_string(home.0.join("device.json")).expect("the device file");
    serde_json::from_str(&text).expect("JSON")
}

fn id(sites: &Sites) -> String {
    sites.devices().expect("a list").devices[0].id.clone()
}

#[test]
fn a_device_that_begins_a_team_keeps_its_key_in_the_keyring_and_nowhere_else() {
    let turn = Turn::new();
    let home = Home::of("Invented Anna");
    let mut sites = home.open();
    let (id, before) = (id(&sites), file(&home)["key_hex"].as_str().expect("digits").to_owned());
    assert_eq!(sites.keys_in().expect("told"), KeysIn::File);
    let share = home.outside("share");
    fs::create_dir_all(&share).expect("a folder");
    sites.start_team(&share.display().to_string(), Seal::Sealed).expect("begun");
    assert_eq!(sites.exchange_status().expect("told").keys, KeysIn::Keyring);
    drop(sites);
    let text = fs::read_to_string(home.0.join("device.json")).expect("the device file");
    assert!(!text.contains(&before), "the key is not in the file any more");
    assert_eq!(file(&home)["id_hex"], id.as_str());
    let kept = turn.entry("key", &id).get_secret().expect("kept");
    assert_eq!(kept.iter().map(|byte| format!("{byte:02x}")).collect::<String>(), before);
    // It signs as before, and takes another name without the keyring.
    desk::sites::rename_device(&home.0, Some("Invented Berta"), None).expect("named");
    let sites = home.open();
    let own = &sites.devices().expect("a list").devices[0];
    assert_eq!((own.id.as_str(), own.person.as_str()), (id.as_str(), "Invented Berta"));
}

#[test]
fn where_the_keyring_does_not_keep_what_it_is_given_everything_stays_in_files() {
    let turn = Turn::new();
    let home = Home::of("Invented Anna");
    let mut sites = home.open();
    let id = id(&sites);
    turn.fails_once("key", &id);
    let why = sites.keep_keys(KeysIn::Keyring).expect_err("refused").to_string();
    assert!(why.contains("stay in files that only you may read"), "{why}");
    turn.fails_once("key", &id);
    let share = home.outside("share");
    fs::create_dir_all(&share).expect("a folder");
    sites.start_team(&share.display().to_string(), Seal::Sealed).expect("a team needs no keyring");
    assert_eq!(sites.keys_in().expect("told"), KeysIn::File);
    drop(sites);
    home.open();
}

#[test]
fn a_key_that_the_keyring_has_lost_is_told_and_no_other_is_made() {
    let turn = Turn::new();
    let home = Home::of("Invented Anna");
    let mut sites = home.open();
    let id = id(&sites);
    sites.keep_keys(KeysIn::Keyring).expect("moved");
    drop(sites);
    let before = file(&home);
    turn.entry("key", &id).set_secret(&[7; 32]).expect("another's key");
    for _ in 0..2 {
        let why = Sites::open(&home.0, clock).expect_err("no key").to_string();
        assert!(why.contains(&id[..16]) && why.contains("device.json"), "{why}");
        assert_eq!(file(&home), before);
        // The second time there is none.
        let _ = turn.entry("key", &id).delete_credential();
    }
    keyring_core::unset_default_store();
    let why = Sites::open(&home.0, clock).expect_err("no keyring").to_string();
    assert!(why.contains("cannot be used") && why.contains("unlock"), "{why}");
}
