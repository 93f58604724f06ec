//! What a photo is called by: the SHA-256 of its bytes.

use std::fmt;

use sha2::{Digest, Sha256};

/// The SHA-256 of a file's bytes; two files with the same one are the same photo.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Content([u8; 32]);

impl Content {
    /// Of these bytes.
    #[must_use]
    pub fn of(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }

    /// Of what a digest was fed with.
    pub(crate) fn finished(digest: Sha256) -> Self {
        Self(digest.finalize().into())
    }

    /// Of a name that is known already, as its 32 bytes.
    #[must_use]
    pub const fn from_bytes(bytes: [u8; 32]) -> Self {
        Self(bytes)
    }

    /// Its 32 bytes.
    #[must_use]
    pub const fn bytes(self) -> [u8; 32] {
        self.0
    }

    /// Reads 64 hexadecimal digits in lower case; `None` for anything else, so that no path can hide in a name.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let digits = text.as_bytes();
        let mut bytes = [0; 32];
        if digits.len() != 64 {
            return None;
        }
        for (byte, pair) in bytes.iter_mut().zip(digits.chunks_exact(2)) {
            let value = |digit: u8| match digit {
                b'0'..=b'9' => Some(digit - b'0'),
                b'a'..=b'f' => Some(digit - b'a' + 10),
                _ => None,
            };
            *byte = value(pair[0])? << 4 | value(pair[1])?;
        }
        Some(Self(bytes))
    }
}

impl fmt::Display for Content {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

impl fmt::Debug for Content {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{self}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_name_is_the_published_digest_and_reads_back() {
        // FIPS 180-2, appendix B.1: the digest of "abc".
        let abc = Content::of(b"abc");
        assert_eq!(abc.to_string(), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assert_eq!(Content::parse(&abc.to_string()), Some(abc));
        assert_eq!(Content::from_bytes(abc.bytes()), abc);
        for bad in ["", "../../etc/passwd", &"AB".repeat(32), &"0".repeat(63), &"é".repeat(32)] {
            assert_eq!(Content::parse(bad), None, "{bad}");
        }
    }
}
