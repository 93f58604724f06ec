//! Fuzz target: [`fuzz::catalogue_json`].
#![no_main]

fuzz::file_target!(fuzz::catalogue_json);
