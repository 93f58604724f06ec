//! Fuzz target: [`fuzz::catalogue_toml`].
#![no_main]

fuzz::target!(fuzz::catalogue_toml, fuzz::change_file);
