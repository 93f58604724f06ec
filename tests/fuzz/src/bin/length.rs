//! Fuzz target: [`fuzz::length`].
#![no_main]

fuzz::target!(fuzz::length, fuzz::change_typed);
