//! A plan's identity: a hash of what it was computed from, the same on every machine.

use std::hash::{Hash, Hasher};

use catalogue::Catalogue;
use sha2::{Digest, Sha256};
use survey::Survey;

/// Version of the engine; a new one gives every plan a new identity.
pub const ENGINE_VERSION: &str = env!("CARGO_PKG_VERSION");

/// Version of the rule set that judges a plan; a new one gives every plan a new identity.
pub const RULE_SET_VERSION: u32 = 1;

/// The identity of a plan: SHA-256 in lower-case hexadecimal over the engine version, the rule set's version, the
/// planning part of the survey and the catalogue.
///
/// Both arguments are taken in canonical order ([`Survey::planning_part`], [`Catalogue::in_order`]), so that photos,
/// notes and the order of a file change nothing.
#[must_use]
pub fn plan_id(canonical_survey: &Survey, ordered_catalogue: &Catalogue) -> String {
    let mut hasher = PortableHasher::default();
    ENGINE_VERSION.hash(&mut hasher);
    RULE_SET_VERSION.hash(&mut hasher);
    canonical_survey.hash(&mut hasher);
    ordered_catalogue.hash(&mut hasher);
    hasher.hexadecimal()
}

/// Feeds what the derived `Hash` writes into SHA-256.
///
/// The standard hasher writes integers in the machine's own byte order and `usize` in its own width; this one writes
/// every integer little-endian, and `usize` and `isize` (list lengths, variant numbers) as 64 bits. Text is written as
/// its UTF-8 bytes and a closing byte, so that neighbouring texts can't run together. Plain integer slices longer than
/// bytes would be written in the machine's order, and no hashed type holds one.
#[derive(Clone, Default)]
struct PortableHasher {
    state: Sha256,
}

impl PortableHasher {
    fn hexadecimal(self) -> String {
        use std::fmt::Write as _;
        self.state.finalize().iter().fold(String::with_capacity(64), |mut text, byte| {
            let _ = write!(text, "{byte:02x}");
            text
        })
    }
}

impl Hasher for PortableHasher {
    fn finish(&self) -> u64 {
        let digest = self.state.clone().finalize();
        digest.iter().take(8).fold(0, |sum, byte| sum << 8 | u64::from(*byte))
    }
    fn write(&mut self, bytes: &[u8]) {
        self.state.update(bytes);
    }
    fn write_u8(&mut self, value: u8) {
        self.write(&[value]);
    }
    fn write_u16(&mut self, value: u16) {
        self.write(&value.to_le_bytes());
    }
    fn write_u32(&mut self, value: u32) {
        self.write(&value.to_le_bytes());
    }
    fn write_u64(&mut self, value: u64) {
        self.write(&value.to_le_bytes());
    }
    fn write_u128(&mut self, value: u128) {
        self.write(&value.to_le_bytes());
    }
    fn write_usize(&mut self, value: usize) {
        self.write_u64(value as u64);
    }
    fn write_i8(&mut self, value: i8) {
        self.write(&value.to_le_bytes());
    }
    fn write_i16(&mut self, value: i16) {
        self.write(&value.to_le_bytes());
    }
    fn write_i32(&mut self, value: i32) {
        self.write(&value.to_le_bytes());
    }
    fn write_i64(&mut self, value: i64) {
        self.write(&value.to_le_bytes());
    }
    fn write_i128(&mut self, value: i128) {
        self.write(&value.to_le_bytes());
    }
    fn write_isize(&mut self, value: isize) {
        self.write_i64(value as i64);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(write: impl Fn(&mut PortableHasher)) -> String {
        let mut hasher = PortableHasher::default();
        write(&mut hasher);
        hasher.hexadecimal()
    }

    #[test]
    fn the_hash_is_sha_256() {
        // FIPS 180-4 example: SHA-256 of "abc".
        assert_eq!(
            of(|hasher| hasher.write(b"abc")),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }

    #[test]
    fn list_lengths_and_integers_have_one_form_on_every_machine() {
        assert_eq!(of(|hasher| hasher.write_usize(5)), of(|hasher| hasher.write(&[5, 0, 0, 0, 0, 0, 0, 0])));
        assert_eq!(of(|hasher| hasher.write_isize(-1)), of(|hasher| hasher.write(&[255; 8])));
        assert_eq!(of(|hasher| hasher.write_u32(0x0102_0304)), of(|hasher| hasher.write(&[4, 3, 2, 1])));
        // Two texts never run together.
        assert_ne!(of(|hasher| ("ab", "c").hash(hasher)), of(|hasher| ("a", "bc").hash(hasher)));
    }
}
