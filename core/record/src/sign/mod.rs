//! Who wrote a change: a device's key signs each actor and each change.

use ed25519_dalek::{Signature, Signer, SigningKey, VerifyingKey};

/// A device with its key.
pub struct Device {
    /// The person who works on it.
    pub person: String,
    /// What people call it.
    pub name: String,
    key: SigningKey,
}

impl Device {
    /// A device from the 32 secret bytes of its key, which the caller took from a good source and keeps.
    #[must_use]
    pub fn new(person: &str, name: &str, secret: [u8; 32]) -> Self {
        Self { person: person.to_owned(), name: name.to_owned(), key: SigningKey::from_bytes(&secret) }
    }

    /// Its id: the public key.
    #[must_use]
    pub fn id(&self) -> DeviceId {
        DeviceId(self.key.verifying_key().to_bytes())
    }

    /// Signs a text of bytes for a purpose.
    #[must_use]
    pub fn sign(&self, what: &Claim<'_>) -> [u8; 64] {
        self.key.sign(&what.bytes()).to_bytes()
    }
}

/// The public key of a device.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DeviceId(pub [u8; 32]);

impl std::fmt::Display for DeviceId {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // Sixteen digits are enough to compare by eye.
        self.0[..8].iter().try_for_each(|b| write!(f, "{b:02x}"))
    }
}

impl DeviceId {
    /// Whether a claim was signed by this device.
    #[must_use]
    pub fn signed(&self, what: &Claim<'_>, signature: &[u8; 64]) -> bool {
        VerifyingKey::from_bytes(&self.0)
            .is_ok_and(|key| key.verify_strict(&what.bytes(), &Signature::from_bytes(signature)).is_ok())
    }
}

/// What is signed.
#[derive(Clone, Copy, Debug)]
pub enum Claim<'a> {
    /// An actor, good for one opening of a store, writes for this device.
    Actor {
        /// The actor.
        actor: &'a [u8],
    },
    /// A person made this change at this time.
    Change {
        /// The document.
        document: &'a str,
        /// The person.
        person: &'a str,
        /// The time, milliseconds since 1970.
        time_ms: i64,
        /// The chunk, which names its actor and what it builds on.
        chunk: &'a [u8],
    },
}

impl Claim<'_> {
    /// Every part with its length before it, so that no two claims share their bytes.
    fn bytes(&self) -> Vec<u8> {
        let time;
        let parts: Vec<&[u8]> = match self {
            Self::Actor { actor } => vec![b"newel actor 1", actor],
            Self::Change { document, person, time_ms, chunk } => {
                time = time_ms.to_be_bytes();
                vec![b"newel change 1", document.as_bytes(), person.as_bytes(), &time, chunk]
            }
        };
        let mut bytes = Vec::new();
        for part in parts {
            bytes.extend_from_slice(&(part.len() as u64).to_be_bytes());
            bytes.extend_from_slice(part);
        }
        bytes
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_signature_holds_for_its_claim_alone() {
        let device = Device::new("Invented Person", "tablet", [7; 32]);
        let claim = Claim::Change { document: "s1", person: "Invented Person", time_ms: 5, chunk: b"chunk" };
        let signature = device.sign(&claim);
        assert!(device.id().signed(&claim, &signature));
        let later = Claim::Change { document: "s1", person: "Invented Person", time_ms: 6, chunk: b"chunk" };
        assert!(!device.id().signed(&later, &signature));
        let moved = Claim::Change { document: "s1I", person: "nvented Person", time_ms: 5, chunk: b"chunk" };
        assert!(!device.id().signed(&moved, &signature));
        assert!(!Device::new("x", "y", [8; 32]).id().signed(&claim, &signature));
    }
}
