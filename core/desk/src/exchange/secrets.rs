//! The password of a place: in a file of the home folder that only its owner may read, never in the database.
//!
//! It is kept together with whom it is for, so that it is never given to another server or under another name, whatever
//! becomes of the settings beside it.

use std::fs;
use std::io::ErrorKind;
use std::path::Path;

use serde::{Deserialize, Serialize};

use crate::private;
use crate::sites::SiteError;
use crate::wire::place::Password;

const FILE: &str = "place.json";
const ACCEPTED: &str = "the place.json that Newel wrote, or none, and then the password is to be entered again";

/// What is secret about a place.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Secrets {
    /// The password of the drive, or the secret of the key of an object store.
    pub password: Option<For>,
    /// The name and password of a proxy, as `name:password`.
    pub proxy_login: Option<For>,
}

/// Something secret, and whom it is for.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct For {
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
    /// Reads what is kept in a home; nothing where there is no file.
    pub fn of(home: &Path) -> Result<Self, SiteError> {
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

    /// Keeps it in a home, or removes the file where nothing is left to keep.
    pub fn keep(&self, home: &Path) -> Result<(), SiteError> {
        let path = home.join(FILE);
        let kept = if *self == Self::default() {
            private::remove(&path)
        } else {
            private::replace(&path, &crate::json_text(self))
        };
        kept.map_err(|why| SiteError::File {
            path,
            why: format!("cannot be written: {why}"),
            accepted: "a folder on a drive that can be written to",
        })
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
        assert_eq!(fs::read_dir(&home).unwrap().count(), 0);
        Secrets::default().keep(&home).unwrap();
        fs::remove_dir_all(&home).unwrap();
    }
}
