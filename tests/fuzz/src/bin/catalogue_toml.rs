//! Fuzz target: [`fuzz::catalogue_toml`].
#![no_main]

fuzz::file_target!(fuzz::catalogue_toml);
