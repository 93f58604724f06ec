//! Fuzz target: [`fuzz::length`].
#![no_main]

fuzz::target!(fuzz::length);
