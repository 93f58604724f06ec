//! Fuzz target: [`fuzz::survey_toml`].
#![no_main]

fuzz::file_target!(fuzz::survey_toml);
