//! Fuzz target: [`fuzz::survey_toml`].
#![no_main]

fuzz::target!(fuzz::survey_toml, fuzz::change_file);
