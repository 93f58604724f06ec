//! The keyring of the platform, where one runs: the Secret Service on Linux, the Keychain on macOS, the Credential Manager
//! on Windows.
//!
//! Programs alone ask for it, with [`use_platform`]. Whoever uses the library, as the tests do, has files, or the keyring
//! that was named with `keyring_core::set_default_store`.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use keyring_core::{CredentialStore, Entry, Error};

/// Under this name keyrings show what is Newel's.
const SERVICE: &str = "Newel";
/// With the value `file` no keyring is asked for, as where a program runs without a person.
const WHERE: &str = "NEWEL_KEYS";

static PLATFORM: AtomicBool = AtomicBool::new(false);

/// From now on this process keeps keys in the platform's keyring where one runs, unless `NEWEL_KEYS` is `file`.
pub fn use_platform() {
    PLATFORM.store(std::env::var_os(WHERE).is_none_or(|place| place != "file"), Ordering::Relaxed);
}

/// A keyring that runs.
pub(crate) struct Keyring(Arc<CredentialStore>);

/// What of a device is kept.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Kept {
    /// Its key.
    Key,
    /// The secrets of the place that it shares through.
    Place,
}

impl Keyring {
    /// The keyring, or why there is none.
    pub fn running() -> Result<Self, String> {
        if let Some(named) = keyring_core::get_default_store() {
            return Ok(Self(named));
        }
        if !PLATFORM.load(Ordering::Relaxed) {
            return Err(format!("it is not asked for ({WHERE} is file)"));
        }
        let found = platform().map_err(|why| said(&why))?;
        keyring_core::set_default_store(Arc::clone(&found));
        Ok(Self(found))
    }

    fn entry(&self, device: &str, kept: Kept) -> Result<Entry, String> {
        let what = match kept {
            Kept::Key => "key",
            Kept::Place => "place",
        };
        // A name that people may find in their keyring, and no more than the public half of the key.
        Entry::new_in_store(&self.0, SERVICE, &format!("{what} of device {device}")).map_err(|why| said(&why))
    }

    /// What is kept of a device, named by its public key; `None` where nothing is.
    pub fn read(&self, device: &str, kept: Kept) -> Result<Option<Vec<u8>>, String> {
        match self.entry(device, kept)?.get_secret() {
            Ok(secret) => Ok(Some(secret)),
            Err(Error::NoEntry) => Ok(None),
            Err(why) => Err(said(&why)),
        }
    }

    /// Keeps it, and proves that it is kept.
    pub fn keep(&self, device: &str, kept: Kept, secret: &[u8]) -> Result<(), String> {
        self.entry(device, kept)?.set_secret(secret).map_err(|why| said(&why))?;
        if self.read(device, kept)?.as_deref() == Some(secret) {
            Ok(())
        } else {
            Err("it does not give back what it was given".to_owned())
        }
    }

    /// Forgets it; what is not there is no fault.
    pub fn forget(&self, device: &str, kept: Kept) -> Result<(), String> {
        match self.entry(device, kept)?.delete_credential() {
            Ok(()) | Err(Error::NoEntry) => Ok(()),
            Err(why) => Err(said(&why)),
        }
    }
}

/// What a keyring says, without anything secret: two of its errors carry what was read.
fn said(why: &Error) -> String {
    match why {
        Error::BadEncoding(_) | Error::BadDataFormat(..) => "what it holds is damaged".to_owned(),
        Error::NoStorageAccess(_) => "it is locked or gives no access".to_owned(),
        other => other.to_string(),
    }
}

#[cfg(target_os = "linux")]
fn platform() -> Result<Arc<CredentialStore>, Error> {
    Ok(dbus_secret_service_keyring_store::Store::new()?)
}

#[cfg(target_os = "macos")]
fn platform() -> Result<Arc<CredentialStore>, Error> {
    Ok(apple_native_keyring_store::keychain::Store::new()?)
}

#[cfg(target_os = "windows")]
fn platform() -> Result<Arc<CredentialStore>, Error> {
    Ok(windows_native_keyring_store::Store::new()?)
}

#[cfg(not(any(target_os = "linux", target_os = "macos", target_os = "windows")))]
fn platform() -> Result<Arc<CredentialStore>, Error> {
    Err(Error::NoDefaultStore)
}
