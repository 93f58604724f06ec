//! Everyone's work comes together through a folder: what travels, how it is sealed, and who may take part.
//!
//! This crate knows bytes, names and seals only. What the bytes mean is known to whoever joins it with a store; where the
//! files lie is known to a [`place::Place`].

pub mod place;
