//! Fuzz target: [`fuzz::plan_site`].
#![no_main]

fuzz::file_target!(fuzz::plan_site);
