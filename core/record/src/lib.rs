//! Documents that lose nothing: a site as an Automerge document, its history, and the store that keeps it.
//!
//! Time, randomness and names are passed in. The stored shapes are this crate's own; it converts from and to `survey`.

pub mod document;
pub mod edit;
pub mod sign;
pub mod store;
pub mod stored;

mod together;
