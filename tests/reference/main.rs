//! Checks against the outside, one file per source.

mod common_practice;
mod ngspice_demo;
