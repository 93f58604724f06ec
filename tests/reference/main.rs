//! Checks against the outside, one file per source.

mod ngspice_demo;
