//! The keys made from one team key, and what they do.

use aes_siv::{KeyInit, siv::Aes256Siv};
use hmac::{Hmac, Mac};

use super::{derive, siv};
use crate::bytes::hex;

/// Bytes before what is sealed: the version and the key's id.
const HEADER: usize = 1 + 8;
const SALT: &[u8] = b"newel exchange 1";
/// The first byte of what is not sealed.
const OPEN: u8 = 0;
/// The first byte of what is sealed.
const SEALED: u8 = 1;

/// The name of a content: without the key it says nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Name(pub [u8; 32]);

impl std::fmt::Display for Name {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&hex(&self.0))
    }
}

/// Which team key sealed something.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct KeyId(pub [u8; 8]);

/// What is sealed; nothing of one purpose opens as another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// A pack of changes, or a block of a photo.
    Object,
    /// A device's head.
    Head,
    /// What the membership log says in words.
    Label,
}

/// Why something cannot be opened.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SealError {
    /// Another key sealed it.
    #[error("it is sealed with a key that this device does not have")]
    OtherKey,
    /// It is damaged, or somebody without the key made it.
    #[error("it is damaged, cut short or was not made by this team")]
    Damaged,
    /// It is of a newer release.
    #[error("a newer release wrote it; update Newel")]
    Newer,
}

/// The keys of one team key; or of none, in an open folder.
#[derive(Clone)]
pub struct Keys {
    id: KeyId,
    sealed: bool,
    name: [u8; 32],
    object: [u8; 64],
    head: [u8; 64],
    label: [u8; 64],
}

impl std::fmt::Debug for Keys {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Keys({})", hex(&self.id.0))
    }
}

impl Keys {
    /// Of a team key: 32 bytes from a good source.
    #[must_use]
    pub fn new(team: &[u8; 32]) -> Self {
        let of = |info: &[u8]| derive(SALT, team, info);
        Self {
            id: KeyId(derive(SALT, team, b"id")),
            sealed: true,
            name: derive(SALT, team, b"name"),
            object: of(b"object"),
            head: of(b"head"),
            label: of(b"label"),
        }
    }

    /// Of an open folder, where everybody may read everything: names follow from a key that anybody can make, and content
    /// stands as it is.
    #[must_use]
    pub fn open_folder() -> Self {
        Self { sealed: false, ..Self::new(&[0; 32]) }
    }

    /// Which team key it is.
    #[must_use]
    pub fn id(&self) -> KeyId {
        self.id
    }

    /// The name of a content.
    #[must_use]
    pub fn name(&self, plain: &[u8]) -> Name {
        let Some(mut mac) = self.mac() else { return Name(self.name) };
        mac.update(plain);
        Name(mac.finalize().into_bytes().into())
    }

    /// What makes names. A key of any length will do for an HMAC, so there is one always.
    fn mac(&self) -> Option<Hmac<sha2::Sha256>> {
        <Hmac<sha2::Sha256> as hmac::KeyInit>::new_from_slice(&self.name).ok()
    }

    fn siv(&self, purpose: Purpose) -> Aes256Siv {
        Aes256Siv::new(match purpose {
            Purpose::Object => (&self.object).into(),
            Purpose::Head => (&self.head).into(),
            Purpose::Label => (&self.label).into(),
        })
    }

    /// Seals content that belongs where `context` says: a version byte, the key's id, 16 bytes that prove the rest, and
    /// as many bytes as the content has. In an open folder a version byte and the content.
    #[must_use]
    pub fn seal(&self, purpose: Purpose, context: &[u8], plain: &[u8]) -> Vec<u8> {
        let mut made = vec![OPEN];
        if !self.sealed {
            made.extend_from_slice(plain);
            return made;
        }
        made[0] = SEALED;
        made.extend_from_slice(&self.id.0);
        // It fails only for more headers than the mode allows, and there are two.
        let sealed = self.siv(purpose).encrypt([&made[..], context], plain).unwrap_or_default();
        made.extend_from_slice(&sealed);
        made
    }

    /// Opens what [`Keys::seal`] made for this purpose and place.
    ///
    /// # Errors
    /// Another key sealed it, or it is not what was sealed.
    pub fn open(&self, purpose: Purpose, context: &[u8], sealed: &[u8]) -> Result<Vec<u8>, SealError> {
        if !self.is_sealed_here(sealed)? {
            return Ok(sealed[1..].to_vec());
        }
        let (header, body) = sealed.split_at(HEADER);
        self.siv(purpose).decrypt([header, context], body).map_err(|_| SealError::Damaged)
    }

    /// Whether a file is sealed, with this key; else it is open, in an open folder.
    fn is_sealed_here(&self, file: &[u8]) -> Result<bool, SealError> {
        match (key_of(file)?, self.sealed) {
            (None, false) => Ok(false),
            // In a sealed folder what is open was put there by somebody without the key.
            (None, true) => Err(SealError::Damaged),
            (Some(id), true) if id == self.id => Ok(true),
            (Some(_), _) => Err(SealError::OtherKey),
        }
    }

    /// Opens an object in the place of its file, and proves that it is what its name says. The file is not to be used
    /// after a failure.
    ///
    /// # Errors
    /// As [`Keys::open`].
    pub fn open_object<'a>(&self, name: Name, sealed: &'a mut [u8]) -> Result<&'a [u8], SealError> {
        let mut mac = self.mac().ok_or(SealError::Damaged)?;
        let plain = if self.is_sealed_here(sealed)? {
            let (header, body) = sealed.split_at_mut(HEADER);
            siv::open(&self.object, [header, &[]], body, &mut mac).ok_or(SealError::Damaged)?
        } else {
            let plain = &mut sealed[1..];
            mac.update(plain);
            plain
        };
        mac.verify_slice(&name.0).map_err(|_| SealError::Damaged)?;
        Ok(plain)
    }

    /// An object with its name.
    #[must_use]
    pub fn object(&self, plain: &[u8]) -> (Name, Vec<u8>) {
        (self.name(plain), self.seal(Purpose::Object, &[], plain))
    }
}

/// By which key something is sealed; `None` where it is open.
pub(crate) fn key_of(sealed: &[u8]) -> Result<Option<KeyId>, SealError> {
    match sealed.split_first() {
        Some((&OPEN, _)) => Ok(None),
        Some((&SEALED, rest)) => {
            let id = rest.first_chunk::<8>().ok_or(SealError::Damaged)?;
            Ok(Some(KeyId(*id)))
        }
        Some(_) => Err(SealError::Newer),
        None => Err(SealError::Damaged),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_content_is_the_same_object_and_no_other_key_opens_it() {
        let (keys, other) = (Keys::new(&[1; 32]), Keys::new(&[2; 32]));
        let (name, sealed) = keys.object(b"eleven point four metres");
        assert_eq!(keys.object(b"eleven point four metres"), (name, sealed.clone()));
        assert_eq!(keys.open_object(name, &mut sealed.clone()).expect("opened"), b"eleven point four metres");
        assert_eq!(other.open_object(name, &mut sealed.clone()), Err(SealError::OtherKey));
        assert_ne!(other.object(b"eleven point four metres").0, name);
        assert_eq!(keys.open_object(Name([0; 32]), &mut sealed.clone()), Err(SealError::Damaged));
        assert!(!sealed.windows(6).any(|part| part == b"eleven"));
    }

    #[test]
    fn every_flipped_bit_and_every_cut_is_noticed() {
        let keys = Keys::new(&[1; 32]);
        let (name, sealed) = keys.object(b"a hole at 1250 mm");
        for bit in 0..sealed.len() * 8 {
            let mut damaged = sealed.clone();
            damaged[bit / 8] ^= 1 << (bit % 8);
            assert!(keys.open_object(name, &mut damaged).is_err(), "bit {bit}");
        }
        for length in 0..sealed.len() {
            assert!(keys.open_object(name, &mut sealed[..length].to_vec()).is_err(), "cut to {length}");
        }
    }

    #[test]
    fn nothing_of_one_purpose_or_place_opens_as_another() {
        let keys = Keys::new(&[1; 32]);
        let sealed = keys.seal(Purpose::Head, b"heads/a.1", b"x");
        assert_eq!(keys.open(Purpose::Head, b"heads/a.1", &sealed).expect("opened"), b"x");
        assert_eq!(keys.open(Purpose::Head, b"heads/a.2", &sealed), Err(SealError::Damaged));
        assert_eq!(keys.open(Purpose::Object, b"heads/a.1", &sealed), Err(SealError::Damaged));
    }

    #[test]
    fn an_open_folder_is_read_by_anybody_and_proves_names_only() {
        let open = Keys::open_folder();
        let (name, written) = open.object(b"plain");
        assert_eq!(written, b"\0plain");
        assert_eq!(Keys::open_folder().open_object(name, &mut written.clone()).expect("read"), b"plain");
        assert_eq!(open.open_object(name, &mut b"\0other".to_vec()), Err(SealError::Damaged));
        assert_eq!(Keys::new(&[1; 32]).open_object(name, &mut written.clone()), Err(SealError::Damaged));
        assert_eq!(open.open_object(name, &mut [7]), Err(SealError::Newer));
    }
}
