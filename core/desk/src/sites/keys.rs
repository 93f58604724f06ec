//! Where the key of this device and the password of its place lie: in the keyring of the platform, or in files that only their
//! owner may read.

use super::{SiteError, Sites, device};
use crate::exchange::Secrets;
use crate::keyring::{Kept, Keyring};
use crate::wire::exchange::KeysIn;

impl Sites {
    /// The key of this device.
    pub(crate) fn key(&self) -> &device::Key {
        &self.key
    }

    /// Where keys lie.
    ///
    /// # Errors
    /// The device file cannot be read.
    pub fn keys_in(&self) -> Result<KeysIn, SiteError> {
        let file = device::load_or_make(&self.home)?;
        Ok(if file.in_keyring().is_some() { KeysIn::Keyring } else { KeysIn::File })
    }

    /// Moves them. What is elsewhere already stays there, and of what is moved nothing stays behind.
    ///
    /// # Errors
    /// No keyring runs, it refuses, or a file cannot be written; then everything stays as it was.
    pub fn keep_keys(&mut self, place: KeysIn) -> Result<(), SiteError> {
        if self.keys_in()? == place {
            return Ok(());
        }
        let ring = Keyring::running().map_err(SiteError::NoKeyring)?;
        let file = device::load_or_make(&self.home)?;
        let secrets = Secrets::of(&self.home)?;
        let id = self.key.id_hex();
        let forget = || [Kept::Place, Kept::Key].into_iter().try_for_each(|kept| ring.forget(&id, kept));
        match place {
            KeysIn::Keyring => {
                let kept = ring.keep(&id, Kept::Key, self.key.bytes()).and_then(|()| secrets.keep_in(&ring, &id));
                if let Err(why) = kept {
                    // Where it cannot be taken back either, it is of no use to anybody: the files count.
                    let _ = forget();
                    return Err(SiteError::NoKeyring(why));
                }
                file.without_key(&self.key).replace(&self.home)?;
                Secrets::remove_file(&self.home)
            }
            KeysIn::File => {
                secrets.keep_in_file(&self.home)?;
                file.with_key(&self.key).replace(&self.home)?;
                forget().map_err(SiteError::Keyring)
            }
        }
    }

    /// Moves keys into the keyring where one runs and takes them; else they stay where they are, in files that only their
    /// owner may read.
    pub(crate) fn prefer_keyring(&mut self) -> Result<(), SiteError> {
        match self.keys_in()? {
            KeysIn::Keyring => Ok(()),
            KeysIn::File => match self.keep_keys(KeysIn::Keyring) {
                // A password file that cannot be read is written anew by whoever says the place.
                Err(SiteError::NoKeyring(_) | SiteError::File { .. }) => Ok(()),
                done => done,
            },
        }
    }
}

#[cfg(test)]
mod tests {
    use std::fs;

    use keyring_core::{Entry, Error, mock};

    use super::*;
    use crate::exchange::For;

    #[test]
    fn a_password_goes_where_the_key_lies_and_comes_back_with_it() {
        keyring_core::set_default_store(mock::Store::new().unwrap());
        let home = std::env::temp_dir().join(format!("newel-keys-{}", std::process::id()));
        let mut sites = Sites::open(&home, || 1_900_000_000_000).unwrap();
        let secrets = Secrets { password: For::new("https://drive.example", "anna", "geheim"), proxy_login: None };
        secrets.keep(&home).unwrap();
        let file = home.join("place.json");
        let kept = || Entry::new("Newel", &format!("place of device {}", sites_id(&home))).unwrap().get_password();
        assert!(file.exists() && matches!(kept(), Err(Error::NoEntry)));

        sites.keep_keys(KeysIn::Keyring).unwrap();
        assert!(!file.exists() && kept().unwrap().contains("geheim"));
        assert_eq!(Secrets::of(&home).unwrap(), secrets);
        let other = Secrets { password: For::new("https://drive.example", "anna", "anders"), proxy_login: None };
        other.keep(&home).unwrap();
        assert!(!file.exists() && kept().unwrap().contains("anders"));

        sites.keep_keys(KeysIn::File).unwrap();
        assert!(fs::read_to_string(&file).unwrap().contains("anders"));
        assert!(matches!(kept(), Err(Error::NoEntry)), "nothing stays behind");
        assert_eq!(Secrets::of(&home).unwrap(), other);

        sites.keep_keys(KeysIn::Keyring).unwrap();
        Secrets::default().keep(&home).unwrap();
        assert!(matches!(kept(), Err(Error::NoEntry)), "a place that is left is forgotten");
        drop(sites);
        fs::remove_dir_all(&home).unwrap();
    }

    fn sites_id(home: &std::path::Path) -> String {
        let file = device::load_or_make(home).unwrap();
        file.key(home).unwrap().id_hex()
    }
}
