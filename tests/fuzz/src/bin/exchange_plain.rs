//! Fuzz target: [`fuzz::exchange_plain`].
#![no_main]

fuzz::target!(fuzz::exchange_plain, fuzz::change_bytes);
