//! Fuzz target: [`fuzz::catalogue_csv`].
#![no_main]

fuzz::target!(fuzz::catalogue_csv, fuzz::change_file);
