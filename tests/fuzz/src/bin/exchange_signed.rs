//! Fuzz target: [`fuzz::exchange_signed`].
#![no_main]

fuzz::target!(fuzz::exchange_signed, fuzz::change_bytes);
