//! Fuzz target: [`fuzz::plan_site`].
#![no_main]

fuzz::target!(fuzz::plan_site, fuzz::change_file);
