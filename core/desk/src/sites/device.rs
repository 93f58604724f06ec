//! This device: its key, what it is called and who works on it, in one file that only its owner may read. The key may lie in
//! the keyring instead; then the file names its public half.

use std::fs;
use std::io::ErrorKind;
use std::path::Path;

use exchange::seal::Identity;
use record::sign::{Device as Signing, DeviceId};
use serde::{Deserialize, Serialize};

use super::{SiteError, Sites, random};
use crate::hex::hex;
use crate::keyring::{Kept, Keyring};
use crate::private;
use crate::wire::sites::{DeviceLine, DeviceList};

const FILE: &str = "device.json";
/// Who works on a device where neither a person nor the system says.
pub const NOBODY: &str = "somebody";
const ACCEPTED: &str = "the device.json that Newel wrote, or none, and then a new key is made";

/// The device file.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DeviceFile {
    schema_version: u32,
    person: String,
    device: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    key_hex: Option<String>,
    /// Where the key lies in the keyring: its public half.
    #[serde(skip_serializing_if = "Option::is_none")]
    id_hex: Option<String>,
}

/// The secret half of a device's key.
#[derive(Clone)]
pub struct Key([u8; 32]);

impl Key {
    /// The device as a team knows it.
    pub fn identity(&self) -> Identity {
        Identity::new(self.0)
    }

    /// The public half.
    pub fn id_hex(&self) -> String {
        hex(&self.identity().id().0)
    }

    /// The secret half.
    pub fn bytes(&self) -> &[u8; 32] {
        &self.0
    }
}

impl DeviceFile {
    /// The device as it signs, with its key.
    pub fn signing(&self, key: &Key) -> Signing {
        Signing::new(&self.person, &self.device, key.0)
    }

    /// Who works on it and what it is called.
    pub fn label(&self) -> (&str, &str) {
        (&self.person, &self.device)
    }

    /// The public half of its key, where the key lies in the keyring.
    pub fn in_keyring(&self) -> Option<&str> {
        self.id_hex.as_deref()
    }

    /// Its key, from the file or out of the keyring.
    pub fn key(&self, home: &Path) -> Result<Key, SiteError> {
        let wrong = |why: String| wrong(&home.join(FILE), why);
        match (&self.key_hex, &self.id_hex) {
            (Some(digits), None) => {
                key(digits).map(Key).ok_or_else(|| wrong("key_hex is not 64 hexadecimal digits".to_owned()))
            }
            (None, Some(id)) => {
                let kept = Keyring::running().and_then(|ring| ring.read(id, Kept::Key)).map_err(SiteError::Keyring)?;
                let key = kept.and_then(|bytes| bytes.try_into().ok()).map(Key);
                key.filter(|key| key.id_hex() == *id).ok_or_else(|| SiteError::NoKey { device: id.clone() })
            }
            _ => Err(wrong("has to have key_hex or id_hex, and not both".to_owned())),
        }
    }

    /// The same device with its key in this file.
    pub fn with_key(self, key: &Key) -> Self {
        Self { key_hex: Some(hex(&key.0)), id_hex: None, ..self }
    }

    /// The same device with its key elsewhere.
    pub fn without_key(self, key: &Key) -> Self {
        Self { key_hex: None, id_hex: Some(key.id_hex()), ..self }
    }

    /// Writes it in place of the one that is there.
    pub fn replace(&self, home: &Path) -> Result<(), SiteError> {
        let path = home.join(FILE);
        private::replace(&path, &crate::json_text(self)).map_err(|why| SiteError::File {
            path,
            why: format!("cannot be written: {why}"),
            accepted: "a folder on a drive that can be written to",
        })
    }
}

/// Reads the device file of a home, or makes one with a new key.
pub fn load_or_make(home: &Path) -> Result<DeviceFile, SiteError> {
    let failed = |path: &Path, why: &dyn std::fmt::Display| SiteError::File {
        path: path.to_owned(),
        why: format!("cannot be used: {why}"),
        accepted: "a folder on a drive that can be written to",
    };
    fs::create_dir_all(home).map_err(|why| failed(home, &why))?;
    let path = home.join(FILE);
    match fs::read_to_string(&path) {
        Ok(text) => read(&path, &text),
        Err(why) if why.kind() == ErrorKind::NotFound => {
            let key: [u8; 32] = random::bytes()?;
            let [person, device] = [&["NEWEL_PERSON", "USER", "USERNAME"][..], &["HOSTNAME", "COMPUTERNAME"]]
                .map(|names| names.iter().find_map(|name| std::env::var(name).ok().filter(|text| !text.is_empty())));
            let made = DeviceFile {
                schema_version: 1,
                person: person.unwrap_or_else(|| NOBODY.to_owned()),
                device: device.unwrap_or_else(|| "this device".to_owned()),
                key_hex: Some(hex(&key)),
                id_hex: None,
            };
            match private::create(&path, &crate::json_text(&made)) {
                // A store on a medium that cannot be written is read by a device that nobody remembers.
                Err(why) if why.kind() == ErrorKind::ReadOnlyFilesystem => Ok(made),
                made_or_not => made_or_not.map(|()| made).map_err(|why| failed(&path, &why)),
            }
        }
        Err(why) => Err(failed(&path, &why)),
    }
}

fn read(path: &Path, text: &str) -> Result<DeviceFile, SiteError> {
    let file: DeviceFile =
        serde_json::from_str(text).map_err(|why| wrong(path, format!("is no device file: {why}")))?;
    if file.schema_version != 1 {
        return Err(wrong(path, format!("schema_version is {}, of a newer release", file.schema_version)));
    }
    Ok(file)
}

fn wrong(path: &Path, why: String) -> SiteError {
    SiteError::File { path: path.to_owned(), why, accepted: ACCEPTED }
}

/// Closes the home folder, photos and all, to everybody but its owner, once it is one of a team: what the shared folder seals
/// must not lie open here. The database is closed by itself too, for whoever opens the folder again.
#[cfg(unix)]
pub fn owner_only(home: &Path) -> Result<(), SiteError> {
    use std::os::unix::fs::PermissionsExt;
    let database = ["", "-wal", "-shm"].map(|ending| (home.join(format!("{}{ending}", super::STORE)), 0o600));
    for (path, mode) in std::iter::once((home.to_owned(), 0o700)).chain(database) {
        match fs::set_permissions(&path, fs::Permissions::from_mode(mode)) {
            Err(why) if why.kind() != ErrorKind::NotFound => {
                let why = format!("cannot be closed to others: {why}");
                return Err(SiteError::File { path, why, accepted: "a folder of your own" });
            }
            _ => {}
        }
    }
    Ok(())
}

/// Elsewhere a person's own folders are closed to others by the system.
#[cfg(not(unix))]
pub fn owner_only(_home: &Path) -> Result<(), SiteError> {
    Ok(())
}

fn key(text: &str) -> Option<[u8; 32]> {
    let digits: Vec<u8> = text.chars().map(|c| c.to_digit(16).map(|n| n as u8)).collect::<Option<_>>()?;
    let bytes: Vec<u8> = digits.chunks_exact(2).map(|pair| pair[0] * 16 + pair[1]).collect();
    if digits.len() == 64 { bytes.try_into().ok() } else { None }
}

/// Says who works on the device of a home and what it is called; the changes made from then on carry it.
///
/// # Errors
/// The device file cannot be read or written.
pub fn rename(home: &Path, person: Option<&str>, device: Option<&str>) -> Result<(), SiteError> {
    let mut file = load_or_make(home)?;
    file.person = person.map_or(file.person, str::to_owned);
    file.device = device.map_or(file.device, str::to_owned);
    file.replace(home)
}

impl Sites {
    /// The devices that were heard of, this one first.
    ///
    /// # Errors
    /// The database fails.
    pub fn devices(&self) -> Result<DeviceList, SiteError> {
        let own = load_or_make(&self.home)?;
        let this = own.signing(&self.key).id();
        let mut devices = vec![DeviceLine {
            id: hex(&this.0),
            device: own.device.clone(),
            person: own.person.clone(),
            known: true,
            this: true,
        }];
        let others = self.store.devices()?.into_iter().filter(|row| row.device != this);
        devices.extend(others.map(|row| DeviceLine {
            id: hex(&row.device.0),
            device: row.name,
            person: row.person,
            known: row.known,
            this: false,
        }));
        Ok(DeviceList { schema_version: 1, devices })
    }

    /// Says that a device's changes count from now on; `asked` is the beginning of its id, eight digits at least.
    ///
    /// # Errors
    /// No device or several begin so.
    pub fn know(&mut self, asked: &str) -> Result<String, SiteError> {
        let all = self.devices()?.devices;
        let fits: Vec<&DeviceLine> = all.iter().filter(|line| line.id.starts_with(&asked.to_lowercase())).collect();
        let [found] = fits.as_slice() else { return Err(no_device(asked, &all)) };
        let Some(id) = key(&found.id).filter(|_| asked.len() >= 8) else { return Err(no_device(asked, &all)) };
        if self.store.standing()?.is_some() {
            return Err(SiteError::TeamDecides(found.id[..16].to_owned()));
        }
        self.store.know(DeviceId(id))?;
        Ok(format!("changes of {} on {} count from now on", found.person, found.device))
    }
}

fn no_device(asked: &str, all: &[DeviceLine]) -> SiteError {
    let known = all.iter().filter(|line| !line.this).map(|line| format!("{} ({})", &line.id[..16], line.person));
    let known: Vec<String> = known.collect();
    let accepted = if known.is_empty() { "none, since no other was heard of".to_owned() } else { known.join(", ") };
    SiteError::NoDevice { asked: asked.to_owned(), accepted }
}
