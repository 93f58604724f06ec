//! Fuzz target: [`fuzz::survey_json`].
#![no_main]

fuzz::file_target!(fuzz::survey_json);
