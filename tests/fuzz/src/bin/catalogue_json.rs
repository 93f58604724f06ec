//! Fuzz target: [`fuzz::catalogue_json`].
#![no_main]

fuzz::target!(fuzz::catalogue_json, fuzz::change_file);
