//! The password of a place: where the key of the device lies, in the keyring or in a file of the home folder that only its
//! owner may read, never in the database.
//!
//! It is kept together with whom it is for, so that it is never given to another server or under another name, whatever
//! becomes of the settings beside it.

use std::fs;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::keyring::{Kept, Keyring};
use crate::private;
use crate::sites::{SiteError, device};
use crate::wire::place::Password;

const FILE: &str = "place.json";
const ACCEPTED: &str = "the place.json that Newel wrote, or none, and then the password is to be entered again";

/// What is secret about a place.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct Secrets {
    /// The password of the drive, or the secret of the key of an object store.
    pub password: Option<For>,
    /// The name and password of a proxy, as `name:password`.
    pub proxy_login: Option<For>,
}

/// Something secret, and whom it is for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(crate) struct For {
    /// The server by scheme, host and port, or the address of the proxy.
    server: String,
    /// The name under which it is asked.
    user: String,
    secret: Password,
}

impl For {
    /// `None` where there is nothing to keep.
    pub fn new(server: &str, user: &str, secret: &str) -> Option<Self> {
        let secret = Password(secret.to_owned());
        (!secret.0.is_empty()).then(|| Self { server: server.to_owned(), user: user.to_owned(), secret })
    }

    /// The secret, where it is for this server under this name.
    pub fn given_to(&self, server: &str, user: &str) -> Option<&str> {
        (self.server == server && self.user == user).then_some(self.secret.0.as_str())
    }
}

impl Secrets {
    /// What is kept of a home: in the keyring where its key lies there, else in its file; nothing where nothing is kept.
    pub fn of(home: &Path) -> Result<Self, SiteError> {
        match device::load_or_make(home)?.in_keyring() {
            Some(device) => {
                let kept = Keyring::running().and_then(|ring| ring.read(device, Kept::Place));
                let text = kept.map_err(SiteError::Keyring)?;
                // What is damaged there is told without what it holds; it is entered again like a lost one.
                text.map_or(Ok(Self::default()), |text| serde_json::from_slice(&text))
                    .map_err(|_| SiteError::Keyring("the password that it holds is damaged".to_owned()))
            }
            None => Self::of_file(home),
        }
    }

    fn of_file(home: &Path) -> Result<Self, SiteError> {
        let path = home.join(FILE);
        let wrong = |why: String| SiteError::File { path: path.clone(), why, accepted: ACCEPTED };
        match fs::read_to_string(&path) {
            // The fault is named by its position alone, for the text is secret.
            Ok(text) => serde_json::from_str(&text).map_err(|why| {
                wrong(format!("is no file of a password: line {}, column {}", why.line(), why.column()))
            }),
            Err(why) if why.kind() == ErrorKind::NotFound => Ok(Self::default()),
            Err(why) => Err(wrong(format!("cannot be read: {why}"))),
        }
    }

    /// Keeps it where the key of the home lies; where nothing is left to keep, nothing lies there any more.
    pub fn keep(&self, home: &Path) -> Result<(), SiteError> {
        match device::load_or_make(home)?.in_keyring() {
            Some(device) => {
                let kept = Keyring::running().and_then(|ring| self.keep_in(&ring, device));
                kept.map_err(SiteError::Keyring)?;
                Self::remove_file(home)
            }
            None => self.keep_in_file(home),
        }
    }

    pub fn keep_in(&self, ring: &Keyring, device: &str) -> Result<(), String> {
        if *self == Self::default() {
            ring.forget(device, Kept::Place)
        } else {
            ring.keep(device, Kept::Place, crate::json_text(self).as_bytes())
        }
    }

    pub fn keep_in_file(&self, home: &Path) -> Result<(), SiteError> {
        if *self == Self::default() {
            return Self::remove_file(home);
        }
        let path = home.join(FILE);
        private::replace(&path, &crate::json_text(self)).map_err(|why| unwritable(path, &why))
    }

    pub fn remove_file(home: &Path) -> Result<(), SiteError> {
        let path = home.join(FILE);
        private::remove(&path).map_err(|why| unwritable(path, &why))
    }
}

fn unwritable(path: PathBuf, why: &std::io::Error) -> SiteError {
    SiteError::File {
        path,
        why: format!("cannot be written: {why}"),
        accepted: "a folder on a drive that can be written to",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_password_is_kept_for_its_owner_and_given_to_nobody_else() {
        let home = std::env::temp_dir().join(format!("newel-secrets-{}", std::process::id()));
        fs::create_dir_all(&home).unwrap();
        assert_eq!(Secrets::of(&home).unwrap(), Secrets::default());
        let server = "https://drive.example";
        let kept = Secrets { password: For::new(server, "anna", "geheim"), proxy_login: None };
        kept.keep(&home).unwrap();
        let file = home.join(FILE);
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            assert_eq!(fs::metadata(&file).unwrap().permissions().mode() & 0o777, 0o600);
        }
        let read = Secrets::of(&home).unwrap();
        assert_eq!(read, kept);
        let password = read.password.as_ref().unwrap();
        assert_eq!(password.given_to(server, "anna"), Some("geheim"));
        assert_eq!(password.given_to("https://drive.example:8443", "anna"), None);
        assert_eq!(password.given_to("http://drive.example", "anna"), None);
        assert_eq!(password.given_to(server, "ben"), None);
        assert!(!format!("{read:?}").contains("geheim"));
        // What is no such file is told without what stands in it.
        fs::write(&file, "{\"password\": \"geheim\"}").unwrap();
        let why = Secrets::of(&home).unwrap_err().to_string();
        assert!(why.contains("line 1") && why.contains("entered again") && !why.contains("geheim"), "{why}");
        // With what a crash left of another.
        fs::write(home.join("place.json.new"), "geheim").unwrap();
        Secrets::default().keep(&home).unwrap();
        let left: Vec<_> = fs::read_dir(&home).unwrap().map(|entry| entry.unwrap().file_name()).collect();
        assert_eq!(left, ["device.json"]);
        Secrets::default().keep(&home).unwrap();
        fs::remove_dir_all(&home).unwrap();
    }
}
