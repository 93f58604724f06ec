//! Everyone's work comes together through a folder: what travels, how it is sealed, and who may take part.
//!
//! This crate knows bytes, names and seals only. What the bytes mean is known to whoever joins it with a store; where the
//! files lie is known to a [`place::Place`]. `LAYOUT.md` beside this crate's `Cargo.toml` describes the folder for other
//! programs.

mod bytes;
pub mod engine;
pub mod head;
pub mod layout;
pub mod members;
pub mod memory;
pub mod pack;
pub mod place;
pub mod seal;

/// A device: its public key for signing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct DeviceId(pub [u8; 32]);

impl std::fmt::Display for DeviceId {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // Sixteen digits are enough to compare by eye.
        f.write_str(&bytes::hex(&self.0[..8]))
    }
}
