//! Places on other machines, against real servers and against servers that misbehave.

#[allow(dead_code)]
#[path = "../../../exchange/tests/sim/dice.rs"]
mod dice;
#[path = "../servers/mod.rs"]
mod servers;
#[path = "../../../exchange/tests/places/suite.rs"]
mod suite;
#[allow(dead_code)]
#[path = "../../../exchange/tests/team/mod.rs"]
mod team;

mod chance;
mod dav;
mod disk;
mod faults;
mod full;
mod killed;
mod rounds;
mod stopped;
mod store;
