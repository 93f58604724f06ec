//! Fuzz target: [`fuzz::money`].
#![no_main]

fuzz::target!(fuzz::money, fuzz::change_typed);
