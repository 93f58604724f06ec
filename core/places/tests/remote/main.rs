//! Places on other machines, against real servers and against servers that misbehave.

#[path = "../servers/mod.rs"]
mod servers;
#[path = "../../../exchange/tests/places/suite.rs"]
mod suite;

mod dav;
mod faults;
mod full;
mod store;
