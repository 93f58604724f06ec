//! Fuzz target: [`fuzz::survey_json`].
#![no_main]

fuzz::target!(fuzz::survey_json, fuzz::change_file);
