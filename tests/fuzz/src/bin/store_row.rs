//! Fuzz target: [`fuzz::store_row`].
#![no_main]

fuzz::target!(fuzz::store_row, fuzz::change_bytes);
