//! This device's keys, and team keys wrapped for one device.
//!
//! Wrapping: a fresh X25519 key (RFC 7748) meets the device's own; HKDF-SHA-256 of what both get, with both public keys in
//! its info, makes a key for AES-256-SIV, which seals the 32 bytes under the device's id.

use aes_siv::{KeyInit, siv::Aes256Siv};
use ed25519_dalek::{Signature, Signer, SigningKey, VerifyingKey};
use x25519_dalek::{PublicKey, StaticSecret};

use super::derive;
use crate::DeviceId;

const SALT: &[u8] = b"newel wrap 1";

/// The keys of this device: one to sign with, whose public half is its id, and one that team keys are wrapped for.
#[derive(Clone)]
pub struct Identity {
    sign: SigningKey,
    receive: StaticSecret,
}

impl std::fmt::Debug for Identity {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "Identity({})", self.id())
    }
}

impl Identity {
    /// From the 32 secret bytes of the device's key for signing; the other key is derived from them.
    #[must_use]
    pub fn new(secret: [u8; 32]) -> Self {
        let receive = derive(b"newel exchange 1", &secret, b"receive");
        Self { sign: SigningKey::from_bytes(&secret), receive: StaticSecret::from(receive) }
    }

    /// The device's id.
    #[must_use]
    pub fn id(&self) -> DeviceId {
        DeviceId(self.sign.verifying_key().to_bytes())
    }

    /// The public key that team keys are wrapped for.
    #[must_use]
    pub fn receives(&self) -> [u8; 32] {
        PublicKey::from(&self.receive).to_bytes()
    }

    pub(crate) fn sign(&self, what: &[u8]) -> [u8; 64] {
        self.sign.sign(what).to_bytes()
    }
}

impl DeviceId {
    pub(crate) fn signed(&self, what: &[u8], signature: &[u8; 64]) -> bool {
        VerifyingKey::from_bytes(&self.0)
            .is_ok_and(|key| key.verify_strict(what, &Signature::from_bytes(signature)).is_ok())
    }
}

/// A team key wrapped for one device.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wrapped {
    /// For whom.
    pub device: DeviceId,
    /// The public half of the fresh key.
    pub fresh: [u8; 32],
    /// The sealed key: 16 bytes of proof and 32 of key.
    pub sealed: [u8; 48],
}

impl Wrapped {
    /// Wraps a key for the device that receives under a public key; `fresh` are 32 random bytes, never used before.
    /// `None` where that public key is none, such as all zeros.
    #[must_use]
    pub fn new(team: &[u8; 32], device: DeviceId, receives: &[u8; 32], fresh: [u8; 32]) -> Option<Self> {
        let secret = StaticSecret::from(fresh);
        let public = PublicKey::from(&secret).to_bytes();
        let shared = secret.diffie_hellman(&PublicKey::from(*receives));
        let mut siv = shared.was_contributory().then(|| siv(shared.as_bytes(), &public, receives))?;
        let sealed = siv.encrypt([device.0], team).ok()?;
        Some(Self { device, fresh: public, sealed: sealed.try_into().ok()? })
    }

    /// The key, where it is wrapped for this device.
    #[must_use]
    pub fn open(&self, own: &Identity) -> Option<[u8; 32]> {
        if self.device != own.id() {
            return None;
        }
        let shared = own.receive.diffie_hellman(&PublicKey::from(self.fresh));
        let mut siv = shared.was_contributory().then(|| siv(shared.as_bytes(), &self.fresh, &own.receives()))?;
        siv.decrypt([self.device.0], &self.sealed).ok()?.try_into().ok()
    }
}

fn siv(shared: &[u8; 32], fresh: &[u8; 32], receives: &[u8; 32]) -> Aes256Siv {
    let key: [u8; 64] = derive(SALT, shared, &[*fresh, *receives].concat());
    Aes256Siv::new((&key).into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bytes::hex;

    #[test]
    fn a_key_opens_for_its_device_alone() {
        let (mine, other) = (Identity::new([1; 32]), Identity::new([2; 32]));
        let wrapped = Wrapped::new(&[9; 32], mine.id(), &mine.receives(), [3; 32]).expect("wrapped");
        assert_eq!(wrapped.open(&mine), Some([9; 32]));
        assert_eq!(wrapped.open(&other), None);
        let renamed = Wrapped { device: other.id(), ..wrapped.clone() };
        assert_eq!(renamed.open(&other), None);
        let mut damaged = wrapped;
        damaged.sealed[20] ^= 1;
        assert_eq!(damaged.open(&mine), None);
        assert_eq!(Wrapped::new(&[9; 32], mine.id(), &[0; 32], [3; 32]), None, "no key of order one");
    }

    #[test]
    fn x25519_is_that_of_rfc_7748_section_6_1() {
        let unhex = |digits| crate::bytes::unhex(digits).expect("digits");
        let alice = StaticSecret::from(unhex("77076d0a7318a57d3c16c17251b26645df4c2f87ebc0992ab177fba51db92c2a"));
        let bob = unhex("de9edb7d7b7dc1b4d35b61c2ece435373f8343c85b78674dadfc7e146f882b4f");
        let public = "8520f0098930a754748b7ddcb43ef75a0dbf3a0d26381af4eba4a98eaa9b4e6a";
        let shared = "4a5d9d5ba4ce2de1728e3bf480350f25e07e21c947d19e3376f09b3c1e161742";
        assert_eq!(hex(PublicKey::from(&alice).as_bytes()), public);
        assert_eq!(hex(alice.diffie_hellman(&PublicKey::from(bob)).as_bytes()), shared);
    }
}
